import { carGridW, type Language, MS_PER_H, type Run, S_PER_H, stepStartMs, W_PER_KW, wallClockAt } from '../../index.ts';
import { type Stretch, stretchesOf } from '../../report/browser.ts';
import { type Sums, sumsOf } from './answer.ts';
import { type Told, tellDay } from './telling.ts';

/** One day of a run, as much as is shown of it. Powers are means over the steps, in kW; hours count from local midnight. */
export interface DayAnswer {
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly hours: number;
  readonly pvKw: Float64Array;
  readonly loadKw: Float64Array;
  readonly carPvKw: Float64Array;
  readonly carBatteryKw: Float64Array;
  readonly carGridKw: Float64Array;
  /** What each charge point did, and its name where there are several. */
  readonly ribbons: readonly { readonly name: string; readonly stretches: readonly Stretch[] }[];
  readonly ticks: readonly { readonly atH: number; readonly label: string }[];
  readonly sums: Sums;
  readonly told: Told;
}

/** A day of a run at charge points of these names; null where the run has no such day. */
export function dayAnswer(run: Run, names: readonly string[], day: number, language: Language): DayAnswer | null {
  const { grid, columns, ledger } = run;
  const dated = ledger.days[day];
  const from = grid.dayStart[day];
  const to = grid.dayStart[day + 1];
  if (dated === undefined || from === undefined || to === undefined) return null;
  const stepH = grid.stepS / S_PER_H;
  const overDay = (powerW: (k: number) => number): Float64Array =>
    Float64Array.from({ length: to - from }, (_, i) => powerW(from + i) / W_PER_KW);
  const cars = (powerW: (point: Run['columns']['points'][number], k: number) => number): Float64Array =>
    overDay((k) => columns.points.reduce((sum, point) => sum + powerW(point, k), 0));
  return {
    year: dated.year,
    month: dated.month,
    day: dated.day,
    hours: (to - from) * stepH,
    pvKw: overDay((k) => columns.pvW[k] ?? 0),
    loadKw: overDay((k) => columns.loadW[k] ?? 0),
    carPvKw: cars((point, k) => point.pvW[k] ?? 0),
    carBatteryKw: cars((point, k) => point.batteryW[k] ?? 0),
    carGridKw: cars(carGridW),
    ribbons: columns.points.map((point, i) => ({
      name: names.length > 1 ? (names[i] ?? '') : '',
      stretches: stretchesOf(point.state, from, to, stepH),
    })),
    ticks: ticksOf(run, from, (to - from) * stepH),
    sums: sumsOf(dated.tally),
    told: tellDay(run, names, day, language),
  };
}

/** Where the clock on the wall shows a third hour: on a day on which the clocks change these are uneven. */
function ticksOf({ grid }: Run, from: number, hours: number): DayAnswer['ticks'] {
  const midnightMs = stepStartMs(grid, from);
  const ticks = [];
  for (let atH = 0; atH < hours; atH += 0.5) {
    const { hour, minute } = wallClockAt(grid.zone, midnightMs + atH * MS_PER_H);
    if (minute === 0 && hour % 3 === 0) ticks.push({ atH, label: `${hour}` });
  }
  return ticks;
}
