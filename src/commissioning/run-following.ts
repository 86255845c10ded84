import type { CurrentFacts, Estimate, WhyNot } from './run-current.ts';
import type { Stretch } from './run-events.ts';
import type { RunLog } from './run-log.ts';
import { type Assumed, availableW, SMOOTHINGS_S } from './run-thresholds.ts';

/** How the current follows the surplus. */
export interface Following {
  /** How the grid tops up: to the least current only, or in proportion, and then what part the surplus covers. */
  readonly topUp: 'minimum' | 'proportional' | null;
  readonly coveredShare: Estimate;
  /** Between what the reserve lies, W: as assumed, or as the currents show it where they contradict that or tell it more closely. */
  readonly reserveRangeW: readonly [least: number, most: number];
  /** Smoothings with which the currents follow, s: all that were tried where the currents do not tell. */
  readonly smoothingsS: readonly number[];
}

/** Rows at currents so far from the least and the highest, A, follow the surplus; so many are needed. */
const CLEAR_A = 0.8;
const FOLLOWING_ROWS = 20;
/** A surplus below this part of the draw is not followed: charging by hand or for a departure. */
const LEAST_FOLLOWED = 0.15;
/** Meters may be off by so much, as a part and W. */
const METERS = 0.015;
const METERS_W = 15;
/** Such a part of the rows must be explained by one share, and a smoothing that explains so much less than the best one is none. */
const EXPLAINED = 0.7;
const WORSE = 0.02;
/** A surplus that covers more than this covers all. */
const COVERS_ALL = 0.955;
/** Widest interval of the covered part that is still told. */
const WIDEST_COVER = 0.09;
/** A step that is not known is no coarser, A. */
const COARSEST_STEP_A = 1;

/**
 * How the surplus is followed, from rows in which the current is neither at its least nor at its highest: there the power is what the
 * surplus allows, rounded down to a step, or that divided by the share.
 *
 * Each row bounds the covered part from both sides; the part that most rows agree on is it, and the smoothing with which most agree is
 * the controller's.
 */
export function followingOf(
  log: RunLog,
  surplusW: Float64Array,
  stretches: readonly Stretch[],
  current: CurrentFacts,
  assumed: Assumed,
): Following {
  const tried = assumed.smoothingS === null ? SMOOTHINGS_S : [assumed.smoothingS];
  const none = (why: WhyNot): Following => ({
    topUp: null,
    coveredShare: { known: false, why },
    reserveRangeW: assumed.reserveRangeW,
    smoothingsS: tried,
  });
  if (log.currentA === null) return none('no-currents');
  const rows = followedRows(log, log.currentA, stretches, current);
  const reservesW = [...new Set([assumed.reserveW, ...assumed.reserveRangeW])];
  const ways = tried.flatMap((smoothingS) =>
    reservesW.map((reserveW) => ({
      smoothingS,
      ...mostAgreed(boundsOfShare(availableW(log, surplusW, { reserveW }, smoothingS), rows)),
    })),
  );
  const most = Math.max(...ways.map(({ agreeing }) => agreeing));
  if (!(most >= FOLLOWING_ROWS)) return none('too-few');
  const best = ways.find(({ agreeing }) => agreeing === most);
  if (best === undefined || most < EXPLAINED * best.rows) return none('does-not-fit');
  const good = ways.filter(({ agreeing, rows: seen }) => agreeing / Math.max(1, seen) >= most / best.rows - WORSE);
  const low = Math.min(...good.map((way) => way.low));
  const high = Math.max(...good.map((way) => way.high));
  const smoothingsS = [...new Set(good.map(({ smoothingS }) => smoothingS))];
  const covered = coveredBy(low, high, most);
  const seenW = covered.topUp === 'minimum' ? reserveSeen(log, surplusW, rows, best.smoothingS) : null;
  return {
    ...covered,
    smoothingsS,
    reserveRangeW: seenW === null ? assumed.reserveRangeW : narrowed(assumed.reserveRangeW, seenW),
  };
}

/** What both allow; where they contradict each other, what was seen. */
function narrowed([least, most]: readonly [number, number], [low, high]: readonly [number, number]): [number, number] {
  return low > most || high < least ? [low, high] : [Math.max(least, low), Math.min(most, high)];
}

/** Where the current follows the surplus itself, what is left of it is the reserve and less than a step: the reserve that most rows allow. */
function reserveSeen(
  log: RunLog,
  surplusW: Float64Array,
  rows: readonly FollowedRow[],
  smoothingS: number,
): [number, number] | null {
  const smoothed = availableW(log, surplusW, { reserveW: 0 }, smoothingS);
  const bounds = rows.flatMap(({ row, drawnW, nextW }): Bounds[] => {
    const w = smoothed[row] ?? Number.NaN;
    const offW = METERS_W + METERS * Math.max(w, drawnW);
    return w > LEAST_FOLLOWED * drawnW ? [[w - nextW - offW, w - drawnW + offW]] : [];
  });
  const { agreeing, low, high } = mostAgreed(bounds);
  return agreeing >= FOLLOWING_ROWS && agreeing >= EXPLAINED * bounds.length ? [Math.max(0, low), Math.max(0, high)] : null;
}

function coveredBy(low: number, high: number, from: number): Pick<Following, 'topUp' | 'coveredShare'> {
  if (low > COVERS_ALL) return { topUp: 'minimum', coveredShare: { known: false, why: 'never-happened' } };
  const open = { known: false, why: 'too-wide', low, high: Math.min(1, high) } as const;
  // An interval that reaches over the edge may be either: a share just below 1, or a reserve that is other than assumed.
  if (high > COVERS_ALL) return { topUp: null, coveredShare: open };
  if (high - low > WIDEST_COVER) return { topUp: 'proportional', coveredShare: open };
  return { topUp: 'proportional', coveredShare: { known: true, value: (low + high) / 2, low, high, from } };
}

interface FollowedRow {
  readonly row: number;
  /** Power drawn, and with one step of the current more, W. */
  readonly drawnW: number;
  readonly nextW: number;
}

function followedRows(
  log: RunLog,
  currentA: Float64Array,
  stretches: readonly Stretch[],
  { minCurrentA, stepA }: CurrentFacts,
): FollowedRow[] {
  const top = stretches.reduce((most, { from, to }) => currentA.subarray(from, to).reduce((a, b) => Math.max(a, b), most), 0);
  const finestA = stepA.known ? stepA.value : COARSEST_STEP_A;
  const rows: FollowedRow[] = [];
  for (const { from, to, n } of stretches) {
    const least = minCurrentA[(n ?? 1) - 1];
    const leastA = least?.known ? least.value : (least?.high ?? 6);
    for (let row = from + 2; row < to - 1; row++) {
      const a = currentA[row] ?? 0;
      const drawnW = log.carW[row] ?? 0;
      if (!(a > leastA + CLEAR_A && a < top - CLEAR_A && drawnW > 0)) continue;
      rows.push({ row, drawnW, nextW: drawnW + finestA * (n ?? 1) * log.voltageV });
    }
  }
  return rows;
}

type Bounds = readonly [low: number, high: number];

/** Between what the covered part lies by each row. */
function boundsOfShare(available: Float64Array, rows: readonly FollowedRow[]): Bounds[] {
  return rows.flatMap(({ row, drawnW, nextW }): Bounds[] => {
    const w = available[row] ?? Number.NaN;
    const offW = METERS_W + METERS * Math.max(w, drawnW);
    return w > LEAST_FOLLOWED * drawnW ? [[(w - offW) / nextW, (w + offW) / drawnW]] : [];
  });
}

/** The value that most rows allow: how many do, of how many, and the interval in which nearly as many do. */
function mostAgreed(bounds: readonly Bounds[]): { agreeing: number; rows: number; low: number; high: number } {
  const ends = bounds.flatMap(([low, high]): [at: number, by: number][] => [
    [low, 1],
    [high, -1],
  ]);
  ends.sort((a, b) => a[0] - b[0] || b[1] - a[1]);
  let sum = 0;
  const counts = ends.map(([, by]) => {
    sum += by;
    return sum;
  });
  const agreeing = counts.reduce((a, b) => Math.max(a, b), 0);
  const enough = (count: number): boolean => count >= agreeing - WORSE * bounds.length;
  const first = counts.findIndex(enough);
  let last = counts.length - 1;
  while (last > first && !enough(counts[last] ?? 0)) last--;
  return { agreeing, rows: bounds.length, low: ends[first]?.[0] ?? 0, high: ends[last + 1]?.[0] ?? 1 };
}
