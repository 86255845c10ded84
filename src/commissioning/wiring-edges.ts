import type { ChargerColumns, ThreeA, WiringLog } from './wiring-log.ts';

/** One switching: how the current changed at each terminal (all chargers in a row) and at the meter, A. */
export interface Edge {
  readonly row: number;
  /** Change at each terminal; where only on and off is logged, +1 or -1 in the charger's place. */
  readonly terminalA: readonly number[];
  readonly meterA: readonly [number, number, number];
}

/** The switchings of a log, and how the meter changes by itself while no charger does. */
export interface Evidence {
  readonly edges: readonly Edge[];
  /** Changes at the meter over the same time with all chargers steady, A, near the switchings: what a household does. */
  readonly householdA: readonly [Float64Array, Float64Array, Float64Array];
  /** Rows by which the chargers' columns lag behind the meter's; taken off. */
  readonly lagRows: number;
}

/** Below this a terminal carries nothing, above the other it charges, A: six amperes less errors of measurement. */
const OFF_A = 1.5;
const ON_A = 4.5;
/** Two means are compared, each over so many seconds, or over one row. */
const MEAN_S = 30;
/** A charger is steady where no terminal changes by more, A. */
const STEADY_A = 0.5;
/** How far from a switching the household is watched, s. */
const NEAR_S = 2700;
/** Clocks of two loggers may be apart by so many rows. */
const MOST_LAG_ROWS = 3;

/** Rows that a mean takes in. */
export const meanRows = (intervalS: number): number => Math.max(1, Math.round(MEAN_S / intervalS));

/** Finds the switchings and the household's own changes beside them. */
export function evidenceIn(log: WiringLog): Evidence {
  const lagRows = lagOf(log);
  const terminals = log.chargers.flatMap((charger) => columnsOf(charger)).map((column) => shifted(column, lagRows));
  const isOn = log.chargers.flatMap((charger) => columnsOf(charger).map(() => charger.kind === 'on'));
  const rows = meanRows(log.table.intervalS);
  const edges = edgesIn(log, terminals, isOn, rows);
  return { edges, householdA: householdIn(log, terminals, isOn, rows, edges), lagRows };
}

const columnsOf = (charger: ChargerColumns): readonly Float64Array[] =>
  charger.kind === 'on' ? [charger.on] : charger.terminalsA;

/** Change of a column's mean from the rows before a row to those from it on; NaN where a gap or an empty cell is in the way. */
function changeAt(column: Float64Array, row: number, rows: number): number {
  let change = 0;
  for (let i = 1; i <= rows; i++) change += (column[row + i - 1] ?? Number.NaN) - (column[row - i] ?? Number.NaN);
  return change / rows;
}

function hasGap(gapBefore: Uint8Array, row: number, rows: number): boolean {
  for (let i = row - rows + 1; i < row + rows; i++) if (gapBefore[i] === 1) return true;
  return false;
}

/** Whether a terminal begins or ceases to carry current at a row. */
function switches(column: Float64Array, on: boolean, row: number): boolean {
  const before = column[row - 1] ?? Number.NaN;
  const after = column[row + 1] ?? column[row] ?? Number.NaN;
  const here = column[row] ?? Number.NaN;
  const off = on ? 0.25 : OFF_A;
  const full = on ? 0.75 : ON_A;
  return (before < off && here >= off && after >= full) || (before >= full && here < full && after < off);
}

function edgesIn(log: WiringLog, terminals: readonly Float64Array[], isOn: readonly boolean[], rows: number): Edge[] {
  const { gapBefore } = log.table;
  const edges: Edge[] = [];
  for (let row = rows; row <= log.table.rows - rows; row++) {
    if (hasGap(gapBefore, row, rows) || !terminals.some((column, i) => switches(column, isOn[i] === true, row))) continue;
    const terminalA = terminals.map((column) => changeAt(column, row, rows));
    const meterA = log.meterA.map((column) => changeAt(column, row, rows)) as [number, number, number];
    if ([...terminalA, ...meterA].some(Number.isNaN)) continue;
    const last = edges[edges.length - 1];
    // One switching that spreads over two rows is told once, where it shows most.
    if (last === undefined || row - last.row >= rows) edges.push({ row, terminalA, meterA });
    else if (sizeOf(terminalA) > sizeOf(last.terminalA)) edges[edges.length - 1] = { row, terminalA, meterA };
  }
  return edges;
}

const sizeOf = (changes: readonly number[]): number => changes.reduce((sum, a) => sum + Math.abs(a), 0);

function householdIn(
  log: WiringLog,
  terminals: readonly Float64Array[],
  isOn: readonly boolean[],
  rows: number,
  edges: readonly Edge[],
): [Float64Array, Float64Array, Float64Array] {
  const near = Math.round(NEAR_S / log.table.intervalS);
  const found: [number[], number[], number[]] = [[], [], []];
  let next = 0;
  for (let row = rows; row <= log.table.rows - rows; row += rows) {
    while (next < edges.length && (edges[next]?.row ?? 0) < row - near) next++;
    const isNear = next < edges.length && (edges[next]?.row ?? 0) <= row + near;
    if (!isNear || hasGap(log.table.gapBefore, row, rows)) continue;
    if (!terminals.every((column, i) => isSteady(column, isOn[i] === true, row, rows))) continue;
    const changes = log.meterA.map((column) => changeAt(column, row, rows));
    if (changes.some(Number.isNaN)) continue;
    changes.forEach((a, phase) => {
      found[phase]?.push(a);
    });
  }
  return [Float64Array.from(found[0]), Float64Array.from(found[1]), Float64Array.from(found[2])];
}

function isSteady(column: Float64Array, on: boolean, row: number, rows: number): boolean {
  let least = Infinity;
  let most = -Infinity;
  for (let i = row - rows; i < row + rows; i++) {
    least = Math.min(least, column[i] ?? Number.NaN);
    most = Math.max(most, column[i] ?? Number.NaN);
  }
  return most - least <= (on ? 0 : STEADY_A);
}

/** The lag at which the meter changes most, whatever the order of conductors; none unless another is clearly better. */
function lagOf(log: WiringLog): number {
  const isOn = log.chargers.flatMap((charger) => columnsOf(charger).map(() => charger.kind === 'on'));
  const columns = log.chargers.flatMap((charger) => columnsOf(charger));
  // A single row on each side is sharpest.
  const shown = (lagRows: number): number => {
    const terminals = columns.map((column) => shifted(column, lagRows));
    const edges = edgesIn(log, terminals, isOn, 1);
    const sizes = edges.map(({ meterA }) => Math.min(12, sizeOf(meterA))).sort((a, b) => a - b);
    return sizes.reduce((sum, a) => sum + a, 0) / Math.max(1, sizes.length);
  };
  const none = shown(0);
  let best = 0;
  let most = none * 1.5 + 1;
  for (let lagRows = -MOST_LAG_ROWS; lagRows <= MOST_LAG_ROWS; lagRows++) {
    const shows = shown(lagRows);
    if (lagRows !== 0 && shows > most) [best, most] = [lagRows, shows];
  }
  return best;
}

/** A column as many rows earlier. */
function shifted(column: Float64Array, rows: number): Float64Array {
  return rows === 0 ? column : column.map((_, i) => column[i + rows] ?? Number.NaN);
}

/** Terminals of all chargers in a row: which charger and which terminal each is. */
export function terminalsOf(log: WiringLog): { readonly charger: number; readonly terminal: number }[] {
  return log.chargers.flatMap((charger, i) => columnsOf(charger).map((_, terminal) => ({ charger: i, terminal: terminal + 1 })));
}

/** The meter's columns have no negative value: then amounts may be logged, and no sign can be told. */
export const withoutSign = (meterA: ThreeA): readonly boolean[] => meterA.map((column) => column.every((a) => !(a < -0.3)));
