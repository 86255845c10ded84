import {
  CAUTIONS_HEADING,
  causeTexts,
  NOT_A_RELEASE,
  numberText,
  PILOT_STATES,
  PILOT_WORDS,
  type PilotRecord,
  pilotFinePrint,
  pilotLines,
  pilotLineText,
  proximityText,
  readingsIn,
} from '../commissioning/index.ts';
import type { Language } from '../explain/index.ts';
import { blankLine, type Content, openPage, type Page, tableOf } from './page-shell.ts';

/** The lines of a record are many: closer together on paper, verdicts in one line. */
export const RECORD_CSS = `
.lines td:last-child { white-space: nowrap; }
@media (max-width: 30rem) { .lines td:last-child { white-space: normal; } }
@media print { .lines th, .lines td { padding: .5mm 1.5mm; } .lines .blank { height: 1.1em; } .signature { margin-top: 6mm; } .signature div { padding-top: 10mm; } }
`;

/** A record of measurements as a page to print and sign; what was not measured is a line to write on. */
export async function pilotPage(record: PilotRecord, language: Language): Promise<string> {
  const words = PILOT_WORDS[language];
  const page = await openPage({
    lang: language,
    title: words.title,
    cautionsHeading: CAUTIONS_HEADING[language],
    cautions: NOT_A_RELEASE[language],
    css: RECORD_CSS,
  });
  page.main.append(factsTable(page, record, language), ...recordParts(page, record, language));
  page.main.append(signatures(page, words.signatures));
  return page.html();
}

/** The lines of a record with causes, remarks and fine print, for any page that holds one. */
export function recordParts(page: Page, record: PilotRecord, language: Language): HTMLElement[] {
  const { el } = page;
  const words = PILOT_WORDS[language];
  const lines = pilotLines(record);
  const row = ({ name, measured, published, verdict, fromMemory, isOutside }: ReturnType<typeof pilotLineText>): Content[] => [
    name,
    orBlank(page, measured, name),
    published + (fromMemory && published !== '' ? '\u00a0*' : ''),
    isOutside ? el('strong', verdict) : verdict,
  ];
  const causes = causeTexts(lines, language);
  const parts = [
    el('p', words.noOverall),
    tableOf(
      page,
      words.pilotTable,
      words.head,
      lines.pilot.map((line) => row(pilotLineText(line, language))),
      'lines',
    ),
    tableOf(page, words.proximityTable, words.head, [row(proximityText(lines.proximity, language))], 'record'),
    tableOf(
      page,
      words.safetyTable,
      words.safetyHead,
      lines.safety.map(({ name, stated }) => [words.safety[name], orBlank(page, stated ?? '', words.safety[name])]),
      'record',
    ),
  ];
  if (causes.length > 0)
    parts.push(
      el('h2', words.causesHeading),
      el(
        'ul',
        causes.map((text) => el('li', text)),
      ),
    );
  parts.push(...seenParts(page, record, language), el('h2', words.remarks), remarks(page, record, words.remarks));
  parts.push(el('p', `* ${pilotFinePrint(language)}`, { class: 'fine' }));
  return parts;
}

function factsTable(page: Page, record: PilotRecord, language: Language): HTMLElement {
  const { facts } = PILOT_WORDS[language];
  const table = page.el('table', [], { class: 'record' });
  for (const key of Object.keys(facts) as (keyof typeof facts)[]) {
    const value = record[key] ?? '';
    const text = typeof value === 'number' ? numberText(value, 1, language) : value;
    table.append(page.el('tr', [page.el('th', facts[key], { scope: 'row' }), page.el('td', orBlank(page, text, facts[key]))]));
  }
  return table;
}

const orBlank = (page: Page, text: string, name: string): Content => (text === '' ? blankLine(page, name) : text);

function seenParts({ el }: Page, record: PilotRecord, language: Language): HTMLElement[] {
  const words = PILOT_WORDS[language];
  const seen = PILOT_STATES.flatMap((state) => {
    const text = readingsIn(record, state).seen;
    return text === undefined ? [] : [el('li', `${words.states[state]}: ${text}`)];
  });
  return seen.length === 0 ? [] : [el('h2', words.seen), el('ul', seen)];
}

const remarks = (page: Page, record: PilotRecord, name: string): HTMLElement =>
  page.el('p', record.remarks === undefined ? [blankLine(page, name), blankLine(page, name)] : record.remarks);

/** Lines for place and date, and for name and signature. */
export const signatures = ({ el }: Page, labels: readonly string[]): HTMLElement =>
  el(
    'div',
    labels.map((label) => el('div', [el('span', label)])),
    { class: 'signature' },
  );
