import type { DatedTally, Run } from '../simulate/index.ts';
import { allPoints } from './sums.ts';

/** Days worth a picture, as indices into the days of the grid. */
export interface PickedDays {
  readonly best: number;
  readonly median: number;
}

/**
 * The day on which PV put most into the cars, and the middle one of the days on which it put in anything (the lower of two
 * middle ones; of equal days the earliest). Where PV never reached a car, the days are ranked by what the roof could give.
 */
export function pickDays(run: Run): PickedDays {
  const intoCar = ranked(run, (dated) => allPoints(dated.tally).carPvWh);
  const days = intoCar.length > 0 ? intoCar : ranked(run, (dated) => dated.tally.pvWh);
  return { best: days[0] ?? 0, median: days[Math.floor(days.length / 2)] ?? 0 };
}

/** Indices of the days that have more than nothing, most first. */
function ranked(run: Run, energyWh: (dated: DatedTally) => number): number[] {
  const wh = run.ledger.days.map(energyWh);
  return [...wh.keys()].filter((i) => (wh[i] ?? 0) > 0).sort((a, b) => (wh[b] ?? 0) - (wh[a] ?? 0) || a - b);
}

/** Days that a person may ask for by what they were like. */
export const DAY_PICKS = ['worst', 'best', 'median', 'most-stalls'] as const;
/** One of them. */
export type DayPick = (typeof DAY_PICKS)[number];

/**
 * A day of the run by what it was like: least or most PV in the cars, the middle one of the days that had any, or the one with most
 * stalls. Of equal days the earliest; of days with nothing in the car, the one on which the roof gave most: most was missed there.
 */
export function pickDay(run: Run, pick: DayPick): number {
  const { days } = run.ledger;
  const intoCar = days.map(({ tally }) => allPoints(tally).carPvWh);
  switch (pick) {
    case 'best':
      return pickDays(run).best;
    case 'median':
      return pickDays(run).median;
    case 'worst': {
      const least = Math.min(...intoCar);
      return indexOfMost(days.map(({ tally }, i) => (intoCar[i] === least ? tally.pvWh : -1)));
    }
    case 'most-stalls':
      return indexOfMost(days.map(({ tally }) => allPoints(tally).stalls));
  }
}

const indexOfMost = (values: readonly number[]): number => Math.max(0, values.indexOf(Math.max(...values)));

/** A good, a usual and a poor day: one in ten of the days with PV in the cars is better, five in ten, nine in ten. */
export function typicalDays(run: Run): { readonly good: number; readonly usual: number; readonly poor: number } {
  const intoCar = ranked(run, (dated) => allPoints(dated.tally).carPvWh);
  const days = intoCar.length > 0 ? intoCar : ranked(run, (dated) => dated.tally.pvWh);
  const at = (share: number): number => days[Math.min(days.length - 1, Math.floor(share * days.length))] ?? 0;
  return { good: at(0.1), usual: at(0.5), poor: at(0.9) };
}
