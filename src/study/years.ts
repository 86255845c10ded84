import type { ScenarioInput } from '../scenario/index.ts';
import type { Keys } from './household.ts';
import { type Expectation, expectationOf } from './quantiles.ts';
import { type Ask, type TaskResult, VariantRefused } from './task.ts';
import type { Variant } from './variant.ts';

/** So many years of chance, from the one of the scenario on. */
export const yearsOf = (years: number, keys: Keys = {}, people = 0): Variant[] =>
  Array.from({ length: years }, (_, year) => ({ keys, year, people }));

/** What a household may expect, over years in which weather and habits differ. */
export interface YearsAnswer {
  readonly years: number;
  /** The weather differs from year to year; of measured weather at most the minutes that are added to it. */
  readonly weatherVaries: boolean;
  readonly habitsVary: boolean;
  readonly months: readonly MonthExpectation[];
  readonly total: YearExpectation;
  /** What the cars add for 100 km, in the tariff's currency; null without a tariff. Nine years of ten cost as much or less. */
  readonly costPer100Km: Expectation | null;
  readonly atOncePer100Km: Expectation | null;
  /** The same years charged at once, from PV. */
  readonly atOncePvKWh: Expectation;
  readonly missedKm: Expectation;
  readonly drivenKm: Expectation;
  readonly solarFraction: Expectation;
  /** Each year by itself, in order. */
  readonly each: readonly Readonly<Record<string, number | null>>[];
}

/** Expected of a calendar month. Hours never stand without kWh and km. */
export interface MonthExpectation {
  readonly month: number;
  readonly pvKWh: Expectation;
  readonly kmOnPv: Expectation;
  readonly solarChargingH: Expectation;
}

/** Expected of a year; not the sum of its months, which are not all good or all poor together. */
export type YearExpectation = Omit<MonthExpectation, 'month'>;

const MONTHLY = ['pvKWh', 'kmOnPv', 'solarChargingH'] as const;
const TOTALS = [
  ...MONTHLY,
  'gridKWh',
  'batteryKWh',
  'solarFraction',
  'drivenKm',
  'missedKm',
  'starts',
  'stalls',
  'cost',
  'costPer100Km',
  'atOnce.costPer100Km',
  'atOnce.pvKWh',
  'atOnce.solarChargingH',
];

/**
 * Runs years in which weather and habits differ and says what to expect of them.
 *
 * @param months  calendar month of each month of the period, 1 … 12
 */
export async function studyYears(input: ScenarioInput, years: number, months: readonly number[], ask: Ask): Promise<YearsAnswer> {
  const results = (await ask(yearsOf(years), { outputs: TOTALS, monthly: MONTHLY })).map(sound);
  const all = (name: string): number[] => results.map(({ values }) => values[name] ?? 0);
  const month = (name: string, i: number): number[] => results.map((result) => result.months[name]?.[i] ?? 0);
  const priced = results.every(({ values }) => typeof values.costPer100Km === 'number');
  const pricedAtOnce = results.every(({ values }) => typeof values['atOnce.costPer100Km'] === 'number');
  const expected = (of: (name: string) => number[]): YearExpectation => ({
    pvKWh: expectationOf(of('pvKWh')),
    kmOnPv: expectationOf(of('kmOnPv')),
    solarChargingH: expectationOf(of('solarChargingH')),
  });
  return {
    years,
    weatherVaries: input.weather?.source === 'synthetic',
    habitsVary: 'seed' in input.household || input.chargePoints.some(({ usage }) => 'seed' in usage),
    months: months.map((number, i) => ({ month: number, ...expected((name) => month(name, i)) })),
    total: expected(all),
    costPer100Km: priced ? expectationOf(all('costPer100Km'), 'less') : null,
    atOncePer100Km: pricedAtOnce ? expectationOf(all('atOnce.costPer100Km'), 'less') : null,
    atOncePvKWh: expectationOf(all('atOnce.pvKWh')),
    missedKm: expectationOf(all('missedKm'), 'less'),
    drivenKm: expectationOf(all('drivenKm')),
    solarFraction: expectationOf(all('solarFraction')),
    each: results.map(({ values }) => values),
  };
}

/** A result that has values. @throws VariantRefused  it has none */
export function sound(result: TaskResult): Extract<TaskResult, { values: unknown }> {
  if ('problem' in result) throw new VariantRefused(result.problem);
  return result;
}
