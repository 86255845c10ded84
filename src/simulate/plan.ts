import type { TimeGrid } from '../base/index.ts';
import { type PointRules, pointRules } from '../charging/index.ts';
import type { ChargePoint, Scenario } from '../scenario/index.ts';
import { alwaysStays, type Presence, presenceOf, type Stay, weeklyStays } from '../vehicle/index.ts';

/** A car, as numbers that the loop needs. */
export interface CarPlan {
  readonly capacityWh: number;
  readonly startWh: number;
  /** Charging ends here. */
  readonly targetWh: number;
  readonly standbyW: number;
  readonly conversionShare: number;
  readonly whPerKm: number;
}

/** A charge point, its car and the car's habits. */
export interface PointPlan {
  readonly rules: PointRules;
  /** Building phase (1, 2, 3) on each terminal, first to last: as the law steers. */
  readonly wiring: Int8Array;
  readonly car: CarPlan;
  readonly presence: Presence;
}

/** All that the loop needs to know beside the profiles: numbers only. */
export interface Plan {
  readonly grid: TimeGrid;
  readonly voltageV: number;
  readonly buildingPhases: number;
  readonly mainFuseA: number;
  /** Part of the PV power on each building phase; adds up to 1. */
  readonly pvShare: readonly [number, number, number];
  readonly smoothingS: number;
  readonly reserveW: number;
  readonly points: readonly PointPlan[];
}

/** Profiles, a value per step: PV that the roof could give, the house's load by building phase and in sum, W. */
export interface Profiles {
  readonly pvW: Float64Array;
  readonly loadW: Float64Array;
  readonly loadByPhaseW: readonly [Float64Array, Float64Array, Float64Array];
}

/**
 * What the loop needs of a scenario.
 *
 * @param stepS  the grid's step; verdicts need 60 s or less, the loop takes any
 * @throws RangeError  charger and vehicle of a point can not charge together (the door refuses such a scenario)
 */
export function planOf(scenario: Scenario): Plan {
  return {
    grid: scenario.grid,
    voltageV: scenario.supply.voltageV,
    buildingPhases: scenario.supply.phases,
    mainFuseA: scenario.supply.mainFuseA,
    pvShare: evenShares(scenario.pv.phases),
    smoothingS: scenario.control.smoothingS,
    reserveW: scenario.control.reserveW,
    points: scenario.chargePoints.map((point) => pointPlan(point, scenario)),
  };
}

/** The same scenario charged as soon as plugged in: what everyone compares with. */
export const chargedAtOnce = (scenario: Scenario): Scenario => ({
  ...scenario,
  control: { ...scenario.control, strategy: 'at-once' },
});

function pointPlan(point: ChargePoint, scenario: Scenario): PointPlan {
  const { charger, vehicle } = point;
  const rules = pointRules(charger, vehicle, scenario.control, scenario.supply.voltageV, scenario.grid.stepS, vehicle.startLagS);
  if (rules === null) throw new RangeError(`charge point ${point.name}: charger and vehicle can not charge together`);
  return {
    rules,
    wiring: Int8Array.from(charger.wiring),
    car: {
      capacityWh: vehicle.batteryWh,
      startWh: vehicle.startSoc * vehicle.batteryWh,
      targetWh: vehicle.targetSoc * vehicle.batteryWh,
      standbyW: vehicle.standbyW,
      conversionShare: vehicle.conversionShare,
      whPerKm: vehicle.whPerKm,
    },
    presence: presenceOf(staysOf(point, scenario.grid), scenario.grid),
  };
}

function staysOf(point: ChargePoint, grid: TimeGrid): readonly Stay[] {
  switch (point.usage.kind) {
    case 'always':
      return alwaysStays();
    case 'weekly':
      return weeklyStays(point.usage.trips, point.usage.seed, grid);
    case 'stays':
      return point.usage.stays;
  }
}

/** Equal shares on the phases named. */
function evenShares(phases: readonly number[]): [number, number, number] {
  const share = (phase: number): number => (phases.includes(phase) ? 1 / phases.length : 0);
  return [share(1), share(2), share(3)];
}
