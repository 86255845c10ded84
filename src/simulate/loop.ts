import type { Headroom } from '../charging/index.ts';
import { beginRodDay } from '../house/index.ts';
import { type Buffers, wipe } from './columns.ts';
import { heatFirst, serveCars, settle } from './flow.ts';
import { freshLog, type Log } from './log.ts';
import type { Plan, Profiles } from './plan.ts';
import { freshRun, type PointRun, runPoint } from './point.ts';
import { freshHeadroom, freshSite, lookAtSurplus, type Site, smooth } from './site.ts';

/**
 * The only walk over time: in each step it asks the law, settles the energy, writes the columns.
 *
 * In every step `pv + import + battery out = house + cars + battery in + export + curtailed`.
 *
 * @param profiles  as many values as the plan's grid has steps, 0 or more
 * @param buffers   columns of `plan.grid.steps` values, overwritten
 * @param log       where it is written down what happened; the run itself never reads it
 * @returns         the same log, in order of time
 */
export function runLoop(plan: Plan, profiles: Profiles, columns: Buffers, log: Log = freshLog(plan.grid.stepS)): Log {
  wipe(columns);
  const points = plan.points.map((_, i) => freshRun(plan, i, columns.points[i]!, log));
  if (plan.isPlain) walkPlain(plan, profiles, columns, points);
  else walkAll(plan, profiles, columns, points);
  return log;
}

/** Energy has no memory beyond the cars': steps in which nothing can happen are passed by, and what the meter counts follows from the rest. */
function walkPlain(plan: Plan, profiles: Profiles, columns: Buffers, points: readonly PointRun[]): void {
  const { steps } = plan.grid;
  const { pvW, loadW } = profiles;
  const site = freshSite(plan);
  const headroom = freshHeadroom(plan);
  const limits = limitsOf(plan);
  let workedFrom = 0;
  for (let k = 0; k < steps; k++) {
    const next = k > 0 ? skipIdle(k, site, plan, profiles, columns, points) : k;
    if (next > k) {
      columns.worked.push(workedFrom, k);
      workedFrom = k = next;
      if (k === steps) break;
    }
    site.netW = pvW[k]! - loadW[k]!;
    smooth(site, plan, site.netW);
    if (!allIdle(points, k, site)) {
      // No phase of the house takes more than all of them.
      if (loadW[k]! <= limits.roomyW) headroom.roomyA = limits.allCarsA;
      else {
        lookAtPhases(site, plan, profiles, k);
        lookAtLimits(headroom, limits, site, k);
      }
      for (let i = 0; i < points.length; i++) runPoint(points[i]!, k, site, headroom);
    }
    serveCars(Math.max(0, site.netW), points);
    writeCars(columns, points, k);
  }
  columns.worked.push(workedFrom, steps);
}

/** Any household, step by step. */
function walkAll(plan: Plan, profiles: Profiles, columns: Buffers, points: readonly PointRun[]): void {
  const { grid, diverter } = plan;
  const { pvW, loadW } = profiles;
  const { meter } = columns;
  const site = freshSite(plan);
  const headroom = freshHeadroom(plan);
  const limits = limitsOf(plan);
  const isLimited = plan.exportLimitW < Infinity;
  const batteryCapacityWh = plan.battery?.capacityWh ?? 0;
  // Elsewhere the phases matter only to the limits, and these only to cars.
  const readsPhases = plan.perPhase || diverter !== null;
  const nobody = points.slice(0, 0);
  let day = 0;
  // Stretches in which any charge point is at work, and those between, take turns; the first step is work.
  let isIdle = false;
  let from = 0;
  for (let k = 0; k < grid.steps; k++) {
    // read
    site.netW = pvW[k]! - loadW[k]!;
    if (readsPhases) lookAtPhases(site, plan, profiles, k);

    // a hot-water rod that comes before the cars is a part of the house
    if (diverter !== null) {
      if (k === grid.dayStart[day]) {
        beginRodDay(site.rod, diverter);
        day++;
      }
      heatFirst(site, plan, diverter);
    }

    // decide, charge point by charge point, then settle the energy
    lookAtSurplus(site, plan);
    if (allIdle(points, k, site) !== isIdle) {
      endStretch(isIdle, columns, points, from, k);
      isIdle = !isIdle;
      from = k;
    }
    if (!isIdle) {
      if (!readsPhases) lookAtPhases(site, plan, profiles, k);
      lookAtLimits(headroom, limits, site, k);
      for (let i = 0; i < points.length; i++) runPoint(points[i]!, k, site, headroom);
    }
    settle(site, plan, isIdle ? nobody : points);

    // write
    if (meter !== null) {
      meter.surplusW[k] = site.surplusW;
      meter.gridImportW[k] = site.gridImportW;
      meter.gridExportW[k] = site.gridExportW;
    }
    if (diverter !== null) columns.loadW[k] = loadW[k]! + site.rodW;
    if (isLimited) {
      columns.curtailedW[k] = site.curtailedW;
      columns.rescuedW[k] = site.rescuedW;
    }
    if (plan.battery !== null) {
      columns.batteryW[k] = site.batteryW;
      columns.batterySoc[k] = site.batteryWh / batteryCapacityWh;
    }
    if (isIdle) continue;
    writeCars(columns, points, k);
    if (columns.givesToCars) for (let i = 0; i < points.length; i++) columns.points[i]!.batteryW[k] = points[i]!.batteryW;
  }
  endStretch(isIdle, columns, points, from, grid.steps);
}

/** Writes down that a stretch of steps was worked through, or what the cars were like in one in which nothing could happen. */
function endStretch(isIdle: boolean, columns: Buffers, points: readonly PointRun[], from: number, end: number): void {
  if (isIdle) writeIdle(columns, points, from, end);
  else columns.worked.push(from, end);
}

/** Cars that do nothing for a stretch of steps: one state, and the charge at its end; the rest when someone asks (columnsOf). */
function writeIdle(columns: Buffers, points: readonly PointRun[], from: number, end: number): void {
  for (let i = 0; i < points.length; i++) {
    const { state, soc } = columns.points[i]!;
    state.fill(points[i]!.state, from, end);
    soc[end - 1] = points[i]!.soc;
  }
}

function writeCars(columns: Buffers, points: readonly PointRun[], k: number): void {
  for (let i = 0; i < points.length; i++) {
    const point = points[i]!;
    const car = columns.points[i]!;
    car.state[k] = point.state;
    car.phases[k] = point.phases;
    car.powerW[k] = point.powerW;
    car.pvW[k] = point.pvW;
    car.soc[k] = point.soc;
  }
}

/** Whether no charge point does anything, nor could in this step: then the law need not be asked. */
function allIdle(points: readonly PointRun[], k: number, site: Site): boolean {
  for (let i = 0; i < points.length; i++) {
    const { powerW, idleBelowW, idleUntil } = points[i]!;
    if (powerW > 0 || k >= idleUntil || site.availableW >= idleBelowW) return false;
  }
  return true;
}

/**
 * Goes through the steps in which no charge point does anything, nor could: nights, absences, full cars. Only the surplus runs on.
 *
 * @returns the first step from `k` on that has to be worked through by the law; the number of steps where there is none
 */
function skipIdle(k: number, site: Site, plan: Plan, profiles: Profiles, columns: Buffers, points: readonly PointRun[]): number {
  let until = plan.grid.steps;
  let belowW = Infinity;
  for (let i = 0; i < points.length; i++) {
    const { powerW, idleBelowW, idleUntil } = points[i]!;
    if (powerW > 0 || idleBelowW <= 0 || k >= idleUntil) return k;
    if (idleUntil < until) until = idleUntil;
    if (idleBelowW < belowW) belowW = idleBelowW;
  }
  const end = belowW === Infinity ? passBy(k, until, site, profiles) : lookOut(k, until, belowW + plan.reserveW, site, profiles);
  writeIdle(columns, points, k, end);
  return end;
}

/** Steps in which no surplus matters: of the smoothed one only what has not faded at their end. @returns their end */
function passBy(from: number, until: number, site: Site, { pvW, loadW }: Profiles): number {
  const first = until - site.fadeSteps;
  if (first > from) site.smoothedW = pvW[first]! - loadW[first]!;
  for (let k = Math.max(from, first); k < until; k++) {
    site.smoothedW += site.weight * (pvW[k]! - loadW[k]! - site.smoothedW);
  }
  return until;
}

/** Steps until the smoothed surplus reaches something. @returns the first that reaches it, or `until` */
function lookOut(from: number, until: number, reachesW: number, site: Site, profiles: Profiles): number {
  const { pvW, loadW } = profiles;
  let k = from;
  while (k < until && site.smoothedW < reachesW) {
    // While the surplus is below, what is smoothed can not rise to it: most steps need no more than this look.
    let below = k;
    while (below < until && pvW[below]! - loadW[below]! < reachesW) below++;
    k = passBy(k, below, site, profiles);
    for (; k < until; k++) {
      const netW = pvW[k]! - loadW[k]!;
      if (netW < reachesW) break;
      const nextW = site.smoothedW + site.weight * (netW - site.smoothedW);
      if (nextW >= reachesW) return k;
      site.smoothedW = nextW;
    }
  }
  return k;
}

/** What each phase of the building gives away before any car draws. */
function lookAtPhases({ netByPhaseW }: Site, { pvShare }: Plan, { pvW, loadByPhaseW }: Profiles, k: number): void {
  const pv = pvW[k]!;
  netByPhaseW[0] = pv * pvShare[0] - loadByPhaseW[0][k]!;
  netByPhaseW[1] = pv * pvShare[1] - loadByPhaseW[1][k]!;
  netByPhaseW[2] = pv * pvShare[2] - loadByPhaseW[2][k]!;
}

/** Rule 2: what the connection leaves in this step before any car draws. */
function lookAtLimits(headroom: Headroom, limits: Limits, { netByPhaseW, netW }: Site, k: number): void {
  const { plan, roomyW, allCarsA } = limits;
  headroom.roomyA = allCarsA;
  if (-Math.min(netByPhaseW[0]!, netByPhaseW[1]!, netByPhaseW[2]!) <= roomyW) return;
  const house1W = Math.max(0, -netByPhaseW[0]!);
  const house2W = Math.max(0, -netByPhaseW[1]!);
  const house3W = Math.max(0, -netByPhaseW[2]!);
  headroom.roomyA = -Infinity;
  headroom.fuseA[0] = plan.mainFuseA - house1W / plan.voltageV;
  headroom.fuseA[1] = plan.mainFuseA - house2W / plan.voltageV;
  headroom.fuseA[2] = plan.mainFuseA - house3W / plan.voltageV;
  headroom.earlierA.fill(0);
  headroom.contractW = plan.contractW - Math.max(0, -netW);
  headroom.dimmedW = plan.dimmedToW === null ? Infinity : plan.dimmedToW[k]!;
}

/** What of the limits stays the same for all steps. */
interface Limits {
  readonly plan: Plan;
  /** What all cars together can draw on a phase, A. */
  readonly allCarsA: number;
  /** Where no phase of the house draws more than this, the fuse leaves as much as all cars can draw, W; below 0 where that is never so. */
  readonly roomyW: number;
}

function limitsOf(plan: Plan): Limits {
  const allCarsA = plan.points.reduce((sum, { rules, car }) => sum + Math.max(rules.most.maxA, car.maxA), 0);
  const onlyFuse = plan.imbalanceA === Infinity && plan.contractW === Infinity && plan.dimmedToW === null;
  const roomyW = (plan.mainFuseA - allCarsA) * plan.voltageV;
  return { plan, allCarsA, roomyW: onlyFuse && roomyW >= 0 ? roomyW : -Infinity };
}
