import { WH_PER_KWH } from '../base/index.ts';
import { type Catalogue, chainOf, EN, type Explained, explained, meaningOf, type WhatIfs } from '../explain/index.ts';
import type { Scenario } from '../scenario/index.ts';
import type { MoneyBeside, Run } from '../simulate/index.ts';
import { answerOf, periodName } from './answer.ts';
import { assumptionsOf } from './assumptions.ts';
import { moneyText } from './figures-text.ts';
import { isolated, withIsolatedNames } from './isolated.ts';
import { methodSources } from './method-sources.ts';
import { openPage, type Page } from './page-shell.ts';
import { typicalDays } from './pick-days.ts';
import { chainTable } from './report-chain.ts';
import { REPORT_CSS } from './report-css.ts';
import { daySection } from './report-day.ts';
import { monthsFigure } from './report-months.ts';
import { whatIfTable } from './report-what-if.ts';
import { allPoints } from './sums.ts';

/** What a report is made from. */
export interface ReportInput {
  readonly scenario: Scenario;
  readonly run: Run;
  /** The same days charged at once. */
  readonly atOnce: Run;
  readonly whatIfs: WhatIfs;
  /** Null without a tariff. */
  readonly money: MoneyBeside | null;
  readonly version: string;
  /** What is worth knowing about the input, beyond the assumptions. */
  readonly remarks: readonly string[];
  readonly words?: Catalogue;
}

/**
 * report.html: one file that needs nothing else, for a screen and for A4. Whatever a user wrote goes in as text.
 *
 * The household, the answer, the months, where the hours went, three days told, what would have changed it, what was assumed.
 */
export async function reportHtml(input: ReportInput): Promise<string> {
  const { run, words = EN } = input;
  const { report } = words;
  const scenario = withIsolatedNames(input.scenario);
  const whole = explained(run);
  const page = await openPage({
    lang: words.language,
    title: report.title(scenario.name, periodName(run, words)),
    cautionsHeading: report.cautionsHeading,
    cautions: report.cautions,
    css: REPORT_CSS,
  });
  page.main.append(
    ...section(page, report.answer, [keyFigures(page, run, words), ...paragraphs(page, answerSentences(input, words))]),
    ...section(page, report.household, [bullets(page, meaningOf(scenario, words))]),
    ...section(page, report.months, monthsFigure(page, run, input.atOnce, words)),
    ...section(page, report.chain, chainSection(page, whole, scenario, words)),
    ...section(page, report.days, daysSection(page, whole, scenario, words)),
    ...section(page, report.whatIf, whatIfTable(page, scenario, input.whatIfs, periodName(run, words), words)),
    ...section(page, report.assumptions, assumptionsSection(page, scenario, input.remarks, words)),
    page.el('p', report.madeBy(input.version), { class: 'fine' }),
  );
  return page.html();
}

/** The answer, and what it costs. */
const answerSentences = ({ run, atOnce, money }: ReportInput, words: Catalogue): string[] => [
  ...answerOf(run, atOnce, words),
  ...(money === null ? [] : moneyText(money, words)),
];

const section = (page: Page, heading: string, content: readonly Node[]): Node[] => [
  page.el('section', [page.el('h2', heading), ...content]),
];
const paragraphs = (page: Page, texts: readonly string[]): HTMLElement[] => texts.map((text) => page.el('p', text));
const bullets = (page: Page, texts: readonly string[]): HTMLElement =>
  page.el(
    'ul',
    texts.map((text) => page.el('li', text)),
  );

/** kWh and km first: hours never stand alone. */
function keyFigures(page: Page, run: Run, { form, report }: Catalogue): HTMLElement {
  const sums = allPoints(run.ledger.total);
  const figures = [
    [`${form.brief(sums.carPvWh / WH_PER_KWH)} kWh`, report.figures.kwh],
    [`${form.fixed(sums.pvKm, 0)} km`, report.figures.km],
    [`${form.brief(sums.solarChargingH)} h`, report.figures.hours],
  ] as const;
  const entry = ([value, label]: readonly [string, string]): HTMLElement =>
    page.el('div', [page.el('dt', label), page.el('dd', value)]);
  return page.el('dl', figures.map(entry), { class: 'key-figures' });
}

function chainSection(page: Page, { run, surplus }: Explained, { chargePoints }: Scenario, words: Catalogue): HTMLElement[] {
  const tables = surplus.flatMap((own, i) => {
    const chain = chainOf(run, i, own, 0, run.grid.steps);
    const caption = words.report.chainCaption(surplus.length > 1 ? (chargePoints[i]?.name ?? '') : null);
    const { dark } = chain.links;
    const carDarkH = darkChargingH(run, i);
    const note = carDarkH >= 0.05 && dark.steps > 0 ? [page.el('p', words.chain.dark(carDarkH), { class: 'fine' })] : [];
    return [chainTable(page, chain, caption, words), ...note];
  });
  return [page.el('p', words.report.chainIntro), ...tables];
}

/** Hours of charging while the roof gives nothing. */
function darkChargingH({ columns, grid }: Run, point: number): number {
  const powerW = columns.points[point]?.powerW;
  const steps = columns.pvW.reduce((count, pvW, k) => (pvW <= 0 && (powerW?.[k] ?? 0) > 0 ? count + 1 : count), 0);
  return (steps * grid.stepS) / 3600;
}

function daysSection(page: Page, whole: Explained, scenario: Scenario, words: Catalogue): HTMLElement[] {
  const names = scenario.chargePoints.map(({ name }) => name);
  const kinds = ['good', 'usual', 'poor'] as const;
  const days = typicalDays(whole.run);
  const told = new Set<number>();
  const sections = kinds.flatMap((kind) => {
    const day = days[kind];
    if (told.has(day)) return [];
    told.add(day);
    return [daySection(page, whole, day, names, words, words.report.dayKinds[kind])];
  });
  return [page.el('p', words.report.daysIntro), ...sections];
}

function assumptionsSection(page: Page, scenario: Scenario, remarks: readonly string[], words: Catalogue): HTMLElement[] {
  const texts = [...assumptionsOf(scenario, words), ...remarks.map(isolated)];
  const sources = methodSources(scenario).map(({ source }) => source);
  return [bullets(page, texts), page.el('h3', words.report.sources), bullets(page, sources)];
}
