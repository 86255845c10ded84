import { type Checked, failed, type Issue, passed } from '../base/index.ts';
import { type LogTable, logColumn, readLog } from './read-log.ts';
import { clockLagRows, earlier, seemsKilowatts } from './run-log-clocks.ts';

/** A log of a running system, in the core's own terms; NaN where the log is silent. What it does not have at all is null. */
export interface RunLog {
  readonly table: LogTable;
  readonly pvW: Float64Array | null;
  readonly houseW: Float64Array | null;
  /** At the grid meter, import counts up. */
  readonly gridW: Float64Array | null;
  /** Into the car. */
  readonly carW: Float64Array;
  /** Phases that the car draws on, row by row; null where the log does not say. */
  readonly phases: Uint8Array | null;
  /** Current on each phase that it draws on, A; null where the log does not say. */
  readonly currentA: Float64Array | null;
  /** Current that the charger offers, A, 0 while it offers none. */
  readonly offeredA: Float64Array | null;
  /** What the meter would export if the car drew nothing, W; null where the log does not say. */
  readonly surplusW: Float64Array | null;
  readonly voltageV: number;
}

const CAR_PHASES = ['car_l1_a', 'car_l2_a', 'car_l3_a'] as const;
const POWERS = ['pv_w', 'house_w', 'grid_w', 'car_w'];
/** Columns of the car's own logger. */
const OF_CAR = /^(car_|offered_)/;
const COLUMNS = [
  ...POWERS.map((name) => logColumn(name, -100_000, 200_000, 'W')),
  ...CAR_PHASES.map((name) => logColumn(name, -100, 100, 'A')),
  logColumn('offered_a', 0, 100, 'A'),
];

/** A car draws, A per phase, or W where only power is logged: well below six amperes, well above what clamps show at rest. */
const DRAWS_A = 3.5;
const DRAWS_W = 800;

/**
 * Reads the log of a running system: `time` and any of `pv_w,house_w,grid_w,car_w,car_l1_a,car_l2_a,car_l3_a,offered_a`.
 *
 * Needs the car (power or currents). What a clamp shows with no car is taken off, and the sign of the meter is turned where it counts
 * export up; both are reported.
 *
 * @param voltageV  phase to neutral
 */
export function readRunLog(text: string, file: string, voltageV: number): Checked<RunLog> {
  const read = readLog(text, file, COLUMNS);
  if (!read.ok) return read;
  const table = read.value;
  const kilowatts = POWERS.filter((name) => seemsKilowatts(table.columns.get(name) ?? new Float64Array(0)));
  if (kilowatts.length > 0) return failed([noWatts(file, kilowatts)]);
  const notes: Issue[] = [];
  const note = (code: string, found: string, problem: string, allowed: string): void => {
    const fix = 'correct it in the logger to silence this.';
    notes.push({ code, path: [], found, problem, allowed, fix, place: { file, line: 1, column: 1 } });
  };
  const lagRows = clockLag(table, voltageV);
  if (lagRows !== 0) note('log-two-clocks', 'car_…', clocksProblem(lagRows), 'that is taken off');
  const column = (name: string): Float64Array | null => {
    const values = table.columns.get(name);
    if (values === undefined) return null;
    return OF_CAR.test(name) ? earlier(values, lagRows) : values;
  };
  const lines = CAR_PHASES.flatMap((name) => {
    const values = column(name);
    return values === null ? [] : [atRestZero(values, name, 0.05, 1, note)];
  });
  const power = column('car_w');
  if (lines.length === 0 && power === null) return failed([noCar(file)]);
  const phases = lines.length === 0 ? null : phasesOf(lines);
  const carW = power === null ? poweredBy(lines, voltageV) : atRestZero(power, 'car_w', 15, 200, note);
  const pvW = notBelowZero(column('pv_w'), note);
  const houseW = column('house_w');
  const gridW = importUp(column('grid_w'), carW, { pvW, houseW, note });
  const surplusW = surplusOf(pvW, houseW, gridW, carW);
  const log = {
    table,
    pvW,
    houseW,
    gridW,
    carW,
    phases,
    currentA: currentOf(lines, phases),
    offeredA: column('offered_a'),
    surplusW,
    voltageV,
  };
  return passed(log, [...read.warnings, ...notes]);
}

/** Rows by which the car's logger runs behind the meter's. */
function clockLag({ columns }: LogTable, voltageV: number): number {
  const gridW = columns.get('grid_w');
  const lines = CAR_PHASES.flatMap((name) => columns.get(name) ?? []);
  const carW = columns.get('car_w') ?? (lines.length === 0 ? undefined : poweredBy(lines, voltageV));
  return gridW === undefined || carW === undefined ? 0 : clockLagRows({ gridW, carW });
}

const clocksProblem = (rows: number): string =>
  `The car’s starts and stops show at the meter ${Math.abs(rows)} ${Math.abs(rows) === 1 ? 'row' : 'rows'} ${rows > 0 ? 'earlier' : 'later'}: two clocks.`;

const noWatts = (file: string, names: readonly string[]): Issue => ({
  code: 'log-kilowatts',
  path: [],
  found: names.join(', '),
  problem: 'No value is as large as a lamp’s: these seem to be kilowatts.',
  allowed: 'watts',
  fix: 'multiply by 1000; if they really are watts, the log is of no use here: leave the column out.',
  place: { file, line: 1, column: 1 },
});

type Note = (code: string, found: string, problem: string, allowed: string) => void;

const noCar = (file: string): Issue => ({
  code: 'log-no-car',
  path: [],
  found: '',
  problem: 'The log says nothing of the car: there is neither car_w nor car_l1_a.',
  allowed: 'time and any of pv_w,house_w,grid_w,car_w,car_l1_a,car_l2_a,car_l3_a,offered_a, the car among them',
  fix: 'log the power or the currents of the car.',
  place: { file, line: 1, column: 1 },
});

/** Takes off what is shown while the car draws nothing: an offset of the clamp, the charger's own use. Day and night are looked at apart. */
function atRestZero(values: Float64Array, name: string, least: number, most: number, note: Note): Float64Array {
  const smooth = restLevels(values, most);
  const largest = smooth.reduce((top, a) => Math.max(top, Math.abs(a)), 0);
  if (!(largest > least)) return values;
  note(
    'log-offset',
    name,
    `It shows up to ${Number(largest.toPrecision(2))} while the car draws nothing.`,
    'that is taken off, as it is at the time',
  );
  return values.map((value, i) => value - (smooth[i] ?? 0));
}

/** Rows over which the level at rest is taken to be the same. */
const REST_ROWS = 240;

/** The level at rest by stretches of rows: the median of what is small there; where there is none, the last one known. */
function restLevels(values: Float64Array, most: number): Float64Array {
  const levels = new Float64Array(values.length);
  let last: number | null = null;
  for (let from = 0; from < values.length; from += REST_ROWS) {
    const small = values.subarray(from, from + REST_ROWS).filter((value) => Math.abs(value) < most);
    const level: number | null = small.length < 10 ? last : (small.sort()[Math.floor(small.length / 2)] ?? 0);
    if (level !== null && last === null) levels.fill(level, 0, from);
    levels.fill(level ?? 0, from, from + REST_ROWS);
    last = level;
  }
  return levels;
}

const phasesOf = (lines: readonly Float64Array[]): Uint8Array =>
  Uint8Array.from(lines[0] ?? [], (_, k) => lines.reduce((n, a) => n + ((a[k] ?? 0) >= DRAWS_A ? 1 : 0), 0));

const poweredBy = (lines: readonly Float64Array[], voltageV: number): Float64Array =>
  Float64Array.from(lines[0] ?? [], (_, k) => voltageV * lines.reduce((sum, a) => sum + (a[k] ?? Number.NaN), 0));

function currentOf(lines: readonly Float64Array[], phases: Uint8Array | null): Float64Array | null {
  if (phases === null) return null;
  return Float64Array.from(phases, (n, k) => {
    const drawn = lines.reduce((sum, a) => sum + ((a[k] ?? 0) >= DRAWS_A ? (a[k] ?? 0) : 0), 0);
    return n === 0 ? 0 : drawn / n;
  });
}

function notBelowZero(pvW: Float64Array | null, note: Note): Float64Array | null {
  if (pvW === null) return null;
  if (pvW.some((w) => w < -1)) note('log-pv-below-zero', 'pv_w', 'Values are below zero.', 'an inverter’s own use: 0');
  return pvW.map((w) => Math.max(0, w));
}

/** The meter follows the car where the two changes differ by less than this part. */
const FOLLOWS = 0.3;
/** So many more starts and stops must show one sign than the other, and such a part of them. */
const LEAST_SHOWING = 3;
const SHOWING_SHARE = 0.7;
/** One sign makes the columns add up where half the rows are off by less than this part of what the other leaves, and the least of it, W. */
const ADDS_UP = 0.3;
const LEAST_OFF_W = 100;

/** The meter with import counted up: the columns must add up, or, where there are too few of them, import must rise where the car starts. */
function importUp(
  gridW: Float64Array | null,
  carW: Float64Array,
  { pvW, houseW, note }: { pvW: Float64Array | null; houseW: Float64Array | null; note: Note },
): Float64Array | null {
  if (gridW === null) return null;
  const balance = pvW === null || houseW === null ? null : bySum(gridW, carW, pvW, houseW);
  const exportUp = (balance ?? byStarts(gridW, carW)) === 'export';
  const turned = exportUp ? gridW.map((w) => -w) : gridW;
  const shown = balance === null ? 'It falls where the car starts' : 'So turned the columns add up';
  if (exportUp) note('log-export-up', 'grid_w', `${shown}: export is counted up.`, 'its sign turned');
  if (pvW !== null && houseW !== null) noteImbalance(turned, carW, pvW, houseW, note);
  return turned;
}

/** The sign with which house, car, roof and meter add up; null where neither does clearly better. */
function bySum(gridW: Float64Array, carW: Float64Array, pvW: Float64Array, houseW: Float64Array): 'import' | 'export' | null {
  const offW = (sign: number): number =>
    medianSize(gridW.map((grid, k) => (houseW[k] ?? 0) + (carW[k] ?? 0) - (pvW[k] ?? 0) - sign * grid));
  const [asImport, asExport] = [offW(1), offW(-1)];
  if (Math.max(asImport, asExport) < LEAST_OFF_W) return null;
  if (asImport < ADDS_UP * asExport) return 'import';
  return asExport < ADDS_UP * asImport ? 'export' : null;
}

function medianSize(values: Float64Array): number {
  const sizes = values.map(Math.abs).filter(Number.isFinite).sort();
  return sizes[Math.floor(sizes.length / 2)] ?? 0;
}

/** What starts and stops show. A car that follows the sun says nothing: meter and car may well change against each other then. */
function byStarts(gridW: Float64Array, carW: Float64Array): 'import' | 'export' {
  let along = 0;
  let against = 0;
  for (let k = 1; k < carW.length; k++) {
    const [before, now] = [carW[k - 1] ?? 0, carW[k] ?? 0];
    const car = now - before;
    const grid = (gridW[k] ?? Number.NaN) - (gridW[k - 1] ?? Number.NaN);
    if (Math.abs(car) <= DRAWS_W || Math.min(Math.abs(before), Math.abs(now)) > DRAWS_W / 4) continue;
    // Only where the meter changes by about what the car does: a roof or a house that changes in the same row says nothing.
    if (Math.abs(grid - car) < FOLLOWS * Math.abs(car)) along++;
    else if (Math.abs(grid + car) < FOLLOWS * Math.abs(car)) against++;
  }
  return against >= along + LEAST_SHOWING && against >= SHOWING_SHARE * (along + against) ? 'export' : 'import';
}

function noteImbalance(gridW: Float64Array, carW: Float64Array, pvW: Float64Array, houseW: Float64Array, note: Note): void {
  const off = Float64Array.from(gridW, (grid, k) => Math.abs((houseW[k] ?? 0) + (carW[k] ?? 0) - (pvW[k] ?? 0) - grid))
    .filter(Number.isFinite)
    .sort();
  const middle = off[Math.floor(off.length / 2)] ?? 0;
  const high = off[Math.floor(off.length * 0.9)] ?? 0;
  if (middle < 60 && high < 400) return;
  note(
    'log-unbalanced',
    'pv_w, house_w, grid_w, car_w',
    `They do not add up: half the rows are off by ${Math.round(middle)} W or more.`,
    'pv_w and house_w are used; a home battery, or house_w with the car in it, would explain it',
  );
}

function surplusOf(
  pvW: Float64Array | null,
  houseW: Float64Array | null,
  gridW: Float64Array | null,
  carW: Float64Array,
): Float64Array | null {
  if (pvW !== null && houseW !== null) return pvW.map((w, k) => w - (houseW[k] ?? Number.NaN));
  return gridW === null ? null : gridW.map((w, k) => (carW[k] ?? Number.NaN) - w);
}

/** Whether the car draws in a row. */
export const draws = ({ currentA, carW }: RunLog, k: number): boolean =>
  currentA === null ? (carW[k] ?? 0) >= DRAWS_W : (currentA[k] ?? 0) >= DRAWS_A;
