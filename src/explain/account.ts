import { S_PER_MIN } from '../base/index.ts';
import type { StateName } from '../charging/index.ts';
import type { Run } from '../simulate/index.ts';
import { at, type PointSurplus, surplusOfPoints } from './available.ts';
import { clockAt, factsOfEvent } from './events.ts';
import type { Clock, EventFacts, StretchFacts } from './facts.ts';
import type { Catalogue } from './lang/catalogue.ts';
import { factsOfStretch, namedSpans, type Span, spansOf } from './stretches.ts';

/** Several short starts and stalls on end, told as one. */
export interface FlurryFacts {
  readonly fromStep: number;
  readonly toStep: number;
  readonly point: number;
  readonly starts: number;
  readonly stalls: number;
  readonly switches: number;
  readonly chargingS: number;
  readonly carWh: number;
  readonly carPvWh: number;
}

/** Something to tell about a day. */
export type Telling =
  | { readonly kind: 'event'; readonly facts: EventFacts }
  | { readonly kind: 'stretch'; readonly facts: StretchFacts }
  | { readonly kind: 'flurry'; readonly facts: FlurryFacts };

/** A line of an account: when, at which charge point (from 0), and what. An event begins and ends at the same clock time. */
export interface AccountLine {
  readonly from: Clock;
  readonly to: Clock;
  readonly fromStep: number;
  readonly toStep: number;
  readonly point: number;
  readonly kind: Telling['kind'];
  readonly name: string;
  readonly text: string;
}

/** What a run holds beside its columns, for accounts of several days: made once. */
export interface Explained {
  readonly run: Run;
  readonly surplus: readonly PointSurplus[];
}

/** Makes a run ready to be accounted for. */
export const explained = (run: Run): Explained => ({ run, surplus: surplusOfPoints(run) });

/** What is told of a day: with `every`, each start and stall for itself; else short ones on end are put together. */
export interface AccountOptions {
  readonly every?: boolean;
}

/**
 * A day of a run, or any other stretch of it, told in order: what happened and why, and what the quiet hours were like.
 *
 * Every number in it is read from what the law noted or from the columns; nothing is guessed.
 *
 * @param fromStep  first step
 * @param toStep    the step after the last
 */
export function accountOf(
  whole: Explained,
  fromStep: number,
  toStep: number,
  words: Catalogue,
  options: AccountOptions = {},
): AccountLine[] {
  const lines = whole.run.plan.points.flatMap((_, point) => {
    const told = tellingsOf(whole, point, fromStep, toStep);
    return (options.every ? told : folded(told, whole.run)).map((telling) => lineOf(whole.run, telling, words));
  });
  // Of the same step in the order of the list: sorting keeps it.
  return lines.sort((a, b) => a.fromStep - b.fromStep);
}

/** What a charge point is doing in one step, in a sentence: the same words as in the account of the day. */
export function stepSentence(whole: Explained, point: number, step: number, words: Catalogue): string {
  const state = spansOf(whole.run.columns.points[point]?.state ?? new Uint8Array(0), step, step + 1)[0];
  const surplus = whole.surplus[point];
  if (state === undefined || surplus === undefined) throw new RangeError(`point = ${point}: no such charge point`);
  return words.stretches[state.state](factsOfStretch(whole.run, point, state, surplus));
}

/** Everything worth telling about one charge point, in order. */
export function tellingsOf({ run, surplus }: Explained, point: number, fromStep: number, toStep: number): Telling[] {
  const own = surplus[point];
  const states = run.columns.points[point]?.state;
  if (own === undefined || states === undefined) return [];
  const leastSteps = Math.ceil((10 * S_PER_MIN) / run.grid.stepS);
  const stretches = namedSpans(spansOf(states, fromStep, toStep), states, leastSteps)
    .map((span) => factsOfStretch(run, point, inDaylight(span, run), own))
    .filter(isWorthTelling)
    .map((facts): Telling => ({ kind: 'stretch', facts }));
  const events = run.events
    .filter((event) => event.point === point && event.step >= fromStep && event.step < toStep)
    .map((event) => factsOfEvent(run, event, surplus))
    .filter((facts) => facts !== null)
    .map((facts): Telling => ({ kind: 'event', facts }));
  // What happened comes before what then went on: of the same step sorting keeps the order.
  return [...events, ...stretches].sort((a, b) => startOf(a) - startOf(b));
}

/** What waits, or is not there, is told for the hours of daylight only: at night there is nothing to miss. */
const BY_DAY: ReadonlySet<StateName> = new Set<StateName>(['away', 'full', 'short']);

function inDaylight(span: Span, { columns }: Run): Span {
  if (!BY_DAY.has(span.state)) return span;
  let { from, to } = span;
  while (from < to - 1 && at(columns.pvW, from) <= 0) from++;
  while (to > from + 1 && at(columns.pvW, to - 1) <= 0) to--;
  return { ...span, from, to };
}

/** The step at which a telling begins. */
const startOf = (telling: Telling): number => (telling.kind === 'event' ? telling.facts.step : telling.facts.fromStep);

/** States that are told only from so many minutes on. Others are told whenever they occur. */
const LEAST_MIN: Partial<Record<StateName, number>> = {
  away: 20,
  full: 20,
  short: 30,
  proving: 10,
  resting: 10,
  waking: 10,
  switching: 10,
  'held-fuse': 10,
  'held-imbalance': 10,
  'held-contract': 10,
  'held-dimmed': 10,
};
/** Surplus that is worth a word when the car is away or full, Wh. */
const WORTH_WH = 300;

function isWorthTelling({ state, lastsS, surplusWh, pvW }: StretchFacts): boolean {
  if (lastsS < (LEAST_MIN[state] ?? 0) * S_PER_MIN) return false;
  if (state === 'away' || state === 'full') return surplusWh >= WORTH_WH;
  return state !== 'short' || pvW > 0;
}

function lineOf(run: Run, telling: Telling, words: Catalogue): AccountLine {
  const fromStep = startOf(telling);
  const toStep = telling.kind === 'event' ? fromStep : telling.facts.toStep;
  return {
    from: clockAt(run, fromStep),
    to: clockAt(run, toStep),
    fromStep,
    toStep,
    point: telling.facts.point,
    kind: telling.kind,
    name: telling.kind === 'event' ? telling.facts.event : telling.kind === 'stretch' ? telling.facts.state : 'flurry',
    text: sentenceOf(telling, words),
  };
}

/** A telling in words. */
export function sentenceOf(telling: Telling, words: Catalogue): string {
  switch (telling.kind) {
    case 'event':
      return words.events[telling.facts.event](telling.facts);
    case 'stretch':
      return words.stretches[telling.facts.state](telling.facts);
    case 'flurry':
      return words.flurry(telling.facts);
  }
}

/** Starts on end that are put together, at least; and how long each may last, and how far apart they may lie. */
const FLURRY = { starts: 3, lastsS: 20 * S_PER_MIN, apartS: 45 * S_PER_MIN } as const;

/** Short starts and stalls on end put together. */
function folded(tellings: readonly Telling[], run: Run): Telling[] {
  const out: Telling[] = [];
  for (let i = 0; i < tellings.length; ) {
    const bounds = flurryFrom(tellings, i, run.grid.stepS);
    if (bounds.starts >= FLURRY.starts) {
      out.push({ kind: 'flurry', facts: flurryFacts(run, tellings.slice(i, bounds.end)) });
      i = bounds.end;
    } else {
      const next = tellings[i++];
      if (next !== undefined) out.push(next);
    }
  }
  return out;
}

/** How many short cycles of start and stall begin at a place in the list, and where they end. */
function flurryFrom(tellings: readonly Telling[], from: number, stepS: number): { starts: number; end: number } {
  let starts = 0;
  let end = from;
  let endedStep = Infinity;
  for (let i = from; i < tellings.length; ) {
    const cycle = cycleEnd(tellings, i, stepS);
    const first = tellings[i];
    if (cycle < 0 || first === undefined) break;
    if ((startOf(first) - endedStep) * stepS > FLURRY.apartS) break;
    starts++;
    end = cycle;
    endedStep = startOf(tellings[cycle - 1] ?? first);
    i = cycle;
    // Waiting in between belongs to it.
    while (tellings[i]?.kind === 'stretch') i++;
  }
  return { starts, end };
}

/** The place after the stall that ends the start at a place in the list, if that comes soon and nothing else happens; else -1. */
function cycleEnd(tellings: readonly Telling[], from: number, stepS: number): number {
  const first = tellings[from];
  if (first?.kind !== 'event' || first.facts.event !== 'start') return -1;
  for (let i = from + 1; i < tellings.length; i++) {
    const next = tellings[i];
    if (next === undefined || (startOf(next) - startOf(first)) * stepS > FLURRY.lastsS) return -1;
    if (next.kind !== 'event' || next.facts.event === 'switch') continue;
    return next.facts.event === 'stall' ? i + 1 : -1;
  }
  return -1;
}

function flurryFacts(run: Run, tellings: readonly Telling[]): FlurryFacts {
  const steps = tellings.map(startOf);
  const point = tellings[0]?.facts.point ?? 0;
  const fromStep = Math.min(...steps);
  const toStep = Math.max(...steps);
  const count = (name: string): number =>
    tellings.filter((telling) => telling.kind === 'event' && telling.facts.event === name).length;
  const car = run.columns.points[point];
  const sums = { chargingS: 0, carWh: 0, carPvWh: 0 };
  for (let k = fromStep; k < toStep; k++) {
    if (at(car?.powerW, k) === 0) continue;
    sums.chargingS += run.grid.stepS;
    sums.carWh += (at(car?.powerW, k) * run.grid.stepS) / 3600;
    sums.carPvWh += (at(car?.pvW, k) * run.grid.stepS) / 3600;
  }
  return { fromStep, toStep, point, starts: count('start'), stalls: count('stall'), switches: count('switch'), ...sums };
}
