import { chargedAtOnce, moneyBeside, type ScenarioInput, withoutCars } from '../../index.ts';
import { assumptionsOf, eventsCsv, monthRow, pickDays, rowsCsv, stepsCsv, summaryJson, summaryOf } from '../../report/browser.ts';
import { type Draft, type Path, withValue } from '../draft.ts';
import { dayCell, monthsOf, sumsOf, type YearAnswer } from './answer.ts';
import { withBattery } from './battery.ts';
import type { Entered } from './household.ts';
import { type Beside, CHARGER_KINDS, type CurvePoint, type OutputName, type Variant } from './protocol.ts';
import type { Runs } from './runs.ts';

/** Years that the spread is made of: the household's own and nine more. */
export const YEARS = 10;
/** Surplus shares of the curve: fine, and finest between never waiting and waiting for some sun. */
export const SHARES = [0, 0.02, ...Array.from({ length: 20 }, (_, i) => (i + 1) / 20)];
/** Roofs as parts of the one at hand, and home batteries, kWh. */
const ROOF_PARTS = [0.5, 0.75, 1, 1.25, 1.5, 2];
const BATTERIES_KWH = [0, 3, 6, 9, 12, 16];

/** The answer to a touch. */
export function yearAnswer(entered: Entered, runs: Runs, tookMs: () => number): YearAnswer {
  const { scenario, input, warnings } = entered;
  const run = runs.of(entered, 'own');
  const { best, median } = pickDays(run);
  return {
    name: scenario.name,
    input,
    warnings,
    timeZone: scenario.zone.name,
    months: monthsOf(run),
    days: run.ledger.days.map(dayCell),
    total: sumsOf(run.ledger.total, runs.money(entered, run)),
    canVaryYears: canVaryYears(input),
    assumptions: assumptionsOf(scenario),
    best,
    median,
    thresholds: run.plan.points.map(({ rules }) => ({ leastW: rules.least.thresholdW, mostW: rules.most.thresholdW })),
    tookMs: tookMs(),
  };
}

/** The kinds of charger side by side on the same days. A kind that the door refuses tells why. */
export function variantsOf(draft: Draft, runs: Runs): Variant[] {
  return CHARGER_KINDS.map((charger) => {
    const entered = runs.households.enter(withValue(draft, ['chargePoints', 0, 'charger', 'phases'], charger));
    if (entered.ok) return { charger, sums: runs.beside(entered.value).total, issue: null };
    return { charger, sums: null, issue: entered.issues[0] ?? null };
  });
}

/** The household with a little more to use and a roof turned a little, in turn: what makes most of it anew. */
export const rehearsalsOf = (draft: Draft): Draft[] =>
  [1, 2, 3].flatMap((turn) => [
    withValue(draft, ['household', 'annualKWh'], 4000 + turn),
    withValue(draft, ['pv', 'arrays', 0, 'azimuthDeg'], 180 + turn),
  ]);

/** Where the weather is measured, or the roof, one year is known, and habits alone make no other. */
export const canVaryYears = ({ weather, pv }: ScenarioInput): boolean =>
  weather?.source === 'synthetic' && pv.source === 'arrays';

/** How many years a household's spread is made of. */
export const yearsFor = (input: ScenarioInput): number => (canVaryYears(input) ? YEARS : 1);

/** The household in other years: weather and habits of other seeds. The first is its own. A year takes so long that it comes in stages. */
export function* yearsOf(draft: Draft, own: ScenarioInput, runs: Runs): Generator<readonly Beside[] | undefined> {
  const years: Beside[] = [];
  for (let more = 0; more < yearsFor(own); more++) {
    const entered = runs.households.enter(inYear(draft, own, more));
    if (!entered.ok) return;
    if (!runs.knows(entered.value)) yield* runs.households.prepare(entered.value);
    years.push(runs.beside(entered.value));
    yield [...years];
  }
}

/** The draft with the seeds of weather, household and trips moved on: the same years as those of `sixamp hours --years`. */
function inYear(draft: Draft, own: ScenarioInput, more: number): Draft {
  if (more === 0) return draft;
  let moved = draft;
  if (own.weather?.source === 'synthetic') moved = withValue(moved, ['weather', 'seed'], own.weather.seed + more);
  if ('seed' in own.household) moved = withValue(moved, ['household', 'seed'], own.household.seed + more);
  own.chargePoints.forEach(({ usage }, i) => {
    if (usage.source === 'weekly') moved = withValue(moved, ['chargePoints', i, 'usage', 'seed'], usage.seed + more);
  });
  return moved;
}

/** A key run through its values: each point as soon as it is there. */
export function* curveOf(draft: Draft, path: Path, values: readonly number[], runs: Runs): Generator<CurvePoint> {
  for (const at of values) {
    const entered = runs.households.enter(withValue(draft, path, at));
    if (entered.ok) yield { at, sums: runs.beside(entered.value).total };
  }
}

/** Larger and smaller roofs: all arrays and the inverter grow together. `at` is in kWp. */
export function* roofsOf(draft: Draft, own: ScenarioInput, runs: Runs): Generator<CurvePoint> {
  const { pv } = own;
  if (pv.source !== 'arrays') return;
  for (const part of ROOF_PARTS) {
    let sized = draft;
    pv.arrays.forEach(({ kWp }, i) => {
      sized = withValue(sized, ['pv', 'arrays', i, 'kWp'], rounded(kWp * part));
    });
    const { ratedW } = pv.inverter;
    if (ratedW !== undefined) sized = withValue(sized, ['pv', 'inverter', 'ratedW'], Math.max(100, Math.round(ratedW * part)));
    const entered = runs.households.enter(sized);
    if (entered.ok)
      yield { at: pv.arrays.reduce((sum, { kWp }) => sum + rounded(kWp * part), 0), sums: runs.beside(entered.value).total };
  }
}

const rounded = (kWp: number): number => Math.max(0.05, Math.round(kWp * 20) / 20);

/** Home batteries from none up; what the draft says of its own is kept but for the size. `at` is in kWh. */
export function* batteriesOf(draft: Draft, runs: Runs): Generator<CurvePoint> {
  for (const kWh of BATTERIES_KWH) {
    const entered = runs.households.enter(withBattery(draft, kWh));
    if (entered.ok) yield { at: kWh, sums: runs.beside(entered.value).total };
  }
}

/** A file like the command's, byte for byte. */
export function outputOf(name: OutputName, entered: Entered, runs: Runs, version: string): BlobPart[] {
  const run = runs.of(entered, 'own');
  switch (name) {
    case 'months.csv':
      return [rowsCsv(run.ledger.months.map(monthRow))];
    case 'events.csv':
      return [eventsCsv(run)];
    case 'steps.csv':
      return [...stepsCsv(run)];
    case 'summary.json':
      return [summaryOfHousehold(entered, runs, version)];
  }
}

function summaryOfHousehold(entered: Entered, runs: Runs, version: string): string {
  const { scenario, warnings } = entered;
  const run = runs.of(entered, 'own');
  const [atOnce, none] = [runs.aside(entered, chargedAtOnce(scenario)), runs.aside(entered, withoutCars(scenario))];
  const prices = runs.households.pricesOf(entered);
  const money = scenario.tariff === null || prices === null ? null : moneyBeside(run, atOnce, none, scenario.tariff, prices);
  const facts = {
    scenarioName: scenario.name,
    version,
    pointNames: scenario.chargePoints.map((point) => point.name),
    assumptions: [...assumptionsOf(scenario), ...warnings.map(({ problem, allowed }) => `${problem} ${allowed}`.trimEnd())],
  };
  return summaryJson(summaryOf(run, atOnce, facts, money));
}
