import { type Catalogue, EN } from '../explain/index.ts';
import type { Run } from '../simulate/index.ts';
import { allPoints, solarShare } from './sums.ts';

/**
 * The answer to the main question in three sentences: what the roof put into the car, how often charging was interrupted, and
 * what the same days charged at once would have given. Several charge points are added up.
 */
export function answerOf(run: Run, atOnce: Run, words: Catalogue = EN): string[] {
  const { answer } = words;
  const sums = allPoints(run.ledger.total);
  const period = periodName(run, words);
  const lines = [
    sums.carWh === 0 ? answer.nothing(period) : answer.roof(period, sums, solarShare(sums)),
    answer.interruptions(sums),
    answer.atOnce(allPoints(atOnce.ledger.total)),
  ];
  return sums.missedKm >= 0.5 ? [...lines, answer.missed(sums)] : lines;
}

/** `2025` for a whole calendar year, else the first and the last day. */
export function periodName({ grid }: Pick<Run, 'grid'>, words: Catalogue = EN): string {
  const dateOf = (dayMs: number) => {
    const date = new Date(dayMs);
    return { year: date.getUTCFullYear(), month: date.getUTCMonth() + 1, day: date.getUTCDate() };
  };
  return words.answer.period(dateOf(grid.dayMs[0] ?? 0), dateOf(grid.dayMs[grid.dayMs.length - 1] ?? 0));
}
