import { LEAST_CURRENT_A } from '../charging/index.ts';
import type { Stretch } from './run-events.ts';
import type { RunLog } from './run-log.ts';

/** Something found out from a log: a value with the interval in which it lies, or why the log cannot tell. */
export type Estimate =
  | { readonly known: true; readonly value: number; readonly low: number; readonly high: number; readonly from: number }
  | { readonly known: false; readonly why: WhyNot; readonly low?: number; readonly high?: number; readonly from?: number };

/** Why a log cannot tell something. */
export type WhyNot =
  | 'no-currents'
  | 'no-surplus'
  | 'no-charging'
  | 'too-few'
  | 'only-at-most'
  | 'too-noisy'
  | 'too-wide'
  | 'never-happened'
  | 'needs-offered'
  | 'needs-minimum'
  | 'does-not-fit';

/** What the currents alone say. */
export interface CurrentFacts {
  /** Numbers of phases seen, fewest first; empty where the log does not say. */
  readonly phases: readonly number[];
  /** Least current at which the car keeps drawing, A per phase, by number of phases 1, 2, 3. */
  readonly minCurrentA: readonly [Estimate, Estimate, Estimate];
  /** Fineness with which the current is set, A. */
  readonly stepA: Estimate;
}

/** A level holds where so many rows on end differ by less, A. */
const LEVEL_ROWS = 3;
const LEVEL_A = 0.25;
/** Errors of the clamps, beyond noise, A. */
const CLAMP_A = 0.2;
/** Currents further from a level than this are others; those up to two amperes above it are compared with it, A. */
const FLOOR_A = 0.6;

/** What the currents say: phases, least current, step. */
export function currentFacts(log: RunLog, stretches: readonly Stretch[]): CurrentFacts {
  const none = (why: WhyNot): Estimate => ({ known: false, why });
  if (log.currentA === null) {
    const why = stretches.length === 0 ? 'no-charging' : 'no-currents';
    return { phases: [], minCurrentA: [none(why), none(why), none(why)], stepA: none(why) };
  }
  const phases = [1, 2, 3].filter((n) => stretches.some((stretch) => stretch.n === n && stretch.to - stretch.from >= LEVEL_ROWS));
  const least = (n: number): Estimate =>
    leastCurrent(
      log,
      log.currentA ?? new Float64Array(0),
      stretches.filter((one) => one.n === n),
      n,
    );
  return { phases, minCurrentA: [least(1), least(2), least(3)], stepA: stepOf(log, stretches) };
}

/** Rows of stretches without their ends, which may hold part of two states. */
const inner = ({ from, to }: Stretch): [number, number] => [from + 1, to - 1];

function leastCurrent(log: RunLog, currentA: Float64Array, stretches: readonly Stretch[], n: number): Estimate {
  const levels: number[] = [];
  for (const stretch of stretches) {
    const [from, to] = inner(stretch);
    for (let k = from; k + LEVEL_ROWS <= to; k++) {
      const rows = currentA.subarray(k, k + LEVEL_ROWS);
      const [low, high] = [Math.min(...rows), Math.max(...rows)];
      if (high - low <= LEVEL_A) levels.push((low + high) / 2);
    }
  }
  if (levels.length === 0) return { known: false, why: stretches.length === 0 ? 'never-happened' : 'too-few' };
  levels.sort((a, b) => a - b);
  const lowest = levels[0] ?? 0;
  const atLowest = levels.filter((level) => level <= lowest + LEVEL_A);
  const value = atLowest[Math.floor(atLowest.length / 2)] ?? lowest;
  const high = value + CLAMP_A + 0.02 * value;
  const lower = stretches.flatMap((stretch) =>
    Array.from(currentA.subarray(...inner(stretch))).filter((a) => a < value - FLOOR_A),
  );
  if (lower.length >= LEVEL_ROWS) {
    const third = lower.sort((a, b) => a - b)[LEVEL_ROWS - 1] ?? value;
    return { known: false, why: 'only-at-most', high: third + CLAMP_A + 0.02 * third };
  }
  const isStandards = value <= LEAST_CURRENT_A + CLAMP_A + 0.02 * value;
  const held =
    isStandards ||
    (above(currentA, stretches, value) >= LEVEL_ROWS &&
      (isFloor(log, currentA, stretches, n, value) || endsThere(log, currentA, stretches, n, value)));
  if (atLowest.length < LEVEL_ROWS || !held) return { known: false, why: 'only-at-most', high };
  return { known: true, value, low: value - CLAMP_A - 0.02 * value, high, from: atLowest.length };
}

/** A smoothed controller still sees what was there so long ago, s. */
const SEES_BACK_S = 120;
/** The surplus of rows at a floor is below this part of that of rows just above it. */
const BELOW = 0.65;
/** So many rows must be so, and such a part of those at the level: a floor is where a car waits for the sun. */
const FLOOR_ROWS = 5;
const FLOOR_SHARE = 0.15;
/** Currents at a floor differ by noise alone, A. */
const SAME_A = 0.12;

/**
 * Whether the car stayed at the level though the surplus fell: then it is its least. The surplus is compared with that of rows a
 * little above the level, since a controller may top up in proportion.
 */
function isFloor(log: RunLog, currentA: Float64Array, stretches: readonly Stretch[], n: number, levelA: number): boolean {
  const { surplusW } = log;
  if (surplusW === null) return false;
  const back = Math.ceil(SEES_BACK_S / log.table.intervalS);
  const at: number[] = [];
  const over: number[] = [];
  for (const stretch of stretches) {
    const [from, to] = inner(stretch);
    for (let k = from + back; k < to; k++) {
      const by = (currentA[k] ?? 0) - levelA;
      const seenW = surplusW.subarray(k - back, k + 1).reduce((most, w) => Math.max(most, w), -Infinity);
      if (Math.abs(by) <= SAME_A) at.push(seenW);
      else if (by > LEVEL_A && by <= FLOOR_A + 2) over.push(seenW);
    }
  }
  over.sort((a, b) => a - b);
  const usualW = over.length >= LEVEL_ROWS ? BELOW * (over[Math.floor(over.length / 2)] ?? 0) : 0.25 * n * log.voltageV * levelA;
  const below = at.filter((w) => w < usualW).length;
  return below >= FLOOR_ROWS && below >= FLOOR_SHARE * at.length;
}

/** So many ends of charging at one level, no current below it and some above, show that the car goes no lower. */
const LEAST_ENDS = 3;

/**
 * Whether charging ended at the level again and again while the surplus no longer covered it: a controller that could have gone lower
 * would have.
 */
function endsThere(
  { surplusW, voltageV }: RunLog,
  currentA: Float64Array,
  stretches: readonly Stretch[],
  n: number,
  levelA: number,
): boolean {
  if (surplusW === null) return false;
  const ends = stretches.filter(({ from, to, cutAfter }) => {
    const last = to - 1;
    const isThere = !cutAfter && last > from && Math.abs((currentA[last] ?? 0) - levelA) <= LEVEL_A;
    return isThere && (surplusW[last] ?? Infinity) < n * voltageV * levelA;
  });
  return ends.length >= LEAST_ENDS;
}

/** Rows well above a level: a current that never changed, as one set by hand, follows nothing and shows no floor. */
const above = (currentA: Float64Array, stretches: readonly Stretch[], levelA: number): number =>
  stretches.reduce((sum, one) => sum + currentA.subarray(...inner(one)).filter((a) => a > levelA + FLOOR_A).length, 0);

/** Steps in which chargers set their current, coarsest first, A. */
const STEPS_A = [1, 0.5, 0.25, 0.2, 0.1];
/** Gains of the clamps that are tried. */
const GAINS = Array.from({ length: 25 }, (_, i) => 0.94 + 0.005 * i);
/** Numbers that have nothing to do with a step are off by 1 / √12 = 0.29 of it; well below that they sit on it. */
const SITS = 0.16;
const LEAST_LEVELS = 7;
const LEAST_TRACKED = 25;

/** The coarsest step on whose multiples the currents sit: those offered, where they are logged, else those drawn. */
function stepOf({ offeredA, currentA, table }: RunLog, stretches: readonly Stretch[]): Estimate {
  const drawn = rowsWithin(currentA ?? new Float64Array(0), stretches);
  if (drawn.length < 20) return { known: false, why: stretches.length === 0 ? 'no-charging' : 'too-few' };
  const offered = offeredA === null ? null : stepIn(rowsWithin(offeredA, stretches), [1], OFFERED_FINER * resolutionOf(offeredA));
  // The current of a charger on several phases is a mean of columns: only a column shows how finely they are written.
  const written = table.columns.get('car_l1_a') ?? currentA ?? drawn;
  return offered?.known === true ? offered : stepIn(drawn, GAINS, DRAWN_FINER * resolutionOf(written));
}

/** Values of the rows of stretches, two at each end left out. */
export function rowsWithin(column: Float64Array, stretches: readonly Stretch[]): number[] {
  return stretches.flatMap((stretch) => {
    const [from, to] = inner(stretch);
    return Array.from(column.subarray(from + 1, Math.max(from + 1, to))).filter(Number.isFinite);
  });
}

/**
 * @param gains      of the clamps, to be tried
 * @param leastStepA  values written no finer sit on smaller steps whatever the charger does
 */
function stepIn(values: readonly number[], gains: readonly number[], leastStepA: number): Estimate {
  if (tracked(values) < LEAST_TRACKED) return { known: false, why: 'too-few' };
  const kept = notTooOften(values);
  for (const stepA of STEPS_A) {
    if (new Set(kept.map((a) => Math.round(a / stepA))).size < LEAST_LEVELS) return { known: false, why: 'too-few' };
    if (stepA < leastStepA) break;
    const best = Math.min(...gains.map((gain) => offStep(kept, stepA, gain)));
    if (best <= SITS) return { known: true, value: stepA, low: stepA, high: stepA, from: kept.length };
  }
  return { known: false, why: 'too-noisy', high: STEPS_A[STEPS_A.length - 1] ?? 0.1 };
}

/** Currents must be written so many times finer than a step for it to be told: drawn ones have noise and a gain, offered ones none. */
const DRAWN_FINER = 4;
const OFFERED_FINER = 1.5;
/** Most rows are at the least or the highest current, and these say nothing about what lies between: each level counts so often at most. */
const MOST_ALIKE = 3;

function notTooOften(values: readonly number[]): number[] {
  const counts = new Map<number, number>();
  return values.filter((a) => {
    const level = Math.round(10 * a);
    const count = (counts.get(level) ?? 0) + 1;
    counts.set(level, count);
    return count <= MOST_ALIKE;
  });
}

/** How finely values are written: 1, 0.1, 0.01 … */
export function resolutionOf(values: readonly number[] | Float64Array): number {
  let finest = 1;
  while (finest > 1e-4 && values.some((a) => Math.abs(a / finest - Math.round(a / finest)) > 1e-6)) finest /= 10;
  return finest;
}

/** Rows at other currents than the two that are most common. */
export function tracked(values: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const a of values) counts.set(Math.round(2 * a), (counts.get(Math.round(2 * a)) ?? 0) + 1);
  const most = [...counts.values()].sort((a, b) => b - a);
  return values.length - (most[0] ?? 0) - (most[1] ?? 0);
}

/** Root mean square distance to the nearest multiple, in parts of the step; a few set aside. */
function offStep(values: readonly number[], stepA: number, gain: number): number {
  const off = Float64Array.from(values, (a) => Math.abs(a / gain / stepA - Math.round(a / gain / stepA))).sort();
  const kept = off.subarray(0, Math.ceil(0.93 * off.length));
  return Math.sqrt(kept.reduce((sum, d) => sum + d * d, 0) / kept.length);
}
