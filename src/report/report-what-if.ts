import { WH_PER_KWH } from '../base/index.ts';
import { type Catalogue, differencesOf, type WhatIfOutcome, type WhatIfs } from '../explain/index.ts';
import type { Scenario } from '../scenario/index.ts';
import { isolated } from './isolated.ts';
import type { Page } from './page-shell.ts';
import { scrolledTable } from './scrolled-table.ts';

/** What one change would have done, best first by PV energy, with the household as it is on top. */
export function whatIfTable(page: Page, scenario: Scenario, whatIfs: WhatIfs, period: string, words: Catalogue): HTMLElement[] {
  const { form, report, table, whatIf } = words;
  const currency = scenario.tariff === null ? '' : isolated(scenario.tariff.currency);
  const hasCost = scenario.tariff !== null;
  const { asItIs, changes, isWhole } = whatIfs;
  const cells = (label: string, does: string, outcome: WhatIfOutcome, rankByCost: number | null): string[] => [
    label,
    form.fixed(outcome.carPvWh / WH_PER_KWH, outcome.carPvWh < 99_950 ? 1 : 0),
    form.fixed(outcome.carGridWh / WH_PER_KWH, outcome.carGridWh < 99_950 ? 1 : 0),
    ...(hasCost ? [form.fixed(outcome.cost ?? 0, 2), rankByCost === null ? '' : String(rankByCost)] : []),
    does,
  ];
  const rows = changes.map((change) =>
    cells(
      words.variants[change.name],
      whatIf.differences(differencesOf(change, asItIs), currency),
      change.outcome,
      change.rankByCost,
    ),
  );
  const head = [whatIf.change, table.pv, table.grid, ...(hasCost ? [report.cost(currency), report.costRank] : []), whatIf.does];
  return [
    page.el('p', whatIf.note(isWhole)),
    scrolledTable(page, report.whatIfCaption(period), head, [cells(whatIf.asItIs, '', asItIs, null), ...rows], 'numbers what-if'),
  ];
}
