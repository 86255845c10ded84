import type { TimeGrid } from '../base/index.ts';
import type { EventName, StateName } from '../charging/index.ts';
import type { Plan, Profiles } from './plan.ts';

/**
 * What one charge point did, a value per step: means over the step; `soc` is at the step's end. What follows from these (current,
 * grid part) is computed where it is shown: `carCurrentA`, `carGridW`.
 */
export interface PointColumns {
  /** Number of the state (`STATES` in charging). */
  readonly state: Uint8Array;
  /** Phases that carry power, 0 while none does. */
  readonly phases: Uint8Array;
  /** Power into the car, W, and what of it comes from PV and from the home battery; the grid gives the rest. */
  readonly powerW: Float64Array;
  readonly pvW: Float64Array;
  readonly batteryW: Float64Array;
  /** State of charge of the car, 0 … 1. */
  readonly soc: Float64Array;
}

/** What the meter counts of a house with its cars, a value per step: means over the step, W. */
export interface MeterColumns {
  /** PV less house, and less what a battery that comes first takes. */
  readonly surplusW: Float64Array;
  readonly gridImportW: Float64Array;
  readonly gridExportW: Float64Array;
}

/** All that a run computed, a value per step: means over the step in W or A; `batterySoc` is at the step's end. */
export interface Columns extends MeterColumns {
  /** PV that the roof could give, W. */
  readonly pvW: Float64Array;
  /** The house without cars, a hot-water rod included. */
  readonly loadW: Float64Array;
  /** Home battery, W, charging counts up. */
  readonly batteryW: Float64Array;
  readonly batterySoc: Float64Array;
  readonly curtailedW: Float64Array;
  /** PV that would have been curtailed had no car drawn, W. */
  readonly rescuedW: Float64Array;
  readonly points: readonly PointColumns[];
}

/** Something that happened, with the numbers that decided it. */
export interface ChargeEvent {
  /** Step in which it took effect. */
  readonly step: number;
  /** Charge point, from 0. */
  readonly point: number;
  readonly event: EventName;
  /** Phases the car drew on before and draws on after. */
  readonly phasesFrom: number;
  readonly phasesTo: number;
  /** Surplus that the law compared, W: smoothed, less the reserve and what earlier charge points draw (F). */
  readonly surplusW: number;
  /** The threshold or limit it was compared with, W. */
  readonly thresholdW: number;
  /** How long the deciding condition had stood before this step, s. */
  readonly heldS: number;
  /** The state that the step was given. */
  readonly reason: StateName;
}

/** A way home, taken off the car's battery at the step it is plugged in. */
export interface Drive {
  readonly step: number;
  readonly point: number;
  readonly km: number;
  /** Kilometres that the battery could not cover. */
  readonly missedKm: number;
  /** Energy taken out of the battery, and energy that had to come from elsewhere. */
  readonly usedWh: number;
  readonly publicWh: number;
}

/** Sums over a stretch of time. Energy in Wh, time in h. */
export interface Tally {
  pvWh: number;
  loadWh: number;
  gridImportWh: number;
  gridExportWh: number;
  curtailedWh: number;
  /** PV in the cars that would have been curtailed without them. */
  rescuedWh: number;
  batteryInWh: number;
  batteryOutWh: number;
  points: PointTally[];
}

/** Sums for one charge point. Energy at the charger (AC) in Wh but where it says otherwise. */
export interface PointTally {
  carWh: number;
  carPvWh: number;
  carBatteryWh: number;
  carGridWh: number;
  /** Energy that reached the car's battery, Wh, and the part of it that came from PV. */
  storedWh: number;
  storedPvWh: number;
  /** Hours at half PV count half. */
  solarChargingH: number;
  /** Hours that draw power. */
  chargingH: number;
  starts: number;
  stalls: number;
  switches: number;
  holds: number;
  breakOffs: number;
  /** Kilometres driven, kilometres that PV energy in the car gives, kilometres that the battery could not cover. */
  drivenKm: number;
  pvKm: number;
  missedKm: number;
  /** Energy out of public chargers for the kilometres that the battery could not cover, into the battery. */
  publicWh: number;
}

/** A tally of one local day or one local month. `month` 1 … 12; `day` 1 … 31, or 0 for a month. */
export interface DatedTally {
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly tally: Tally;
}

/** The sums of a run. */
export interface Ledger {
  readonly total: Tally;
  readonly months: readonly DatedTally[];
  readonly days: readonly DatedTally[];
}

/** A finished run. */
export interface Run {
  readonly grid: TimeGrid;
  readonly plan: Plan;
  readonly profiles: Profiles;
  readonly columns: Columns;
  readonly events: readonly ChargeEvent[];
  readonly drives: readonly Drive[];
  readonly ledger: Ledger;
}
