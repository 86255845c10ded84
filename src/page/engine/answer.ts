import type { DatedTally, Issue, Money, PointTally, Run, ScenarioInput, Tally } from '../../index.ts';
import { allPoints } from '../../report/browser.ts';

/** Sums of a stretch of time: the house, all its cars together, and what it costs (null without prices). */
export interface Sums {
  readonly house: Omit<Tally, 'points'>;
  readonly cars: PointTally;
  readonly money: Money | null;
}

/** A day of the year for the calendar. */
export interface DayCell {
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly carPvWh: number;
  readonly carWh: number;
  readonly stalls: number;
}

/** The answer to a touch: a whole run, added up. */
export interface YearAnswer {
  readonly name: string;
  /** The scenario with its defaults filled in. */
  readonly input: ScenarioInput;
  readonly warnings: readonly Issue[];
  readonly timeZone: string;
  readonly months: readonly { readonly year: number; readonly month: number; readonly sums: Sums }[];
  readonly days: readonly DayCell[];
  readonly total: Sums;
  /** A household of which only part of the weather is known can not be run in other years. */
  readonly canVaryYears: boolean;
  readonly assumptions: readonly string[];
  /** Days worth looking at. */
  readonly best: number;
  readonly median: number;
  /** Least surplus that starts each charge point, and that puts it on more phases (the same where it never switches), W. */
  readonly thresholds: readonly { readonly leastW: number; readonly mostW: number }[];
  readonly tookMs: number;
}

/** A tally in the page's form. */
export function sumsOf(tally: Tally, money: Money | null = null): Sums {
  const { points: _, ...house } = tally;
  return { house, cars: allPoints(tally), money };
}

/** The months of a run. */
export const monthsOf = (run: Run): YearAnswer['months'] =>
  run.ledger.months.map(({ year, month, tally }) => ({ year, month, sums: sumsOf(tally) }));

/** A day for the calendar. */
export function dayCell({ year, month, day, tally }: DatedTally): DayCell {
  const { carPvWh, carWh, stalls } = allPoints(tally);
  return { year, month, day, carPvWh, carWh, stalls };
}

/** What the cars add to the household's cost by the distance they drove; null where nothing was driven or a price is missing. */
export function per100Km({ cars, money }: Sums, withoutCars: Money | null): number | null {
  if (money === null || withoutCars === null || money.publicCost === null || cars.drivenKm === 0) return null;
  return (100 * (money.totalCost - withoutCars.totalCost)) / cars.drivenKm;
}
