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
