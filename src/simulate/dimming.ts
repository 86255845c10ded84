import type { TimeGrid } from '../base/index.ts';
import type { Dimming } from '../scenario/index.ts';
import { eachStretchIn } from './day-windows.ts';

/** The operator's limit in force in each step, W: `toW` in its windows (a step belongs to the window in which it begins), else Infinity. */
export function dimmedTo(dimming: Dimming, grid: TimeGrid): Float64Array {
  const limitW = new Float64Array(grid.steps).fill(Infinity);
  eachStretchIn(dimming.windows, grid, (_, from, end) => limitW.fill(dimming.toW, from, end));
  return limitW;
}
