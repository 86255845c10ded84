import { gridEndMs, isoLocal, MS_PER_MIN, MS_PER_S, type TimeGrid } from '../base/index.ts';
import type { Findings } from './findings.ts';
import type { CsvTable } from './read-csv.ts';
import { wholeDaysText } from './whole-days.ts';

/** Columns over even intervals, just covering the period. */
export interface EvenSeries {
  readonly intervalS: number;
  readonly atMs: Float64Array;
  readonly columns: ReadonlyMap<string, Float64Array>;
}

/** How a table becomes a series. */
export interface SeriesWish {
  readonly grid: TimeGrid;
  /** Added to the file's times. */
  readonly shiftMin: number;
  /** Gaps up to this are bridged; null: none can be, whatever their length. */
  readonly maxGapMin: number | null;
}

const bridgedMin = ({ maxGapMin }: SeriesWish): number => maxGapMin ?? 0;

/** Longest interval that is taken for measured data. */
const MAX_INTERVAL_S = 86_400;

/**
 * Lays rows of measured values onto even intervals that cover the period, bridges gaps that may be bridged, and finds what else is
 * wrong: duplicates, disorder, uneven times, gaps, missing days. What lies outside the period is not looked at but for its order.
 *
 * The interval is the most common difference between two rows. A column that is empty throughout is left out.
 *
 * @returns null, with the reasons among the findings, if anything is wrong
 */
export function evenSeries(table: CsvTable, wish: SeriesWish, findings: Findings): EvenSeries | null {
  const timesMs = (table.columns.get('time') ?? new Float64Array(0)).map((atMs) => atMs + wish.shiftMin * MS_PER_MIN);
  const intervalMs = intervalOf(table, timesMs, wish.grid, findings);
  if (intervalMs === null || !isEven(table, timesMs, intervalMs, wish, findings)) return null;
  const window = windowOf(timesMs, intervalMs, wish);
  if (window === null) {
    reportUncovered({ table, timesMs, values: timesMs, intervalMs, wish, findings });
    return null;
  }
  const columns = new Map<string, Float64Array>();
  const bridged = { values: 0, gaps: new Set<string>(), longestMin: 0, line: 1 };
  const reported = new Set<string>();
  for (const [name, values] of table.columns) {
    if (name === 'time' || values.every((value) => Number.isNaN(value))) continue;
    columns.set(name, fillColumn({ name, values, table, timesMs, intervalMs, window, wish, findings, bridged, reported }));
  }
  if (findings.any) return null;
  if (bridged.values > 0) noteBridged(bridged, findings);
  const atMs = Float64Array.from({ length: window.outCount }, (_, i) => window.outStartMs + i * intervalMs);
  return { intervalS: intervalMs / MS_PER_S, atMs, columns };
}

/** Order of the rows, and the most common difference between two of them, ms; null if either is not as it should be. */
function intervalOf(table: CsvTable, timesMs: Float64Array, grid: TimeGrid, findings: Findings): number | null {
  const counts = new Map<number, number>();
  for (let i = 1; i < timesMs.length; i++) {
    const differenceMs = (timesMs[i] ?? 0) - (timesMs[i - 1] ?? 0);
    if (differenceMs <= 0) reportOrder(table, timesMs, i, differenceMs, grid, findings);
    else counts.set(differenceMs, (counts.get(differenceMs) ?? 0) + 1);
  }
  if (findings.any) return null;
  const intervalMs = [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0])[0]?.[0] ?? 0;
  if (intervalMs >= MS_PER_S && intervalMs <= MAX_INTERVAL_S * MS_PER_S && intervalMs % MS_PER_S === 0) return intervalMs;
  const problem =
    timesMs.length < 2
      ? 'The file has fewer than two rows.'
      : `Most rows are ${intervalMs / MS_PER_S} s apart, which is no interval of whole seconds up to a day.`;
  const allowed = 'rows that are 1 s to one day apart';
  findings.wrong({
    code: 'csv-no-interval',
    line: table.line[0] ?? 1,
    column: 1,
    found: '',
    problem,
    allowed,
    fix: 'look at the times in the file.',
  });
  return null;
}

function reportOrder(
  table: CsvTable,
  timesMs: Float64Array,
  i: number,
  differenceMs: number,
  grid: TimeGrid,
  findings: Findings,
): void {
  const found = `time = ${isoLocal(grid.zone, timesMs[i] ?? 0)}`;
  const where = { line: table.line[i] ?? 1, column: 1, found, allowed: 'rows in the order of time, each once' };
  const before = table.line[i - 1] ?? 1;
  if (differenceMs === 0) {
    const problem = `The same time stands in line ${before} already.`;
    findings.wrong({ ...where, code: 'csv-duplicate', problem, fix: 'keep one of the two rows.' });
  } else {
    const problem = `The time lies before that of line ${before}.`;
    findings.wrong({ ...where, code: 'csv-disorder', problem, fix: 'sort the rows by time.' });
  }
}

/** Whether all rows that matter to the period lie on one raster of intervals. */
function isEven(table: CsvTable, timesMs: Float64Array, intervalMs: number, wish: SeriesWish, findings: Findings): boolean {
  const fromMs = wish.grid.startMs - intervalMs - bridgedMin(wish) * MS_PER_MIN;
  const toMs = gridEndMs(wish.grid) + intervalMs + bridgedMin(wish) * MS_PER_MIN;
  for (let i = 1; i < timesMs.length; i++) {
    const atMs = timesMs[i] ?? 0;
    const beforeMs = timesMs[i - 1] ?? 0;
    if (beforeMs < fromMs || atMs > toMs || (atMs - beforeMs) % intervalMs === 0) continue;
    const found = `time = ${isoLocal(wish.grid.zone, atMs)}`;
    const problem = `The row comes ${(atMs - beforeMs) / MS_PER_S} s after the one before it; most come ${intervalMs / MS_PER_S} s apart.`;
    const allowed = 'rows that are evenly spaced, or whole rows missing';
    const fix = 'bring the rows to even times, for example by averaging.';
    findings.wrong({ code: 'csv-uneven', line: table.line[i] ?? 1, column: 1, found, problem, allowed, fix });
  }
  return !findings.any;
}

/** The rows that are looked at, and the intervals that come out: those that cover the period. */
interface Window {
  readonly lo: number;
  readonly hi: number;
  readonly outStartMs: number;
  readonly outCount: number;
}

function windowOf(timesMs: Float64Array, intervalMs: number, wish: SeriesWish): Window | null {
  const { grid } = wish;
  const marginMs = bridgedMin(wish) * MS_PER_MIN + intervalMs;
  const endMs = gridEndMs(grid);
  const lo = timesMs.findIndex((atMs) => atMs >= grid.startMs - marginMs);
  let hi = timesMs.length - 1;
  while (hi >= 0 && (timesMs[hi] ?? 0) > endMs + marginMs) hi--;
  if (lo < 0 || hi < lo) return null;
  const anchorMs = timesMs[lo] ?? 0;
  const outStartMs = anchorMs + Math.floor((grid.startMs - anchorMs) / intervalMs) * intervalMs;
  return { lo, hi, outStartMs, outCount: Math.ceil((endMs - outStartMs) / intervalMs) };
}

interface ColumnTask {
  readonly name: string;
  readonly values: Float64Array;
  readonly table: CsvTable;
  readonly timesMs: Float64Array;
  readonly intervalMs: number;
  readonly window: Window;
  readonly wish: SeriesWish;
  readonly findings: Findings;
  readonly bridged: Bridged;
  /** Gaps that another column reported already. */
  readonly reported: Set<string>;
}

interface Bridged {
  values: number;
  readonly gaps: Set<string>;
  longestMin: number;
  line: number;
}

/** One column on the intervals of the period: values from row to row, and a straight line across gaps that may be bridged. */
function fillColumn(task: ColumnTask): Float64Array {
  const { values, timesMs, intervalMs, window } = task;
  const out = new Float64Array(window.outCount).fill(Number.NaN);
  let last = -1;
  let first = -1;
  for (let row = window.lo; row <= window.hi; row++) {
    const value = values[row] ?? Number.NaN;
    if (Number.isNaN(value)) continue;
    if (last >= 0 && (timesMs[row] ?? 0) - (timesMs[last] ?? 0) > intervalMs) crossGap(task, out, last, row);
    const place = ((timesMs[row] ?? 0) - window.outStartMs) / intervalMs;
    if (place >= 0 && place < out.length) out[place] = value;
    if (first < 0) first = row;
    last = row;
  }
  holdAtEnds(task, out, first, last);
  return out;
}

function crossGap(task: ColumnTask, out: Float64Array, before: number, after: number): void {
  const { values, timesMs, intervalMs, window, wish, table } = task;
  const fromMs = (timesMs[before] ?? 0) + intervalMs;
  const toMs = timesMs[after] ?? 0;
  if (toMs <= window.outStartMs || fromMs >= gridEndMs(wish.grid)) return;
  const gapMin = (toMs - fromMs) / MS_PER_MIN;
  if (gapMin > bridgedMin(wish)) {
    reportGap(task, before, after, fromMs, gapMin);
    return;
  }
  const start = values[before] ?? 0;
  const slope = ((values[after] ?? 0) - start) / (toMs - fromMs + intervalMs);
  for (let atMs = fromMs; atMs < toMs; atMs += intervalMs) {
    const place = (atMs - window.outStartMs) / intervalMs;
    if (place < 0 || place >= out.length) continue;
    out[place] = start + slope * (atMs - fromMs + intervalMs);
    task.bridged.values++;
  }
  task.bridged.gaps.add(`${before}-${after}`);
  if (gapMin > task.bridged.longestMin) Object.assign(task.bridged, { longestMin: gapMin, line: table.line[before + 1] ?? 1 });
}

function reportGap(
  { table, name, wish, findings, reported }: ColumnTask,
  before: number,
  after: number,
  fromMs: number,
  gapMin: number,
): void {
  const rowsThere = after - before > 1;
  const key = `${before}-${after}`;
  if (reported.has(key)) return;
  reported.add(key);
  const what = rowsThere ? `${name} is empty` : 'Rows are missing';
  const bridge =
    gapMin <= 1440 && wish.maxGapMin !== null
      ? `, or allow it to be bridged by a straight line: \`maxGapMin: ${Math.ceil(gapMin)}\``
      : '';
  findings.wrong({
    code: rowsThere ? 'csv-empty-cells' : 'csv-gap',
    line: table.line[before + 1] ?? 1,
    column: 1,
    found: rowsThere ? name : '',
    problem: `${what} for ${minutesText(gapMin)} from ${isoLocal(wish.grid.zone, fromMs)}.`,
    allowed: bridgedMin(wish) === 0 ? 'no gaps' : `gaps up to ${wish.maxGapMin} min, the scenario's maxGapMin`,
    fix: `fill the gap in the file${bridge}.`,
  });
}

/** The first and last minutes that a shift has left open are held; anything longer is not covered. */
function holdAtEnds(task: ColumnTask, out: Float64Array, first: number, last: number): void {
  const { timesMs, values, intervalMs, wish, reported } = task;
  const openMs = Math.abs(wish.shiftMin) * MS_PER_MIN;
  const firstMs = timesMs[first] ?? Infinity;
  const endMs = (timesMs[last] ?? -Infinity) + intervalMs;
  if (firstMs - openMs > wish.grid.startMs || endMs + openMs < gridEndMs(wish.grid)) {
    if (!reported.has('uncovered')) reportUncovered(task);
    reported.add('uncovered');
    return;
  }
  const firstPlace = out.findIndex((value) => !Number.isNaN(value));
  let lastPlace = out.length - 1;
  while (lastPlace >= 0 && Number.isNaN(out[lastPlace])) lastPlace--;
  out.fill(values[first] ?? 0, 0, Math.max(0, firstPlace));
  out.fill(values[last] ?? 0, lastPlace + 1);
}

/** Says what the whole column covers, and what of the period it leaves open. */
function reportUncovered(task: Pick<ColumnTask, 'table' | 'timesMs' | 'values' | 'intervalMs' | 'wish' | 'findings'>): void {
  const { table, timesMs, values, intervalMs, wish, findings } = task;
  const { zone, startMs } = wish.grid;
  const first = values.findIndex((value) => !Number.isNaN(value));
  let last = values.length - 1;
  while (last > 0 && Number.isNaN(values[last])) last--;
  const fromMs = timesMs[first] ?? Number.NaN;
  const toMs = (timesMs[last] ?? Number.NaN) + intervalMs;
  const lateStart = fromMs > startMs;
  const missingMs = lateStart || toMs < startMs ? startMs : toMs;
  const row = lateStart ? first : last;
  findings.wrong({
    code: 'file-not-covering',
    line: table.line[row] ?? 1,
    column: 1,
    found: '',
    problem: `The file runs from ${isoLocal(zone, fromMs)} to ${isoLocal(zone, toMs)}; the period lacks values from ${isoLocal(zone, missingMs)} on.`,
    allowed: `values from ${isoLocal(zone, startMs)} to ${isoLocal(zone, gridEndMs(wish.grid))}`,
    fix: wholeDaysText(zone, fromMs, toMs),
  });
}

function noteBridged(bridged: Bridged, findings: Findings): void {
  const gaps = bridged.gaps.size === 1 ? 'one gap' : `${bridged.gaps.size} gaps`;
  findings.note({
    code: 'gaps-bridged',
    line: bridged.line,
    column: 1,
    found: '',
    problem: `Values are missing in ${gaps}, the longest of ${minutesText(bridged.longestMin)} here.`,
    allowed: `${bridged.values} values on straight lines between their neighbours`,
    fix: 'fill the gaps in the file to silence this, or lower maxGapMin to have them refused.',
  });
}

const minutesText = (minutes: number): string => (minutes < 1 ? `${minutes * 60} s` : `${Number(minutes.toFixed(2))} min`);
