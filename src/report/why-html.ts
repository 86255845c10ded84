import { type Catalogue, chainOf, EN, type Explained, stepsOfDays, sumOfChains, type WhatIfs } from '../explain/index.ts';
import type { Scenario } from '../scenario/index.ts';
import { isolated, withIsolatedNames } from './isolated.ts';
import { openPage } from './page-shell.ts';
import { chainTable } from './report-chain.ts';
import { REPORT_CSS } from './report-css.ts';
import { daySection } from './report-day.ts';
import { whatIfTable } from './report-what-if.ts';

/** What a page about some days is made from. */
export interface WhyInput {
  readonly scenario: Scenario;
  readonly whole: Explained;
  readonly whatIfs: WhatIfs;
  /** Days that are told one by one, from 0. */
  readonly told: readonly number[];
  readonly version: string;
  readonly words?: Catalogue;
}

/** A page about some days of a run: each told, where their hours went, what one change would have done. One file, like the report. */
export async function whyHtml({ whole, whatIfs, told, version, words = EN, ...input }: WhyInput): Promise<string> {
  const scenario = withIsolatedNames(input.scenario);
  const names = scenario.chargePoints.map(({ name }) => name);
  const { run, surplus } = whole;
  const { firstDay, endDay } = whatIfs.days;
  const dateOf = (day: number): string => words.form.date(run.ledger.days[day] ?? { year: 0, month: 1, day: 1 });
  const period = firstDay + 1 === endDay ? dateOf(firstDay) : `${dateOf(firstDay)} – ${dateOf(endDay - 1)}`;
  const page = await openPage({
    lang: words.language,
    title: words.report.title(isolated(input.scenario.name), period),
    cautionsHeading: words.report.cautionsHeading,
    cautions: words.report.cautions,
    css: REPORT_CSS,
  });
  const [from, to] = stepsOfDays(run, whatIfs.days);
  const chains = surplus.map((own, i) =>
    chainTable(
      page,
      sumOfChains([chainOf(run, i, own, from, to)]),
      words.report.chainCaption(names.length > 1 ? (names[i] ?? '') : null),
      words,
    ),
  );
  page.main.append(
    ...told.map((day) => daySection(page, whole, day, names, words)),
    page.el('section', [page.el('h2', words.report.chain), page.el('p', words.report.chainIntro), ...chains]),
    page.el('section', [page.el('h2', words.report.whatIf), ...whatIfTable(page, scenario, whatIfs, period, words)]),
    page.el('p', words.report.madeBy(version), { class: 'fine' }),
  );
  return page.html();
}
