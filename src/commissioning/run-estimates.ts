import { type CurrentFacts, currentFacts, type Estimate, type WhyNot } from './run-current.ts';
import { type Enough, enoughIn } from './run-enough.ts';
import { type Between, betweenIn, type Stretch, stretchesIn } from './run-events.ts';
import { type Following, followingOf } from './run-following.ts';
import type { RunLog } from './run-log.ts';
import { type Assumed, availableW, delayAt, eventsOf, type ThresholdFit, thresholdFits, UNSURE_W } from './run-thresholds.ts';

/** What a log says about the settings of a running system. Delays in s. */
export interface RunFindings extends Pick<Following, 'topUp' | 'coveredShare' | 'reserveRangeW'> {
  readonly current: CurrentFacts;
  /** Surplus at which charging may start, after the reserve, W. */
  readonly thresholdW: Estimate;
  /** The same as a part of what the least current takes. */
  readonly surplusShare: Estimate;
  /** Includes the vehicle's lag where the log does not say what the charger offers. */
  readonly startDelayS: Estimate;
  readonly startIncludesLag: boolean;
  readonly stopDelayS: Estimate;
  readonly switchUpDelayS: Estimate;
  readonly switchDownDelayS: Estimate;
  /** Includes the vehicle's lag in the same case. */
  readonly switchPauseS: Estimate;
  readonly lagS: Estimate;
  readonly assumed: Assumed;
  readonly starts: number;
  readonly stops: number;
  readonly switches: number;
  /** Whether the log holds enough for each setting, by the rule of `enoughIn`. */
  readonly enough: Enough;
}

/** Fits that cost no more than the best one and this are as good. */
const AS_GOOD = 1.05;
/** A delay is told where so many events show it exactly, and most events fit. */
const LEAST_EXACT = 3;
const FITTING_SHARE = 0.5;
const SWITCHES_FITTING = 0.67;
/** For the threshold itself, such a part of all starts and stops must be exact: it hangs on all of them at once. */
const FITTING_THRESHOLD = 0.6;
/** A rival fit explains at least such a part of the events that the best one explains exactly. */
const RIVAL_SHARE = 0.5;
/** Widest interval of a share that is still told. */
const WIDEST_SHARE = 0.1;
/** Delays told to so many steps. */
const WIDEST_ROWS = 2;

/** Two ways to a share agree within this. */
const APART = 0.03;

const unknown = (why: WhyNot): Estimate => ({ known: false, why });

/** Finds out how a running system is set. Every value comes with an interval, or with why the log cannot tell. */
export function runFindings(log: RunLog, assumed: Assumed): RunFindings {
  const stretches = stretchesIn(log);
  const between = betweenIn(stretches, log.table.intervalS, log.table.gapBefore);
  const current = currentFacts(log, stretches);
  const events = eventsOf(stretches, between);
  const base = {
    current,
    assumed,
    startIncludesLag: log.offeredA === null,
    starts: events.starts.length,
    stops: events.stops.length,
    switches: between.filter(({ mayBeSwitch }) => mayBeSwitch).length,
    enough: enoughIn(log, stretches, between, events),
    lagS: lagOf(log, stretches),
  };
  const silent = silence(log, stretches);
  if (silent !== null || log.surplusW === null)
    return { ...base, reserveRangeW: assumed.reserveRangeW, ...nothingOf(unknown(silent ?? 'no-surplus')) };
  const n = current.phases[0] ?? null;
  const least = n === null ? null : current.minCurrentA[n - 1];
  const leastA = least?.known ? least.value : (least?.high ?? null);
  const wholeW = n === null || leastA === null ? highestPlausibleW(log, stretches) : n * log.voltageV * leastA;
  const { smoothingsS, reserveRangeW, ...topUp } = followingOf(log, log.surplusW, stretches, current, assumed);
  const good = asGood(thresholdFits(log, log.surplusW, events, 1.3 * wholeW, assumed, smoothingsS));
  const thresholdW = thresholdOf(good, events.starts.length, wholeW);
  const switches = switchesOf({
    topUp: topUp.topUp,
    log,
    surplusW: log.surplusW,
    between,
    stretches,
    good,
    assumed,
    current,
    n,
    wholeW,
  });
  const { intervalS } = log.table;
  // Without phases a change of them looks like a stop and a start: then neither delay is told unless both fit.
  const costOf = (own: (fit: ThresholdFit) => number) => (log.phases === null ? (fit: ThresholdFit): number => fit.cost : own);
  return {
    ...base,
    ...topUp,
    reserveRangeW,
    thresholdW,
    surplusShare: agreed(
      least?.known === true
        ? atMostWhole(scaled(withReserve(thresholdW, assumed.reserveW, reserveRangeW, wholeW), wholeW))
        : unknown(
            least?.known === false && least.why !== 'only-at-most' ? least.why : least === null ? 'no-currents' : 'needs-minimum',
          ),
      topUp,
    ),
    startDelayS: delayOf(
      good,
      (fit) => fit.startRows,
      (fit) => fit.starts,
      costOf((fit) => fit.startCost),
      events.starts.length,
      intervalS,
    ),
    stopDelayS: delayOf(
      good,
      (fit) => fit.stopRows,
      (fit) => fit.stops,
      costOf((fit) => fit.stopCost),
      good[0]?.stalls ?? 0,
      intervalS,
    ),
    ...switches,
  };
}

function silence({ surplusW }: RunLog, stretches: readonly Stretch[]): WhyNot | null {
  if (stretches.length === 0) return 'no-charging';
  return surplusW === null ? 'no-surplus' : null;
}

/** A share that starts and stops show must be the one that the currents show, where these show any. */
function agreed(share: Estimate, { topUp, coveredShare }: Pick<Following, 'topUp' | 'coveredShare'>): Estimate {
  if (topUp !== 'proportional') return share;
  if (!share.known) return coveredShare;
  const low = coveredShare.low ?? 0;
  const high = coveredShare.high ?? 1;
  return share.value > low - APART && share.value < high + APART ? share : unknown('does-not-fit');
}

const nothingOf = (none: Estimate) => ({
  topUp: null,
  coveredShare: none,
  thresholdW: none,
  surplusShare: none,
  startDelayS: none,
  stopDelayS: none,
  switchUpDelayS: none,
  switchDownDelayS: none,
  switchPauseS: none,
});

/** Where the currents are not known: the least power that was held. */
function highestPlausibleW({ carW }: RunLog, stretches: readonly Stretch[]): number {
  const powers = stretches
    .flatMap(({ from, to }) => Array.from(carW.subarray(from + 1, Math.max(from + 2, to - 1))))
    .sort((a, b) => a - b);
  return Math.max(1380, powers[Math.floor(0.05 * powers.length)] ?? 1380);
}

/** The fits as good as the best, the best first. */
function asGood(fits: readonly ThresholdFit[]): ThresholdFit[] {
  const sorted = [...fits].sort((a, b) => a.cost - b.cost || b.starts + b.stops - (a.starts + a.stops));
  const best = sorted[0]?.cost ?? 0;
  return sorted.filter(({ cost }) => cost <= best + AS_GOOD);
}

function thresholdOf(good: readonly ThresholdFit[], starts: number, wholeW: number): Estimate {
  const best = good[0];
  if (best === undefined || best.starts + best.stops < 2 * LEAST_EXACT) return unknown('too-few');
  if (best.starts + best.stops < FITTING_THRESHOLD * (starts + best.stalls)) return unknown('does-not-fit');
  const all = good.map(({ thresholdW }) => thresholdW);
  // Thresholds were tried at even distances: the truth may lie up to one of them beyond.
  const pitchW = (1.3 * wholeW) / 240;
  const [low, high] = [Math.max(0, Math.min(...all) - pitchW), Math.max(...all) + pitchW];
  if (high - low > WIDEST_SHARE * wholeW) return { known: false, why: 'too-wide', low, high, from: best.starts + best.stops };
  return { known: true, value: (low + high) / 2, low, high, from: best.starts + best.stops };
}

/**
 * A threshold for every reserve that it may have been held against: a meter shows the two together, and the edges of a reserve that is not
 * known no closer than it can.
 */
function withReserve(thresholdW: Estimate, assumedW: number, [least, most]: readonly [number, number], wholeW: number): Estimate {
  if (thresholdW.low === undefined || thresholdW.high === undefined) return thresholdW;
  const hairW = most > least ? UNSURE_W : 0;
  const low = Math.max(0, thresholdW.low + assumedW - most - hairW);
  const high = Math.max(0, thresholdW.high + assumedW - least + hairW);
  if (high - low > WIDEST_SHARE * wholeW) return { known: false, why: 'too-wide', low, high, from: thresholdW.from ?? 0 };
  return thresholdW.known ? { ...thresholdW, value: (low + high) / 2, low, high } : { ...thresholdW, low, high };
}

/** A part above this is not the surplus share but another reserve, or a meter that is off. */
const MOST_SHARE = 1.04;

/** A share is never above 1: what the interval holds beyond is no share. */
function atMostWhole(share: Estimate): Estimate {
  if (share.low === undefined || share.high === undefined) return share;
  if (share.low > MOST_SHARE) return { known: false, why: 'does-not-fit', low: share.low, high: share.high };
  const [low, high] = [Math.min(1, share.low), Math.min(1, share.high)];
  if (share.known) return { ...share, value: Math.min(1, share.value), low, high };
  if (share.why !== 'too-wide' || high - low > WIDEST_SHARE || share.from === undefined) return { ...share, low, high };
  return { known: true, value: (low + high) / 2, low, high, from: share.from };
}

const scaled = (estimate: Estimate, whole: number): Estimate => {
  if (estimate.known)
    return { ...estimate, value: estimate.value / whole, low: estimate.low / whole, high: estimate.high / whole };
  const { low, high, why } = estimate;
  return low === undefined || high === undefined ? { known: false, why } : { ...estimate, low: low / whole, high: high / whole };
};

function delayOf(
  good: readonly ThresholdFit[],
  rowsOf: (fit: ThresholdFit) => number,
  exactOf: (fit: ThresholdFit) => number,
  costOf: (fit: ThresholdFit) => number,
  events: number,
  intervalS: number,
): Estimate {
  const best = good[0];
  if (best === undefined || exactOf(best) <= LEAST_EXACT) return unknown('too-few');
  if (costOf(best) > FITTING_SHARE * events || exactOf(best) < FITTING_SHARE * events * 0.5) return unknown('does-not-fit');
  // A fit that lets most events come late for no reason is no rival of one that explains them.
  const rows = good.filter((fit) => exactOf(fit) >= RIVAL_SHARE * exactOf(best)).map(rowsOf);
  return rowsEstimate(Math.min(...rows), Math.max(...rows), exactOf(best), intervalS);
}

/** A delay in rows as one in seconds: delays are whole steps, so half a row to either side means the same. */
function rowsEstimate(least: number, most: number, from: number, intervalS: number): Estimate {
  const [low, high] = [Math.max(0, least - 0.5) * intervalS, (most + 0.5) * intervalS];
  if (most - least > WIDEST_ROWS) return { known: false, why: 'too-wide', low, high };
  return { known: true, value: Math.round((least + most) / 2) * intervalS, low, high, from };
}

/** From the charger's offer to the car's current, where the log says what is offered. */
function lagOf({ offeredA, table }: RunLog, stretches: readonly Stretch[]): Estimate {
  if (offeredA === null) return unknown('needs-offered');
  const lags = stretches.flatMap(({ from, offered, cutBefore }) => (offered === null || cutBefore ? [] : [from - offered]));
  return commonest(lags, table.intervalS);
}

/** The value that most of a list share. */
function commonest(rows: readonly number[], intervalS: number): Estimate {
  if (rows.length === 0) return unknown('never-happened');
  const counts = new Map<number, number>();
  for (const one of rows) counts.set(one, (counts.get(one) ?? 0) + 1);
  const [value = 0, count = 0] = [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0])[0] ?? [];
  if (count < Math.min(LEAST_EXACT, rows.length) || count < FITTING_SHARE * rows.length) {
    return { known: false, why: 'too-wide', low: Math.min(...rows) * intervalS, high: Math.max(...rows) * intervalS };
  }
  if (rows.length < 2) return unknown('too-few');
  return rowsEstimate(value, value, count, intervalS);
}

interface SwitchTask {
  readonly topUp: Following['topUp'];
  readonly log: RunLog;
  readonly surplusW: Float64Array;
  readonly between: readonly Between[];
  readonly stretches: readonly Stretch[];
  readonly good: readonly ThresholdFit[];
  readonly assumed: Assumed;
  readonly current: CurrentFacts;
  readonly n: number | null;
  /** What the least current takes on the fewest phases, W. */
  readonly wholeW: number;
}

type SwitchEstimates = Pick<RunFindings, 'switchUpDelayS' | 'switchDownDelayS' | 'switchPauseS'>;

/** Delays and pause of changes of phases. */
function switchesOf({
  log,
  surplusW,
  between,
  stretches,
  good,
  assumed,
  current,
  n,
  wholeW,
  topUp,
}: SwitchTask): SwitchEstimates {
  const never = unknown('never-happened');
  const none: SwitchEstimates = { switchUpDelayS: never, switchDownDelayS: never, switchPauseS: never };
  const best = good[0];
  const most = current.phases[current.phases.length - 1];
  if (n === null || most === undefined || most <= n || best === undefined) return none;
  const available = availableW(log, surplusW, assumed, best.smoothingS);
  // With the surplus gone it is a stall, whatever the phases of the next start.
  const switches = between.filter(({ mayBeSwitch, before }) => mayBeSwitch && (available[before.to] ?? 0) >= best.thresholdW);
  if (switches.length === 0) return none;
  const mostEstimate = current.minCurrentA[most - 1];
  const mostA = mostEstimate?.known ? mostEstimate.value : (mostEstimate?.high ?? 6);
  const { intervalS } = log.table;
  // Smoothings that explain starts and stops as well as the best one.
  const smoothings = [...new Set(good.map(({ smoothingS }) => smoothingS))].map((smoothingS) =>
    availableW(log, surplusW, assumed, smoothingS),
  );
  const scaledShare = best.thresholdW / wholeW;
  const shares = topUp === 'minimum' ? [1] : topUp === 'proportional' ? [scaledShare] : [1, scaledShare];
  const delay = (up: boolean): Estimate => {
    const mine = switches.filter(({ before, after }) => (after.n ?? 0) > (before.n ?? 0) === up);
    if (mine.length === 0) return never;
    const events = mine.map(({ before }) => ({ row: before.to, since: before.from }));
    const others = stretches.filter((one) => one.n === (up ? n : most) && !mine.some(({ before }) => before === one));
    // The upper threshold is whole, or scaled by the share where the grid tops up in proportion.
    const tried = smoothings.flatMap((smoothed) =>
      shares.map((share) => delayAt(smoothed, share * most * log.voltageV * mostA, events, others, up)),
    );
    const found = tried.reduce((a, b) => (b.cost < a.cost || (b.cost === a.cost && b.exact > a.exact) ? b : a));
    if (found.exact <= LEAST_EXACT) return unknown('too-few');
    if (found.exact < SWITCHES_FITTING * mine.length) return unknown('does-not-fit');
    const rows = tried.filter(({ cost }) => cost <= found.cost + AS_GOOD).map((one) => one.rows);
    return rowsEstimate(Math.min(...rows), Math.max(...rows), found.exact, intervalS);
  };
  const pauses = switches.map(({ before, after }) => (after.offered ?? after.from) - before.to);
  return { switchUpDelayS: delay(true), switchDownDelayS: delay(false), switchPauseS: commonest(pauses, intervalS) };
}
