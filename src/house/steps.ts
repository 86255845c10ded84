import { MS_PER_S, type TimeGrid } from '../base/index.ts';

/** Values that hold for an interval each. */
export interface HeldValues {
  readonly startMs: number;
  readonly intervalS: number;
  readonly values: Float64Array;
}

/**
 * Means over the steps of a grid of values that hold for an interval each: energy is kept. What lies outside the values counts as 0.
 *
 * @example meansOnSteps({ startMs: 0, intervalS: 60, values: Float64Array.of(1, 3) }, timeGrid(0, 1, 120, UTC))[0] // 2
 */
export function meansOnSteps({ startMs, intervalS, values }: HeldValues, grid: TimeGrid): Float64Array {
  const { stepS, steps } = grid;
  const offsetS = (grid.startMs - startMs) / MS_PER_S;
  const stepW = new Float64Array(steps);
  for (let k = 0; k < steps; k++) {
    const endS = offsetS + (k + 1) * stepS;
    let sumWs = 0;
    for (let atS = offsetS + k * stepS; atS < endS; ) {
      const interval = Math.floor(atS / intervalS);
      const untilS = Math.min(endS, (interval + 1) * intervalS);
      sumWs += (values[interval] ?? 0) * (untilS - atS);
      atS = untilS;
    }
    stepW[k] = sumWs / stepS;
  }
  return stepW;
}
