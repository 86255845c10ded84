import { type PointRules, pointRules } from '../charging/index.ts';
import type { Scenario } from '../scenario/index.ts';
import type { RunFindings } from './run-estimates.ts';
import { type Between, betweenIn, type Stretch, stretchesIn } from './run-events.ts';
import type { RunLog } from './run-log.ts';
import { type Assumed, availableW } from './run-thresholds.ts';

/** How a running system did not do what the law would have done. */
export type DepartureKind =
  | 'started-late'
  | 'did-not-start'
  | 'started-early'
  | 'stalled-early'
  | 'ended-with-surplus'
  | 'stalled-late'
  | 'no-switch-up'
  | 'no-switch-down'
  | 'other-phases'
  | 'oscillates';

/** What may lie behind a departure; the words are in `run-text.ts`. */
export type DepartureCause =
  | 'minimum-higher'
  | 'threshold-higher'
  | 'threshold-lower'
  | 'start-delay-longer'
  | 'start-delay-shorter'
  | 'stop-delay-shorter'
  | 'stop-delay-longer'
  | 'up-delay-longer'
  | 'down-delay-longer'
  | 'car-sleeps'
  | 'away-or-full'
  | 'by-hand-or-must'
  | 'limit'
  | 'gave-up'
  | 'phase-check'
  | 'fixed-phases'
  | 'vehicle-phases'
  | 'battery';

/** One departure, with the numbers that show it and what it may come from, the likeliest first. */
export interface Departure {
  readonly kind: DepartureKind;
  readonly row: number;
  readonly atMs: number;
  /** Seconds by which it was early, late or overdue; 0 where that means nothing. */
  readonly byS: number;
  /** What the controller made of the surplus at that time, and the threshold that it was held against, W. */
  readonly surplusW: number;
  readonly thresholdW: number;
  readonly causes: readonly DepartureCause[];
}

/** The law with a scenario's settings beside a log. */
interface Beside {
  readonly log: RunLog;
  readonly rules: PointRules;
  readonly available: Float64Array;
  readonly findings: RunFindings;
  readonly toleranceRows: number;
  readonly note: (kind: DepartureKind, row: number, byRows: number, thresholdW: number) => void;
}

/** What a scenario says about what a log does not show. */
export const assumedFrom = ({ control: { reserveW, smoothingS } }: Scenario): Assumed => ({
  reserveW,
  reserveRangeW: [reserveW, reserveW],
  smoothingS,
});

/** The rules of a scenario's first charge point at a log's own interval; null where charger and vehicle can not charge together. */
export function rulesFor({ chargePoints, control, supply }: Scenario, intervalS: number): PointRules | null {
  const point = chargePoints[0];
  if (point === undefined) return null;
  const believed = { ...point.vehicle, ...point.believes };
  return pointRules(point.charger, believed, control, supply.voltageV, intervalS, point.vehicle.startLagS);
}

/**
 * Where a log departs from what the law would have done with a scenario's settings, event by event: each waiting and each charging is
 * held against the law from where the system itself had come to.
 *
 * The log does not say when a car was away or full, nor which limits held: those are always among the causes where they would do.
 *
 * @throws RangeError  the log has no surplus
 */
export function departuresFrom(log: RunLog, rules: PointRules, assumed: Assumed, findings: RunFindings): Departure[] {
  if (log.surplusW === null) throw new RangeError('log.surplusW = null: the law can not be replayed without the surplus');
  const found: Departure[] = [];
  const available = availableW(log, log.surplusW, assumed, assumed.smoothingS ?? 0);
  const note: Beside['note'] = (kind, row, byRows, thresholdW) => {
    found.push({
      kind,
      row,
      atMs: log.table.atMs[row] ?? 0,
      byS: byRows * log.table.intervalS,
      surplusW: available[row] ?? 0,
      thresholdW,
      causes: causesOf(kind, available[row] ?? 0, rules, findings, log),
    });
  };
  const beside: Beside = { log, rules, available, findings, toleranceRows: TOLERANCE_ROWS, note };
  const stretches = stretchesIn(log);
  const between = betweenIn(stretches, log.table.intervalS, log.table.gapBefore).map((pause) => ({
    ...pause,
    // Where the log does not say the phases, a pause as short as a change of phases is taken for one.
    mayBeSwitch:
      pause.mayBeSwitch ||
      (log.phases === null && rules.switches && pause.rows <= rules.pauseSteps + rules.lagSteps + TOLERANCE_ROWS),
  }));
  stretches.forEach((stretch, i) => {
    waitingBefore(
      beside,
      stretch,
      between.find(({ after }) => after === stretch),
      i === 0,
    );
    charging(
      beside,
      stretch,
      between.find(({ before }) => before === stretch),
    );
  });
  waitingAtEnd(beside, stretches[stretches.length - 1]);
  oscillations(beside, stretches);
  return found.sort((a, b) => a.row - b.row);
}

/** Rows that an event may be off before it counts: one for the raster, one for noise at the threshold. */
const TOLERANCE_ROWS = 2;

/** First row, from `from` on and before `to`, in which a condition has stood for more than so many rows; -1 where there is none. */
function firstRow(available: Float64Array, from: number, to: number, thresholdW: number, above: boolean, rows: number): number {
  let run = 0;
  for (let k = from; k < to; k++) {
    run = (available[k] ?? 0) >= thresholdW - 1e-6 === above ? run + 1 : 0;
    if (run > rows) return k;
  }
  return -1;
}

/** The row in which the charger acted: seen, or taken back from the car's first current by the scenario's lag. */
const actOf = ({ rules }: Beside, { from, offered }: Stretch): number => offered ?? from - rules.lagSteps;

function waitingBefore(beside: Beside, stretch: Stretch, pause: Between | undefined, first: boolean): void {
  const { rules, available, note, toleranceRows } = beside;
  if (pause === undefined && !(first && !stretch.cutBefore)) return;
  const stop = pause?.before.to ?? 0;
  if (pause?.mayBeSwitch === true && (available[stop] ?? 0) >= rules.least.thresholdW) return;
  const acted = actOf(beside, stretch);
  const rested = pause === undefined ? 0 : stop + rules.restSteps;
  const stands = firstRow(available, stop, acted + 1, rules.least.thresholdW, true, rules.startSteps);
  const should = stands < 0 ? -1 : Math.max(stands, firstFrom(beside, rested, acted));
  if (should < 0) {
    note('started-early', acted, 0, rules.least.thresholdW);
  } else if (pause !== undefined && acted - should > toleranceRows + (stretch.offered === null ? 1 : 0)) {
    note('started-late', should, acted - should, rules.least.thresholdW);
  }
}

/** The first row after a rest in which the surplus has stood long enough. */
function firstFrom({ rules, available }: Beside, rested: number, acted: number): number {
  for (let k = rested; k <= acted; k++) {
    let run = 0;
    while (run <= rules.startSteps && (available[k - run] ?? 0) >= rules.least.thresholdW - 1e-6) run++;
    if (run > rules.startSteps) return k;
  }
  return acted;
}

/** Waiting that did not end: only where the surplus stood for long. */
function waitingAtEnd(beside: Beside, last: Stretch | undefined): void {
  const { log, rules, available, note } = beside;
  const from = last === undefined ? 0 : last.to + rules.restSteps;
  const should = firstRow(available, from, log.table.rows, rules.least.thresholdW, true, rules.startSteps);
  if (should < 0) return;
  const until = firstRow(available, should, log.table.rows, rules.least.thresholdW, false, 0);
  const stood = (until < 0 ? log.table.rows : until) - should;
  if (stood > 2 * rules.startSteps + rules.lagSteps + TOLERANCE_ROWS)
    note('did-not-start', should, stood, rules.least.thresholdW);
}

function charging(beside: Beside, stretch: Stretch, pause: Between | undefined): void {
  const { rules, available, note, toleranceRows, log } = beside;
  const { from, to, n } = stretch;
  if (n !== null && n !== rules.least.n && n !== rules.most.n) note('other-phases', from, 0, rules.least.thresholdW);
  const should = firstRow(available, from, to, rules.least.thresholdW, false, rules.stopSteps);
  if (should >= 0 && to - should > toleranceRows) note('stalled-late', should, to - should, rules.least.thresholdW);
  switching(beside, stretch);
  if (stretch.cutAfter || to >= log.table.rows) return;
  const isSwitch = pause?.mayBeSwitch === true && (available[to] ?? 0) >= rules.least.thresholdW;
  if (isSwitch || should >= 0) return;
  let lacked = 0;
  while (to - lacked >= from && (available[to - lacked] ?? 0) < rules.least.thresholdW - 1e-6) lacked++;
  if (lacked === 0) note('ended-with-surplus', to, 0, rules.least.thresholdW);
  else if (lacked <= rules.stopSteps - toleranceRows)
    note('stalled-early', to, rules.stopSteps + 1 - lacked, rules.least.thresholdW);
}

function switching({ rules, available, note, toleranceRows }: Beside, { from, to, n }: Stretch): void {
  if (!rules.switches) return;
  const up = n === rules.least.n;
  if (!up && n !== rules.most.n) return;
  const rows = up ? rules.upSteps : rules.downSteps;
  const should = firstRow(available, from, to, rules.most.thresholdW, up, rows);
  // Going down asks for enough surplus for the fewer phases; without it a stall comes instead.
  const isDue = should >= 0 && (up || (available[should] ?? 0) >= rules.least.thresholdW);
  if (isDue && to - should > toleranceRows + 1)
    note(up ? 'no-switch-up' : 'no-switch-down', should, to - should, rules.most.thresholdW);
}

/** So many starts in such a time are too many for any household's relays and cars. */
const MANY_STARTS = 4;
const SHORT_TIME_S = 1800;

function oscillations({ log, rules, note }: Beside, stretches: readonly Stretch[]): void {
  const starts = stretches.filter(({ cutBefore }) => !cutBefore).map(({ from }) => from);
  const rows = SHORT_TIME_S / log.table.intervalS;
  let told = -Infinity;
  for (let i = 0; i + MANY_STARTS - 1 < starts.length; i++) {
    const [from = 0, to = 0] = [starts[i], starts[i + MANY_STARTS - 1]];
    if (to - from > rows || from < told + rows) continue;
    note('oscillates', from, to - from, rules.least.thresholdW);
    told = to;
  }
}

/** What a departure may come from, the likeliest first: what the log itself shows stands before what it can not show. */
function causesOf(
  kind: DepartureKind,
  surplusW: number,
  rules: PointRules,
  findings: RunFindings,
  log: RunLog,
): DepartureCause[] {
  const shown = shownBy(rules, findings, log.table.intervalS);
  // A surplus far above any threshold that the log leaves open did not wait for one.
  if (surplusW > highestThresholdW(rules, findings, log.voltageV) && kind !== 'no-switch-up') {
    shown.delete('minimum-higher');
    shown.delete('threshold-higher');
  }
  // A charger seen on both numbers of phases is not fixed to one, nor is its car.
  const changes = findings.current.phases.length > 1;
  const order = CAUSES[kind].filter(
    (cause) => !changes || (cause !== 'fixed-phases' && (cause !== 'vehicle-phases' || shown.has(cause))),
  );
  return [
    ...order.filter((cause) => shown.has(cause)),
    ...order.filter((cause) => !shown.has(cause) && !NEEDS_SHOWING.has(cause)),
  ];
}

/** The highest surplus that charging may have waited for, by what the log shows; no bound where it shows none. */
function highestThresholdW({ least }: PointRules, { thresholdW, current }: RunFindings, voltageV: number): number {
  const leastA = current.minCurrentA[least.n - 1]?.high;
  return Math.max(thresholdW.high ?? Infinity, leastA === undefined ? least.minW : leastA * least.n * voltageV);
}

const CAUSES: Readonly<Record<DepartureKind, readonly DepartureCause[]>> = {
  'started-late': ['minimum-higher', 'threshold-higher', 'start-delay-longer', 'car-sleeps', 'away-or-full', 'limit', 'battery'],
  'did-not-start': ['away-or-full', 'minimum-higher', 'threshold-higher', 'gave-up', 'car-sleeps', 'limit'],
  'started-early': ['threshold-lower', 'start-delay-shorter', 'by-hand-or-must', 'battery'],
  'stalled-early': ['stop-delay-shorter', 'minimum-higher', 'threshold-higher', 'away-or-full', 'limit', 'phase-check'],
  'ended-with-surplus': ['away-or-full', 'limit', 'phase-check', 'threshold-higher', 'gave-up'],
  'stalled-late': ['stop-delay-longer', 'threshold-lower', 'by-hand-or-must', 'battery'],
  'no-switch-up': ['fixed-phases', 'minimum-higher', 'up-delay-longer', 'vehicle-phases', 'limit', 'phase-check'],
  'no-switch-down': ['fixed-phases', 'down-delay-longer', 'by-hand-or-must'],
  'other-phases': ['vehicle-phases', 'fixed-phases', 'phase-check'],
  oscillates: ['minimum-higher', 'stop-delay-shorter', 'phase-check', 'threshold-higher', 'limit'],
};

/** Causes that are named only where the log shows them. */
const NEEDS_SHOWING: ReadonlySet<DepartureCause> = new Set([
  'minimum-higher',
  'threshold-higher',
  'threshold-lower',
  'start-delay-longer',
  'start-delay-shorter',
  'stop-delay-shorter',
  'stop-delay-longer',
  'up-delay-longer',
  'down-delay-longer',
]);

/** A share from here on is all of it. */
const WHOLE_SHARE = 0.98;

/** Settings that the log shows to differ from the scenario's, by more than their interval. */
function shownBy(rules: PointRules, findings: RunFindings, intervalS: number): Set<DepartureCause> {
  const shown = new Set<DepartureCause>();
  const compare = (
    estimate: { readonly low?: number; readonly high?: number },
    set: number,
    longer: DepartureCause,
    shorter: DepartureCause | null,
  ): void => {
    // An interval too wide for a value still tells what lies outside it.
    if (estimate.low === undefined || estimate.high === undefined) return;
    if (estimate.low > set) shown.add(longer);
    if (estimate.high < set && shorter !== null) shown.add(shorter);
  };
  const least = findings.current.minCurrentA[rules.least.n - 1];
  if (least !== undefined) compare(least, rules.least.minA + 0.3, 'minimum-higher', null);
  compare(findings.thresholdW, rules.least.thresholdW, 'threshold-higher', 'threshold-lower');
  // Nothing asks for more surplus than the least current takes: then the least current itself is higher.
  if (shown.has('threshold-higher') && rules.surplusShare >= WHOLE_SHARE) {
    shown.delete('threshold-higher');
    shown.add('minimum-higher');
  }
  const lag = findings.startIncludesLag ? rules.lagSteps : 0;
  compare(findings.startDelayS, (rules.startSteps + lag) * intervalS, 'start-delay-longer', 'start-delay-shorter');
  compare(findings.stopDelayS, rules.stopSteps * intervalS, 'stop-delay-longer', 'stop-delay-shorter');
  compare(findings.switchUpDelayS, rules.upSteps * intervalS, 'up-delay-longer', null);
  compare(findings.switchDownDelayS, rules.downSteps * intervalS, 'down-delay-longer', null);
  if (rules.switches && findings.current.phases.length === 1) shown.add('fixed-phases');
  if (findings.current.phases.some((n) => n !== rules.least.n && n !== rules.most.n)) shown.add('vehicle-phases');
  return shown;
}
