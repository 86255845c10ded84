import { MS_PER_DAY, S_PER_H, stepStartMs, type TimeGrid, wallClockAt } from '../base/index.ts';
import type { Dimming } from '../scenario/index.ts';

type Window = Dimming['windows'][number];

/** The operator's limit in force in each step, W: `toW` in its windows (a step belongs to the window in which it begins), else Infinity. */
export function dimmedTo(dimming: Dimming, grid: TimeGrid): Float64Array {
  const limitW = new Float64Array(grid.steps).fill(Infinity);
  for (let d = 0; d < grid.dayMs.length; d++) {
    const date = new Date(grid.dayMs[d]!);
    // A window over midnight that began yesterday belongs to yesterday's date.
    const today = dimming.windows.filter((window) => isOn(window, date));
    const sinceYesterday = dimming.windows.filter((window) => isOn(window, new Date(date.getTime() - MS_PER_DAY)));
    if (today.length + sinceYesterday.length === 0) continue;
    for (let k = grid.dayStart[d]!; k < grid.dayStart[d + 1]!; k++) {
      const { hour, minute, second } = wallClockAt(grid.zone, stepStartMs(grid, k));
      const atS = hour * S_PER_H + minute * 60 + second;
      const holds =
        today.some(({ fromS, toS }) => atS >= fromS && (atS < toS || toS <= fromS)) ||
        sinceYesterday.some(({ fromS, toS }) => toS <= fromS && atS < toS);
      if (holds) limitW[k] = dimming.toW;
    }
  }
  return limitW;
}

function isOn({ weekdays, months }: Window, date: Date): boolean {
  return weekdays.includes((date.getUTCDay() + 6) % 7) && months.includes(date.getUTCMonth() + 1);
}
