import { timeGrid, UTC } from '../../src/base/index.ts';
import { type ChargerFacts, type ControlSettings, pointRules, stateName, type VehicleFacts } from '../../src/charging/index.ts';
import { carCurrentA, type Plan, type Profiles, type Run, runPlan } from '../../src/simulate/index.ts';

/** What a hand-worked case may change; what it leaves out has the defaults of the design page. */
export interface HandCase {
  readonly stepS?: number;
  readonly charger?: Partial<ChargerFacts>;
  readonly vehicle?: Partial<VehicleFacts> & {
    batteryKWh?: number;
    startSoc?: number;
    targetSoc?: number;
    standbyW?: number;
    conversionShare?: number;
    startLagS?: number;
    whPerKm?: number;
  };
  readonly control?: Partial<ControlSettings>;
  readonly smoothingS?: number;
  readonly reserveW?: number;
  readonly mainFuseA?: number;
  readonly voltageV?: number;
  readonly buildingPhases?: 1 | 3;
  readonly wiring?: readonly number[];
  /** PV and house as runs of `[steps, watts]`; the house all on phase 1 unless it has three runs. */
  readonly pv: readonly (readonly [number, number])[];
  readonly house?: readonly (readonly [number, number])[];
  readonly houseByPhase?: readonly (readonly (readonly [number, number])[])[];
  readonly pvPhases?: readonly number[];
  /** Stays as `[from, to, km]` in steps; left out: plugged in throughout. */
  readonly stays?: readonly (readonly [number, number, number])[];
}

const CONTROL: ControlSettings = {
  strategy: 'surplus',
  surplusShare: 1,
  topUp: 'minimum',
  startDelayS: 180,
  stopDelayS: 180,
  switchUpDelayS: 600,
  switchDownDelayS: 180,
  switchPauseS: 60,
  restartPauseS: 300,
};

/** Runs a hand-worked case: the steps that its PV names, one charge point. */
export function runHand(hand: HandCase): Run {
  const stepS = hand.stepS ?? 60;
  const grid = { ...timeGrid(0, 1, stepS, UTC), steps: length(hand.pv) };
  const voltageV = hand.voltageV ?? 230;
  const charger: ChargerFacts = { phases: 'switchable', minCurrentA: 6, maxCurrentA: 16, currentStepA: 1, ...hand.charger };
  const vehicle: VehicleFacts = { phases: 3, maxCurrentA: 16, minCurrentA: [6, 6, 6], ...hand.vehicle };
  const control = { ...CONTROL, ...hand.control };
  const rules = pointRules(charger, vehicle, control, voltageV, stepS, hand.vehicle?.startLagS ?? 60);
  if (rules === null) throw new Error('charger and vehicle can not charge together');
  const capacityWh = (hand.vehicle?.batteryKWh ?? 1000) * 1000;
  const stays = hand.stays ?? [[0, grid.steps, 0]];
  const pvPhases = hand.pvPhases ?? (hand.buildingPhases === 1 ? [1] : [1, 2, 3]);
  const share = (p: number): number => (pvPhases.includes(p) ? 1 / pvPhases.length : 0);
  const plan: Plan = {
    grid: { ...grid, dayStart: Int32Array.of(0, grid.steps) },
    voltageV,
    buildingPhases: hand.buildingPhases ?? 3,
    mainFuseA: hand.mainFuseA ?? 35,
    pvShare: [share(1), share(2), share(3)],
    smoothingS: hand.smoothingS ?? 0,
    reserveW: hand.reserveW ?? 50,
    points: [
      {
        rules,
        wiring: Int8Array.from(hand.wiring ?? [1, 2, 3]),
        car: {
          capacityWh,
          startWh: (hand.vehicle?.startSoc ?? 0) * capacityWh,
          targetWh: (hand.vehicle?.targetSoc ?? 0.8) * capacityWh,
          standbyW: hand.vehicle?.standbyW ?? 180,
          conversionShare: hand.vehicle?.conversionShare ?? 0.94,
          whPerKm: hand.vehicle?.whPerKm ?? 170,
        },
        presence: {
          stayStart: Int32Array.from(stays, (s) => s[0]),
          stayEnd: Int32Array.from(stays, (s) => s[1]),
          km: Float64Array.from(stays, (s) => s[2]),
          departS: Float64Array.from(stays, (s) => s[1] * stepS),
        },
      },
    ],
  };
  return runPlan(plan, profilesOf(hand, grid.steps));
}

function profilesOf(hand: HandCase, steps: number): Profiles {
  const zero: [number, number][] = [[steps, 0]];
  const byPhase = hand.houseByPhase ?? [hand.house ?? zero, zero, zero];
  const loads = byPhase.map((runs) => spread(runs, steps)) as [Float64Array, Float64Array, Float64Array];
  return { pvW: spread(hand.pv, steps), loadByPhaseW: loads, loadW: loads[0].map((w, k) => w + loads[1][k]! + loads[2][k]!) };
}

const length = (runs: readonly (readonly [number, number])[]): number => runs.reduce((sum, [steps]) => sum + steps, 0);

/** Runs as values a step; the last value holds to the end. */
function spread(runs: readonly (readonly [number, number])[], steps: number): Float64Array {
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

/** The run as rows, a new one wherever anything that the table names changes. */
export function rowsOf(run: Run, columns: 'state' | 'all' = 'all'): Row[] {
  const { points, gridImportW, gridExportW } = run.columns;
  const car = points[0]!;
  const rows: Row[] = [];
  let last = '';
  for (let k = 0; k < run.grid.steps; k++) {
    const code = stateName(car.state[k]!);
    const row: Row =
      columns === 'state'
        ? [k, code]
        : [
            k,
            code,
            car.phases[k]!,
            tidy(carCurrentA(run.plan, car, k)),
            tidy(car.powerW[k]!),
            tidy(gridImportW[k]!),
            tidy(gridExportW[k]!),
          ];
    const text = JSON.stringify(row.slice(1));
    if (text !== last) rows.push(row);
    last = text;
  }
  return rows;
}

const tidy = (value: number): number => Math.round(value * 1e6) / 1e6;
