import type { Draft } from '../draft.ts';
import type { DayCell, YearAnswer } from './answer.ts';
import type { DataFile } from './protocol.ts';
import { Runs } from './runs.ts';
import { yearAnswer } from './tasks.ts';

/**
 * The answer that a page opens with, so that whoever opens it need not wait for a year to be worked out.
 *
 * The page works the same year out again at once; days are given to the watt-hour here, to keep the file small.
 *
 * @returns null where the door refuses the household: the page says why
 */
export function firstAnswer(draft: Draft, files: readonly DataFile[]): YearAnswer | null {
  const runs = new Runs(1);
  runs.households.takeFiles(files);
  const entered = runs.households.enter(draft);
  if (!entered.ok) return null;
  const answer = yearAnswer(entered.value, runs, () => 0);
  return { ...answer, days: answer.days.map(toWh) };
}

const toWh = (day: DayCell): DayCell => ({ ...day, carPvWh: Math.round(day.carPvWh), carWh: Math.round(day.carWh) });
