import { WH_PER_KWH } from '../base/index.ts';
import { type Catalogue, EN } from '../explain/index.ts';
import type { PointTally, Run } from '../simulate/index.ts';
import { isoMonth } from './dates.ts';
import { allPoints } from './sums.ts';

/** A column of the table: heading, and what it takes from the sums of all charge points. */
interface Column {
  readonly heading: string;
  readonly width: number;
  readonly cell: (sums: PointTally) => string;
}

/** All columns that there can be. Hours always stand beside kWh and km: alone they flatter slow charging. */
function columnsOf({ table, form }: Catalogue): Record<'pv' | 'grid' | 'battery' | 'km' | 'hours' | 'starts' | 'stalls', Column> {
  const kWh = (energyWh: number): string => form.fixed(energyWh / WH_PER_KWH, 1);
  const whole = (value: number): string => form.fixed(value, 0);
  return {
    pv: { heading: table.pv, width: 8, cell: (sums) => kWh(sums.carPvWh) },
    grid: { heading: table.grid, width: 10, cell: (sums) => kWh(sums.carGridWh) },
    battery: { heading: table.battery, width: 11, cell: (sums) => kWh(sums.carBatteryWh) },
    km: { heading: table.km, width: 8, cell: (sums) => whole(sums.pvKm) },
    hours: { heading: table.hours, width: 9, cell: (sums) => form.fixed(sums.solarChargingH, 1) },
    starts: { heading: table.starts, width: 8, cell: (sums) => whole(sums.starts) },
    stalls: { heading: table.stalls, width: 8, cell: (sums) => whole(sums.stalls) },
  };
}

const MONTH_WIDTH = 7;
const GAP = '  |';

/**
 * The months of a run for a terminal, at most 100 columns wide: into the car from PV and grid in kWh, km that the PV energy
 * gives, solar charging hours, starts and stalls, beside the same days charged at once. Several charge points are added up.
 */
export function monthTable(run: Run, atOnce: Run, words: Catalogue = EN): string {
  const { pv, grid, battery, km, hours, starts, stalls } = columnsOf(words);
  const hasBattery = [run, atOnce].some((one) => allPoints(one.ledger.total).carBatteryWh > 0);
  const own = [pv, grid, ...(hasBattery ? [battery] : []), km, hours, starts, stalls];
  const other = [pv, grid, km, hours];
  const rows = run.ledger.months.map((dated, i) => {
    const beside = atOnce.ledger.months[i];
    return line(isoMonth(dated), own, allPoints(dated.tally), other, beside && allPoints(beside.tally));
  });
  const sum = line(words.table.sum, own, allPoints(run.ledger.total), other, allPoints(atOnce.ledger.total));
  const head = headings(words.table.month, own, other);
  const rule = '-'.repeat(head.length);
  return [groups(words, own, other), head, rule, ...rows, rule, sum, ''].join('\n');
}

function line(label: string, own: readonly Column[], sums: PointTally, other: readonly Column[], beside?: PointTally): string {
  const left = own.map((column) => column.cell(sums).padStart(column.width)).join('');
  const right = other.map((column) => (beside ? column.cell(beside) : '').padStart(column.width)).join('');
  return `${label.padEnd(MONTH_WIDTH)}${left}${GAP}${right}`.trimEnd();
}

function headings(label: string, own: readonly Column[], other: readonly Column[]): string {
  const text = (columns: readonly Column[]): string => columns.map((column) => column.heading.padStart(column.width)).join('');
  return `${label.padEnd(MONTH_WIDTH)}${text(own)}${GAP}${text(other)}`;
}

function groups({ table }: Catalogue, own: readonly Column[], other: readonly Column[]): string {
  const width = (columns: readonly Column[]): number => columns.reduce((sum, column) => sum + column.width, 0);
  const left = table.own.padStart(width(own));
  const right = table.beside.padStart(width(other));
  return `${''.padEnd(MONTH_WIDTH)}${left}${GAP}${right}`;
}
