import type { TimeGrid } from '../base/index.ts';
import { highestCurrentA, type Needs, type PointRules, pointRules } from '../charging/index.ts';
import type { HomeBattery } from '../house/index.ts';
import type { ChargePoint, Diverter, Scenario } from '../scenario/index.ts';
import { alwaysStays, dcPowerW, type Presence, presenceOf, type Stay, weeklyStays } from '../vehicle/index.ts';
import { dimmedTo } from './dimming.ts';

/** A car, as numbers that the loop needs. */
export interface CarPlan {
  readonly capacityWh: number;
  readonly startWh: number;
  /** Charging ends here. */
  readonly targetWh: number;
  readonly standbyW: number;
  readonly conversionShare: number;
  readonly whPerKm: number;
  /** Most current that it draws, A per phase. */
  readonly maxA: number;
  /** Interruptions in one stay after which it accepts no more; Infinity: never. */
  readonly givesUpAfter: number;
  /** It takes less and less from this state of charge on; 1: full current to the end. */
  readonly taperFromSoc: number;
  /** Plugged in on arrival only below this state of charge; 1: always. */
  readonly plugInBelowSoc: number;
}

/** What the car really does on the phases that the law calls its least or its most: the controller may believe otherwise. */
export interface CarWay {
  /** Phases it draws on. */
  readonly phases: number;
  /** Below this it draws nothing, A per phase. */
  readonly minA: number;
  /** Current shows on a building phase where the charger expects none, and the charger looks for that. */
  readonly stray: boolean;
}

/** A charge point, its car and the car's habits. */
export interface PointPlan {
  readonly rules: PointRules;
  /** Building phase (1, 2, 3) on each terminal, first to last: as the law steers, and as it really is. */
  readonly wiring: Int8Array;
  readonly wiringAsBuilt: Int8Array;
  readonly car: CarPlan;
  readonly least: CarWay;
  readonly most: CarWay;
  readonly needs: Needs;
  readonly presence: Presence;
}

/** A home battery, and the part of its power on each building phase. */
export interface BatteryPlan extends HomeBattery {
  readonly share: readonly [number, number, number];
}

/** All that the loop needs to know beside the profiles: numbers only. Limits that there are not are Infinity. */
export interface Plan {
  readonly grid: TimeGrid;
  readonly voltageV: number;
  readonly buildingPhases: number;
  readonly mainFuseA: number;
  readonly imbalanceA: number;
  readonly contractW: number;
  readonly exportLimitW: number;
  /** The operator's limit on all chargers in each step, W; null where there is none in any. */
  readonly dimmedToW: Float64Array | null;
  /** The meter counts each phase for itself. */
  readonly perPhase: boolean;
  /** Part of the PV power on each building phase; adds up to 1. */
  readonly pvShare: readonly [number, number, number];
  readonly smoothingS: number;
  readonly reserveW: number;
  readonly seesCurtailedPv: boolean;
  readonly battery: BatteryPlan | null;
  readonly diverter: Diverter | null;
  /** No rod, no export limit, one meter for the sum of the phases: then what that counts follows from PV, house, cars and home battery. */
  readonly isPlain: boolean;
  readonly points: readonly PointPlan[];
}

/** Profiles, a value per step: PV that the roof could give, the house's load by building phase and in sum; W, all 0 or more. */
export interface Profiles {
  readonly pvW: Float64Array;
  readonly loadW: Float64Array;
  readonly loadByPhaseW: readonly [Float64Array, Float64Array, Float64Array];
}

/** Hands out when the car of a charge point is there, as it was worked out before, or works it out. */
export type KeepPresence = (point: number, make: () => Presence) => Presence;

/**
 * What the loop needs of a scenario. Verdicts need steps of 60 s or less; the loop takes any.
 *
 * @param airC  air temperature of each step, for what the cars consume, °C; null: mild throughout
 * @param keep  of whoever plans many variants of one household: usage, car, period and air decide when the car is there, and what it drives
 * @throws RangeError  charger and vehicle of a point can not charge together (the door refuses such a scenario)
 */
export function planOf(scenario: Scenario, airC: Float64Array | null = null, keep: KeepPresence = (_, make) => make()): Plan {
  const { supply, control } = scenario;
  return {
    grid: scenario.grid,
    voltageV: supply.voltageV,
    buildingPhases: supply.phases,
    mainFuseA: supply.mainFuseA,
    imbalanceA: supply.imbalanceLimitA ?? Infinity,
    contractW: supply.contractW ?? Infinity,
    exportLimitW: supply.exportLimitW ?? Infinity,
    dimmedToW: supply.dimming === null ? null : dimmedTo(supply.dimming, scenario.grid),
    perPhase: supply.metering === 'per-phase',
    pvShare: evenShares(scenario.pv.phases),
    smoothingS: control.smoothingS,
    reserveW: control.reserveW,
    seesCurtailedPv: control.seesCurtailedPv,
    battery: batteryPlan(scenario),
    diverter: scenario.diverter,
    isPlain: scenario.diverter === null && supply.exportLimitW === null && supply.metering === 'net',
    points: scenario.chargePoints.map((point, i) =>
      pointPlan(
        point,
        scenario,
        keep(i, () => presenceOf(staysOf(point, scenario.grid), scenario.grid, point.vehicle, airC)),
      ),
    ),
  };
}

/** The same scenario charged as soon as plugged in: what everyone compares with. */
export const chargedAtOnce = (scenario: Scenario): Scenario => ({
  ...scenario,
  control: { ...scenario.control, strategy: 'at-once' },
});

function batteryPlan({ battery }: Scenario): BatteryPlan | null {
  if (battery === null) return null;
  const { capacityWh, maxChargeW, maxDischargeW, priority } = battery;
  const firstTo = { battery: 1, car: 0, until: priority.kind === 'until' ? priority.untilSoc : 0 }[priority.kind];
  return {
    capacityWh,
    startWh: battery.startSoc * capacityWh,
    maxChargeW,
    maxDischargeW,
    oneWayShare: Math.sqrt(battery.roundTripShare),
    firstToWh: firstTo * capacityWh,
    dischargesToCar: battery.dischargeToCar,
    share: evenShares(battery.phases),
  };
}

function pointPlan(point: ChargePoint, scenario: Scenario, presence: Presence): PointPlan {
  const { charger, vehicle } = point;
  const believed = { ...vehicle, ...point.believes };
  const rules = pointRules(charger, believed, scenario.control, scenario.supply.voltageV, scenario.grid.stepS, vehicle.startLagS);
  if (rules === null) throw new RangeError(`charge point ${point.name}: charger and vehicle can not charge together`);
  const targetWh = vehicle.targetSoc * vehicle.batteryWh;
  const highestW = rules.most.wPerA * highestCurrentA(charger, believed);
  return {
    rules,
    wiring: Int8Array.from(charger.wiring),
    wiringAsBuilt: Int8Array.from(charger.wiringAsBuilt),
    car: {
      capacityWh: vehicle.batteryWh,
      startWh: vehicle.startSoc * vehicle.batteryWh,
      targetWh,
      standbyW: vehicle.standbyW,
      conversionShare: vehicle.conversionShare,
      whPerKm: vehicle.whPerKm,
      maxA: vehicle.maxCurrentA,
      givesUpAfter: vehicle.givesUpAfter ?? Infinity,
      taperFromSoc: vehicle.taperFromSoc,
      plugInBelowSoc: point.usage.kind === 'weekly' ? point.usage.plugInBelowSoc : 1,
    },
    least: carWay(point, rules.least.n, rules.least.live),
    most: carWay(point, rules.most.n, rules.most.live),
    needs: {
      floorWh: Math.min(point.needs.floorKm * vehicle.whPerKm, targetWh),
      departureWh: Math.min(point.needs.departureKm * vehicle.whPerKm, targetWh),
      highestStoredW: dcPowerW(highestW, vehicle.standbyW, vehicle.conversionShare),
      delayS: vehicle.startLagS + scenario.control.switchPauseS,
    },
    presence,
  };
}

/** What the car does where the law believes that it draws on `believedPhases` of the `live` ones. */
export function carWay(
  { charger, vehicle }: Pick<ChargePoint, 'charger' | 'vehicle'>,
  believedPhases: number,
  live: number,
): CarWay {
  const phases = Math.min(live, vehicle.phases);
  const expected = charger.wiring.slice(0, believedPhases);
  const flowing = charger.wiringAsBuilt.slice(0, phases);
  return {
    phases,
    minA: vehicle.minCurrentA[phases - 1]!,
    stray: charger.checksPhases && flowing.some((phase) => !expected.includes(phase)),
  };
}

function staysOf(point: ChargePoint, grid: TimeGrid): readonly Stay[] {
  switch (point.usage.kind) {
    case 'always':
      return alwaysStays();
    case 'weekly':
      return weeklyStays(point.usage.trips, point.usage.seed, grid, point.usage.exceptions);
    case 'stays':
      return point.usage.stays;
  }
}

/** Equal shares on the phases named. */
function evenShares(phases: readonly number[]): [number, number, number] {
  const share = (phase: number): number => (phases.includes(phase) ? 1 / phases.length : 0);
  return [share(1), share(2), share(3)];
}
