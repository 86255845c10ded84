import { S_PER_H } from '../base/index.ts';
import { type StateName, stateName } from '../charging/index.ts';
import { carCurrentA, type PointPlan, type Run } from '../simulate/index.ts';
import { at, houseW, type PointSurplus } from './available.ts';
import type { StretchFacts } from './facts.ts';

/** Steps on end in one state. */
export interface Span {
  readonly state: StateName;
  readonly from: number;
  /** The step after its last. */
  readonly to: number;
}

/** Names that change by the minute, and are told as one where they are short: of a car that draws by the surplus, and of one that waits. */
const GROUP: Partial<Record<StateName, 'flowing' | 'waiting'>> = {
  surplus: 'flowing',
  topped: 'flowing',
  ceiling: 'flowing',
  bridging: 'flowing',
  short: 'waiting',
  proving: 'waiting',
  resting: 'waiting',
};
/** The plain name of each group, true of all that is in it. */
const PLAIN_NAME = { flowing: 'surplus', waiting: 'short' } as const;

/** Stretches of equal state of a charge point between two steps, one after the other without a gap. */
export function spansOf(states: Uint8Array, from: number, to: number): Span[] {
  const spans: Span[] = [];
  for (let k = from; k < to; k++) {
    const state = stateName(at(states, k));
    const last = spans[spans.length - 1];
    if (last?.state === state) spans[spans.length - 1] = { ...last, to: k + 1 };
    else spans.push({ state, from: k, to: k + 1 });
  }
  return spans;
}

/**
 * The same, told rather than listed: while the car draws by the surplus, or waits for it, names that last less than `leastSteps` are
 * counted to the longer of their neighbours.
 */
export function calmSpans(spans: readonly Span[], leastSteps: number): Span[] {
  const calm = spans.map((span) => ({ ...span }));
  for (;;) {
    let shortest = -1;
    for (const [i, span] of calm.entries()) {
      if (GROUP[span.state] === undefined || lengthOf(span) >= leastSteps || neighbourOf(calm, i) < 0) continue;
      if (shortest < 0 || lengthOf(span) < lengthOf(calm[shortest])) shortest = i;
    }
    if (shortest < 0) return calm;
    join(calm, shortest, neighbourOf(calm, shortest));
  }
}

/** Calm stretches, each under a name that most of its steps bear; else under the plain one of its group. */
export function namedSpans(spans: readonly Span[], states: Uint8Array, leastSteps: number): Span[] {
  const named: Span[] = [];
  for (const span of calmSpans(spans, leastSteps).map((calm) => honestName(calm, states))) {
    const last = named[named.length - 1];
    if (last?.state === span.state) named[named.length - 1] = { ...last, to: span.to };
    else named.push(span);
  }
  return named;
}

function honestName(span: Span, states: Uint8Array): Span {
  const group = GROUP[span.state];
  if (group === undefined) return span;
  let bearing = 0;
  for (let k = span.from; k < span.to; k++) if (stateName(at(states, k)) === span.state) bearing++;
  return bearing >= MOST * lengthOf(span) ? span : { ...span, state: PLAIN_NAME[group] };
}

/** Part of its steps that must bear a stretch's name. */
const MOST = 0.75;

const lengthOf = (span: Span | undefined): number => (span === undefined ? 0 : span.to - span.from);

/** The longer neighbour of the same group, or -1. */
function neighbourOf(spans: readonly Span[], i: number): number {
  const group = GROUP[spans[i]?.state ?? 'away'];
  const near = [i - 1, i + 1].filter((j) => GROUP[spans[j]?.state ?? 'away'] === group);
  if (near.length === 0) return -1;
  return near.reduce((best, j) => (lengthOf(spans[j]) > lengthOf(spans[best]) ? j : best));
}

/** Counts one stretch to its neighbour, and puts together what now has one name. */
function join(spans: Span[], i: number, neighbour: number): void {
  const state = spans[neighbour]?.state ?? 'away';
  const low = Math.min(i, neighbour);
  const first = spans[low];
  const second = spans[low + 1];
  if (first === undefined || second === undefined) return;
  spans.splice(low, 2, { state, from: first.from, to: second.to });
  for (const j of [low, low - 1]) {
    const left = spans[j];
    const right = spans[j + 1];
    if (left && right && left.state === right.state) spans.splice(j, 2, { ...left, to: right.to });
  }
}

/** A stretch with all that a sentence about it needs. */
export function factsOfStretch(run: Run, point: number, span: Span, surplus: PointSurplus): StretchFacts {
  const plan = run.plan.points[point];
  const columns = run.columns.points[point];
  if (plan === undefined || columns === undefined) throw new RangeError(`point = ${point}: no such charge point`);
  const steps = span.to - span.from;
  const stepH = run.grid.stepS / S_PER_H;
  const mean = (values: Float64Array): number => sumOver(values, span) / steps;
  const energyWh = (values: Float64Array): number => sumOver(values, span) * stepH;
  const currents = currentFacts(run, point, span);
  const carWh = energyWh(columns.powerW);
  const carPvWh = energyWh(columns.pvW);
  const carBatteryWh = energyWh(columns.batteryW);
  return {
    state: span.state,
    fromStep: span.from,
    toStep: span.to,
    point,
    lastsS: steps * run.grid.stepS,
    pvW: mean(run.columns.pvW),
    houseW: mean(run.columns.loadW),
    carW: mean(columns.powerW),
    exportW: mean(run.columns.gridExportW),
    curtailedW: mean(run.columns.curtailedW),
    surplusWh: beyondHouseWh(run, span),
    carWh,
    carPvWh,
    carBatteryWh,
    carGridWh: Math.max(0, carWh - carPvWh - carBatteryWh),
    soc: at(columns.soc, span.to - 1),
    tapers: at(columns.soc, span.to - 1) > plan.car.taperFromSoc,
    ...currents,
    ...ruleFacts(plan, currents.phases, run.grid.stepS),
    highestSurplusW: highestOver(surplus.leastW, span),
  };
}

function sumOver(values: Float64Array, { from, to }: Span): number {
  let sum = 0;
  for (let k = from; k < to; k++) sum += at(values, k);
  return sum;
}

function beyondHouseWh(run: Run, { from, to }: Span): number {
  const takenW = houseW(run);
  let sumW = 0;
  for (let k = from; k < to; k++) sumW += Math.max(0, at(run.columns.pvW, k) - at(takenW, k));
  return (sumW * run.grid.stepS) / S_PER_H;
}

/** Phases and currents while power flows. A car's last step before full may lie below; it is left out where there are others. */
function currentFacts({ plan, columns }: Run, point: number, { from, to }: Span) {
  const car = columns.points[point];
  let phases = 0;
  let lowestA = Infinity;
  let highestA = 0;
  for (let k = from; car !== undefined && k < to; k++) {
    const currentA = carCurrentA(plan, car, k);
    if (currentA === 0) continue;
    phases = at(car.phases, k);
    highestA = Math.max(highestA, currentA);
    if (k + 1 < to || lowestA === Infinity) lowestA = Math.min(lowestA, currentA);
  }
  return { phases, lowestA: highestA === 0 ? 0 : lowestA, highestA };
}

const highestOver = (values: Float64Array, { from, to }: Span): number =>
  values.subarray(from, to).reduce((highest, value) => Math.max(highest, value), 0);

/** What the law knows of the phases that the car is on; of the fewer ones while it draws nothing. */
function ruleFacts({ rules, least, most }: PointPlan, phases: number, stepS: number) {
  const onMost = rules.switches && phases === most.phases;
  const way = onMost ? rules.most : rules.least;
  return {
    thresholdW: rules.least.thresholdW,
    mostW: way.wPerA * way.maxA,
    mostA: way.maxA,
    minA: way.minA,
    carMinA: (onMost ? most : least).minA,
    share: rules.surplusShare,
    restS: rules.restSteps * stepS,
    startDelayS: rules.startSteps * stepS,
    lagS: rules.lagSteps * stepS,
  };
}
