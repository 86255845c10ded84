import { once } from '../base/index.ts';
import { fillCharge, fillMeter } from './derived.ts';
import type { Plan, Profiles } from './plan.ts';
import type { Columns, MeterColumns, PointColumns } from './results.ts';

/**
 * Columns as the loop writes them. A car that does nothing keeps what is in it, and in a plain household (`plan.isPlain`) what the
 * meter counts and what is in the home battery follows from the rest: the loop leaves these out, since most runs are only added up and a
 * year waits for memory longer than for sums.
 */
export interface Buffers extends Omit<Columns, keyof MeterColumns> {
  /** Null in a plain household until someone asks. */
  meter: MeterColumns | null;
  /** The home battery may give to the cars; else nothing is written of that. */
  readonly givesToCars: boolean;
  /**
   * Steps in which any charge point was at work, in pairs of the first and the one after the last. Elsewhere no car draws; of the
   * state of charge between two such stretches only the last value is written.
   */
  readonly worked: number[];
}

/**
 * Buffers for a run. `pvW` and (without a rod) `loadW` are the profiles themselves; what no part of this household changes (a battery it does not
 * have) stays at zero.
 */
export function freshColumns(plan: Plan, profiles: Profiles): Buffers {
  const steps = plan.grid.steps;
  const zeros = new Float64Array(steps);
  const orZeros = (changes: boolean): Float64Array => (changes ? new Float64Array(steps) : zeros);
  const battery = plan.battery !== null;
  const givesToCars = plan.battery?.dischargesToCar ?? false;
  const limited = plan.exportLimitW < Infinity;
  return {
    pvW: profiles.pvW,
    loadW: plan.diverter === null ? profiles.loadW : new Float64Array(steps),
    batteryW: orZeros(battery),
    batterySoc: orZeros(battery),
    curtailedW: orZeros(limited),
    rescuedW: orZeros(limited),
    points: plan.points.map(() => freshPointColumns(steps, orZeros(givesToCars))),
    meter: plan.isPlain ? null : freshMeter(steps),
    givesToCars,
    worked: [],
  };
}

const freshMeter = (steps: number): MeterColumns => ({
  surplusW: new Float64Array(steps),
  gridImportW: new Float64Array(steps),
  gridExportW: new Float64Array(steps),
});

/**
 * Sets the power that an earlier run noted back to 0, but only in the steps that it worked through: to write zeros over the whole year would
 * take a tenth as long as the run itself.
 */
export function wipe({ worked, points, givesToCars }: Buffers): void {
  for (const { phases, powerW, pvW, batteryW } of points) {
    for (let i = 0; i < worked.length; i += 2) {
      phases.fill(0, worked[i], worked[i + 1]);
      powerW.fill(0, worked[i], worked[i + 1]);
      pvW.fill(0, worked[i], worked[i + 1]);
      if (givesToCars) batteryW.fill(0, worked[i], worked[i + 1]);
    }
  }
  worked.length = 0;
}

/**
 * The columns of a finished run; what the loop left out is filled in when someone first asks for it.
 *
 * @throws RangeError  buffers of a plain household for one that is not
 */
export function columnsOf(plan: Plan, buffers: Buffers): Columns {
  const { meter, worked: _, givesToCars: __, points: ___, ...written } = buffers;
  const filled = once(() => fillCharge(buffers));
  if (!plan.isPlain) {
    if (meter === null) throw new RangeError('buffers = those of a plain household: this one has a meter of its own');
    return {
      ...written,
      ...meter,
      get points() {
        return filled();
      },
    };
  }
  const read = once(() => {
    buffers.meter ??= freshMeter(plan.grid.steps);
    return fillMeter(plan, buffers, buffers.meter);
  });
  return {
    ...written,
    get points() {
      return filled();
    },
    get batterySoc() {
      if (plan.battery !== null) read();
      return buffers.batterySoc;
    },
    get surplusW() {
      return read().surplusW;
    },
    get gridImportW() {
      return read().gridImportW;
    },
    get gridExportW() {
      return read().gridExportW;
    },
  };
}

/** Not 0 in steps in which any car draws. */
export function drawingSteps(points: readonly PointColumns[], steps: number): Uint8Array {
  if (points.length === 1) return points[0]!.phases;
  const drawing = new Uint8Array(steps);
  for (const { phases } of points) for (let k = 0; k < steps; k++) drawing[k]! |= phases[k]!;
  return drawing;
}

const freshPointColumns = (steps: number, batteryW: Float64Array): PointColumns => ({
  state: new Uint8Array(steps),
  phases: new Uint8Array(steps),
  powerW: new Float64Array(steps),
  pvW: new Float64Array(steps),
  batteryW,
  soc: new Float64Array(steps),
});

/** Mean current of a car on each phase it draws on in a step, A; 0 while it draws nothing. */
export function carCurrentA(plan: Plan, car: PointColumns, k: number): number {
  const phases = car.phases[k]!;
  return phases > 0 ? car.powerW[k]! / (phases * plan.voltageV) : 0;
}

/** Power that a car takes from the grid in a step, W. */
export const carGridW = (car: PointColumns, k: number): number => car.powerW[k]! - car.pvW[k]! - car.batteryW[k]!;

/**
 * Current on a building phase at the meter, A, import counts up: house with its rod, less PV, the home battery, and
 * every car on the phases that its terminals really are wired to.
 *
 * @returns a value per step; zero on phases that the building does not have
 */
export function lineCurrentA(plan: Plan, profiles: Profiles, columns: Columns, phase: 1 | 2 | 3): Float64Array {
  const currentA = new Float64Array(plan.grid.steps);
  const loadW = profiles.loadByPhaseW[phase - 1]!;
  const rodShare = phase <= plan.buildingPhases ? 1 / plan.buildingPhases : 0;
  const share = plan.pvShare[phase - 1]!;
  const batteryShare = plan.battery?.share[phase - 1] ?? 0;
  for (let k = 0; k < currentA.length; k++) {
    const rodW = (columns.loadW[k]! - profiles.loadW[k]!) * rodShare;
    currentA[k] =
      (loadW[k]! + rodW - share * (profiles.pvW[k]! - columns.curtailedW[k]!) + batteryShare * columns.batteryW[k]!) /
      plan.voltageV;
  }
  plan.points.forEach((point, i) => {
    const car = columns.points[i]!;
    const terminal = point.wiringAsBuilt.indexOf(phase);
    if (terminal < 0) return;
    for (let k = 0; k < currentA.length; k++) if (car.phases[k]! > terminal) currentA[k]! += carCurrentA(plan, car, k);
  });
  return currentA;
}
