import { MS_PER_DAY, S_PER_H, type TimeGrid, timeGrid, type Zone } from '../../src/base/index.ts';
import { State } from '../../src/charging/index.ts';
import {
  type DatedTally,
  emptyPointTally,
  type Plan,
  type PointColumns,
  type PointTally,
  type Profiles,
  planOf,
  type Run,
  type Tally,
} from '../../src/simulate/index.ts';
import { scenarioOf } from '../simulate/hand.ts';

/** Vienna's clock in 2025, by hand. */
export const VIENNA: Zone = {
  name: 'Europe/Vienna',
  changes: [
    { fromMs: -Infinity, offsetS: 3600 },
    { fromMs: Date.UTC(2025, 2, 30, 1), offsetS: 7200 },
    { fromMs: Date.UTC(2025, 9, 26, 1), offsetS: 3600 },
  ],
};

export interface InventedOptions {
  readonly firstDayMs?: number;
  readonly days?: number;
  readonly stepS?: number;
  /** Charges whatever the sun does. */
  readonly atOnce?: boolean;
}

/**
 * A run that no law made: a half sine of PV, a flat house, a car that takes 6 A on one phase above 1.38 kW and 10 A on three above
 * 6.9 kW. It balances, so that writers can be tried on it; its numbers mean nothing.
 */
export function inventedRun(options: InventedOptions = {}): Run {
  const { firstDayMs = Date.UTC(2025, 0, 1), days = 1, stepS = 60, atOnce = false } = options;
  const grid = timeGrid(firstDayMs, days, stepS, VIENNA);
  const run = emptyRun(grid);
  for (let d = 0; d < days; d++) fillDay(run, d, atOnce);
  return { ...run, ledger: ledgerOf(run) };
}

function emptyRun(grid: TimeGrid): Run {
  const column = (): Float64Array => new Float64Array(grid.steps);
  const point: PointColumns = {
    state: new Uint8Array(grid.steps),
    phases: new Uint8Array(grid.steps),
    powerW: column(),
    pvW: column(),
    batteryW: column(),
    soc: column(),
  };
  const profiles: Profiles = { pvW: column(), loadW: column(), loadByPhaseW: [column(), column(), column()] };
  return {
    grid,
    plan: planFor(grid),
    profiles,
    drives: [],
    columns: {
      pvW: profiles.pvW,
      loadW: profiles.loadW,
      surplusW: column(),
      batteryW: column(),
      batterySoc: column(),
      gridImportW: column(),
      gridExportW: column(),
      curtailedW: column(),
      rescuedW: column(),
      points: [point],
    },
    events: [
      {
        step: 0,
        point: 0,
        event: 'plug-in',
        phasesFrom: 0,
        phasesTo: 0,
        surplusW: 0,
        thresholdW: 1380,
        heldS: 0,
        reason: 'short',
      },
      {
        step: Math.floor(grid.steps / 3),
        point: 0,
        event: 'start',
        phasesFrom: 0,
        phasesTo: 1,
        surplusW: 1450.1234567,
        thresholdW: 1380,
        heldS: 180,
        reason: 'waking',
      },
    ],
    ledger: { total: emptyTally(), months: [], days: [] },
  };
}

const planFor = (grid: TimeGrid): Plan => ({
  ...planOf(scenarioOf({ pv: [[1, 0]], smoothingS: 30, vehicle: { batteryKWh: 58, startSoc: 0.5 } })),
  grid,
});

function fillDay(run: Run, day: number, atOnce: boolean): void {
  const { columns, grid } = run;
  const point = columns.points[0];
  const from = grid.dayStart[day] ?? 0;
  const to = grid.dayStart[day + 1] ?? 0;
  if (point === undefined) return;
  const dayOfYear = ((grid.dayMs[day] ?? 0) - Date.UTC(2025, 0, 1)) / MS_PER_DAY;
  const season = 0.55 - 0.45 * Math.cos((2 * Math.PI * (dayOfYear + 10)) / 365);
  const clouds = 0.4 + 0.6 * Math.abs(Math.sin(dayOfYear * 1.7));
  for (let step = from; step < to; step++) {
    const h = ((step - from) * grid.stepS) / S_PER_H;
    const bell = Math.max(0, Math.sin((Math.PI * (h - 7)) / 12));
    const dip = Math.sin(h * 9) > 0.8 ? 0.45 : 1;
    const pvW = 9800 * season * clouds * bell * dip;
    const loadW = 350 + (h > 18 && h < 21 ? 1200 : 0) + 40 * Math.sin(step);
    const surplusW = pvW - loadW;
    const n = h < 8 || h > 20 ? 0 : atOnce ? 3 : surplusW > 6900 ? 3 : surplusW > 1200 ? 1 : 0;
    const currentA = n === 0 ? 0 : n === 3 ? 10 : Math.max(6, Math.min(16, Math.floor(surplusW / 230)));
    const powerW = n * 230 * currentA;
    const carPvW = Math.min(powerW, Math.max(0, surplusW));
    columns.pvW[step] = pvW;
    columns.loadW[step] = loadW;
    columns.surplusW[step] = surplusW;
    columns.gridImportW[step] = Math.max(0, loadW + powerW - pvW);
    columns.gridExportW[step] = Math.max(0, pvW - loadW - powerW);
    for (const phaseW of run.profiles.loadByPhaseW) phaseW[step] = loadW / 3;
    point.state[step] = stateFor(h, n, currentA, surplusW, atOnce);
    point.phases[step] = n;
    point.powerW[step] = powerW;
    point.pvW[step] = carPvW;
    point.soc[step] = 0.3 + 0.5 * Math.min(1, Math.max(0, (h - 8) / 12));
  }
}

function stateFor(h: number, n: number, currentA: number, surplusW: number, atOnce: boolean): number {
  if (h < 8) return State.away;
  if (h > 20) return State.full;
  if (atOnce) return State.atOnce;
  if (n === 0) return surplusW > 900 ? State.proving : h > 17 ? State.resting : State.short;
  if (surplusW < n * 230 * currentA) return State.bridging;
  return currentA === 16 ? State.ceiling : State.surplus;
}

/** Sums of a run, by adding up its columns. */
export function ledgerOf(run: Run): Run['ledger'] {
  const days: DatedTally[] = [];
  const months = new Map<string, DatedTally>();
  const total = emptyTally();
  run.grid.dayMs.forEach((dayMs, d) => {
    const date = new Date(dayMs);
    const [year, month] = [date.getUTCFullYear(), date.getUTCMonth() + 1];
    const tally = tallyOfDay(run, d);
    const key = `${year}-${month}`;
    const ofMonth = months.get(key) ?? { year, month, day: 0, tally: emptyTally() };
    months.set(key, ofMonth);
    days.push({ year, month, day: date.getUTCDate(), tally });
    for (const sum of [ofMonth.tally, total]) addTo(sum, tally);
  });
  return { total, months: [...months.values()], days };
}

function tallyOfDay(run: Run, day: number): Tally {
  const { columns, grid } = run;
  const [from, to] = [grid.dayStart[day] ?? 0, grid.dayStart[day + 1] ?? 0];
  const hours = grid.stepS / S_PER_H;
  const wh = (column: Float64Array): number => column.subarray(from, to).reduce((sum, value) => sum + value, 0) * hours;
  const tally = emptyTally();
  const point = columns.points[0];
  const sums = tally.points[0];
  if (point === undefined || sums === undefined) return tally;
  Object.assign(tally, { pvWh: wh(columns.pvW), loadWh: wh(columns.loadW) });
  Object.assign(tally, { gridImportWh: wh(columns.gridImportW), gridExportWh: wh(columns.gridExportW) });
  Object.assign(sums, { carWh: wh(point.powerW), carPvWh: wh(point.pvW), carGridWh: wh(point.powerW) - wh(point.pvW) });
  for (let step = from; step < to; step++) {
    const powerW = point.powerW[step] ?? 0;
    if (powerW > 0) sums.solarChargingH += (hours * (point.pvW[step] ?? 0)) / powerW;
    if (powerW > 0) sums.chargingH += hours;
  }
  sums.storedWh = 0.85 * sums.carWh;
  sums.storedPvWh = 0.85 * sums.carPvWh;
  sums.pvKm = sums.storedPvWh / 170;
  Object.assign(sums, { drivenKm: 40, starts: 2, stalls: 1, switches: 1 });
  return tally;
}

function addTo(sum: Tally, part: Tally): void {
  for (const key of Object.keys(part) as (keyof Tally)[]) if (key !== 'points') sum[key] += part[key];
  part.points.forEach((point, i) => {
    const into = sum.points[i];
    if (into === undefined) return;
    for (const key of Object.keys(point) as (keyof PointTally)[]) into[key] += point[key];
  });
}

function emptyTally(): Tally {
  const points = [emptyPointTally()];
  return {
    pvWh: 0,
    loadWh: 0,
    gridImportWh: 0,
    gridExportWh: 0,
    curtailedWh: 0,
    rescuedWh: 0,
    batteryInWh: 0,
    batteryOutWh: 0,
    points,
  };
}
