import type { Headroom } from '../charging/index.ts';
import { beginRodDay } from '../house/index.ts';
import { heatFirst, settle } from './flow.ts';
import { freshLog, type Log } from './log.ts';
import type { Plan, Profiles } from './plan.ts';
import { freshRun, type PointRun, runPoint } from './point.ts';
import type { Columns } from './results.ts';
import { freshHeadroom, freshSite, lookAtSurplus, type Site } from './site.ts';

/**
 * The only loop over time: walks the steps, asks the law, settles the energy, writes the columns.
 *
 * In every step `pv + import + battery out = house + cars + battery in + export + curtailed`.
 *
 * @param columns  buffers of `plan.grid.steps` values, overwritten
 * @param log      where it is written down what happened; the run itself never reads it
 * @returns        the same log, in order of time
 */
export function runLoop(plan: Plan, profiles: Profiles, columns: Columns, log: Log = freshLog(plan.grid.stepS)): Log {
  const { grid, pvShare, diverter } = plan;
  const { pvW, loadW } = profiles;
  const [load1W, load2W, load3W] = profiles.loadByPhaseW;
  const { surplusW, gridImportW, gridExportW } = columns;
  const site = freshSite(plan);
  const { netByPhaseW } = site;
  const headroom = freshHeadroom(plan);
  const limits = limitsOf(plan);
  const points = plan.points.map((_, i) => freshRun(plan, i, columns.points[i]!, log));
  const isLimited = plan.exportLimitW < Infinity;
  const hasBattery = plan.battery !== null;
  const batteryCapacityWh = plan.battery?.capacityWh ?? 0;

  let day = 0;

  for (let k = 0; k < grid.steps; k++) {
    if (plan.isPlain && k > 0) {
      k = skipIdle(k, site, plan, profiles, columns, points);
      if (k === grid.steps) break;
    }

    // read
    const pv = pvW[k]!;
    site.netW = pv - loadW[k]!;
    netByPhaseW[0] = pv * pvShare[0] - load1W[k]!;
    netByPhaseW[1] = pv * pvShare[1] - load2W[k]!;
    netByPhaseW[2] = pv * pvShare[2] - load3W[k]!;

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
    site.earlierW = 0;
    if (!allIdle(points, k, site)) {
      lookAtLimits(headroom, limits, site, k);
      for (let i = 0; i < points.length; i++) runPoint(points[i]!, k, site, headroom);
    }
    settle(site, plan, points);

    // write: in this very loop, since a function of its own would box every number on its way
    surplusW[k] = site.surplusW;
    gridImportW[k] = site.gridImportW;
    gridExportW[k] = site.gridExportW;
    if (diverter !== null) columns.loadW[k] = loadW[k]! + site.rodW;
    if (isLimited) {
      columns.curtailedW[k] = site.curtailedW;
      columns.rescuedW[k] = site.rescuedW;
    }
    if (hasBattery) {
      columns.batteryW[k] = site.batteryW;
      columns.batterySoc[k] = site.batteryWh / batteryCapacityWh;
    }
    for (let i = 0; i < points.length; i++) {
      const point = points[i]!;
      const car = columns.points[i]!;
      car.state[k] = point.state;
      car.phases[k] = point.phases;
      car.powerW[k] = point.powerW;
      car.pvW[k] = point.pvW;
      car.soc[k] = point.soc;
      if (hasBattery) car.batteryW[k] = point.batteryW;
    }
  }
  return log;
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
 * Goes through the steps in which no charge point does anything, nor could: nights, absences, full cars. Only the meter runs on.
 *
 * @returns the first step from `k` on that has to be worked through by the law; the number of steps where there is none
 */
function skipIdle(k: number, site: Site, plan: Plan, profiles: Profiles, columns: Columns, points: readonly PointRun[]): number {
  let until = plan.grid.steps;
  let belowW = Infinity;
  for (let i = 0; i < points.length; i++) {
    const { powerW, idleBelowW, idleUntil } = points[i]!;
    if (powerW > 0 || idleBelowW <= 0 || k >= idleUntil) return k;
    if (idleUntil < until) until = idleUntil;
    if (idleBelowW < belowW) belowW = idleBelowW;
  }
  const { pvW, loadW } = profiles;
  const { surplusW, gridImportW, gridExportW } = columns;
  const { reserveW } = plan;
  let smoothedW = site.smoothedW;
  let j = k;
  for (; j < until; j++) {
    const netW = pvW[j]! - loadW[j]!;
    const nextW = smoothedW + site.weight * (netW - smoothedW);
    if (nextW - reserveW >= belowW) break;
    smoothedW = nextW;
    surplusW[j] = netW;
    const exportW = Math.max(0, netW);
    gridExportW[j] = exportW;
    gridImportW[j] = exportW - netW;
  }
  site.smoothedW = smoothedW;
  for (let i = 0; i < points.length; i++) {
    const { state, phases, powerW, pvW: carPvW, soc } = columns.points[i]!;
    state.fill(points[i]!.state, k, j);
    phases.fill(0, k, j);
    powerW.fill(0, k, j);
    carPvW.fill(0, k, j);
    soc.fill(points[i]!.soc, k, j);
  }
  return j;
}

/** Rule 2: what the connection leaves in this step before any car draws. */
function lookAtLimits(headroom: Headroom, limits: Limits, { netByPhaseW, netW }: Site, k: number): void {
  const { plan, onlyFuse, allCarsA } = limits;
  const house1W = Math.max(0, -netByPhaseW[0]!);
  const house2W = Math.max(0, -netByPhaseW[1]!);
  const house3W = Math.max(0, -netByPhaseW[2]!);
  headroom.roomyA = onlyFuse ? plan.mainFuseA - Math.max(house1W, house2W, house3W) / plan.voltageV : -Infinity;
  if (headroom.roomyA >= allCarsA) return;
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
  /** No limit is set but the fuse: where it leaves as much as all cars together can draw, no charge point needs to look closer. */
  readonly onlyFuse: boolean;
  readonly allCarsA: number;
}

const limitsOf = (plan: Plan): Limits => ({
  plan,
  onlyFuse: plan.imbalanceA === Infinity && plan.contractW === Infinity && plan.dimmedToW === null,
  allCarsA: plan.points.reduce((sum, { rules, car }) => sum + Math.max(rules.most.maxA, car.maxA), 0),
});
