import { MS_PER_S, timeGrid, UTC } from '../../src/base/index.ts';
import { stateName } from '../../src/charging/index.ts';
import type { Battery, ChargePoint, Charger, Control, Diverter, Scenario, Supply, Vehicle } from '../../src/scenario/index.ts';
import { type Columns, carCurrentA, type Profiles, planOf, type Run, runPlan, type tally } from '../../src/simulate/index.ts';

/** Watts as runs of `[steps, watts]`; the last value holds to the end. */
export type Runs = readonly (readonly [steps: number, watts: number])[];

/** A charge point of a hand-worked case; what it leaves out has the defaults of the design page. */
export interface HandPoint {
  readonly charger?: Partial<Charger>;
  readonly vehicle?: Partial<Vehicle> & { readonly batteryKWh?: number };
  readonly believes?: Partial<ChargePoint['believes']>;
  readonly needs?: Partial<ChargePoint['needs']>;
  readonly wiring?: readonly number[];
  /** Stays as `[from, to, km]` in steps; left out: plugged in throughout. */
  readonly stays?: readonly (readonly [from: number, to: number, km: number])[];
}

/** What a hand-worked case may change. */
export interface HandCase extends HandPoint {
  readonly stepS?: number;
  readonly control?: Partial<Control>;
  readonly smoothingS?: number;
  readonly reserveW?: number;
  readonly supply?: Partial<Supply>;
  readonly mainFuseA?: number;
  readonly battery?: Partial<Battery>;
  readonly diverter?: Diverter;
  readonly pv: Runs;
  readonly pvPhases?: readonly number[];
  /** The house, all on phase 1, or phase by phase. */
  readonly house?: Runs;
  readonly houseByPhase?: readonly Runs[];
  /** Further charge points, in list order. */
  readonly more?: readonly HandPoint[];
}

const CONTROL: Control = {
  strategy: 'surplus',
  surplusShare: 1,
  topUp: 'minimum',
  smoothingS: 0,
  reserveW: 50,
  seesCurtailedPv: false,
  startDelayS: 180,
  stopDelayS: 180,
  switchUpDelayS: 600,
  switchDownDelayS: 180,
  switchPauseS: 60,
  restartPauseS: 300,
};

const BATTERY: Battery = {
  capacityWh: 8000,
  maxChargeW: 4000,
  maxDischargeW: 4000,
  roundTripShare: 1,
  startSoc: 0.5,
  phases: [1, 2, 3],
  priority: { kind: 'battery' },
  dischargeToCar: false,
};

/** The scenario of a hand-worked case: a run from midnight UTC over the steps that its PV names. */
export function scenarioOf(hand: HandCase): Scenario {
  const stepS = hand.stepS ?? 60;
  const steps = lengthOf(hand.pv);
  const grid = { ...timeGrid(0, 1, stepS, UTC), steps, dayStart: Int32Array.of(0, steps) };
  const supply: Supply = {
    phases: 3,
    voltageV: 230,
    mainFuseA: hand.mainFuseA ?? 35,
    imbalanceLimitA: null,
    exportLimitW: null,
    contractW: null,
    dimming: null,
    country: null,
    metering: 'net',
    ...hand.supply,
  };
  const phases = hand.pvPhases ?? (supply.phases === 1 ? [1] : [1, 2, 3]);
  const series = { file: 'by hand', intervalS: stepS, atMs: new Float64Array(), columns: { pvW: new Float64Array() } };
  const loads = { file: 'by hand', intervalS: stepS, atMs: new Float64Array(), columns: { loadW: new Float64Array() } };
  return {
    name: 'by hand',
    site: { latitudeDeg: 48, longitudeDeg: 16, elevationM: 200 },
    zone: UTC,
    grid,
    supply,
    weather: { kind: 'none', airC: 10 },
    pv: { kind: 'measured', series, phases },
    household: { kind: 'measured', from: 'csv', series: loads, phaseSplit: [1, 0, 0], spikesSeed: null },
    diverter: hand.diverter ?? null,
    battery: hand.battery === undefined ? null : { ...BATTERY, ...hand.battery },
    tariff: null,
    chargePoints: [hand, ...(hand.more ?? [])].map((point, i) => chargePointOf(point, i, steps, stepS)),
    control: { ...CONTROL, smoothingS: hand.smoothingS ?? 0, reserveW: hand.reserveW ?? 50, ...hand.control },
  };
}

function chargePointOf(point: HandPoint, i: number, steps: number, stepS: number): ChargePoint {
  const wiring = point.wiring ?? [1, 2, 3];
  const { batteryKWh, ...vehicle } = point.vehicle ?? {};
  const car: Vehicle = {
    batteryWh: (batteryKWh ?? 1000) * 1000,
    phases: 3,
    maxCurrentA: 16,
    minCurrentA: [6, 6, 6],
    standbyW: 180,
    conversionShare: 0.94,
    startLagS: 60,
    whPerKm: 170,
    coldFactor: 1,
    preheatWh: 0,
    taperFromSoc: 1,
    startSoc: 0,
    targetSoc: 0.8,
    givesUpAfter: null,
    ...vehicle,
  };
  const at = (step: number): number => step * stepS * MS_PER_S;
  const stays = point.stays ?? [[0, steps, 0]];
  return {
    name: `point ${i + 1}`,
    charger: {
      phases: 'switchable',
      minCurrentA: 6,
      maxCurrentA: 16,
      currentStepA: 1,
      wiring,
      wiringAsBuilt: wiring,
      checksPhases: false,
      ...point.charger,
    },
    vehicle: car,
    believes: { phases: car.phases, minCurrentA: car.minCurrentA, ...point.believes },
    needs: { floorKm: 0, departureKm: 0, ...point.needs },
    usage: { kind: 'stays', stays: stays.map(([from, to, km]) => ({ arriveMs: at(from), departMs: at(to), km })) },
  };
}

/** Runs a hand-worked case. */
export function runHand(hand: HandCase): Run {
  const scenario = scenarioOf(hand);
  return runPlan(planOf(scenario), profilesOf(hand, scenario.grid.steps));
}

/** PV and house of a hand-worked case, step by step. */
export function profilesOf(hand: HandCase, steps: number): Profiles {
  const zero: Runs = [[steps, 0]];
  const byPhase = hand.houseByPhase ?? [hand.house ?? zero, zero, zero];
  const loads = byPhase.map((runs) => spread(runs, steps)) as [Float64Array, Float64Array, Float64Array];
  return { pvW: spread(hand.pv, steps), loadByPhaseW: loads, loadW: loads[0].map((w, k) => w + loads[1][k]! + loads[2][k]!) };
}

const lengthOf = (runs: Runs): number => runs.reduce((sum, [steps]) => sum + steps, 0);

function spread(runs: Runs, steps: number): Float64Array {
  const values = new Float64Array(steps);
  let k = 0;
  for (const [count, watts] of runs) {
    values.fill(watts, k, k + count);
    k += count;
  }
  if (k < steps) values.fill(runs.at(-1)?.[1] ?? 0, k);
  return values;
}

/** A row of a table worked by hand: from this step on (to the next row) the point does this. Power and exchange in W. */
export type Row = readonly [
  step: number,
  code: string,
  n?: number,
  a?: number,
  w?: number,
  gridImportW?: number,
  gridExportW?: number,
];

/** The run of one charge point as rows, a new one wherever anything that the table names changes. */
export function rowsOf(run: Run, point = 0): Row[] {
  const { points, gridImportW, gridExportW } = run.columns;
  const car = points[point]!;
  return changes(run.grid.steps, (k) => [
    stateName(car.state[k]!),
    car.phases[k]!,
    tidy(carCurrentA(run.plan, car, k)),
    tidy(car.powerW[k]!),
    tidy(gridImportW[k]!),
    tidy(gridExportW[k]!),
  ]) as unknown as Row[];
}

/** Values a step as rows that begin with their step, one wherever a value changes. */
export function changes(steps: number, valuesAt: (k: number) => (string | number)[]): (string | number)[][] {
  const rows: (string | number)[][] = [];
  let last = '';
  for (let k = 0; k < steps; k++) {
    const values = valuesAt(k);
    const text = JSON.stringify(values);
    if (text !== last) rows.push([k, ...values]);
    last = text;
  }
  return rows;
}

/** A number without the dust of floating point. */
export const tidy = (value: number): number => Math.round(value * 1e6) / 1e6 + 0;

/** Columns as the ledger adds them up: as if the cars had been at work in every step. */
export const summed = (columns: Columns): Parameters<typeof tally>[1] => ({
  ...columns,
  meter: columns,
  work: { stretches: [0, columns.pvW.length], points: [...columns.points] },
});
