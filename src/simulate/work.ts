import type { PointRun } from './point.ts';
import type { PointColumns } from './results.ts';

/**
 * What the charge points did in the stretches of steps in which any was at work, one stretch after the other. Between them no car draws, and
 * each keeps its state and its charge: most of a year is like that, and to write it would take longer than to work it out.
 */
export interface Work {
  /** The stretches, in pairs of the first step and the one after the last; the first begins with the run. */
  readonly stretches: number[];
  /** State of each charge point after each stretch, until the next. */
  readonly idle: number[];
  /** How many steps are written, and for how many there is room. */
  steps: number;
  room: number;
  /** A value for each of these steps. */
  points: PointColumns[];
  /** The home battery may give to the cars; else nothing is written of that. */
  readonly givesToCars: boolean;
  /** What was last laid out over all steps: its memory is used again. */
  laidOut: LaidOut | null;
}

/** Part of a year that the cars of a household are commonly at work in: room for more is made when it is needed. */
const COMMON_PART = 1 / 8;

/** No work yet. */
export function freshWork(points: number, steps: number, givesToCars: boolean): Work {
  const room = Math.ceil(steps * COMMON_PART);
  return {
    stretches: [],
    idle: [],
    steps: 0,
    room,
    points: Array.from({ length: points }, () => freshPointColumns(room)),
    givesToCars,
    laidOut: null,
  };
}

/** Forgets the work of an earlier run. */
export function forget(work: Work): void {
  work.stretches.length = 0;
  work.idle.length = 0;
  work.steps = 0;
}

/** Writes a step of work. */
export function writeStep(work: Work, points: readonly PointRun[]): void {
  if (work.steps === work.room) makeRoom(work);
  const k = work.steps++;
  for (let i = 0; i < points.length; i++) {
    const point = points[i]!;
    const car = work.points[i]!;
    car.state[k] = point.state;
    car.phases[k] = point.phases;
    car.powerW[k] = point.powerW;
    car.pvW[k] = point.pvW;
    car.soc[k] = point.soc;
    if (work.givesToCars) car.batteryW[k] = point.batteryW;
  }
}

/** Writes down that a stretch is over: its steps, and what the cars are like from then on. */
export function endStretch(work: Work, points: readonly PointRun[], from: number, end: number): void {
  work.stretches.push(from, end);
  for (let i = 0; i < points.length; i++) work.idle.push(points[i]!.state);
}

function makeRoom(work: Work): void {
  work.room *= 2;
  work.points = work.points.map((before) => {
    const wider = freshPointColumns(work.room);
    for (const name of NAMES) wider[name].set(before[name]);
    return wider;
  });
}

/** What is 0 where a car draws nothing, and all that is written of it. */
const DRAWN = ['phases', 'powerW', 'pvW', 'batteryW'] as const;
const NAMES = ['state', 'soc', ...DRAWN] as const;

const freshPointColumns = (steps: number): PointColumns => ({
  state: new Uint8Array(steps),
  phases: new Uint8Array(steps),
  powerW: new Float64Array(steps),
  pvW: new Float64Array(steps),
  batteryW: new Float64Array(steps),
  soc: new Float64Array(steps),
});

/** Work laid out over all steps of a run, and the stretches it was done in. */
interface LaidOut {
  readonly points: readonly PointColumns[];
  readonly stretches: readonly number[];
}

/**
 * What the charge points did in every step of a run, worked through or not.
 *
 * It overwrites what was laid out of these buffers before.
 */
export function layOut(work: Work, steps: number): readonly PointColumns[] {
  const points = work.laidOut?.points ?? work.points.map(() => freshPointColumns(steps));
  points.forEach((car, p) => {
    for (const stretch of stretchesIn(work.laidOut?.stretches ?? [], steps)) wipe(car, stretch);
    for (const stretch of stretchesIn(work.stretches, steps)) layStretch(car, work, p, stretch);
  });
  work.laidOut = { points, stretches: [...work.stretches] };
  return points;
}

interface Stretch {
  readonly index: number;
  readonly from: number;
  readonly end: number;
  /** Where the next one begins. */
  readonly next: number;
  /** Steps of work before it. */
  readonly before: number;
}

function* stretchesIn(stretches: readonly number[], steps: number): Generator<Stretch> {
  let before = 0;
  for (let i = 0; i < stretches.length; i += 2) {
    const [from, end] = [stretches[i]!, stretches[i + 1]!];
    yield { index: i / 2, from, end, next: stretches[i + 2] ?? steps, before };
    before += end - from;
  }
}

function wipe(car: PointColumns, { from, end }: Stretch): void {
  for (const name of DRAWN) car[name].fill(0, from, end);
}

function layStretch(car: PointColumns, work: Work, p: number, { index, from, end, next, before }: Stretch): void {
  const done = work.points[p]!;
  const last = before + end - from;
  for (const name of NAMES) car[name].set(done[name].subarray(before, last), from);
  car.state.fill(work.idle[index * work.points.length + p]!, end, next);
  car.soc.fill(done.soc[last - 1]!, end, next);
}

/**
 * Counts the steps of work before steps of a run, to be asked in rising order.
 *
 * @returns a function from a step to the number of steps before it that were worked through
 */
export function workBefore({ stretches }: Pick<Work, 'stretches'>): (step: number) => number {
  let i = 0;
  let before = 0;
  return (step) => {
    for (; i < stretches.length && stretches[i + 1]! <= step; i += 2) before += stretches[i + 1]! - stretches[i]!;
    return before + Math.max(0, step - (stretches[i] ?? step));
  };
}
