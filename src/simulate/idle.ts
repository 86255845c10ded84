import { chargeLimitW, dischargeLimitW, storedAfterWh } from '../house/index.ts';
import type { BatteryPlan, Plan, Profiles } from './plan.ts';
import type { PointRun } from './point.ts';
import type { Site } from './site.ts';

/** Whether no charge point does anything, nor could in this step: then the law need not be asked. */
export function allIdle(points: readonly PointRun[], k: number, site: Site): boolean {
  for (let i = 0; i < points.length; i++) {
    const { powerW, idleBelowW, idleUntil } = points[i]!;
    if (powerW > 0 || k >= idleUntil || site.availableW >= idleBelowW) return false;
  }
  return true;
}

/**
 * Goes through the steps in which no charge point does anything, nor could: nights, absences, full cars. Only the surplus runs on, and
 * what is in a home battery.
 *
 * @param batteryW  its power, written for the steps passed by
 * @returns the first step from `k` on that has to be worked through by the law; the number of steps where there is none
 */
export function skipIdle(
  k: number,
  site: Site,
  plan: Plan,
  profiles: Profiles,
  batteryW: Float64Array,
  points: readonly PointRun[],
): number {
  let until = plan.grid.steps;
  let belowW = Infinity;
  for (let i = 0; i < points.length; i++) {
    const { powerW, idleBelowW, idleUntil } = points[i]!;
    if (powerW > 0 || idleBelowW <= 0 || k >= idleUntil) return k;
    if (idleUntil < until) until = idleUntil;
    if (idleBelowW < belowW) belowW = idleBelowW;
  }
  const reachesW = belowW + plan.reserveW;
  if (plan.battery !== null) return carry(k, until, reachesW, site, plan.battery, profiles, batteryW);
  return belowW === Infinity ? passBy(k, until, site, profiles) : lookOut(k, until, reachesW, site, profiles);
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

/** A hair above 1: beyond it rounding can not turn a comparison round. */
const SURELY = 1 + 1e-9;

/**
 * Steps of house and home battery alone, until the smoothed surplus reaches something.
 *
 * @returns the first step that reaches it, or `until`
 */
function carry(
  from: number,
  until: number,
  reachesW: number,
  site: Site,
  battery: BatteryPlan,
  { pvW, loadW }: Profiles,
  batteryW: Float64Array,
): number {
  const { weight, stepH } = site;
  const { capacityWh, firstToWh, maxChargeW, maxDischargeW, oneWayShare } = battery;
  // With more room, or more in it, than a step at full power moves, what is in the battery does not matter: most steps are
  // like that, and need not wait for the divisions of the step before.
  const stepInWh = maxChargeW * oneWayShare * stepH * SURELY;
  const stepOutWh = (maxDischargeW / oneWayShare) * stepH * SURELY;
  let { smoothedW, batteryWh } = site;
  let k = from;
  for (; k < until; k++) {
    const netW = pvW[k]! - loadW[k]!;
    let seenW = netW;
    let inW = 0;
    let outW = 0;
    if (netW > 0) {
      const firstW = firstToWh - batteryWh > stepInWh ? maxChargeW : chargeLimitW(battery, batteryWh, firstToWh, stepH);
      seenW = netW - Math.min(netW, firstW);
      const limitW = capacityWh - batteryWh > stepInWh ? maxChargeW : chargeLimitW(battery, batteryWh, capacityWh, stepH);
      inW = Math.min(netW, limitW);
    } else if (batteryWh > 0) {
      const limitW = batteryWh > stepOutWh ? maxDischargeW : dischargeLimitW(battery, batteryWh, stepH);
      outW = Math.min(limitW, -netW);
    }
    const nextW = smoothedW + weight * (seenW - smoothedW);
    if (nextW >= reachesW) break;
    smoothedW = nextW;
    const powerW = inW - outW;
    if (powerW !== 0) batteryWh = storedAfterWh(battery, batteryWh, powerW, stepH);
    batteryW[k] = powerW;
  }
  site.smoothedW = smoothedW;
  site.batteryWh = batteryWh;
  return k;
}
