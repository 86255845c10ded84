import { type Checked, failed, gridEndMs, MS_PER_H, MS_PER_MIN, passed, type TimeGrid } from '../base/index.ts';
import { numberAt } from './csv-number.ts';
import { Findings } from './findings.ts';
import type { WeatherSeries } from './series.ts';

/** Place and clock from the first line of an EPW file. */
export interface EpwPlace {
  readonly name: string;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly offsetH: number;
  readonly elevationM: number;
}

/** A typical year laid on the period, and where it was made for. */
export interface EpwWeather {
  readonly place: EpwPlace;
  readonly series: WeatherSeries;
}

/** Lines before the hours (EnergyPlus Auxiliary Programs, "EPW CSV Format"; from memory). */
const HEADER_LINES = 8;
const LEAST_CELLS = 22;

/** A column of an EPW file: its place in a row, and the number from which on a value means "missing" (same source). */
const COLUMNS = [
  { key: 'airC', name: 'dry bulb temperature', cell: 6, missing: 99.9, min: -70, max: 70 },
  { key: 'ghiWPerM2', name: 'global horizontal irradiance', cell: 13, missing: 9999, min: -50, max: 2000 },
  { key: 'dniWPerM2', name: 'direct normal irradiance', cell: 14, missing: 9999, min: -50, max: 1600 },
  { key: 'dhiWPerM2', name: 'diffuse horizontal irradiance', cell: 15, missing: 9999, min: -50, max: 1500 },
  { key: 'windMPerS', name: 'wind speed', cell: 21, missing: 999, min: 0, max: 100 },
] as const;

type ColumnKey = (typeof COLUMNS)[number]['key'];

/** Hours by calendar: an hour of the year is found at `(month · 31 + day) · 24 + hour`, all from 0. */
const SLOTS = 12 * 31 * 24;
const slotOf = (month: number, day: number, hour: number): number => (month * 31 + day) * 24 + hour;

/**
 * Reads a typical year (EPW) and lays it on the period.
 *
 * Hour h of the file covers h − 1 to h in the file's own zone, which knows no daylight saving; months may come from different years.
 * The year is laid on the period by month, day and hour and goes round at New Year; 29 February takes the 28th where the file has
 * none. Missing values up to two hours are bridged by straight lines and noted; a column that is missing throughout is left out.
 *
 * @param shiftMin  added to the file's times
 */
export function readEpw(
  text: string,
  file: string,
  path: readonly (string | number)[],
  shiftMin: number,
  grid: TimeGrid,
): Checked<EpwWeather> {
  const findings = new Findings(file, path);
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/);
  const place = placeOf(lines[0] ?? '', findings);
  if (place === null) return failed(findings.issues);
  const year = readYear(lines, findings);
  if (findings.any) return failed(findings.issues);
  fillLeapDay(year);
  reportMissingHours(year, lines.length, findings);
  if (!findings.any) bridgeMissing(year, findings);
  if (findings.any) return failed(findings.issues);
  return passed({ place, series: layOut(year, file, place, shiftMin, grid) }, findings.warnings);
}

function placeOf(first: string, findings: Findings): EpwPlace | null {
  const cells = first.split(',').map((cell) => cell.trim());
  const [latitudeDeg = Number.NaN, longitudeDeg = Number.NaN, offsetH = Number.NaN, elevationM = Number.NaN] = cells
    .slice(6, 10)
    .map(numberOf);
  const sound = Math.abs(latitudeDeg) <= 90 && Math.abs(longitudeDeg) <= 180 && Math.abs(offsetH) <= 15;
  if (cells[0]?.toUpperCase() === 'LOCATION' && sound)
    return { name: cells[1] ?? '', latitudeDeg, longitudeDeg, offsetH, elevationM };
  findings.wrong({
    code: 'epw-no-location',
    line: 1,
    column: 1,
    found: first.slice(0, 40),
    problem: 'The first line does not tell place and zone, as that of an EPW file does.',
    allowed: 'LOCATION,name,region,country,source,number,latitude,longitude,zone,elevation',
    fix: 'use an EPW file, or `source: csv` for a file of columns.',
  });
  return null;
}

/** A year of hours by calendar slot; NaN where a value is missing, line 0 where an hour is. */
interface EpwYear {
  readonly line: Int32Array;
  readonly columns: Readonly<Record<ColumnKey, Float64Array>>;
}

function readYear(lines: readonly string[], findings: Findings): EpwYear {
  const column = (): Float64Array => new Float64Array(SLOTS).fill(Number.NaN);
  const columns = { airC: column(), ghiWPerM2: column(), dniWPerM2: column(), dhiWPerM2: column(), windMPerS: column() };
  const year = { line: new Int32Array(SLOTS), columns };
  checkHourly(lines, findings);
  for (let i = HEADER_LINES; i < lines.length; i++) {
    const row = lines[i] ?? '';
    if (row.trim() !== '') readHour(row.split(','), i + 1, year, findings);
  }
  return year;
}

function checkHourly(lines: readonly string[], findings: Findings): void {
  const periods = (lines[HEADER_LINES - 1] ?? '').split(',').map((cell) => cell.trim());
  if (periods[0]?.toUpperCase() === 'DATA PERIODS' && periods[2] === '1') return;
  findings.wrong({
    code: 'epw-not-hourly',
    line: HEADER_LINES,
    column: 1,
    found: periods.slice(0, 3).join(','),
    problem: 'The eighth line does not say that the file has one value an hour.',
    allowed: 'DATA PERIODS,1,1,…',
    fix: 'use an hourly file, or `source: csv` for finer data.',
  });
}

function readHour(cells: readonly string[], line: number, year: EpwYear, findings: Findings): void {
  const [month = 0, day = 0, hour = 0] = cells.slice(1, 4).map(numberOf);
  const where = { line, column: 1, found: cells.slice(0, 4).join(',') };
  const isHour =
    month >= 1 && month <= 12 && day >= 1 && day <= 31 && hour >= 1 && hour <= 24 && Number.isInteger(month + day + hour);
  if (!isHour || cells.length < LEAST_CELLS) {
    const problem = 'The row is no hour of a year: year, month, day, hour 1 to 24, and at least 22 cells.';
    findings.wrong({
      ...where,
      code: 'epw-bad-row',
      problem,
      allowed: 'rows as an EPW file has them',
      fix: 'use an undamaged file.',
    });
    return;
  }
  const slot = slotOf(month - 1, day - 1, hour - 1);
  if (year.line[slot] !== 0) {
    const problem = `This hour stands in line ${year.line[slot]} already; one typical year is wanted.`;
    findings.wrong({
      ...where,
      code: 'epw-hour-twice',
      problem,
      allowed: 'each hour of a year once',
      fix: 'use a file of one year.',
    });
    return;
  }
  year.line[slot] = line;
  for (const column of COLUMNS) year.columns[column.key][slot] = valueIn(cells, column, line, findings);
}

function valueIn(cells: readonly string[], column: (typeof COLUMNS)[number], line: number, findings: Findings): number {
  const written = (cells[column.cell] ?? '').trim();
  const value = numberOf(written);
  if (written === '' || value >= column.missing) return Number.NaN;
  if (value >= column.min && value <= column.max) return value;
  findings.wrong({
    code: 'epw-bad-value',
    line,
    column: cells.slice(0, column.cell).join(',').length + 2,
    found: `${column.name} = ${written.slice(0, 40)}`,
    problem: 'No such value occurs in nature.',
    allowed: `${column.min} to ${column.max}, or ${column.missing} for a missing value`,
    fix: 'correct the value.',
  });
  return Number.NaN;
}

const numberOf = (written: string): number => numberAt(written.trim(), 0, written.trim().length, 46);

function fillLeapDay(year: EpwYear): void {
  const from = slotOf(1, 27, 0);
  const to = slotOf(1, 28, 0);
  if (year.line.subarray(to, to + 24).some((line) => line !== 0)) return;
  year.line.copyWithin(to, from, from + 24);
  for (const { key } of COLUMNS) year.columns[key].copyWithin(to, from, from + 24);
}

const DAYS = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Slots of the calendar in order, 29 February included. */
const ORDER: readonly number[] = DAYS.flatMap((days, month) => Array.from({ length: days * 24 }, (_, i) => month * 31 * 24 + i));

function reportMissingHours(year: EpwYear, lines: number, findings: Findings): void {
  const leapDay = slotOf(1, 28, 0);
  const missing = ORDER.filter((slot) => year.line[slot] === 0 && !(slot >= leapDay && slot < leapDay + 24));
  const slot = missing[0];
  if (slot === undefined) return;
  const month = Math.floor(slot / (31 * 24));
  const day = Math.floor(slot / 24) % 31;
  findings.wrong({
    code: 'epw-hours-missing',
    line: Math.max(1, lines - 1),
    column: 1,
    found: '',
    problem: `${missing.length} hours of the year are missing, the first on month ${month + 1}, day ${day + 1}, hour ${(slot % 24) + 1}.`,
    allowed: 'all 8760 hours of a year',
    fix: 'use a whole file.',
  });
}

/** Longest run of missing values that is bridged, h. */
const BRIDGED_H = 2;

function bridgeMissing(year: EpwYear, findings: Findings): void {
  for (const column of COLUMNS) {
    const values = year.columns[column.key];
    const present = ORDER.map((slot, i) => ({ slot, i })).filter(({ slot }) => !Number.isNaN(values[slot]));
    const needed = column.key === 'airC' || column.key === 'ghiWPerM2';
    if (present.length === ORDER.length || (present.length === 0 && !needed)) continue;
    let bridged = 0;
    present.forEach(({ slot, i }, k) => {
      const next = present[(k + 1) % present.length] ?? { slot, i };
      const hours = ((next.i - i - 1 + ORDER.length) % ORDER.length) as number;
      if (hours > BRIDGED_H) reportLong(column.name, hours, year.line[ORDER[(i + 1) % ORDER.length] ?? 0] ?? 1, findings);
      for (let step = 1; step <= hours && hours <= BRIDGED_H; step++) {
        const from = values[slot] ?? 0;
        values[ORDER[(i + step) % ORDER.length] ?? 0] = from + (((values[next.slot] ?? 0) - from) * step) / (hours + 1);
        bridged++;
      }
    });
    if (present.length === 0) reportLong(column.name, ORDER.length, HEADER_LINES + 1, findings);
    if (bridged > 0) noteBridged(column.name, bridged, findings);
  }
}

function reportLong(name: string, hours: number, line: number, findings: Findings): void {
  const problem = `The ${name} is missing for ${hours} hours from this line on.`;
  const allowed = `gaps up to ${BRIDGED_H} hours`;
  findings.wrong({ code: 'epw-gap', line, column: 1, found: '', problem, allowed, fix: 'fill the gap, or use another file.' });
}

function noteBridged(name: string, count: number, findings: Findings): void {
  findings.note({
    code: 'gaps-bridged',
    line: HEADER_LINES + 1,
    column: 1,
    found: '',
    problem: `The ${name} is missing in ${count} hours.`,
    allowed: 'values on straight lines between their neighbours',
    fix: 'fill the gaps in the file to silence this.',
  });
}

/** The hours that cover the period, each from its slot of the typical year. */
function layOut(year: EpwYear, file: string, place: EpwPlace, shiftMin: number, grid: TimeGrid): WeatherSeries {
  const shiftMs = shiftMin * MS_PER_MIN;
  const offsetMs = place.offsetH * MS_PER_H;
  // Whole hours of the file's own clock.
  const firstMs = Math.floor((grid.startMs - shiftMs + offsetMs) / MS_PER_H) * MS_PER_H - offsetMs;
  const count = Math.ceil((gridEndMs(grid) - shiftMs - firstMs) / MS_PER_H);
  const atMs = Float64Array.from({ length: count }, (_, i) => firstMs + i * MS_PER_H + shiftMs);
  const slots = Int32Array.from({ length: count }, (_, i) => {
    const local = new Date(firstMs + i * MS_PER_H + offsetMs);
    return slotOf(local.getUTCMonth(), local.getUTCDate() - 1, local.getUTCHours());
  });
  const laid = (key: ColumnKey): Float64Array => Float64Array.from(slots, (slot) => year.columns[key][slot] ?? Number.NaN);
  const orNull = (key: ColumnKey): Float64Array | null => (Number.isNaN(year.columns[key][0]) ? null : laid(key));
  const needed = { ghiWPerM2: laid('ghiWPerM2'), airC: laid('airC') };
  return {
    file,
    intervalS: 3600,
    atMs,
    ...needed,
    dniWPerM2: orNull('dniWPerM2'),
    dhiWPerM2: orNull('dhiWPerM2'),
    windMPerS: orNull('windMPerS'),
  };
}
