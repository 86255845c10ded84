import { isoWithOffset, MS_PER_H, MS_PER_S, offsetSAt, S_PER_MIN, stepStartMs, type TimeGrid } from '../base/index.ts';
import { stateName } from '../charging/index.ts';
import { carCurrentA, carGridW, lineCurrentA, type PointColumns, type Run } from '../simulate/index.ts';
import { AsciiText } from './ascii-text.ts';
import { CSV_LINE_END } from './csv.ts';
import { POWER_DECIMALS, SOC_DECIMALS } from './numbers.ts';

/** Bytes after which a piece is handed on, and the most that a cell can hold. */
const PIECE_BYTES = 256 * 1024;
const CELL_BYTES = 40;

/** A column of the file: its name, and what writes the cell of a step. */
interface Column {
  readonly name: string;
  readonly write: (step: number, out: AsciiText) => void;
}

/**
 * steps.csv, piece by piece as bytes: one row per step, so a year of minutes never stands in memory at once.
 *
 * Times are local with their offset and mark the start of the step; a step's values are means over it, states of charge hold at
 * its end. Watts and amperes are rounded to 1e-7, so that the energy balance can be checked to 1e-6 W; states of charge to 1e-9.
 */
export function* stepsCsv(run: Run): Generator<Uint8Array<ArrayBuffer>, void, undefined> {
  const columns = columnsOf(run);
  const out = new AsciiText(PIECE_BYTES + columns.length * CELL_BYTES);
  out.text(columns.map((column) => column.name).join(',') + CSV_LINE_END);
  for (let step = 0; step < run.grid.steps; step++) {
    columns.forEach(({ write }, i) => {
      if (i > 0) out.text(',');
      write(step, out);
    });
    out.text(CSV_LINE_END);
    if (out.length >= PIECE_BYTES) yield out.take();
  }
  yield out.take();
}

function columnsOf(run: Run): Column[] {
  const { columns, grid, plan, profiles } = run;
  return [
    { name: 'time', write: timeOf(grid) },
    power('pv_w', inArray(columns.pvW)),
    power('load_w', inArray(columns.loadW)),
    power('surplus_w', inArray(columns.surplusW)),
    power('battery_w', inArray(columns.batteryW)),
    share('battery_soc', inArray(columns.batterySoc)),
    power('import_w', inArray(columns.gridImportW)),
    power('export_w', inArray(columns.gridExportW)),
    power('curtailed_w', inArray(columns.curtailedW)),
    ...([1, 2, 3] as const).map((phase) => power(`l${phase}_a`, inArray(lineCurrentA(plan, profiles, columns, phase)))),
    ...columns.points.flatMap((point, i) => columnsOfPoint(run, point, `car${i + 1}`)),
  ];
}

function columnsOfPoint({ plan }: Run, point: PointColumns, car: string): Column[] {
  return [
    { name: `${car}_state`, write: (step, out) => out.text(stateName(point.state[step] ?? 0)) },
    { name: `${car}_phases`, write: (step, out) => out.number(point.phases[step] ?? Number.NaN, 0) },
    power(`${car}_a`, (step) => carCurrentA(plan, point, step)),
    power(`${car}_w`, inArray(point.powerW)),
    power(`${car}_pv_w`, inArray(point.pvW)),
    power(`${car}_battery_w`, inArray(point.batteryW)),
    power(`${car}_grid_w`, (step) => carGridW(point, step)),
    share(`${car}_soc`, inArray(point.soc)),
  ];
}

/** A value of each step. */
type ValueAt = (step: number) => number;

/** Steps beyond an array are refused when the number is written. */
const inArray =
  (values: Float64Array): ValueAt =>
  (step) =>
    values[step] ?? Number.NaN;
/** Watts or amperes. */
const power = (name: string, valueAt: ValueAt): Column => numbers(name, valueAt, POWER_DECIMALS);
/** A state of charge. */
const share = (name: string, valueAt: ValueAt): Column => numbers(name, valueAt, SOC_DECIMALS);

const numbers = (name: string, valueAt: ValueAt, decimals: number): Column => ({
  name,
  write: (step, out) => out.number(valueAt(step), decimals),
});

/** Local time with its offset, as `isoLocal` writes it: date and offset are made anew with every hour on the wall. */
function timeOf(grid: TimeGrid): Column['write'] {
  let hour = Number.NaN;
  let offsetS = Number.NaN;
  let [before, after] = ['', ''];
  return (step, out) => {
    const atMs = stepStartMs(grid, step);
    const nowOffsetS = offsetSAt(grid.zone, atMs);
    const wallMs = atMs + nowOffsetS * MS_PER_S;
    const nowHour = Math.floor(wallMs / MS_PER_H);
    if (nowHour !== hour || nowOffsetS !== offsetS) {
      const text = isoWithOffset(atMs, nowOffsetS);
      [before, after] = [text.slice(0, MINUTES_AT), text.slice(MINUTES_AT + 'mm:ss'.length)];
      [hour, offsetS] = [nowHour, nowOffsetS];
    }
    const second = Math.floor((wallMs - nowHour * MS_PER_H) / MS_PER_S);
    out.text(before);
    out.digits(Math.floor(second / S_PER_MIN), 2);
    out.text(':');
    out.digits(second % S_PER_MIN, 2);
    out.text(after);
  };
}
/** Where the minutes stand in `yyyy-mm-ddThh:mm:ss`. */
const MINUTES_AT = 14;
