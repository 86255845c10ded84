import { chargeLimitW, dischargeLimitW, rodStepW, storedAfterWh } from '../house/index.ts';
import type { Diverter } from '../scenario/index.ts';
import type { BatteryPlan, Plan } from './plan.ts';
import type { PointRun } from './point.ts';
import type { Site } from './site.ts';

/**
 * Energy in the step once the cars' power is known, as the meter counts it: PV serves the house, then the cars in list order, then the
 * battery, then export up to the limit; the rest is curtailed. The battery covers a deficit of the house, and the cars' only if it
 * may; it never charges from the grid.
 */
export function settle(site: Site, plan: Plan, points: readonly PointRun[]): void {
  const idleCurtailedW = plan.exportLimitW < Infinity ? curtailedWithoutCarsW(site, plan) : 0;
  if (plan.perPhase) settleByPhase(site, plan, points);
  else settleNet(site, plan, points);
  if (plan.diverter !== null) heatLast(site, plan.diverter);
  site.gridExportW = Math.min(site.spareW, plan.exportLimitW);
  site.curtailedW = site.spareW - site.gridExportW;
  site.rescuedW = Math.max(0, idleCurtailedW - site.curtailedW);
  site.carsBeforeW = site.earlierW;
}

/** A rod that comes first takes its part of the surplus as the house does, evenly on the building's phases. */
export function heatFirst(site: Site, plan: Plan, diverter: Diverter): void {
  site.rodW = 0;
  if (diverter.priority !== 'diverter') return;
  site.rodW = rodStepW(site.rod, diverter, site.netW, site.stepH);
  site.netW -= site.rodW;
  for (let p = 0; p < plan.buildingPhases; p++) site.netByPhaseW[p]! -= site.rodW / plan.buildingPhases;
}

/** A rod that comes last takes what cars and battery leave, before anything is exported. */
function heatLast(site: Site, diverter: Diverter): void {
  if (diverter.priority !== 'car') return;
  site.rodW = rodStepW(site.rod, diverter, site.spareW, site.stepH);
  site.spareW -= site.rodW;
}

/** One meter for the sum of the phases. */
export function settleNet(site: Site, plan: Plan, points: readonly PointRun[]): void {
  site.gridImportW = Math.max(0, -site.netW);
  site.spareW = serveCars(Math.max(0, site.netW), points);
  for (let i = 0; i < points.length; i++) site.gridImportW += points[i]!.powerW - points[i]!.pvW;
  if (plan.battery !== null) settleBattery(site, plan.battery, points);
}

/** PV goes to the cars in list order. @returns what is to spare then, W */
export function serveCars(leftW: number, points: readonly PointRun[]): number {
  let spareW = leftW;
  for (let i = 0; i < points.length; i++) {
    const point = points[i]!;
    point.pvW = Math.min(point.powerW, spareW);
    spareW -= point.pvW;
  }
  return spareW;
}

/** What the battery makes of the step: it takes from what is to spare, or gives to what is lacking. */
function settleBattery(site: Site, battery: BatteryPlan, points: readonly PointRun[]): void {
  const leftW = site.spareW;
  // What it could take or give is reckoned only where that is asked for: most steps ask for one of them, or for neither.
  const inW = leftW > 0 ? Math.min(leftW, chargeLimitW(battery, site.batteryWh, battery.capacityWh, site.stepH)) : 0;
  const isAsked = leftW <= 0 && (site.netW < 0 || battery.dischargesToCar);
  let givesW = isAsked ? dischargeLimitW(battery, site.batteryWh, site.stepH) : 0;
  let outW = Math.min(givesW, Math.max(0, -site.netW));
  givesW -= outW;
  for (let i = 0; i < points.length; i++) {
    const point = points[i]!;
    point.batteryW = battery.dischargesToCar ? Math.min(givesW, point.powerW - point.pvW) : 0;
    givesW -= point.batteryW;
    outW += point.batteryW;
  }
  site.gridImportW -= outW;
  site.spareW = leftW - inW;
  moveBattery(site, battery, inW, outW);
}

function moveBattery(site: Site, battery: BatteryPlan, inW: number, outW: number): void {
  site.beyondBeforeW = Math.max(0, inW - site.batteryFirstW);
  site.batteryW = inW - outW;
  if (site.batteryW !== 0) site.batteryWh = storedAfterWh(battery, site.batteryWh, site.batteryW, site.stepH);
}

/**
 * A meter that counts each phase for itself. The battery follows the sum of the phases and flows on its own; the cars' currents flow as
 * they are wired. @returns power that the phases with too much PV give back, W
 */
function settleByPhase(site: Site, plan: Plan, points: readonly PointRun[]): void {
  const { netByPhaseW, earlierByPhaseW: carsW } = site;
  carsW.fill(0);
  for (const { phases, powerW, plan: wired } of points) {
    for (let terminal = 0; terminal < phases; terminal++) carsW[wired.wiringAsBuilt[terminal]! - 1]! += powerW / phases;
  }
  if (plan.battery !== null) followSum(site, plan.battery);
  site.gridImportW = 0;
  site.spareW = 0;
  for (let p = 0; p < 3; p++) {
    const flowW = carsW[p]! - netByPhaseW[p]! + site.batteryW * (plan.battery?.share[p] ?? 0);
    site.gridImportW += Math.max(0, flowW);
    site.spareW += Math.max(0, -flowW);
  }
  attributeByPhase(site, plan, points);
}

/** The battery covers what the phases together lack, and takes what they have to spare. */
function followSum(site: Site, battery: BatteryPlan): void {
  const balanceW = site.netW - site.earlierW;
  const inW = Math.min(Math.max(0, balanceW), chargeLimitW(battery, site.batteryWh, battery.capacityWh, site.stepH));
  const lacksW = battery.dischargesToCar ? -balanceW : Math.min(-balanceW, Math.max(0, -site.netW));
  const outW = Math.min(Math.max(0, lacksW), dischargeLimitW(battery, site.batteryWh, site.stepH));
  moveBattery(site, battery, inW, outW);
}

/** Where each car's power comes from, phase by phase: PV that the house leaves there, then what the battery gives there, then the grid. */
function attributeByPhase(site: Site, plan: Plan, points: readonly PointRun[]): void {
  const outW = Math.max(0, -site.batteryW);
  for (const point of points) point.pvW = point.batteryW = 0;
  for (let p = 0; p < 3; p++) {
    const netW = site.netByPhaseW[p]!;
    let pvW = Math.max(0, netW);
    let batteryW = plan.battery?.dischargesToCar ? Math.max(0, outW * plan.battery.share[p]! - Math.max(0, -netW)) : 0;
    for (const point of points) {
      const terminal = point.plan.wiringAsBuilt.indexOf(p + 1);
      if (terminal < 0 || terminal >= point.phases) continue;
      const carW = point.powerW / point.phases;
      const fromPvW = Math.min(carW, pvW);
      const fromBatteryW = Math.min(carW - fromPvW, batteryW);
      pvW -= fromPvW;
      batteryW -= fromBatteryW;
      point.pvW += fromPvW;
      point.batteryW += fromBatteryW;
    }
  }
}

/** What would be curtailed in this step if no car drew, W. */
function curtailedWithoutCarsW(site: Site, plan: Plan): number {
  const { battery } = plan;
  const spareW = Math.max(0, site.netW);
  const inW = battery === null ? 0 : Math.min(spareW, chargeLimitW(battery, site.batteryWh, battery.capacityWh, site.stepH));
  let backW = spareW - inW;
  if (plan.perPhase) {
    backW = 0;
    for (let p = 0; p < 3; p++) backW += Math.max(0, site.netByPhaseW[p]! - inW * (battery?.share[p] ?? 0));
  }
  const { diverter } = plan;
  const rodW = diverter?.priority === 'car' ? Math.min(diverter.maxW, backW, site.rod.leftWh / site.stepH) : 0;
  return Math.max(0, backW - rodW - plan.exportLimitW);
}
