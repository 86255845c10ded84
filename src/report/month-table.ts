import { WH_PER_KWH } from '../base/index.ts';
import type { PointTally, Run } from '../simulate/index.ts';
import { isoMonth } from './dates.ts';
import { grouped } from './numbers.ts';
import { allPoints } from './sums.ts';

/** A column of the table: heading, and what it takes from the sums of all charge points. */
interface Column {
  readonly heading: string;
  readonly width: number;
  readonly cell: (sums: PointTally) => string;
}

// Hours always stand beside kWh and km: alone they flatter slow charging.
const ENERGY: readonly Column[] = [
  { heading: 'PV kWh', width: 8, cell: (sums) => kWh(sums.carPvWh) },
  { heading: 'grid kWh', width: 10, cell: (sums) => kWh(sums.carGridWh) },
];
const BATTERY: Column = { heading: 'batt. kWh', width: 11, cell: (sums) => kWh(sums.carBatteryWh) };
const REACH: readonly Column[] = [
  { heading: 'PV km', width: 8, cell: (sums) => grouped(sums.pvKm, 0) },
  { heading: 'solar h', width: 9, cell: (sums) => grouped(sums.solarChargingH, 1) },
];
const COUNTS: readonly Column[] = [
  { heading: 'starts', width: 8, cell: (sums) => grouped(sums.starts, 0) },
  { heading: 'stalls', width: 8, cell: (sums) => grouped(sums.stalls, 0) },
];
const MONTH_WIDTH = 7;
const GAP = '  |';

/**
 * The months of a run for a terminal, at most 100 columns wide: into the car from PV and grid in kWh, km that the PV energy
 * gives, solar charging hours, starts and stalls, beside the same days charged at once. Several charge points are added up.
 */
export function monthTable(run: Run, atOnce: Run): string {
  const hasBattery = [run, atOnce].some((one) => allPoints(one.ledger.total).carBatteryWh > 0);
  const own = [...ENERGY, ...(hasBattery ? [BATTERY] : []), ...REACH, ...COUNTS];
  const other = [...ENERGY, ...REACH];
  const rows = run.ledger.months.map((dated, i) => {
    const beside = atOnce.ledger.months[i];
    return line(isoMonth(dated), own, allPoints(dated.tally), other, beside && allPoints(beside.tally));
  });
  const sum = line('sum', own, allPoints(run.ledger.total), other, allPoints(atOnce.ledger.total));
  const head = headings('month', own, other);
  const rule = '-'.repeat(head.length);
  return [groups(own, other), head, rule, ...rows, rule, sum, ''].join('\n');
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

function groups(own: readonly Column[], other: readonly Column[]): string {
  const width = (columns: readonly Column[]): number => columns.reduce((sum, column) => sum + column.width, 0);
  const left = 'into the car'.padStart(width(own));
  const right = 'the same days charged at once'.padStart(width(other));
  return `${''.padEnd(MONTH_WIDTH)}${left}${GAP}${right}`;
}

const kWh = (energyWh: number): string => grouped(energyWh / WH_PER_KWH, 1);
