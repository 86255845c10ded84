import { type Checked, type Issue, isoLocal, MS_PER_S, passed, type TimeGrid, WH_PER_KWH } from '../base/index.ts';
import { belowZeroWh, houseFromMeterW, likeliestMisread, type MeterReadings, type Misread } from '../house/index.ts';
import type { MeterSeries } from './measured.ts';
import type { MeasuredSeries } from './series.ts';

/** Below this part of the house's energy what lies below 0 is noise: no cause is looked for. */
const NOISE_SHARE = 0.005;
/** So many of the worst days are named. */
const WORST_DAYS = 3;

/**
 * The house as what balances the meter beside measured PV, at the coarser of the two intervals. Where it would fall below 0 it is
 * taken as 0 and reported: how often, how much, on which days, and which single mistake in the readings would explain it best.
 */
export function houseFromMeter(meter: MeterSeries, pv: MeasuredSeries<'pvW'>, grid: TimeGrid): Checked<MeasuredSeries<'loadW'>> {
  const coarse = meter.intervalS >= pv.intervalS ? meter : pv;
  const { intervalS, atMs } = coarse;
  const over = (series: Held, values: Float64Array): Float64Array =>
    series === coarse ? values : meansOver(series, values, coarse);
  const { importW, carW, batteryW } = meter.columns;
  const counted = exportCounted(meter);
  const exportW = counted.valuesW;
  const readings: MeterReadings = {
    intervalS,
    pvW: over(pv, pv.columns.pvW),
    importW: over(meter, importW),
    exportW: over(meter, exportW),
    carW: over(meter, carW),
    batteryW: over(meter, batteryW),
  };
  const balanceW = houseFromMeterW(readings);
  const loadW = balanceW.map((w) => Math.max(0, w));
  const series = { file: meter.file, intervalS, atMs, columns: { loadW } };
  const fallsShort = balanceW.some((w) => w < 0) ? [belowZero(readings, balanceW, atMs, grid)] : [];
  return passed(series, [...counted.warnings, ...fallsShort]);
}

/** The export, above 0 while it flows: a file that counts it below 0 throughout is read with the other sign, and says so. */
function exportCounted({ columns: { exportW } }: MeterSeries): { valuesW: Float64Array; warnings: readonly Issue[] } {
  if (exportW.some((w) => w > 0) || exportW.every((w) => w === 0)) return { valuesW: exportW, warnings: [] };
  const warning: Issue = {
    code: 'export-below-zero',
    path: ['household', 'file'],
    found: '',
    problem: 'export_w is never above 0 and below 0 at times: it is counted with the other sign.',
    allowed: 'the same values above 0',
    fix: 'write export_w above 0 to silence this.',
  };
  return { valuesW: exportW.map((w) => -w), warnings: [warning] };
}

interface Held {
  readonly atMs: Float64Array;
  readonly intervalS: number;
}

/** Means of finer values over coarser intervals; where an interval reaches beyond them, over the part that they cover. */
function meansOver(fine: Held, values: Float64Array, coarse: Held): Float64Array {
  const fineMs = fine.intervalS * MS_PER_S;
  const firstMs = fine.atMs[0] ?? 0;
  return coarse.atMs.map((fromMs) => {
    const toMs = fromMs + coarse.intervalS * MS_PER_S;
    let sum = 0;
    let coveredMs = 0;
    for (let i = Math.max(0, Math.floor((fromMs - firstMs) / fineMs)); i < values.length; i++) {
      const overlapMs = Math.min(toMs, firstMs + (i + 1) * fineMs) - Math.max(fromMs, firstMs + i * fineMs);
      if (overlapMs <= 0) break;
      sum += (values[i] ?? 0) * overlapMs;
      coveredMs += overlapMs;
    }
    return coveredMs > 0 ? sum / coveredMs : 0;
  });
}

function belowZero(readings: MeterReadings, balanceW: Float64Array, atMs: Float64Array, grid: TimeGrid): Issue {
  const { intervalS } = readings;
  const lackWh = belowZeroWh(balanceW, intervalS);
  const houseWh = belowZeroWh(
    balanceW.map((w) => -w),
    intervalS,
  );
  const count = balanceW.reduce((n, w) => (w < 0 ? n + 1 : n), 0);
  const lowest = balanceW.reduce((at, w, i) => (w < (balanceW[at] ?? 0) ? i : at), 0);
  const misread = lackWh > NOISE_SHARE * houseWh ? likeliestMisread(readings) : null;
  const size = `${count} of ${balanceW.length} intervals, ${kWh(lackWh)} in all, lowest ${Math.round(balanceW[lowest] ?? 0)} W at ${isoLocal(grid.zone, atMs[lowest] ?? 0)}`;
  const cause = misread === null ? '' : ` Fits best: ${causeText(misread)}.`;
  return {
    code: 'house-below-zero',
    path: ['household', 'file'],
    found: '',
    problem: `PV + import − export − car − battery is below 0 in ${size}; most on ${worstDays(balanceW, atMs, intervalS, grid)}.${cause}`,
    allowed: '0 W for the house in those intervals',
    fix: misread === null ? 'compare the clocks and the signs of meter and PV on those days.' : fixText(misread),
  };
}

function causeText({ cause, leftShare }: Misread): string {
  const left = `${Math.round(100 * leftShare)} % of it would be left`;
  switch (cause.kind) {
    case 'pv-clock':
      return `the clock of PV is ${Math.abs(cause.shiftS) / 60} min ${cause.shiftS > 0 ? 'early' : 'late'} against the meter's (${left})`;
    case 'import-export-swapped':
      return `import and export are swapped (${left})`;
    case 'battery-sign':
      return `battery_w has the wrong sign; it counts up while the battery charges (${left})`;
    case 'car-on-another-meter':
      return `the car of car_w hangs on another meter (${left})`;
  }
}

function fixText({ cause }: Misread): string {
  switch (cause.kind) {
    case 'pv-clock':
      return `write \`shiftMin: ${cause.shiftS / 60}\` in pv if its clock is off, or \`shiftMin: ${-cause.shiftS / 60}\` in household if the meter's is.`;
    case 'import-export-swapped':
      return 'swap the names import_w and export_w in the first line of the file.';
    case 'battery-sign':
      return 'turn the sign of battery_w.';
    case 'car-on-another-meter':
      return 'leave car_w out of the file.';
  }
}

/** The local days on which most is missing, the worst first. */
function worstDays(balanceW: Float64Array, atMs: Float64Array, intervalS: number, grid: TimeGrid): string {
  const lackWh = new Map<string, number>();
  balanceW.forEach((w, i) => {
    if (w >= 0) return;
    const day = isoLocal(grid.zone, atMs[i] ?? 0).slice(0, 10);
    lackWh.set(day, (lackWh.get(day) ?? 0) - (w * intervalS) / 3600);
  });
  const worst = [...lackWh].sort((a, b) => b[1] - a[1]).slice(0, WORST_DAYS);
  return worst.map(([day, wh]) => `${day} (${kWh(wh)})`).join(', ');
}

const kWh = (wh: number): string => `${Number((wh / WH_PER_KWH).toPrecision(3))} kWh`;
