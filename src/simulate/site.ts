import { FRACTION_0, S_PER_H } from '../base/index.ts';
import type { Headroom } from '../charging/index.ts';
import { chargeLimitW, type RodState } from '../house/index.ts';
import type { BatteryPlan, Plan } from './plan.ts';

/** The house around the charge points in one step: what it gives, takes and may draw. Written anew every step, in place. */
export interface Site {
  readonly stepH: number;
  /** Weight of the newest value in the smoothed surplus; 1 follows it at once. */
  readonly weight: number;
  /** After so many steps nothing is left of a smoothed surplus that a number could hold. */
  readonly fadeSteps: number;
  isFirst: boolean;
  /** PV that an export limit keeps back does not show at the meter. */
  readonly hidesCurtailedPv: boolean;
  /** What the meter would export if the cars drew nothing: PV less house, and the part of it that the home battery takes first. */
  netW: number;
  batteryFirstW: number;
  surplusW: number;
  /** The smoothed surplus that the controller goes by (f), and what of it the charge point at hand may use (F). */
  smoothedW: number;
  availableW: number;
  /** What earlier charge points draw in this step. */
  earlierW: number;
  /** What the cars drew, and the battery took beyond its part, in the step before. */
  carsBeforeW: number;
  beyondBeforeW: number;
  /** Energy in the home battery, and its power in this step: charging counts up. */
  batteryWh: number;
  batteryW: number;
  gridImportW: number;
  gridExportW: number;
  /** PV that nobody in the house takes: exported up to the limit, else curtailed. */
  spareW: number;
  curtailedW: number;
  /** What the hot-water rod takes in this step, and what its tank still wants today. */
  rodW: number;
  readonly rod: RodState;
  /** PV that would have been curtailed had no car drawn. */
  rescuedW: number;
  /** House less PV, smoothed surplus, and what earlier charge points draw, by building phase. Only where the meter counts by phase. */
  readonly netByPhaseW: Float64Array;
  readonly smoothedByPhaseW: Float64Array;
  readonly earlierByPhaseW: Float64Array;
}

/** Time constants after which a smoothed number has forgotten where it began: e^-46 is 1e-20. */
const FADED = 46;

/** The house before the first step. */
export const freshSite = (plan: Plan): Site => ({
  stepH: plan.grid.stepS / S_PER_H,
  weight: plan.smoothingS > 0 ? 1 - Math.exp(-plan.grid.stepS / plan.smoothingS) : 1,
  fadeSteps: 1 + Math.ceil((plan.smoothingS / plan.grid.stepS) * FADED),
  isFirst: true,
  hidesCurtailedPv: !plan.seesCurtailedPv && plan.exportLimitW < Infinity,
  netW: FRACTION_0,
  batteryFirstW: FRACTION_0,
  surplusW: FRACTION_0,
  smoothedW: FRACTION_0,
  availableW: FRACTION_0,
  earlierW: FRACTION_0,
  carsBeforeW: FRACTION_0,
  beyondBeforeW: FRACTION_0,
  batteryWh: (plan.battery?.startWh ?? 0) + FRACTION_0,
  batteryW: FRACTION_0,
  gridImportW: FRACTION_0,
  gridExportW: FRACTION_0,
  spareW: FRACTION_0,
  curtailedW: FRACTION_0,
  rodW: FRACTION_0,
  rod: { leftWh: (plan.diverter?.dailyWh ?? 0) + FRACTION_0 },
  rescuedW: FRACTION_0,
  netByPhaseW: new Float64Array(3),
  smoothedByPhaseW: new Float64Array(3),
  earlierByPhaseW: new Float64Array(3),
});

/** Headroom before the first step. */
export const freshHeadroom = (plan: Plan): Headroom => ({
  fuseA: new Float64Array(3),
  earlierA: new Float64Array(3),
  buildingPhases: plan.buildingPhases,
  imbalanceA: plan.imbalanceA,
  roomyA: FRACTION_0,
  contractW: Infinity,
  dimmedW: Infinity,
});

/** Rule 1: the surplus of the step, and what the controller makes of it. In the first step f before it is what is seen. */
export function lookAtSurplus(site: Site, plan: Plan): void {
  site.earlierW = 0;
  if (plan.battery !== null) reserveForBattery(site, plan.battery);
  site.surplusW = site.netW - site.batteryFirstW;
  if (plan.perPhase) {
    lookByPhase(site, plan);
    return;
  }
  smooth(site, plan, site.hidesCurtailedPv ? Math.min(site.surplusW, visibleW(site, plan)) : site.surplusW);
}

/** Smooths what one meter for the sum of the phases shows. */
function smooth(site: Site, plan: Plan, seenW: number): void {
  if (site.isFirst) site.smoothedW = seenW;
  site.isFirst = false;
  site.smoothedW += site.weight * (seenW - site.smoothedW);
  site.availableW = Math.max(0, site.smoothedW - plan.reserveW);
}

/** What a battery that comes first takes of the surplus. */
function reserveForBattery(site: Site, battery: BatteryPlan): void {
  const { netW } = site;
  site.batteryFirstW = netW > 0 ? Math.min(netW, chargeLimitW(battery, site.batteryWh, battery.firstToWh, site.stepH)) : 0;
}

/** The most surplus that shows behind an export limit: what may be exported, and what cars and battery took in the step before. */
const visibleW = (site: Site, plan: Plan): number => plan.exportLimitW + site.carsBeforeW + site.beyondBeforeW;

function lookByPhase(site: Site, plan: Plan): void {
  const { netByPhaseW, smoothedByPhaseW, earlierByPhaseW } = site;
  const weight = site.isFirst ? 1 : site.weight;
  site.isFirst = false;
  for (let p = 0; p < 3; p++) {
    const seenW = netByPhaseW[p]! - site.batteryFirstW * (plan.battery?.share[p] ?? 0);
    smoothedByPhaseW[p]! += weight * (seenW - smoothedByPhaseW[p]!);
    earlierByPhaseW[p] = 0;
  }
}

/** F for charging on the first n terminals where the meter counts by phase: n times the least of their phases. */
export function availableByPhaseW(site: Site, plan: Plan, wiring: Int8Array, n: number): number {
  let leastW = Infinity;
  for (let terminal = 0; terminal < n; terminal++) {
    const p = wiring[terminal]! - 1;
    const phaseW = Math.max(0, site.smoothedByPhaseW[p]! - plan.reserveW / 3) - site.earlierByPhaseW[p]!;
    if (phaseW < leastW) leastW = phaseW;
  }
  return n * Math.max(0, leastW);
}
