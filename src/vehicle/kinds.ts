/**
 * A generic car in the keys of a scenario's `vehicle`: no maker's model, numbers typical and from memory where data/vehicles.yaml
 * names no source.
 */
export interface VehicleKind {
  readonly about: string;
  /** Usable. */
  readonly batteryKWh: number;
  readonly phases: 1 | 2 | 3;
  readonly maxCurrentA: number;
  readonly minCurrentA?: number | Readonly<Record<1 | 2 | 3, number>>;
  readonly standbyW: number;
  readonly conversionEfficiency: number;
  readonly startLagS?: number;
  readonly kWhPer100km: number;
  readonly coldFactor: number;
  readonly targetSoc?: number;
}

/** The cars of data/vehicles.yaml, which says where their numbers come from; a test compares the two. */
export const VEHICLE_KINDS = {
  'small-city': {
    about: 'small city car, one phase',
    batteryKWh: 21,
    phases: 1,
    maxCurrentA: 16,
    standbyW: 180,
    conversionEfficiency: 0.94,
    kWhPer100km: 14,
    coldFactor: 1.6,
  },
  'early-hatchback': {
    about: 'early hatchback, one phase, heats by wire, wastes much at low current',
    batteryKWh: 22,
    phases: 1,
    maxCurrentA: 16,
    standbyW: 420,
    conversionEfficiency: 0.94,
    kWhPer100km: 16,
    coldFactor: 1.9,
    startLagS: 30,
  },
  'two-phase-compact': {
    about: 'compact car that draws on two phases',
    batteryKWh: 36,
    phases: 2,
    maxCurrentA: 16,
    standbyW: 220,
    conversionEfficiency: 0.94,
    kWhPer100km: 15.5,
    coldFactor: 1.5,
  },
  compact: {
    about: 'compact car, three phases',
    batteryKWh: 50,
    phases: 3,
    maxCurrentA: 16,
    standbyW: 180,
    conversionEfficiency: 0.94,
    kWhPer100km: 16,
    coldFactor: 1.5,
  },
  family: {
    about: 'family car with a heat pump, three phases',
    batteryKWh: 64,
    phases: 3,
    maxCurrentA: 16,
    standbyW: 190,
    conversionEfficiency: 0.95,
    kWhPer100km: 17,
    coldFactor: 1.35,
  },
  'large-family': {
    about: 'large and heavy, three phases',
    batteryKWh: 82,
    phases: 3,
    maxCurrentA: 16,
    standbyW: 220,
    conversionEfficiency: 0.94,
    kWhPer100km: 21,
    coldFactor: 1.4,
  },
  'starts-at-eight': {
    about: 'three phases, takes nothing below 8 A',
    batteryKWh: 45,
    phases: 3,
    maxCurrentA: 16,
    minCurrentA: 8,
    standbyW: 200,
    conversionEfficiency: 0.94,
    kWhPer100km: 16,
    coldFactor: 1.5,
  },
  'starts-at-ten': {
    about: 'three phases, takes nothing below 10 A on one phase, 8 A on more, slow to wake',
    batteryKWh: 41,
    phases: 3,
    maxCurrentA: 32,
    minCurrentA: { 1: 10, 2: 8, 3: 8 },
    standbyW: 300,
    conversionEfficiency: 0.93,
    kWhPer100km: 17,
    coldFactor: 1.6,
    startLagS: 120,
  },
  van: {
    about: 'van for trade and large families, three phases',
    batteryKWh: 75,
    phases: 3,
    maxCurrentA: 16,
    standbyW: 220,
    conversionEfficiency: 0.94,
    kWhPer100km: 27,
    coldFactor: 1.4,
  },
  'plug-in-hybrid': {
    about: 'plug-in hybrid, one phase, charged to the top',
    batteryKWh: 11,
    phases: 1,
    maxCurrentA: 16,
    standbyW: 150,
    conversionEfficiency: 0.92,
    kWhPer100km: 20,
    coldFactor: 1.6,
    targetSoc: 1,
  },
} as const satisfies Readonly<Record<string, VehicleKind>>;
