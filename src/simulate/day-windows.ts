import { MS_PER_DAY, offsetSAt, S_PER_H, S_PER_MIN, stepStartMs, type TimeGrid, wallClockAt } from '../base/index.ts';
import type { DayWindow } from '../scenario/index.ts';

/**
 * Lays windows of the day on the steps: calls `on` with every stretch of steps that begin in a window, by the clock on the wall. A window
 * over midnight belongs to the day on which it begins. Where several hold at once, each is told, in list order.
 *
 * @param on  gets the window, its first step and the step after its last
 */
export function eachStretchIn<W extends DayWindow>(
  windows: readonly W[],
  grid: TimeGrid,
  on: (window: W, from: number, end: number) => void,
): void {
  for (let d = 0; d < grid.dayMs.length; d++) {
    const first = grid.dayStart[d]!;
    const next = grid.dayStart[d + 1]!;
    const steady = offsetSAt(grid.zone, stepStartMs(grid, first)) === offsetSAt(grid.zone, stepStartMs(grid, next - 1));
    for (const { window, fromS, toS } of openingsOf(windows, grid.dayMs[d]!)) {
      if (steady) {
        const from = first + Math.ceil(fromS / grid.stepS);
        const end = Math.min(next, first + Math.ceil(toS / grid.stepS));
        if (end > from) on(window, from, end);
        continue;
      }
      // On a day when the clocks change every step asks the wall.
      for (let k = first; k < next; k++) {
        const nowS = wallS(grid, k);
        if (nowS >= fromS && nowS < toS) on(window, k, k + 1);
      }
    }
  }
}

/** Second of the day that the wall shows as a step begins. */
function wallS(grid: TimeGrid, k: number): number {
  const { hour, minute, second } = wallClockAt(grid.zone, stepStartMs(grid, k));
  return hour * S_PER_H + minute * S_PER_MIN + second;
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
