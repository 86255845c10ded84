import type { Draft } from '../draft.ts';
import type { DayCell, YearAnswer } from './answer.ts';
import type { DataFile } from './protocol.ts';
import { Runs } from './runs.ts';
import { yearAnswer } from './tasks.ts';

/** An answer as it stands in the file: a column for each number of a day, since the names of 365 records would take up a kilobyte. */
export interface WrittenAnswer extends Omit<YearAnswer, 'days'> {
  readonly days: Readonly<Record<keyof DayCell, readonly number[]>>;
}

/**
 * The answer that a page opens with, so that whoever opens it need not wait for a year to be worked out.
 *
 * The page works the same year out again at once; to keep the file small, days are given to the watt-hour here, sums to a thousandth.
 *
 * @returns null where the door refuses the household: the page says why
 */
export function firstAnswer(draft: Draft, files: readonly DataFile[]): WrittenAnswer | null {
  const runs = new Runs(1);
  runs.takeFiles(files);
  const entered = runs.households.enter(draft);
  if (!entered.ok) return null;
  const answer = yearAnswer(entered.value, runs, () => 0);
  const { days, months, total } = answer;
  const column = (key: keyof DayCell): number[] => days.map((day) => Math.round(day[key]));
  return {
    ...answer,
    months: toThousandths(months),
    total: toThousandths(total),
    days: {
      year: column('year'),
      month: column('month'),
      day: column('day'),
      carPvWh: column('carPvWh'),
      carWh: column('carWh'),
      stalls: column('stalls'),
    },
  };
}

const toThousandths = <T>(sums: T): T =>
  JSON.parse(JSON.stringify(sums, (_, value) => (typeof value === 'number' ? Math.round(value * 1000) / 1000 : value)));

/** The answer that was written. */
export function readAnswer({ days, ...answer }: WrittenAnswer): YearAnswer {
  const { year, month, day, carPvWh, carWh, stalls } = days;
  const cell = (i: number): DayCell => ({
    year: year[i] ?? 0,
    month: month[i] ?? 0,
    day: day[i] ?? 0,
    carPvWh: carPvWh[i] ?? 0,
    carWh: carWh[i] ?? 0,
    stalls: stalls[i] ?? 0,
  });
  return { ...answer, days: year.map((_, i) => cell(i)) };
}
