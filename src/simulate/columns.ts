import { once } from '../base/index.ts';
import { fillMeter } from './derived.ts';
import type { Plan, Profiles } from './plan.ts';
import type { Columns, MeterColumns, PointColumns } from './results.ts';
import { freshWork, layOut, type Work } from './work.ts';

/**
 * What the loop writes. Of the cars it is what they did at work, and in a plain household (`plan.isPlain`) what the meter counts and what
 * is in the home battery follows from the rest: the loop leaves these out, since most runs are only added up and a year waits for
 * memory longer than for sums.
 */
export interface Buffers extends Omit<Columns, keyof MeterColumns | 'points'> {
  readonly work: Work;
  /** Null in a plain household until someone asks. */
  meter: MeterColumns | null;
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
  const limited = plan.exportLimitW < Infinity;
  return {
    pvW: profiles.pvW,
    loadW: plan.diverter === null ? profiles.loadW : new Float64Array(steps),
    batteryW: orZeros(battery),
    batterySoc: orZeros(battery),
    curtailedW: orZeros(limited),
    rescuedW: orZeros(limited),
    work: freshWork(plan.points.length, steps, plan.battery?.dischargesToCar ?? false),
    meter: plan.isPlain ? null : freshMeter(steps),
  };
}

const freshMeter = (steps: number): MeterColumns => ({
  surplusW: new Float64Array(steps),
  gridImportW: new Float64Array(steps),
  gridExportW: new Float64Array(steps),
});

/**
 * The columns of a finished run; what the loop left out is filled in when someone first asks for it.
 *
 * @throws RangeError  buffers of a plain household for one that is not
 */
export function columnsOf(plan: Plan, buffers: Buffers): Columns {
  const { meter, work, ...written } = buffers;
  const points = once(() => layOut(work, plan.grid.steps));
  if (!plan.isPlain) {
    if (meter === null) throw new RangeError('buffers = those of a plain household: this one has a meter of its own');
    return {
      ...written,
      ...meter,
      get points() {
        return points();
      },
    };
  }
  const read = once(() => {
    buffers.meter ??= freshMeter(plan.grid.steps);
    return fillMeter(plan, buffers, points(), buffers.meter);
  });
  return {
    ...written,
    get points() {
      return points();
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
