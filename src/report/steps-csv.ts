import { isoLocal, stepStartMs } from '../base/index.ts';
import { stateName } from '../charging/index.ts';
import { carCurrentA, carGridW, lineCurrentA, type PointColumns, type Run } from '../simulate/index.ts';
import { CSV_LINE_END } from './csv.ts';
import { POWER_DECIMALS, SOC_DECIMALS, shortNumber } from './numbers.ts';

/** Rows in one piece of text. */
const ROWS_PER_CHUNK = 2000;

/** A column of the file: its name and the text of a step. */
interface Column {
  readonly name: string;
  readonly cell: (step: number) => string;
}

/**
 * steps.csv, piece by piece: one row per step, so a year of minutes never stands in memory at once.
 *
 * Times are local with their offset and mark the start of the step; a step's values are means over it, states of charge hold at
 * its end. Watts and amperes are rounded to 1e-7, so that the energy balance can be checked to 1e-6 W; states of charge to 1e-9.
 */
export function* stepsCsv(run: Run): Generator<string, void, undefined> {
  const columns = columnsOf(run);
  yield columns.map((column) => column.name).join(',') + CSV_LINE_END;
  const cells = columns.map((column) => column.cell);
  for (let from = 0; from < run.grid.steps; from += ROWS_PER_CHUNK) {
    yield rowsOf(cells, from, Math.min(from + ROWS_PER_CHUNK, run.grid.steps));
  }
}

function rowsOf(cells: readonly ((step: number) => string)[], from: number, to: number): string {
  let text = '';
  for (let step = from; step < to; step++) {
    let separator = '';
    for (const cell of cells) {
      text += separator + cell(step);
      separator = ',';
    }
    text += CSV_LINE_END;
  }
  return text;
}

function columnsOf(run: Run): Column[] {
  const { columns, grid, plan, profiles } = run;
  return [
    { name: 'time', cell: (step) => isoLocal(grid.zone, stepStartMs(grid, step)) },
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
    { name: `${car}_state`, cell: (step) => stateName(point.state[step] ?? 0) },
    { name: `${car}_phases`, cell: (step) => String(point.phases[step]) },
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

/** Values often stay as they are for hours (a dark roof, a full car), so the last text is kept. */
function numbers(name: string, valueAt: ValueAt, decimals: number): Column {
  let last = Number.NaN;
  let text = '';
  const cell = (step: number): string => {
    const value = valueAt(step);
    if (value === last) return text;
    last = value;
    text = shortNumber(value, decimals);
    return text;
  };
  return { name, cell };
}
