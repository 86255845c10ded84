import type { TimeGrid, Zone } from '../base/index.ts';
import type { Holiday, Rod, StandardProfile } from '../house/index.ts';
import type { Exceptions, Stay, WeeklyTrip } from '../vehicle/index.ts';
import type { CountryCode } from './grid-rules.ts';
import type { MeasuredSeries, WeatherSeries } from './series.ts';

/**
 * A complete, checked scenario in the core's own units (W, Wh, A, V, s, shares of 1, instants in UTC ms). Nothing is optional:
 * what a household does not have is `null` or a kind of its own.
 */
export interface Scenario {
  readonly name: string;
  readonly site: Site;
  readonly zone: Zone;
  readonly grid: TimeGrid;
  readonly supply: Supply;
  readonly weather: Weather;
  readonly pv: Pv;
  readonly household: Household;
  /** Home battery, or null. */
  readonly battery: Battery | null;
  /** Prices, or null: no money in the results. */
  readonly tariff: Tariff | null;
  /** A hot-water rod that eats surplus, or null. */
  readonly diverter: Diverter | null;
  readonly chargePoints: readonly ChargePoint[];
  readonly control: Control;
}

/** Where the household is. */
export interface Site {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly elevationM: number;
}

/** The house's connection to the grid. */
export interface Supply {
  readonly phases: 1 | 3;
  readonly voltageV: number;
  readonly mainFuseA: number;
  /** Largest difference between the building phases that chargers may cause, or null. */
  readonly imbalanceLimitA: number | null;
  readonly exportLimitW: number | null;
  /** Contracted import, or null. */
  readonly contractW: number | null;
  readonly dimming: Dimming | null;
  readonly metering: 'net' | 'per-phase';
  /** Country whose rules apply, or null: not said. */
  readonly country: CountryCode | null;
}

/** The operator's power limit on all chargers together, and when it holds. */
export interface Dimming {
  readonly toW: number;
  readonly windows: readonly DayWindow[];
}

/**
 * A stretch of the day by the clock on the wall, in seconds of the day; `toS` at or before `fromS` is on the next day. Weekdays
 * (0 = Monday) and months (1 … 12) are those of the day on which it begins.
 */
export interface DayWindow {
  readonly weekdays: readonly number[];
  readonly months: readonly number[];
  readonly fromS: number;
  readonly toS: number;
}

/** Prices in one currency; any may be negative. */
export interface Tariff {
  /** Three letters. */
  readonly currency: string;
  readonly importPrice: Price;
  readonly exportPrice: Price;
  /** What a kWh costs that had to be charged elsewhere, or null: not known. */
  readonly publicPerKWh: number | null;
  /** Import and export within so many seconds are settled against each other before they are priced; 0: counted as they flow. */
  readonly settlementS: number;
}

/** A price of a kWh over time. Bands cover every moment of every week, once. */
export type Price =
  | { readonly kind: 'flat'; readonly perKWh: number }
  | { readonly kind: 'bands'; readonly bands: readonly PriceBand[] }
  | { readonly kind: 'measured'; readonly series: MeasuredSeries<'perKWh'> };

/** A price of a kWh in a window. */
export interface PriceBand extends DayWindow {
  readonly perKWh: number;
}

/** A home battery; power limits are AC. */
export interface Battery {
  /** Usable. */
  readonly capacityWh: number;
  readonly maxChargeW: number;
  readonly maxDischargeW: number;
  readonly roundTripShare: number;
  readonly startSoc: number;
  /** Building phases it works on. */
  readonly phases: readonly number[];
  /** Who takes surplus first; `until`: the battery up to a state of charge. */
  readonly priority: { readonly kind: 'battery' | 'car' } | { readonly kind: 'until'; readonly untilSoc: number };
  readonly dischargeToCar: boolean;
}

/** Irradiance and air temperature. */
export type Weather =
  /** No weather: air at `airC` throughout, no irradiance (PV is measured). */
  | { readonly kind: 'none'; readonly airC: number }
  | {
      readonly kind: 'synthetic';
      readonly seed: number;
      /** January to December, Wh/m² on the horizontal. */
      readonly monthlyGhiWhPerM2: readonly number[];
      readonly monthlyAirC: readonly number[];
    }
  | {
      readonly kind: 'measured';
      readonly source: 'epw' | 'csv';
      readonly series: WeatherSeries;
      readonly cloudsSeed: CloudsSeed;
    };

/** Seed of the clouds that means over more than five minutes are broken up into; null: they are held as they are. */
export type CloudsSeed = number | null;

/** What the roof gives. `phases` are the building phases that it feeds. */
export type Pv =
  | {
      readonly kind: 'arrays';
      readonly arrays: readonly PvArray[];
      readonly inverter: Inverter;
      readonly phases: readonly number[];
    }
  | { readonly kind: 'measured'; readonly series: MeasuredSeries<'pvW'>; readonly phases: readonly number[] };

/** One plane of modules. */
export interface PvArray {
  readonly name: string;
  readonly peakW: number;
  readonly tiltDeg: number;
  readonly azimuthDeg: number;
  readonly temperatureCoefficientPerK: number;
  readonly lossShare: number;
  /** January to December, on top of it; empty: none. */
  readonly monthlyLossPercent: readonly number[];
  readonly mounting: 'roof' | 'open';
  /** Height of the skyline at even azimuths from north, clockwise; `[0]` is flat. */
  readonly horizonDeg: readonly number[];
}

/** The inverter of all arrays. */
export interface Inverter {
  readonly ratedW: number;
  readonly efficiencyShare: number;
}

/** Shares of the building phases 1, 2, 3, adding up to 1. */
export type PhaseSplit = readonly [number, number, number];

/** What the house uses without cars. */
export type Household =
  | {
      readonly kind: 'synthetic';
      readonly annualWh: number;
      readonly people: number;
      readonly seed: number;
      readonly phaseSplit: PhaseSplit;
      /** A year's electricity for hot water and of a heat pump, on top of `annualWh`; 0: none. */
      readonly hotWaterWh: number;
      readonly heatPumpWh: number;
      /** Local dates as `Date.UTC`. */
      readonly daysOff: readonly number[];
      readonly holidays: readonly Holiday[];
    }
  /** `from` says whether the file holds the load itself or the meter that it balances. */
  | {
      readonly kind: 'measured';
      readonly from: 'csv' | 'meter';
      readonly series: MeasuredSeries<'loadW'>;
      readonly phaseSplit: PhaseSplit;
      readonly spikesSeed: SpikesSeed;
    }
  | { readonly kind: 'measured-phases'; readonly series: MeasuredSeries<'l1W' | 'l2W' | 'l3W'>; readonly spikesSeed: SpikesSeed }
  | {
      readonly kind: 'profile';
      readonly file: string;
      readonly profile: StandardProfile;
      readonly annualWh: number;
      readonly dynamic: boolean;
      readonly daysOff: readonly number[];
      readonly phaseSplit: PhaseSplit;
    };

/** Seed of the spikes that loads coarser than five minutes are broken up into; null: they are held as they are. */
export type SpikesSeed = number | null;

/** A hot-water rod, and whether it or the car is served first. */
export interface Diverter extends Rod {
  readonly priority: 'car' | 'diverter';
}

/** A charger with the car that uses it. */
export interface ChargePoint {
  readonly name: string;
  readonly charger: Charger;
  readonly vehicle: Vehicle;
  /** What the controller takes for granted about the car. */
  readonly believes: { readonly phases: 1 | 2 | 3; readonly minCurrentA: ByPhases };
  /** What must be in the car: below the floor it charges at once; the departure's range when it leaves. 0 asks for nothing. */
  readonly needs: { readonly floorKm: number; readonly departureKm: number };
  readonly usage: Usage;
}

/** A value for one, two and three phases. */
export type ByPhases = readonly [number, number, number];

/** The charger. */
export interface Charger {
  readonly phases: 1 | 3 | 'switchable';
  readonly maxCurrentA: number;
  readonly minCurrentA: number;
  readonly currentStepA: number;
  /** Building phases on the terminals, first to last. */
  readonly wiring: readonly number[];
  /** The same as it really is. */
  readonly wiringAsBuilt: readonly number[];
  /** Breaks off when current shows on a phase where it expects none. */
  readonly checksPhases: boolean;
}

/** The car. */
export interface Vehicle {
  readonly batteryWh: number;
  readonly phases: 1 | 2 | 3;
  readonly maxCurrentA: number;
  readonly minCurrentA: ByPhases;
  readonly standbyW: number;
  readonly conversionShare: number;
  readonly startLagS: number;
  readonly whPerKm: number;
  /** Consumption at -6.7 °C against 20 °C, 1 or more. */
  readonly coldFactor: number;
  /** Heating before the departure at -6.7 °C, out of the battery, Wh; 0: none. */
  readonly preheatWh: number;
  /** It takes less and less from here on; 1: full current to the end. */
  readonly taperFromSoc: number;
  readonly startSoc: number;
  readonly targetSoc: number;
  /** Interruptions in one stay after which it accepts no more, or null. */
  readonly givesUpAfter: number | null;
}

/** When the car is plugged in and what it drives. */
export type Usage =
  | { readonly kind: 'always' }
  | {
      readonly kind: 'weekly';
      readonly seed: number;
      readonly trips: readonly WeeklyTrip[];
      readonly exceptions: Exceptions;
      /** Plugged in on arrival only below this state of charge; 1: always. */
      readonly plugInBelowSoc: number;
    }
  /** All stays of the file that touch the period, in order, not overlapping. */
  | { readonly kind: 'stays'; readonly stays: readonly Stay[] };

/** How the surplus is followed. */
export interface Control {
  readonly strategy: 'surplus' | 'at-once';
  readonly surplusShare: number;
  readonly topUp: 'minimum' | 'proportional';
  readonly smoothingS: number;
  readonly reserveW: number;
  /** Knows what PV could give behind an export limit. */
  readonly seesCurtailedPv: boolean;
  readonly startDelayS: number;
  readonly stopDelayS: number;
  readonly switchUpDelayS: number;
  readonly switchDownDelayS: number;
  readonly switchPauseS: number;
  readonly restartPauseS: number;
}
