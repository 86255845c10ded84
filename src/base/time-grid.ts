import { MS_PER_DAY, MS_PER_S, S_PER_H } from './units.ts';
import { instantOfWall, type Zone } from './zone.ts';

/**
 * The steps of a run: step `k` covers `[startMs + k · stepS, startMs + (k + 1) · stepS)`. Whole local days, so a day on which the
 * clocks change has 23 or 25 hours.
 */
export interface TimeGrid {
  readonly startMs: number;
  readonly stepS: number;
  readonly steps: number;
  readonly zone: Zone;
  /** First step of each local day, and one entry more: `steps`. */
  readonly dayStart: Int32Array;
  /** Local date of each day as `Date.UTC(year, month - 1, day)`. */
  readonly dayMs: Float64Array;
}

/**
 * A grid over whole local days.
 *
 * @param firstDayMs  local date of the first day as `Date.UTC(year, month - 1, day)`
 * @param days   whole days, 1 or more
 * @param stepS  length of a step, a divisor of 3600
 * @throws RangeError  days or step out of range, or a day that is not a whole number of steps
 */
export function timeGrid(firstDayMs: number, days: number, stepS: number, zone: Zone): TimeGrid {
  if (!Number.isInteger(days) || days < 1) throw new RangeError(`days = ${days}: must be a whole number, 1 or more`);
  if (!(stepS > 0) || S_PER_H % stepS !== 0) throw new RangeError(`stepS = ${stepS}: must divide 3600`);
  const dayMs = new Float64Array(days);
  const dayStart = new Int32Array(days + 1);
  const startMs = instantOfWall(zone, firstDayMs, 0);
  for (let d = 0; d <= days; d++) {
    const localMs = firstDayMs + d * MS_PER_DAY;
    const step = (instantOfWall(zone, localMs, 0) - startMs) / (stepS * MS_PER_S);
    if (!Number.isInteger(step))
      throw new RangeError(`stepS = ${stepS}: midnight of day ${d} in ${zone.name} falls inside a step`);
    dayStart[d] = step;
    if (d < days) dayMs[d] = localMs;
  }
  return { startMs, stepS, steps: dayStart[days] ?? 0, zone, dayStart, dayMs };
}

/**
 * The first days of a grid; all of it where there are no more.
 *
 * @param days  whole days, 1 or more
 */
export function firstDays(grid: TimeGrid, days: number): TimeGrid {
  if (!Number.isInteger(days) || days < 1) throw new RangeError(`days = ${days}: must be a whole number, 1 or more`);
  if (days >= grid.dayMs.length) return grid;
  const dayStart = grid.dayStart.subarray(0, days + 1);
  return { ...grid, steps: dayStart[days] ?? 0, dayStart, dayMs: grid.dayMs.subarray(0, days) };
}

/** Instant at which step `k` begins. */
export const stepStartMs = (grid: TimeGrid, k: number): number => grid.startMs + k * grid.stepS * MS_PER_S;
/** Instant in the middle of step `k`, where the sun stands for it. */
export const stepMiddleMs = (grid: TimeGrid, k: number): number => grid.startMs + (k + 0.5) * grid.stepS * MS_PER_S;
/** Instant at which the run ends. */
export const gridEndMs = (grid: TimeGrid): number => stepStartMs(grid, grid.steps);
