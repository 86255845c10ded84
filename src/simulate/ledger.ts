import { S_PER_H } from '../base/index.ts';
import type { Buffers } from './columns.ts';
import type { CarPlan, Plan } from './plan.ts';
import type { ChargeEvent, DatedTally, Drive, Ledger, MeterColumns, PointColumns, PointTally, Tally } from './results.ts';
import { type Work, workBefore } from './work.ts';

/** What is added up. Without what the meter counted, it is worked out, as for a plain household. */
export type Summed = Omit<Buffers, 'batterySoc' | 'work'> & { readonly work: Pick<Work, 'stretches' | 'points'> };

/** Adds a run up: by local day, by month, in total. */
export function tally(plan: Plan, columns: Summed, events: readonly ChargeEvent[], drives: readonly Drive[]): Ledger {
  const { grid } = plan;
  const days: DatedTally[] = [];
  const uses = plan.points.map((_, i) => usesOf(columns, drives, i));
  const consumption = plan.points.map((point, i) => consumptionByDay(plan, point.car, drives, i));
  const before = workBefore(columns.work);
  let workFrom = 0;
  for (let d = 0; d < grid.dayMs.length; d++) {
    const date = new Date(grid.dayMs[d]!);
    const workTo = before(grid.dayStart[d + 1]!);
    const points = columns.work.points.map((done, i) => tallyWork(done, plan, i, uses[i]!, workFrom, workTo));
    const sums = tallyHouse(plan, columns, points, grid.dayStart[d]!, grid.dayStart[d + 1]!);
    points.forEach((point, i) => {
      point.pvKm = point.storedPvWh / consumption[i]![d]!;
    });
    days.push({ year: date.getUTCFullYear(), month: date.getUTCMonth() + 1, day: date.getUTCDate(), tally: sums });
    workFrom = workTo;
  }
  const points = plan.points.length;
  const dayOfEvent = dayFinder(grid.dayStart);
  for (const event of events) countEvent(event, days[dayOfEvent(event.step)]!.tally.points[event.point]!);
  const dayOfDrive = dayFinder(grid.dayStart);
  for (const drive of drives) countDrive(drive, days[dayOfDrive(drive.step)]!.tally.points[drive.point]!);
  const months = byMonth(days, points);
  return { total: sum(months, points), months, days };
}

/** A tally of nothing. */
const emptyTally = (points: number): Tally => ({
  pvWh: 0,
  loadWh: 0,
  gridImportWh: 0,
  gridExportWh: 0,
  curtailedWh: 0,
  rescuedWh: 0,
  batteryInWh: 0,
  batteryOutWh: 0,
  points: Array.from({ length: points }, emptyPointTally),
});

/** A charge point's tally of nothing. */
export const emptyPointTally = (): PointTally => ({
  carWh: 0,
  carPvWh: 0,
  carBatteryWh: 0,
  carGridWh: 0,
  storedWh: 0,
  storedPvWh: 0,
  solarChargingH: 0,
  chargingH: 0,
  starts: 0,
  stalls: 0,
  switches: 0,
  holds: 0,
  breakOffs: 0,
  drivenKm: 0,
  pvKm: 0,
  missedKm: 0,
  publicWh: 0,
});

const POINT_KEYS = Object.keys(emptyPointTally()) as (keyof PointTally)[];

/** Adds what one charge point did to what is there already. */
export function addPoint(total: PointTally, point: PointTally): void {
  for (const key of POINT_KEYS) total[key] += point[key];
}

function tallyHouse(plan: Plan, columns: Summed, points: PointTally[], from: number, to: number): Tally {
  const sums = { ...emptyTally(0), points };
  if (columns.meter === null) addBare(sums, columns, from, to);
  else addMetered(sums, columns, columns.meter, from, to);
  // What a household does not have stays at zero and need not be added up.
  if (plan.exportLimitW < Infinity) addLimited(sums, columns, from, to);
  if (plan.battery !== null && columns.meter !== null) addBattery(sums, columns, from, to);
  for (const key of HOUSE_KEYS) sums[key] *= plan.grid.stepS / S_PER_H;
  if (columns.meter === null) takeCarsAndBattery(sums);
  return sums;
}

/** Sums of the house; the loops below leave them in watts. */
const HOUSE_KEYS = [
  'pvWh',
  'loadWh',
  'gridImportWh',
  'gridExportWh',
  'curtailedWh',
  'rescuedWh',
  'batteryInWh',
  'batteryOutWh',
] as const;

/** Four sums in one walk: each has to wait for its own last addition, not for the others'. */
function addMetered(
  sums: Tally,
  { pvW, loadW }: Summed,
  { gridImportW, gridExportW }: MeterColumns,
  from: number,
  to: number,
): void {
  let pv = 0;
  let load = 0;
  let gridImport = 0;
  let gridExport = 0;
  for (let k = from; k < to; k++) {
    pv += pvW[k]!;
    load += loadW[k]!;
    gridImport += gridImportW[k]!;
    gridExport += gridExportW[k]!;
  }
  sums.pvWh = pv;
  sums.loadWh = load;
  sums.gridImportWh = gridImport;
  sums.gridExportWh = gridExport;
}

/**
 * The house as the meter would count it without cars and battery, and what a battery did (nothing, where there is none): worked out on the way,
 * which takes half the memory.
 */
function addBare(sums: Tally, { pvW, loadW, batteryW }: Summed, from: number, to: number): void {
  let pv = 0;
  let load = 0;
  let lacking = 0;
  let spare = 0;
  let into = 0;
  let out = 0;
  for (let k = from; k < to; k++) {
    const roofW = pvW[k]!;
    const houseW = loadW[k]!;
    const storesW = batteryW[k]!;
    const netW = roofW - houseW;
    const spareW = Math.max(0, netW);
    // Not a question which of the two: a processor would guess wrong too often.
    const intoW = Math.max(0, storesW);
    pv += roofW;
    load += houseW;
    spare += spareW;
    lacking += spareW - netW;
    into += intoW;
    out += intoW - storesW;
  }
  sums.pvWh = pv;
  sums.loadWh = load;
  sums.gridImportWh = lacking;
  sums.gridExportWh = spare;
  sums.batteryInWh = into;
  sums.batteryOutWh = out;
}

/** What cars and battery took of what would have been exported, and from the grid; the battery gave some of that. */
function takeCarsAndBattery(sums: Tally): void {
  let importWh = sums.gridImportWh - sums.batteryOutWh;
  let exportWh = sums.gridExportWh - sums.batteryInWh;
  for (const { carWh, carPvWh } of sums.points) {
    importWh += carWh - carPvWh;
    exportWh -= carPvWh;
  }
  // The same values added up in another order may differ in the last digit.
  sums.gridImportWh = Math.max(0, importWh);
  sums.gridExportWh = Math.max(0, exportWh);
}

function addLimited(sums: Tally, { curtailedW, rescuedW }: Summed, from: number, to: number): void {
  let curtailed = 0;
  let rescued = 0;
  for (let k = from; k < to; k++) {
    curtailed += curtailedW[k]!;
    rescued += rescuedW[k]!;
  }
  sums.curtailedWh = curtailed;
  sums.rescuedWh = rescued;
}

function addBattery(sums: Tally, { batteryW }: Summed, from: number, to: number): void {
  let into = 0;
  let out = 0;
  for (let k = from; k < to; k++) {
    const storesW = batteryW[k]!;
    const intoW = Math.max(0, storesW);
    into += intoW;
    out += intoW - storesW;
  }
  sums.batteryInWh = into;
  sums.batteryOutWh = out;
}

/** Adds up what a charge point did in some steps of work. */
function tallyWork(done: PointColumns, { grid, points }: Plan, i: number, uses: Uses, from: number, to: number): PointTally {
  const { phases, powerW, pvW, batteryW, soc } = done;
  const { car } = points[i]!;
  const stepH = grid.stepS / S_PER_H;
  let carW = 0;
  let carPvW = 0;
  let carBatteryW = 0;
  let storedWh = 0;
  let storedPvWh = 0;
  let solarSteps = 0;
  let steps = 0;
  for (let k = from; k < to; k++) {
    if (phases[k] === 0) continue;
    const power = powerW[k]!;
    const pvPart = pvW[k]! / power;
    const beforeSoc = k > 0 ? soc[k - 1]! : car.startWh / car.capacityWh;
    const storesWh = (soc[k]! - beforeSoc) * car.capacityWh + usedIn(uses, k);
    carW += power;
    carPvW += pvW[k]!;
    carBatteryW += batteryW[k]!;
    storedWh += storesWh;
    storedPvWh += storesWh * pvPart;
    solarSteps += pvPart;
    steps++;
  }
  const sums = emptyPointTally();
  sums.carWh = carW * stepH;
  sums.carPvWh = carPvW * stepH;
  sums.carBatteryWh = carBatteryW * stepH;
  sums.carGridWh = sums.carWh - sums.carPvWh - sums.carBatteryWh;
  sums.storedWh = storedWh;
  sums.storedPvWh = storedPvWh;
  sums.solarChargingH = solarSteps * stepH;
  sums.chargingH = steps * stepH;
  return sums;
}

/**
 * Energy that driving took off a car's battery, Wh, by the step of work in which it came home, in rising order. `next` is the first that has
 * not been added yet: what goes along with the days is a number in an object, since browsers never settle on code for a function made anew for each run.
 */
interface Uses {
  readonly at: readonly number[];
  readonly usedWh: readonly number[];
  next: number;
}

function usesOf({ work }: Summed, drives: readonly Drive[], point: number): Uses {
  const own = drives.filter((drive) => drive.point === point);
  const before = workBefore(work);
  return { at: own.map(({ step }) => before(step)), usedWh: own.map(({ usedWh }) => usedWh), next: 0 };
}

/** What was used up to a step of work and not added yet, Wh: a car may come home more than once in a step, or charge nothing in it. */
function usedIn(uses: Uses, k: number): number {
  const { at, usedWh } = uses;
  let sumWh = 0;
  for (; uses.next < at.length && at[uses.next]! <= k; uses.next++) if (at[uses.next] === k) sumWh += usedWh[uses.next]!;
  return sumWh;
}

/**
 * What a car consumes in the weather of each day, Wh per km: that of its last drive until then (of its first before that), or its
 * consumption in mild weather where it never drives.
 */
function consumptionByDay(plan: Plan, car: CarPlan, drives: readonly Drive[], point: number): Float64Array {
  const own = drives.filter((drive) => drive.point === point);
  const whPerKm = ({ usedWh, publicWh, km }: Drive): number => (usedWh + publicWh) / km;
  const byDay = new Float64Array(plan.grid.dayMs.length);
  let current = own[0] === undefined ? car.whPerKm : whPerKm(own[0]);
  let next = 0;
  for (let d = 0; d < byDay.length; d++) {
    for (; next < own.length && own[next]!.step < plan.grid.dayStart[d + 1]!; next++) current = whPerKm(own[next]!);
    byDay[d] = current;
  }
  return byDay;
}

function countEvent(event: ChargeEvent, sums: PointTally): void {
  if (event.event === 'start') sums.starts++;
  if (event.event === 'stall') sums.stalls++;
  if (event.event === 'switch') sums.switches++;
  if (event.event === 'hold') sums.holds++;
  if (event.event === 'break-off') sums.breakOffs++;
}

function countDrive(drive: Drive, sums: PointTally): void {
  sums.drivenKm += drive.km;
  sums.missedKm += drive.missedKm;
  sums.publicWh += drive.publicWh;
}

/** Days put together by month, in order. */
function byMonth(days: readonly DatedTally[], points: number): DatedTally[] {
  const months: DatedTally[] = [];
  let first = 0;
  days.forEach((day, d) => {
    const next = days[d + 1];
    if (next !== undefined && next.month === day.month && next.year === day.year) return;
    months.push({ year: day.year, month: day.month, day: 0, tally: sum(days.slice(first, d + 1), points) });
    first = d + 1;
  });
  return months;
}

function sum(parts: readonly DatedTally[], points: number): Tally {
  const total = emptyTally(points);
  for (const { tally: part } of parts) {
    for (const key of HOUSE_KEYS) total[key] += part[key];
    for (const [i, point] of part.points.entries()) addPoint(total.points[i]!, point);
  }
  return total;
}

/** Finds the day of a step, for steps in rising order. */
function dayFinder(dayStart: Int32Array): (step: number) => number {
  let day = 0;
  return (step) => {
    while (step >= dayStart[day + 1]!) day++;
    return day;
  };
}
