import type { Between, Stretch } from './run-events.ts';
import type { RunLog } from './run-log.ts';

/** What is assumed of the controller where the log does not show it. */
export interface Assumed {
  /** Kept back from the surplus, W. */
  readonly reserveW: number;
  /** The reserve lies between these, W; both the same where it is known. */
  readonly reserveRangeW: readonly [least: number, most: number];
  /** Time constant of its smoothing, s; null: tried. */
  readonly smoothingS: number | null;
}

/** Starts and stops held against one threshold: how well they fit, and which delays fit best. */
export interface ThresholdFit {
  readonly thresholdW: number;
  readonly smoothingS: number;
  /** Starts and stops that do not fit, late ones counting part. */
  readonly cost: number;
  readonly startCost: number;
  readonly stopCost: number;
  /** Rows that the surplus had stood, or been missing, before the charger acted; before the car's first current where that is all there is. */
  readonly startRows: number;
  readonly stopRows: number;
  /** Starts and stops that these rows explain exactly. */
  readonly starts: number;
  readonly stops: number;
  /** Ends of charging that are no change of phases. */
  readonly stalls: number;
}

/** A start: when the charger acted, and since when it was free to count. */
export interface StartEvent {
  readonly row: number;
  readonly since: number;
  /** Follows a stop closely, so that a rest may have held it. */
  readonly rested: boolean;
}

/** An end of charging: when, and since when the charger counted. */
export interface StopEvent {
  readonly row: number;
  readonly since: number;
  /** What follows may be a change of phases. */
  readonly maySwitch: boolean;
}

/** Starts and stops of a log that are not cut off by gaps. */
export interface RunEvents {
  readonly starts: readonly StartEvent[];
  readonly stops: readonly StopEvent[];
}

/** Takes starts and stops from stretches. With `offered` the charger's act is seen itself; without it, the car's first current. */
export function eventsOf(stretches: readonly Stretch[], between: readonly Between[]): RunEvents {
  const gaps = between.filter(({ mayBeSwitch }) => !mayBeSwitch).map(({ rows }) => rows);
  const shortest = gaps.length === 0 ? 0 : Math.min(...gaps);
  const starts = between.flatMap(({ before, after, rows, mayBeSwitch }): StartEvent[] => {
    if (mayBeSwitch) return [];
    return [{ row: after.offered ?? after.from, since: before.to, rested: rows <= shortest * 1.25 + 2 }];
  });
  const first = stretches[0];
  if (first !== undefined && !first.cutBefore) starts.unshift({ row: first.offered ?? first.from, since: 0, rested: false });
  const stops = stretches.flatMap((stretch): StopEvent[] => {
    if (stretch.cutAfter) return [];
    const next = between.find(({ before }) => before === stretch);
    return [{ row: stretch.to, since: stretch.cutBefore ? stretch.from : stretch.from, maySwitch: next?.mayBeSwitch === true }];
  });
  return { starts, stops };
}

/** What the controller makes of the surplus: smoothed, less the reserve, not below zero. Starts afresh after a gap. */
export function availableW(
  log: RunLog,
  surplusW: Float64Array,
  { reserveW }: Pick<Assumed, 'reserveW'>,
  smoothingS: number,
): Float64Array {
  const weight = smoothingS === 0 ? 1 : 1 - Math.exp(-log.table.intervalS / smoothingS);
  const out = new Float64Array(surplusW.length);
  let smoothed = Number.NaN;
  for (let k = 0; k < out.length; k++) {
    const seen = surplusW[k] ?? Number.NaN;
    if (Number.isNaN(smoothed) || log.table.gapBefore[k] === 1) smoothed = seen;
    else if (!Number.isNaN(seen)) smoothed += weight * (seen - smoothed);
    out[k] = Math.max(0, smoothed - reserveW);
  }
  return out;
}

/** Within this of a threshold, meters do not say on which side of it the surplus was: so much, and such a part, W. */
export const UNSURE_W = 12;
const UNSURE = 0.004;

/** How long a condition had stood when something happened: surely, and at most. */
interface Run {
  readonly least: number;
  readonly most: number;
}

/** How long a condition had stood at each event, and how often it surely stood longer without anything happening. */
interface Runs {
  readonly atStarts: readonly Run[];
  readonly atStops: readonly Run[];
  /** Longest runs without a start while the charger waited between two stretches, and without a stop while it charged. */
  readonly idle: readonly number[];
  readonly charging: readonly number[];
}

function runsAt(available: Float64Array, thresholdW: number, events: RunEvents): Runs {
  const longest = (from: number, to: number, above: boolean): number => longestRun(available, from, to, thresholdW, above);
  const atStarts = events.starts.map(({ row, since }) => runBefore(available, row, since, thresholdW, true));
  const atStops = events.stops.map(({ row, since }) => runBefore(available, row, since, thresholdW, false));
  return {
    atStarts,
    atStops,
    idle: events.starts.map(({ row, since }, i) =>
      i === 0 && since === 0 ? 0 : longest(since, row - (atStarts[i]?.least ?? 0), true),
    ),
    charging: events.stops.map(({ row, since }, i) => longest(since, row - (atStops[i]?.least ?? 0), false)),
  };
}

/** Rows up to and with one in which a condition holds, not before `since`. */
function runBefore(available: Float64Array, row: number, since: number, thresholdW: number, above: boolean): Run {
  const hair = UNSURE_W + UNSURE * thresholdW;
  const count = (edgeW: number): number => {
    let run = 0;
    while (row - run >= since && (available[row - run] ?? 0) >= edgeW === above) run++;
    return run;
  };
  const side = above ? hair : -hair;
  return { least: count(thresholdW + side), most: count(thresholdW - side) };
}

/** The longest run of rows in which a condition surely holds; rows without a value are below. */
function longestRun(available: Float64Array, from: number, to: number, thresholdW: number, above: boolean): number {
  const hair = UNSURE_W + UNSURE * thresholdW;
  const edgeW = above ? thresholdW + hair : thresholdW - hair;
  let most = 0;
  let run = 0;
  for (let k = Math.max(0, from); k < to; k++) {
    if ((available[k] ?? 0) >= edgeW === above) {
      run++;
      if (run > most) most = run;
    } else run = 0;
  }
  return most;
}

/** Cost of an event that a delay does not explain, of one that comes later than it should, and of one that should have come. */
const UNEXPLAINED = 1;
const LATE = 0.35;
const MISSED = 1;
/** A charger that does not start for longer than this, s, may have no car: that costs less. */
const LONG_WAIT_S = 1800;
const NO_CAR = 0.35;

/** An event shows a delay where its run is known to so many rows: a surplus that hangs at the threshold shows nothing. */
const SURE_ROWS = 2;

/** The delay, in rows, that fits runs best: the smallest cost, of equals the one that explains most exactly. */
function bestDelay(
  runs: readonly Run[],
  excused: readonly boolean[],
  without: readonly number[],
  noCarRows: number,
): { rows: number; cost: number; exact: number } {
  let best = { rows: 0, cost: Infinity, exact: 0 };
  for (const candidate of new Set(runs.flatMap(({ least, most }) => [least, most]).filter((run) => run > 0))) {
    let cost = 0;
    let exact = 0;
    runs.forEach(({ least, most }, i) => {
      if (least <= candidate && candidate <= most) exact += most - least <= SURE_ROWS ? 1 : 0;
      else if (most < candidate) cost += UNEXPLAINED;
      else if (excused[i] !== true) cost += LATE;
    });
    for (const run of without) if (run > candidate) cost += run > noCarRows ? NO_CAR : MISSED;
    if (cost < best.cost - 1e-9 || (cost < best.cost + 1e-9 && exact > best.exact)) best = { rows: candidate - 1, cost, exact };
  }
  return best.cost === Infinity ? { rows: 0, cost: runs.length * UNEXPLAINED, exact: 0 } : best;
}

/** Smoothings that are tried where none is assumed, s. */
export const SMOOTHINGS_S: readonly number[] = [0, 10, 20, 30, 45, 60, 90];
/** Thresholds that are tried: so many, evenly up to the highest. */
const THRESHOLDS = 240;

/**
 * Holds starts and stops against every threshold up to a highest one. At the right threshold each start comes the same number of rows
 * after the surplus rose to it, each stall the same number after it fell, and never did it stand or lack longer without one.
 *
 * @returns all fits, for the caller to find the best and those as good
 */
export function thresholdFits(
  log: RunLog,
  surplusW: Float64Array,
  events: RunEvents,
  highestW: number,
  assumed: Assumed,
  smoothingsS: readonly number[],
): ThresholdFit[] {
  const ways = smoothingsS.flatMap((smoothingS) => {
    const available = availableW(log, surplusW, assumed, smoothingS);
    return lagsTried(log).map((lagRows) => ({ smoothingS, available, lagRows }));
  });
  const noCarRows = LONG_WAIT_S / log.table.intervalS;
  const fitOf = ({ smoothingS, available, lagRows }: (typeof ways)[number], i: number): ThresholdFit => {
    const acted = { ...events, starts: events.starts.map((start) => ({ ...start, row: start.row - lagRows })) };
    const fit = fitAt(available, (i * highestW) / THRESHOLDS, smoothingS, acted, noCarRows);
    return { ...fit, startRows: fit.startRows + lagRows };
  };
  // A coarse look first: where ways of smoothing and lagging fit much worse than the best, they need no closer one.
  const coarse = ways.map((way) => Array.from({ length: THRESHOLDS / COARSE }, (_, i) => fitOf(way, (i + 1) * COARSE)));
  const limit = Math.min(...coarse.flat().map(({ cost }) => cost)) + WORTH_A_LOOK;
  const isWorthALook = (fits: readonly ThresholdFit[], i: number): boolean =>
    Math.min(fits[i - 1]?.cost ?? Infinity, fits[i]?.cost ?? Infinity) <= limit;
  return ways.flatMap((way, w) => {
    const fits = coarse[w] ?? [];
    return fits.flatMap((fit, i) =>
      isWorthALook(fits, i) ? [...Array.from({ length: COARSE - 1 }, (_, j) => fitOf(way, i * COARSE + j + 1)), fit] : [fit],
    );
  });
}

/** Every so many thresholds for a coarse look; ways within so much cost of the best are looked at closely. */
const COARSE = 5;
const WORTH_A_LOOK = 3;

/** Where the charger's act is not seen, the car's first current may lag behind it, up to so long, s. */
const LONGEST_LAG_S = 120;

function lagsTried({ offeredA, table }: RunLog): number[] {
  if (offeredA !== null) return [0];
  const most = Math.round(LONGEST_LAG_S / table.intervalS);
  return [...new Set([0, 1, 2, 3].map((third) => Math.round((third * most) / 3)))];
}

function fitAt(
  available: Float64Array,
  thresholdW: number,
  smoothingS: number,
  events: RunEvents,
  noCarRows: number,
): ThresholdFit {
  const runs = runsAt(available, thresholdW, events);
  const rested = events.starts.map((start) => start.rested);
  // After a stop the charger may rest: what stood in that time asked for nothing.
  const start = bestDelay(
    runs.atStarts,
    rested,
    runs.idle.filter((_, i) => rested[i] !== true),
    noCarRows,
  );
  const stalls = runs.atStops.map((run, i) => (run.most === 0 && events.stops[i]?.maySwitch === true ? null : run));
  const counted = stalls.flatMap((run) => (run === null ? [] : [run]));
  const stop = bestDelay(
    counted,
    counted.map(() => false),
    runs.charging,
    Infinity,
  );
  return {
    thresholdW,
    smoothingS,
    cost: start.cost + stop.cost,
    startCost: start.cost,
    stopCost: stop.cost,
    startRows: start.rows,
    stopRows: stop.rows,
    starts: start.exact,
    stops: stop.exact,
    stalls: counted.length,
  };
}

/** Runs of one condition at single rows, for changes of phases: the delay that fits, and how many it explains. */
export function delayAt(
  available: Float64Array,
  thresholdW: number,
  events: readonly { readonly row: number; readonly since: number }[],
  without: readonly { readonly from: number; readonly to: number }[],
  above: boolean,
): { rows: number; exact: number; cost: number } {
  const runs = events.map(({ row, since }) => runBefore(available, row, since, thresholdW, above));
  const idle = without.map(({ from, to }) => longestRun(available, from, to, thresholdW, above));
  return bestDelay(
    runs,
    runs.map(() => false),
    idle,
    Infinity,
  );
}
