import { gridEndMs, MS_PER_S, type TimeGrid } from '../base/index.ts';

/**
 * Means over the steps of a grid from means over a series' own even intervals. The quantity is taken as constant within an interval,
 * so energy is kept: coarser data are held over their steps, finer data are averaged, and a step that lies across the edge of two
 * intervals takes each for its part.
 *
 * @param atMs       starts of the intervals, evenly spaced by `intervalS`
 * @param intervalS  length of an interval, s
 * @param values     means over the intervals, in any unit
 * @returns          a value per step, in the same unit
 * @throws RangeError  the series does not cover the grid
 */
export function onGrid(atMs: Float64Array, intervalS: number, values: Float64Array, grid: TimeGrid): Float64Array {
  const firstMs = atMs[0] ?? Number.NaN;
  const endMs = firstMs + atMs.length * intervalS * MS_PER_S;
  if (!(firstMs <= grid.startMs && endMs >= gridEndMs(grid))) throw new RangeError('atMs: the series does not cover the grid');

  // Positions are counted in seconds from the first interval: whole numbers as a rule, so that edges meet exactly.
  const offsetS = (grid.startMs - firstMs) / MS_PER_S;
  const out = new Float64Array(grid.steps);
  for (let k = 0; k < grid.steps; k++) {
    const fromS = offsetS + k * grid.stepS;
    out[k] = meanBetween(values, intervalS, fromS, fromS + grid.stepS);
  }
  return out;
}

/** Mean of values held over even intervals, between two moments in seconds from the first interval. */
function meanBetween(values: Float64Array, intervalS: number, fromS: number, toS: number): number {
  const first = Math.floor(fromS / intervalS);
  const last = Math.ceil(toS / intervalS) - 1;
  if (last <= first) return values[first] ?? Number.NaN;
  let sum = 0;
  for (let i = first; i <= last; i++) {
    const overlapS = Math.min(toS, (i + 1) * intervalS) - Math.max(fromS, i * intervalS);
    sum += overlapS * (values[i] ?? Number.NaN);
  }
  return sum / (toS - fromS);
}
