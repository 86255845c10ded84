/** Meter readings and measured PV over the same even intervals, means in W. */
export interface MeterReadings {
  readonly intervalS: number;
  readonly pvW: Float64Array;
  readonly importW: Float64Array;
  readonly exportW: Float64Array;
  /** Zeros where the house has no car or battery. */
  readonly carW: Float64Array;
  /** Charging counts up. */
  readonly batteryW: Float64Array;
}

/** What may be wrong with readings whose balance falls below 0. */
export type MisreadCause =
  /** The times of PV should be moved by so much, s (later is positive). */
  | { readonly kind: 'pv-clock'; readonly shiftS: number }
  | { readonly kind: 'import-export-swapped' }
  | { readonly kind: 'battery-sign' }
  | { readonly kind: 'car-on-another-meter' };

/** A cause, and the part of the energy below 0 that is left if it is mended, 0 … 1. */
export interface Misread {
  readonly cause: MisreadCause;
  readonly leftShare: number;
}

/** Clocks are tried so far either way. */
const MOST_SHIFT_S = 3 * 3600;
/** A cause must explain at least half; among those within so much of the best, the calmest house wins. */
const LEAST_REMOVED = 0.5;
const NEARLY_AS_GOOD = 0.05;

/**
 * The house as what balances the meter: `pv + import − export − car − battery`, W. Below 0 where the readings do not fit together.
 *
 * @example houseFromMeterW({ pvW: Float64Array.of(3000), importW: [0], exportW: [1500], carW: [0], batteryW: [1000] })[0] // 500
 */
export function houseFromMeterW({ pvW, importW, exportW, carW, batteryW }: MeterReadings): Float64Array {
  return pvW.map((pv, i) => pv + (importW[i] ?? 0) - (exportW[i] ?? 0) - (carW[i] ?? 0) - (batteryW[i] ?? 0));
}

/** Energy by which a house falls below 0, Wh, 0 or more. */
export function belowZeroWh(houseW: Float64Array, intervalS: number): number {
  let sum = 0;
  for (const w of houseW) if (w < 0) sum -= w;
  return (sum * intervalS) / 3600;
}

/**
 * The one mistake in the readings that explains best why the house falls below 0: each is mended in turn, and the energy that
 * stays below 0 is compared. Where several remove as much, the one that leaves the calmest house is named, since a wrong sign puts
 * the swings of PV or battery into it.
 *
 * Good for one mistake at a time over the whole series. Not for two at once, nor for a clock that drifts, nor for an export counted
 * below 0, which lets the house grow, not vanish.
 *
 * @returns null where nothing is below 0, or no single mistake explains half of it
 */
export function likeliestMisread(readings: MeterReadings): Misread | null {
  const beforeWh = belowZeroWh(houseFromMeterW(readings), readings.intervalS);
  if (beforeWh === 0) return null;
  const trials = causesFor(readings).map((cause) => {
    const houseW = houseFromMeterW(mended(readings, cause));
    return { cause, leftShare: belowZeroWh(houseW, readings.intervalS) / beforeWh, swing: variance(houseW) };
  });
  const least = Math.min(...trials.map(({ leftShare }) => leftShare));
  if (least > 1 - LEAST_REMOVED) return null;
  const good = trials.filter(({ leftShare }) => leftShare <= least + NEARLY_AS_GOOD);
  const best = good.reduce((a, b) => (b.swing < a.swing ? b : a));
  return { cause: best.cause, leftShare: best.leftShare };
}

function causesFor({ intervalS, carW, batteryW }: MeterReadings): MisreadCause[] {
  const causes: MisreadCause[] = [{ kind: 'import-export-swapped' }];
  if (batteryW.some((w) => w !== 0)) causes.push({ kind: 'battery-sign' });
  if (carW.some((w) => w !== 0)) causes.push({ kind: 'car-on-another-meter' });
  // Clocks are off by whole quarter-hours more often than not; finer readings are tried minute by minute only near zero.
  const coarseS = Math.max(intervalS, 900);
  for (let shiftS = coarseS; shiftS <= MOST_SHIFT_S; shiftS += coarseS) causes.push(shift(shiftS), shift(-shiftS));
  for (let shiftS = intervalS; shiftS < coarseS; shiftS += intervalS) causes.push(shift(shiftS), shift(-shiftS));
  return causes;
}

const shift = (shiftS: number): MisreadCause => ({ kind: 'pv-clock', shiftS });

/** The readings as they would be without the mistake. */
function mended(readings: MeterReadings, cause: MisreadCause): MeterReadings {
  const { pvW, importW, exportW, batteryW, carW, intervalS } = readings;
  switch (cause.kind) {
    case 'pv-clock':
      return { ...readings, pvW: moved(pvW, Math.round(cause.shiftS / intervalS)) };
    case 'import-export-swapped':
      return { ...readings, importW: exportW, exportW: importW };
    case 'battery-sign':
      return { ...readings, batteryW: batteryW.map((w) => -w) };
    case 'car-on-another-meter':
      return { ...readings, carW: new Float64Array(carW.length) };
  }
}

/** Values moved by so many places; the ends are held. */
const moved = (values: Float64Array, by: number): Float64Array =>
  values.map((_, i) => values[Math.min(values.length - 1, Math.max(0, i - by))] ?? 0);

function variance(values: Float64Array): number {
  let sum = 0;
  let squares = 0;
  for (const value of values) {
    sum += value;
    squares += value * value;
  }
  return squares / values.length - (sum / values.length) ** 2;
}
