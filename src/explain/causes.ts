import { reaches } from '../charging/index.ts';
import type { ChargeEvent, Run } from '../simulate/index.ts';
import { at, batteryFirstW, hiddenW, houseOnPhaseW, houseW, type PointSurplus, smoothingWeight } from './available.ts';
import type { Cause } from './facts.ts';

/** How far back "before" reaches, s: longer than a cloud's edge, shorter than the sun's way down. */
const BEFORE_S = 600;
/** Moves smaller than this are no reason for anything, W. */
const SLIGHT_W = 10;

type Mover = 'pv' | 'house' | 'battery' | 'earlier' | 'hidden';
/** What each takes off the surplus, W: PV counts down, the others up. */
type Parts = Record<Mover, number>;
const MOVERS: readonly Mover[] = ['pv', 'house', 'battery', 'earlier', 'hidden'];

/**
 * What took the surplus away before a stall: the one thing that moved most between the minutes before and the time of lack.
 *
 * It is named alone only if, with it put back to what it was before, the surplus would have reached the threshold again in time;
 * else PV and house are named together.
 */
export function causeOfStall(run: Run, event: ChargeEvent, surplus: PointSurplus): Cause {
  const { stepS } = run.grid;
  const first = event.step - Math.round(event.heldS / stepS);
  const from = beforeStart(run, event, first);
  const phase = leastPhase(run, event);
  const before = meanParts(run, event.point, from, first, phase);
  const lacking = meanParts(run, event.point, first, event.step + 1, phase);
  const moves = MOVERS.map((mover) => ({ mover, byW: lacking[mover] - before[mover] })).sort((a, b) => b.byW - a.byW);
  const largest = moves[0];
  const facts = { pvFromW: -before.pv, pvToW: -lacking.pv, houseRoseW: lacking.house - before.house };
  const hadEnough = first > 0 && reaches(at(surplus.leastW, first - 1), event.thresholdW);
  if (!hadEnough || largest === undefined || largest.byW < SLIGHT_W) return { kind: 'never', ...facts };
  if (restored(run, event, surplus, first, before, largest.mover, phase)) return { kind: largest.mover, ...facts };
  return { kind: 'together', ...facts };
}

/** The first step of the minutes before the lack: not before charging began, and one step at least. */
function beforeStart({ grid, columns }: Run, { point }: ChargeEvent, first: number): number {
  const earliest = Math.max(0, first - Math.max(1, Math.round(BEFORE_S / grid.stepS)));
  let from = Math.max(0, first - 1);
  while (from > earliest && at(columns.points[point]?.powerW, from - 1) > 0) from--;
  return from;
}

function meanParts(run: Run, point: number, from: number, to: number, phase: number | null): Parts {
  const sum: Parts = { pv: 0, house: 0, battery: 0, earlier: 0, hidden: 0 };
  const steps = Math.max(1, to - from);
  for (let k = from; k < to; k++) {
    const parts = partsAt(run, point, k, phase);
    for (const mover of MOVERS) sum[mover] += parts[mover] / steps;
  }
  return sum;
}

/** What makes the surplus of a step; of one building phase, where the meter counts each for itself. */
function partsAt(run: Run, point: number, k: number, phase: number | null): Parts {
  const { columns, plan } = run;
  const battery = batteryFirstW(run, k);
  if (phase !== null) {
    return {
      pv: -(plan.pvShare[phase] ?? 0) * at(columns.pvW, k),
      house: houseOnPhaseW(run, phase, k),
      battery: battery * (plan.battery?.share[phase] ?? 0),
      earlier: earlierOnPhaseW(run, point, k, phase),
      hidden: 0,
    };
  }
  return {
    pv: -at(columns.pvW, k),
    house: at(houseW(run), k),
    battery,
    earlier: earlierW(run, point, k),
    hidden: hiddenW(run, k),
  };
}

const earlierW = ({ columns }: Run, point: number, k: number): number =>
  columns.points.slice(0, point).reduce((sum, car) => sum + at(car.powerW, k), 0);

function earlierOnPhaseW({ columns, plan }: Run, point: number, k: number, phase: number): number {
  return columns.points.slice(0, point).reduce((sum, car, i) => {
    const terminal = plan.points[i]?.wiring.indexOf(phase + 1) ?? -1;
    const phases = at(car.phases, k);
    return terminal >= 0 && terminal < phases ? sum + at(car.powerW, k) / phases : sum;
  }, 0);
}

/** The building phase that had least in the step of the stall, from 0; null where the meter counts the sum. */
function leastPhase(run: Run, { point, step }: ChargeEvent): number | null {
  const { plan } = run;
  const points = plan.points[point];
  if (!plan.perPhase || points === undefined) return null;
  const left = (phase: number): number => leftW(partsAt(run, point, step, phase));
  return [...points.wiring.slice(0, points.rules.least.n)]
    .map((phase) => phase - 1)
    .reduce((least, phase) => (left(phase) < left(least) ? phase : least));
}

/** Whether, with one thing as it was before, the surplus would have reached the threshold in some step of the lack. */
function restored(
  run: Run,
  { point, step, thresholdW }: ChargeEvent,
  { leastW }: PointSurplus,
  first: number,
  before: Parts,
  mover: Mover,
  phase: number | null,
): boolean {
  // Putting one phase right may leave another short, so nothing is claimed of a single cause unless one phase is all there is.
  if (phase !== null && (run.plan.points[point]?.rules.least.n ?? 1) > 1) return false;
  const weight = mover === 'earlier' ? 1 : smoothingWeight(run.plan);
  let liftW = 0;
  for (let k = first; k <= step; k++) {
    const now = partsAt(run, point, k, phase);
    // A battery that comes first would take its part of the PV that comes back.
    const batteryW = mover === 'battery' ? 0 : Math.max(0, before.battery - now.battery);
    liftW += weight * (now[mover] - before[mover] - batteryW - liftW);
    // F is cut off at 0; what it takes to lift it from there is reckoned from the surplus itself.
    const fromW = at(leastW, k) > 0 ? at(leastW, k) : leftW(now) - run.plan.reserveW;
    if (reaches(fromW + liftW, thresholdW)) return true;
  }
  return false;
}

const leftW = ({ pv, house, battery, earlier, hidden }: Parts): number => -(pv + house + battery + earlier + hidden);
