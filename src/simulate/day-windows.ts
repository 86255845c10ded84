import { MS_PER_DAY, offsetSAt, S_PER_H, S_PER_MIN, stepStartMs, type TimeGrid, wallClockAt } from '../base/index.ts';
import type { DayWindow } from '../scenario/index.ts';

/**
 * Lays windows of the day on the steps: calls `at` with every step that begins in a window, by the clock on the wall. A window over
 * midnight belongs to the day on which it begins. Where several hold, each is told, in list order.
 */
export function eachStepIn<W extends DayWindow>(windows: readonly W[], grid: TimeGrid, at: (k: number, window: W) => void): void {
  for (let d = 0; d < grid.dayMs.length; d++) {
    const open = openingsOf(windows, grid.dayMs[d]!);
    if (open.length === 0) continue;
    const wallS = wallClockOf(grid, d);
    const end = grid.dayStart[d + 1]!;
    for (let k = grid.dayStart[d]!; k < end; k++) {
      const nowS = wallS(k);
      for (let i = 0; i < open.length; i++) {
        const { window, fromS, toS } = open[i]!;
        if (nowS >= fromS && nowS < toS) at(k, window);
      }
    }
  }
}

interface Opening<W> {
  readonly window: W;
  /** Seconds of the day on the wall. */
  readonly fromS: number;
  readonly toS: number;
}

/** The parts of a local day in which windows hold: those that begin on it, and what is left of yesterday's. */
function openingsOf<W extends DayWindow>(windows: readonly W[], dayMs: number): Opening<W>[] {
  return windows.flatMap((window) => {
    const { fromS, toS } = window;
    const overNight = toS <= fromS;
    const opened: Opening<W>[] = [];
    if (beginsOn(window, dayMs)) opened.push({ window, fromS, toS: overNight ? Infinity : toS });
    if (overNight && beginsOn(window, dayMs - MS_PER_DAY)) opened.push({ window, fromS: 0, toS });
    return opened;
  });
}

function beginsOn({ weekdays, months }: DayWindow, dayMs: number): boolean {
  const date = new Date(dayMs);
  return weekdays.includes((date.getUTCDay() + 6) % 7) && months.includes(date.getUTCMonth() + 1);
}

/** Second of the day that the wall shows as a step of a day begins. Only on days when the clocks change is it looked up. */
function wallClockOf(grid: TimeGrid, d: number): (k: number) => number {
  const first = grid.dayStart[d]!;
  const offsetsS = [first, grid.dayStart[d + 1]! - 1].map((k) => offsetSAt(grid.zone, stepStartMs(grid, k)));
  if (offsetsS[0] === offsetsS[1]) return (k) => (k - first) * grid.stepS;
  return (k) => {
    const { hour, minute, second } = wallClockAt(grid.zone, stepStartMs(grid, k));
    return hour * S_PER_H + minute * S_PER_MIN + second;
  };
}
