import { type Checked, failed, gridEndMs, isoLocal, passed, type TimeGrid } from '../base/index.ts';
import type { Stay } from '../vehicle/index.ts';
import { HOUSEHOLD_COLUMNS, METER_COLUMNS, PRICE_COLUMNS, PV_COLUMNS, STAY_COLUMNS, WEATHER_COLUMNS } from './columns.ts';
import type { ColumnSpec } from './csv-header.ts';
import { type EvenSeries, evenSeries } from './csv-series.ts';
import { clockOf } from './csv-time.ts';
import { Findings } from './findings.ts';
import { type CsvTable, readCsv } from './read-csv.ts';
import type { MeasuredSeries, WeatherSeries } from './series.ts';

/** A CSV file with what the scenario says about it. */
export interface CsvSource {
  readonly text: string;
  readonly file: string;
  /** Key that names the file. */
  readonly path: readonly (string | number)[];
  readonly clock: string;
  readonly shiftMin: number;
  /** Null where gaps can not be bridged at all. */
  readonly maxGapMin: number | null;
}

/** Reads measured weather: `time,ghi_w_m2[,dni_w_m2,dhi_w_m2],temp_c[,wind_m_s]`. */
export function readWeatherCsv(source: CsvSource, grid: TimeGrid): Checked<WeatherSeries> {
  return readSeries(source, WEATHER_COLUMNS, grid, ({ intervalS, atMs, columns }) => ({
    file: source.file,
    intervalS,
    atMs,
    ghiWPerM2: column(columns, 'ghi_w_m2'),
    dniWPerM2: columns.get('dni_w_m2') ?? null,
    dhiWPerM2: columns.get('dhi_w_m2') ?? null,
    airC: column(columns, 'temp_c'),
    windMPerS: columns.get('wind_m_s') ?? null,
  }));
}

/**
 * Reads measured PV: `time,pv_w`. Values below zero (an inverter's own use at night) become 0.
 *
 * @param factor  every value is multiplied by it
 */
export function readPvCsv(source: CsvSource, factor: number, grid: TimeGrid): Checked<MeasuredSeries<'pvW'>> {
  return readSeries(source, PV_COLUMNS, grid, ({ intervalS, atMs, columns }, findings) => {
    const pvW = notBelowZero(column(columns, 'pv_w'), 'pv_w', "an inverter's own use at night", findings).map(
      (watts) => watts * factor,
    );
    return { file: source.file, intervalS, atMs, columns: { pvW } };
  });
}

/** A measured household: one column, or one a phase. */
export type HouseholdSeries =
  | { readonly kind: 'measured'; readonly series: MeasuredSeries<'loadW'> }
  | { readonly kind: 'measured-phases'; readonly series: MeasuredSeries<'l1W' | 'l2W' | 'l3W'> };

/** Reads a measured household: `time,load_w` or `time,l1_w,l2_w,l3_w`. Values a little below zero (noise) become 0. */
export function readHouseholdCsv(source: CsvSource, grid: TimeGrid): Checked<HouseholdSeries> {
  return readSeries(source, HOUSEHOLD_COLUMNS, grid, ({ intervalS, atMs, columns }, findings) => {
    const load = (name: string): Float64Array => notBelowZero(column(columns, name), name, 'noise of the meter', findings);
    const base = { file: source.file, intervalS, atMs };
    if (columns.has('load_w')) return { kind: 'measured', series: { ...base, columns: { loadW: load('load_w') } } };
    return { kind: 'measured-phases', series: { ...base, columns: { l1W: load('l1_w'), l2W: load('l2_w'), l3W: load('l3_w') } } };
  });
}

/** Readings of the meter, with car and battery where the file has them. */
export type MeterSeries = MeasuredSeries<'importW' | 'exportW' | 'carW' | 'batteryW'>;

/** Reads a meter: `time,import_w,export_w[,car_w,battery_w]`. */
export function readMeterCsv(source: CsvSource, grid: TimeGrid): Checked<MeterSeries> {
  return readSeries(source, METER_COLUMNS, grid, ({ intervalS, atMs, columns }) => {
    const orNone = (name: string): Float64Array => columns.get(name) ?? new Float64Array(atMs.length);
    const [importW, exportW] = [column(columns, 'import_w'), column(columns, 'export_w')];
    return {
      file: source.file,
      intervalS,
      atMs,
      columns: { importW, exportW, carW: orNone('car_w'), batteryW: orNone('battery_w') },
    };
  });
}

/** Reads prices: `time,price`, currency per kWh; negative ones are prices too. No gap is bridged: a price is set, it does not glide. */
export function readPricesCsv(source: CsvSource, grid: TimeGrid): Checked<MeasuredSeries<'perKWh'>> {
  return readSeries({ ...source, maxGapMin: null }, PRICE_COLUMNS, grid, ({ intervalS, atMs, columns }) => ({
    file: source.file,
    intervalS,
    atMs,
    columns: { perKWh: column(columns, 'price') },
  }));
}

function readSeries<T>(
  source: CsvSource,
  layouts: readonly (readonly ColumnSpec[])[],
  grid: TimeGrid,
  build: (series: EvenSeries, findings: Findings) => T,
): Checked<T> {
  const findings = new Findings(source.file, source.path);
  const whenEmpty = source.maxGapMin === null ? null : ' and allow a gap with maxGapMin';
  const table = readCsv(source.text, layouts, clockOf(source.clock, grid.zone), findings, whenEmpty);
  if (table === null || findings.any) return failed(findings.issues);
  reportEmptyColumns(table, layouts, findings);
  const series = findings.any
    ? null
    : evenSeries(table, { grid, shiftMin: source.shiftMin, maxGapMin: source.maxGapMin }, findings);
  return series === null ? failed(findings.issues) : passed(build(series, findings), findings.warnings);
}

/** A column that must be there and has no value in any row. */
function reportEmptyColumns(table: CsvTable, layouts: readonly (readonly ColumnSpec[])[], findings: Findings): void {
  if (table.rows === 0) {
    const problem = 'The file has a header but no rows.';
    findings.wrong({
      code: 'csv-empty',
      line: 1,
      column: 1,
      found: '',
      problem,
      allowed: '',
      fix: 'write rows below the header.',
    });
    return;
  }
  const required = layouts.flat().filter((spec) => spec.required && table.columns.has(spec.name));
  for (const { name } of required) {
    if (table.columns.get(name)?.some((value) => !Number.isNaN(value))) continue;
    const problem = `The column ${name} is empty in all rows.`;
    findings.wrong({
      code: 'csv-column-empty',
      line: table.line[0] ?? 1,
      column: 1,
      found: name,
      problem,
      allowed: 'numbers',
      fix: 'fill the column.',
    });
  }
}

const column = (columns: ReadonlyMap<string, Float64Array>, name: string): Float64Array =>
  columns.get(name) ?? new Float64Array(0);

function notBelowZero(values: Float64Array, name: string, why: string, findings: Findings): Float64Array {
  const least = values.reduce((a, b) => Math.min(a, b), 0);
  if (least >= 0) return values;
  const count = values.reduce((n, value) => (value < 0 ? n + 1 : n), 0);
  findings.note({
    code: 'values-below-zero',
    line: 1,
    column: 1,
    found: name,
    problem: `${count} values of ${name} are below 0, the lowest ${Number(least.toPrecision(4))}.`,
    allowed: `0 for each of them (${why})`,
    fix: 'write 0 in the file to silence this.',
  });
  return values.map((value) => Math.max(0, value));
}

/** Reads recorded stays: `arrive,depart,km`, in order, not overlapping. Those that touch the period are kept. */
export function readStaysCsv(source: CsvSource, grid: TimeGrid): Checked<readonly Stay[]> {
  const findings = new Findings(source.file, source.path);
  const table = readCsv(source.text, STAY_COLUMNS, clockOf(source.clock, grid.zone), findings);
  if (table === null || findings.any) return failed(findings.issues);
  const stays: Stay[] = [];
  for (let i = 0; i < table.rows; i++) {
    const stay = { arriveMs: cell(table, 'arrive', i), departMs: cell(table, 'depart', i), km: cell(table, 'km', i) };
    checkStay(stay, stays[i - 1], table.line[i] ?? 1, grid, findings);
    stays.push(stay);
  }
  if (findings.any) return failed(findings.issues);
  const inPeriod = stays.filter((stay) => stay.departMs > grid.startMs && stay.arriveMs < gridEndMs(grid));
  if (inPeriod.length === 0) noteNoStay(grid, findings);
  return passed(inPeriod, findings.warnings);
}

const cell = (table: CsvTable, name: string, row: number): number => table.columns.get(name)?.[row] ?? Number.NaN;

function checkStay(stay: Stay, before: Stay | undefined, line: number, grid: TimeGrid, findings: Findings): void {
  const time = (atMs: number): string => isoLocal(grid.zone, atMs);
  const at = { line, column: 1 };
  if (Number.isNaN(stay.km)) {
    const problem = 'The kilometres are missing.';
    findings.wrong({
      ...at,
      code: 'stay-without-km',
      found: 'km',
      problem,
      allowed: '0 to 5000 (km)',
      fix: 'write 0 where nothing was driven.',
    });
  }
  if (!(stay.departMs > stay.arriveMs)) {
    const problem = `The car departs at ${time(stay.departMs)}, not after it arrives.`;
    const fix = 'correct one of the two times.';
    findings.wrong({
      ...at,
      code: 'stay-without-time',
      found: `arrive = ${time(stay.arriveMs)}`,
      problem,
      allowed: 'arrive before depart',
      fix,
    });
  }
  if (before !== undefined && stay.arriveMs < before.departMs) {
    const problem = `The stay begins before the one above it ends, at ${time(before.departMs)}.`;
    const fix = 'sort the stays, and correct those that overlap.';
    findings.wrong({
      ...at,
      code: 'stays-overlap',
      found: `arrive = ${time(stay.arriveMs)}`,
      problem,
      allowed: 'stays that follow each other',
      fix,
    });
  }
}

function noteNoStay(grid: TimeGrid, findings: Findings): void {
  findings.note({
    code: 'no-stay-in-period',
    line: 1,
    column: 1,
    found: '',
    problem: `No stay touches the period from ${isoLocal(grid.zone, grid.startMs)} to ${isoLocal(grid.zone, gridEndMs(grid))}.`,
    allowed: 'a car that is away throughout',
    fix: 'look at the dates in the file and at the period.',
  });
}
