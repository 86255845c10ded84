import type { Stretch } from './run-events.ts';
import type { RunLog } from './run-log.ts';

/** Something found out from a log: a value with the interval in which it lies, or why the log cannot tell. */
export type Estimate =
  | { readonly known: true; readonly value: number; readonly low: number; readonly high: number; readonly from: number }
  | { readonly known: false; readonly why: WhyNot; readonly low?: number; readonly high?: number };

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

/** How the grid tops up: to the least current only, or in proportion, and then what part the surplus covers. */
export interface TopUpFacts {
  readonly topUp: 'minimum' | 'proportional' | null;
  readonly coveredShare: Estimate;
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
  return { phases, minCurrentA: [least(1), least(2), least(3)], stepA: stepOf(log.currentA, stretches) };
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
  const lower = stretches.flatMap(({ from, to }) => Array.from(currentA.subarray(from, to)).filter((a) => a < value - FLOOR_A));
  if (lower.length >= LEVEL_ROWS) {
    const third = lower.sort((a, b) => a - b)[LEVEL_ROWS - 1] ?? value;
    return { known: false, why: 'only-at-most', high: third + CLAMP_A + 0.02 * third };
  }
  if (atLowest.length < LEVEL_ROWS || !isFloor(log, currentA, stretches, n, value))
    return { known: false, why: 'only-at-most', high };
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
  const above: number[] = [];
  for (const stretch of stretches) {
    const [from, to] = inner(stretch);
    for (let k = from + back; k < to; k++) {
      const over = (currentA[k] ?? 0) - levelA;
      const seenW = surplusW.subarray(k - back, k + 1).reduce((most, w) => Math.max(most, w), -Infinity);
      if (Math.abs(over) <= SAME_A) at.push(seenW);
      else if (over > LEVEL_A && over <= FLOOR_A + 2) above.push(seenW);
    }
  }
  above.sort((a, b) => a - b);
  const usualW =
    above.length >= LEVEL_ROWS ? BELOW * (above[Math.floor(above.length / 2)] ?? 0) : 0.25 * n * log.voltageV * levelA;
  const below = at.filter((w) => w < usualW).length;
  return below >= FLOOR_ROWS && below >= FLOOR_SHARE * at.length;
}

/** Currents between the least and the highest say how the surplus is followed: so many rows are needed, so far from both, A. */
const FOLLOWING_ROWS = 20;
const CLEAR_A = 0.8;
/** Followed as it is: the car takes no more than this part above the surplus. */
const FOLLOWED = 1.06;

/**
 * How the surplus is followed, from rows in which the current is neither at its least nor at its highest.
 *
 * @param available  what the controller makes of the surplus, W
 */
export function topUpFacts(
  log: RunLog,
  available: Float64Array,
  stretches: readonly Stretch[],
  current: CurrentFacts,
): TopUpFacts {
  const { currentA, carW } = log;
  const none = (why: WhyNot): TopUpFacts => ({ topUp: null, coveredShare: { known: false, why } });
  if (currentA === null) return none('no-currents');
  const top = stretches.reduce((most, { from, to }) => currentA.subarray(from, to).reduce((a, b) => Math.max(a, b), most), 0);
  const ratios: number[] = [];
  for (const stretch of stretches) {
    const least = current.minCurrentA[(stretch.n ?? 1) - 1];
    const leastA = least?.known ? least.value : (least?.high ?? 6);
    const [from, to] = inner(stretch);
    for (let k = from + 1; k < to; k++) {
      const a = currentA[k] ?? 0;
      if (a > leastA + CLEAR_A && a < top - CLEAR_A && (carW[k] ?? 0) > 0) ratios.push((available[k] ?? 0) / (carW[k] ?? 1));
    }
  }
  if (ratios.length < FOLLOWING_ROWS) return none('too-few');
  ratios.sort((a, b) => a - b);
  const at = (share: number): number => ratios[Math.floor(share * (ratios.length - 1))] ?? 1;
  if (at(0.5) > 1 / FOLLOWED) return { topUp: 'minimum', coveredShare: { known: false, why: 'never-happened' } };
  const [low, high] = [at(0.25) * 0.97, Math.min(1, at(0.75) * 1.03)];
  if (high - low > WIDEST_COVER) return { topUp: 'proportional', coveredShare: { known: false, why: 'too-wide', low, high } };
  return { topUp: 'proportional', coveredShare: { known: true, value: at(0.5), low, high, from: ratios.length } };
}

/** Widest interval of the covered part that is still told. */
const WIDEST_COVER = 0.15;

/** Steps in which chargers set their current, coarsest first, A. */
const STEPS_A = [1, 0.5, 0.25, 0.2, 0.1];
/** Gains of the clamps that are tried. */
const GAINS = Array.from({ length: 25 }, (_, i) => 0.94 + 0.005 * i);
/** Numbers that have nothing to do with a step are off by 1 / √12 = 0.29 of it; well below that they sit on it. */
const SITS = 0.16;
const LEAST_LEVELS = 7;
const LEAST_TRACKED = 25;

/** The coarsest step on whose multiples the currents sit. */
function stepOf(currentA: Float64Array, stretches: readonly Stretch[]): Estimate {
  const values: number[] = [];
  for (const stretch of stretches) {
    const [from, to] = inner(stretch);
    for (let k = from + 1; k < to; k++) values.push(currentA[k] ?? 0);
  }
  if (values.length < 20) return { known: false, why: stretches.length === 0 ? 'no-charging' : 'too-few' };
  if (tracked(values) < LEAST_TRACKED) return { known: false, why: 'too-few' };
  for (const stepA of STEPS_A) {
    // Each level once: most rows are at the least or the highest current, and these say nothing about what lies between.
    const binA = stepA / 6;
    const picked = [...new Set(values.map((a) => Math.round(a / binA)))].map((bin) => bin * binA);
    if (new Set(picked.map((a) => Math.round(a / stepA))).size < LEAST_LEVELS) return { known: false, why: 'too-few' };
    const best = Math.min(...GAINS.map((gain) => offStep(picked, stepA, gain)));
    if (best <= SITS) return { known: true, value: stepA, low: stepA, high: stepA, from: picked.length };
  }
  return { known: false, why: 'too-noisy', high: STEPS_A[STEPS_A.length - 1] ?? 0.1 };
}

/** Rows at other currents than the two that are most common. */
function tracked(values: readonly number[]): number {
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
