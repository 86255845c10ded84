import { beginRodDay } from '../house/index.ts';
import type { Buffers } from './columns.ts';
import { heatFirst, serveCars, settle, settleNet } from './flow.ts';
import { allIdle, skipIdle } from './idle.ts';
import { limitsOf, lookAtLimits, lookAtPhases } from './limits.ts';
import { freshLog, type Log } from './log.ts';
import type { Plan, Profiles } from './plan.ts';
import { freshRun, type PointRun, runPoint } from './point.ts';
import { freshHeadroom, freshSite, lookAtSurplus } from './site.ts';
import { endStretch, forget, writeStep } from './work.ts';

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
  forget(columns.work);
  const points = plan.points.map((_, i) => freshRun(plan, i, log));
  if (plan.isPlain) walkPlain(plan, profiles, columns, points);
  else walkAll(plan, profiles, columns, points);
  return log;
}

/** Steps in which no car can do anything are passed by, and what the meter counts follows from PV, house, cars and home battery. */
function walkPlain(plan: Plan, profiles: Profiles, columns: Buffers, points: readonly PointRun[]): void {
  const { steps } = plan.grid;
  const { pvW, loadW } = profiles;
  const { work, batteryW } = columns;
  const site = freshSite(plan);
  const headroom = freshHeadroom(plan);
  const limits = limitsOf(plan);
  const hasBattery = plan.battery !== null;
  let from = 0;
  for (let k = 0; k < steps; k++) {
    const next = k > 0 ? skipIdle(k, site, plan, profiles, batteryW, points) : k;
    if (next > k) {
      endStretch(work, points, from, k);
      from = k = next;
      if (k === steps) return;
    }
    site.netW = pvW[k]! - loadW[k]!;
    lookAtSurplus(site, plan);
    if (!allIdle(points, k, site)) {
      // No phase of the house takes more than all of them.
      if (loadW[k]! <= limits.roomyW) headroom.roomyA = limits.allCarsA;
      else {
        lookAtPhases(site, plan, profiles, k);
        lookAtLimits(headroom, limits, site, k);
      }
      for (let i = 0; i < points.length; i++) runPoint(points[i]!, k, site, headroom);
    }
    if (hasBattery) {
      settleNet(site, plan, points);
      batteryW[k] = site.batteryW;
    } else serveCars(Math.max(0, site.netW), points);
    writeStep(work, points);
  }
  endStretch(work, points, from, steps);
}

/** Any household, step by step. */
function walkAll(plan: Plan, profiles: Profiles, columns: Buffers, points: readonly PointRun[]): void {
  const { grid, diverter } = plan;
  const { pvW, loadW } = profiles;
  const { meter, work } = columns;
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
      if (!isIdle) endStretch(work, points, from, k);
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
    if (!isIdle) writeStep(work, points);
  }
  if (!isIdle) endStretch(work, points, from, grid.steps);
}
