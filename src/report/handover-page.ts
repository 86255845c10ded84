import {
  CAUTIONS_HEADING,
  COUNTRY_NAMES,
  dutiesOf,
  HANDOVER_WORDS,
  type HandoverWords,
  NOT_A_RELEASE,
  type PilotRecord,
  SURENESS_TEXT,
  type TerminalFinding,
  WIRING_CAUTION,
  type WiringFinding,
  type WiringVerdict,
} from '../commissioning/index.ts';
import { type Catalogue, meaningOf } from '../explain/index.ts';
import type { Scenario } from '../scenario/index.ts';
import type { Run } from '../simulate/index.ts';
import { DAY_KINDS, exampleOf, type MonthByKind, monthsByKind } from './handover-days.ts';
import { withIsolatedNames } from './isolated.ts';
import { type Content, openPage, type Page, tableOf } from './page-shell.ts';
import { RECORD_CSS, recordParts, signatures } from './pilot-page.ts';

/** What a hand-over sheet is made from. */
export interface HandoverInput {
  readonly scenario: Scenario;
  readonly run: Run;
  /** An empty record where none was given: blank lines. */
  readonly record: PilotRecord;
  /** What a log of currents showed, or null. */
  readonly wiring: { readonly finding: WiringFinding; readonly verdict: WiringVerdict } | null;
  readonly words: Catalogue;
}

/** The sheet that stays with the customer, as one page to print. */
export async function handoverPage(input: HandoverInput): Promise<string> {
  const { language } = input.words;
  const words = HANDOVER_WORDS[language];
  const scenario = withIsolatedNames(input.scenario);
  const page = await openPage({
    lang: language,
    title: words.title(scenario.name),
    cautionsHeading: CAUTIONS_HEADING[language],
    cautions: [...NOT_A_RELEASE[language], ...words.cautions],
    css: RECORD_CSS,
  });
  const { el, main } = page;
  const section = (heading: string, parts: readonly HTMLElement[]): void => main.append(el('h2', heading), ...parts);
  section(words.system, [bullets(page, meaningOf(scenario, input.words))]);
  section(words.thresholds, thresholdParts(page, scenario, input, words));
  section(words.see, seeParts(page, input, words));
  section(words.trouble, [steps(page, input, words)]);
  section(words.never, [bullets(page, words.neverList)]);
  section(words.wiring, wiringParts(page, scenario, input, words));
  section(words.record, recordParts(page, input.record, language));
  section(words.duties, dutyParts(page, scenario, input, words));
  main.append(signatures(page, words.signatures));
  return page.html();
}

const bullets = ({ el }: Page, texts: readonly string[]): HTMLElement =>
  el(
    'ul',
    texts.map((text) => el('li', text)),
  );

function thresholdParts(
  page: Page,
  scenario: Scenario,
  { run, words: { form } }: HandoverInput,
  words: HandoverWords,
): HTMLElement[] {
  const { control } = scenario;
  const rows = run.plan.points.flatMap(({ rules }, i): Content[][] => {
    const ways = rules.switches ? [rules.least, rules.most] : [rules.least];
    return ways.map((way) => [
      scenario.chargePoints[i]?.name ?? '',
      words.phases(way.n),
      `${form.kw(way.minW)} (${form.amps(way.minA)})`,
      rules.atOnce ? '' : form.kw(way.thresholdW + control.reserveW),
      form.kw(way.wPerA * way.maxA),
    ]);
  });
  const note =
    control.strategy === 'at-once'
      ? words.atOnce
      : words.thresholdsNote(form.lasting(control.startDelayS), form.lasting(control.stopDelayS));
  return [tableOf(page, words.thresholdsCaption, words.thresholdsHead, rows), page.el('p', note)];
}

function seeParts(page: Page, { run, words: { form } }: HandoverInput, words: HandoverWords): HTMLElement[] {
  const { el } = page;
  const examples = DAY_KINDS.flatMap((kind) => {
    const facts = exampleOf(run, kind, form);
    if (facts === null) return [];
    const text = facts.firstStart === '' ? words.dayNothing(facts) : words.day(facts);
    return [el('p', [el('strong', words.days[kind]), ` (${words.dayMeaning[kind]}). ${text}`])];
  });
  const months = monthsByKind(run);
  const rows = months.map(({ month, kinds }): Content[] => [
    form.shortMonths[month - 1] ?? '',
    ...DAY_KINDS.map((kind) =>
      kinds[kind].days === 0 ? words.noDays : words.monthCell(kinds[kind].days, form.kwh(kinds[kind].carPvWhADay)),
    ),
  ]);
  return [
    ...examples,
    tableOf(page, words.monthsCaption, words.monthsHead, rows),
    ...monthSentences(page, months, form.shortMonths, form.listed, words),
  ];
}

/** Below this a day the sun gives a car next to nothing, Wh: a few kilometres. */
const HARDLY_WH = 500;

function monthSentences(
  { el }: Page,
  months: readonly MonthByKind[],
  names: readonly string[],
  listed: (words: readonly string[]) => string,
  words: HandoverWords,
): HTMLElement[] {
  const nameOf = ({ month }: MonthByKind): string => names[month - 1] ?? '';
  const most = Math.max(...months.map(({ carPvWh }) => carPvWh));
  const best = months.filter(({ carPvWh }) => carPvWh > 0 && carPvWh >= 0.75 * most);
  const seldom = months.filter(
    ({ kinds, carPvWh }) => carPvWh / DAY_KINDS.reduce((sum, kind) => sum + kinds[kind].days, 0) < HARDLY_WH,
  );
  const sentences =
    months.length < 3
      ? []
      : [
          best.length > 0 ? words.bestMonths(listed(best.map(nameOf))) : '',
          seldom.length > 0 ? words.seldomMonths(listed(seldom.map(nameOf))) : '',
        ];
  return [...sentences.filter((text) => text !== ''), words.honest].map((text) => el('p', text));
}

function steps(page: Page, { scenario, run, words: { form } }: HandoverInput, words: HandoverWords): HTMLElement {
  const { control } = scenario;
  const lowestW = Math.min(...run.plan.points.map(({ rules }) => rules.least.thresholdW + control.reserveW));
  const texts = words.troubleSteps(form.kw(lowestW), form.lasting(control.startDelayS), form.lasting(control.restartPauseS));
  return page.el(
    'ol',
    texts.map((text) => page.el('li', text)),
  );
}

function wiringParts(
  page: Page,
  scenario: Scenario,
  { wiring, words: { form, language } }: HandoverInput,
  words: HandoverWords,
): HTMLElement[] {
  const { el } = page;
  const rows = scenario.chargePoints.flatMap(({ name, charger }, i) =>
    charger.wiring.map((phase, t): Content[] => [
      name,
      String(t + 1),
      String(phase),
      wiring === null ? words.wiringNoLog : foundText(wiring.finding.chargers[i]?.terminals[t], words, form.listed),
    ]),
  );
  const reversed = (wiring?.finding.transformers ?? []).flatMap((sign, p) => (sign === 'reversed' ? [String(p + 1)] : []));
  return [
    tableOf(page, words.wiringCaption, words.wiringHead, rows),
    ...(wiring === null ? [] : [el('p', el('strong', words.wiringVerdict[wiring.verdict]))]),
    ...(reversed.length === 0 ? [] : [el('p', words.transformerReversed(form.listed(reversed)))]),
    el('p', WIRING_CAUTION[language].join(' '), { class: 'fine' }),
  ];
}

function foundText(
  terminal: TerminalFinding | undefined,
  words: HandoverWords,
  listed: (words: readonly string[]) => string,
): string {
  if (terminal === undefined) return words.wiringFound['not-told'];
  if (terminal.state === 'known') return String(terminal.phase);
  return terminal.state === 'one-of' ? words.wiringOneOf(listed(terminal.phases.map(String))) : words.wiringFound[terminal.state];
}

function dutyParts(page: Page, scenario: Scenario, { words: { language } }: HandoverInput, words: HandoverWords): HTMLElement[] {
  const { country } = scenario.supply;
  if (country === null) return [page.el('p', words.noCountry)];
  const duties = dutiesOf(scenario);
  if (duties.length === 0) return [page.el('p', words.noDuties)];
  const rows = duties.map(({ text, applies, source, stand, sure }): Content[] => [
    text[language],
    applies === null ? words.applies.unknown : applies ? page.el('strong', words.applies.yes) : words.applies.no,
    `${source} (${SURENESS_TEXT[language][sure]})`,
    stand,
    words.checkLocally,
  ]);
  return [tableOf(page, words.dutiesCaption(COUNTRY_NAMES[language][country]), words.dutiesHead, rows)];
}
