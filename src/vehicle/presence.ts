import { MS_PER_S, type TimeGrid } from '../base/index.ts';
import { type Consumption, tripWhPerKm } from './consumption.ts';
import type { Stay } from './stays.ts';

/**
 * Stays on the steps of a run, one entry each, sorted, for a loop that walks them with one index.
 *
 * A car is plugged in during the steps `stayStart[i] … stayEnd[i] - 1` and is never charged when it is not there: arrival is rounded
 * up to a step, departure down. At `stayStart[i]` it has just driven `km[i]`. Two more cases, both plug-ins like any other:
 * `stayEnd[i] === stayStart[i + 1]` is a departure that meets an arrival; `stayStart[i] === stayEnd[i]` is a stay too short for
 * any step, which still takes its kilometres (and may share its step with the next entry).
 */
export interface Presence {
  readonly stayStart: Int32Array;
  readonly stayEnd: Int32Array;
  /** 0 for a stay that began before the run: what it drove is in the state of charge that the run starts with. */
  readonly km: Float64Array;
  /** Consumption of that drive out of the battery, Wh per km, by the air it was driven in; heating before it included. */
  readonly whPerKm: Float64Array;
  /** Seconds from the start of the run to the true departure, which may lie after its end; Infinity if there is none. */
  readonly departS: Float64Array;
}

/**
 * Stays laid on the grid and cut at its ends. An arrival that rounds up to the end of the run is not part of it.
 *
 * @param stays        in order, not overlapping; they may touch
 * @param consumption  of the car; nothing consumed where it is left out
 * @param airC         air temperature of each step, °C; null: mild throughout
 * @throws RangeError  a stay ends before it begins, or begins before the one before it ends
 */
export function presenceOf(
  stays: readonly Stay[],
  grid: TimeGrid,
  consumption: Consumption = NOTHING,
  airC: Float64Array | null = null,
): Presence {
  refuseDisorder(stays);
  const rows = stays.map((stay) => onGrid(stay, grid)).filter((row) => row !== null);
  const driveAirC = (i: number): number =>
    airC === null ? MILD_C : meanBetween(airC, rows[i - 1]?.end ?? 0, rows[i]?.start ?? 0);
  return {
    stayStart: Int32Array.from(rows, (row) => row.start),
    stayEnd: Int32Array.from(rows, (row) => row.end),
    km: Float64Array.from(rows, (row) => row.km),
    whPerKm: Float64Array.from(rows, (row, i) => tripWhPerKm(consumption, row.km, driveAirC(i))),
    departS: Float64Array.from(rows, (row) => row.departS),
  };
}

/**
 * Time left to the departure at the start of a step.
 *
 * @param stay  index into the presence
 * @param step  a step of that stay
 * @returns     s, 0 or more; Infinity if no departure is known
 */
export function timeLeftS(presence: Presence, stay: number, step: number, stepS: number): number {
  return (presence.departS[stay] ?? Infinity) - step * stepS;
}

/** Where no air is given, every drive is one in mild weather. */
const MILD_C = 20;
const NOTHING: Consumption = { whPerKm: 0, coldFactor: 1, preheatWh: 0 };

/** Mean over the steps from one to before another; the value of the first where there are none. */
function meanBetween(values: Float64Array, from: number, to: number): number {
  if (to <= from) return values[Math.min(from, values.length - 1)] ?? MILD_C;
  let sum = 0;
  for (let k = from; k < to; k++) sum += values[k] ?? 0;
  return sum / (to - from);
}

interface Row {
  readonly start: number;
  readonly end: number;
  readonly km: number;
  readonly departS: number;
}

/** A stay in whole steps, or null if nothing of it is in the run. */
function onGrid(stay: Stay, grid: TimeGrid): Row | null {
  const stepMs = grid.stepS * MS_PER_S;
  const began = stay.arriveMs < grid.startMs;
  const start = began ? 0 : Math.ceil((stay.arriveMs - grid.startMs) / stepMs);
  if (start >= grid.steps) return null;
  const end = Math.max(start, Math.min(grid.steps, Math.floor((stay.departMs - grid.startMs) / stepMs)));
  if (began && end === 0) return null;
  return { start, end, km: began ? 0 : stay.km, departS: (stay.departMs - grid.startMs) / MS_PER_S };
}

function refuseDisorder(stays: readonly Stay[]): void {
  let freeMs = -Infinity;
  stays.forEach((stay, i) => {
    if (!(stay.arriveMs >= freeMs))
      throw new RangeError(`stays[${i}].arriveMs = ${stay.arriveMs}: before ${freeMs}, the departure before it`);
    if (!(stay.departMs >= stay.arriveMs))
      throw new RangeError(`stays[${i}].departMs = ${stay.departMs}: before its arrival, ${stay.arriveMs}`);
    freeMs = stay.departMs;
  });
}
