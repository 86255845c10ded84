import { clearDaysKWhPerM2, daysIn, type MonthOfSun, middleOfMonth, monthOfSun } from './clear-days.ts';
import { type ClearSkyPlace, clearSkyOf } from './clear-sky.ts';
import { CLEAR_DAY_TURBIDITY } from './defaults.ts';
import type { Site } from './place.ts';

/** The climate of a place, January to December, and which of its years is meant. */
export interface Climate {
  /** Global irradiation on the level, kWh/m² a month, in an average year. */
  readonly monthlyGhiKWhM2: readonly number[];
  readonly monthlyTempC: readonly number[];
  readonly seed: number;
  readonly linkeTurbidity?: number;
}

/** A month that brings more than the clearest sky does. */
export interface TooSunny {
  /** 0 is January. */
  readonly month: number;
  /** What the clearest sky would bring, kWh/m². */
  readonly mostKWhPerM2: number;
}

/** The sunniest months of Europe bring about this share of a clear month. */
const SUNNIEST_SHARE = 0.95;
/** The clearest air that is tried, and the share of its clear month that no climate can exceed. */
const LEAST_TURBIDITY = 2;
const TURBIDITY_STEP = 0.25;
const POSSIBLE_SHARE = 1.03;
/** Of a month whose days were all as bright as a clear one in its middle. */
const SURELY_POSSIBLE_SHARE = 0.95;
/** A climate has no year; any will do. */
const ANY_YEAR = 2025;

/** The months of a place, clear throughout; made once for all that is asked of them. */
export class ClearYear {
  private readonly months: readonly MonthOfSun[];
  private readonly elevationM: number;

  constructor(site: Site) {
    this.elevationM = site.elevationM;
    this.months = Array.from({ length: 12 }, (_, month) => monthOfSun(ANY_YEAR, month, site));
  }

  /** What each day of a month would bring, kWh/m²; 29 February is like the 28th. */
  daysKWhPerM2(month: number, days: number, place: ClearSkyPlace): Float64Array {
    const sun = this.months[month];
    const sums = sun === undefined ? new Float64Array(days) : clearDaysKWhPerM2(sun, place, this.elevationM);
    return Float64Array.from({ length: days }, (_, d) => sums[Math.min(d, sums.length - 1)] ?? 0);
  }

  sumsKWhPerM2(place: ClearSkyPlace): number[] {
    return this.months.map((sun) => clearDaysKWhPerM2(sun, place, this.elevationM).reduce((a, b) => a + b, 0));
  }
}

/** The part of a clear month that a sum is; a month of polar night has nothing to compare. */
const shareOf = (sum: number, clear: number): number => (clear > 1 ? sum / clear : 0);

/**
 * Linke turbidity of a climate: as given or usual, unless a month is sunnier than that allows; then the air is taken as clearer, as it
 * is in the south and high up.
 *
 * @returns  2 … as given
 * @throws RangeError  a month beyond the clearest sky
 */
export function turbidityOfClimate(climate: Climate, year: ClearYear, elevationM: number): number {
  let turbidity = climate.linkeTurbidity ?? CLEAR_DAY_TURBIDITY;
  const sunniest = (): number =>
    Math.max(
      ...year
        .sumsKWhPerM2(clearSkyOf(elevationM, turbidity))
        .map((clear, month) => shareOf(climate.monthlyGhiKWhM2[month] ?? 0, clear)),
    );
  let share = sunniest();
  while (turbidity > LEAST_TURBIDITY && share > SUNNIEST_SHARE) {
    turbidity = Math.max(LEAST_TURBIDITY, turbidity - TURBIDITY_STEP);
    share = sunniest();
  }
  if (share > POSSIBLE_SHARE)
    throw new RangeError(`monthlyGhiKWhM2: a month has ${share.toFixed(2)} times what the clearest sky gives at this place`);
  return turbidity;
}

/**
 * The months of a climate that not even the clearest sky could bring at a place.
 *
 * @param monthlyGhiKWhM2  twelve sums, January first
 */
export function tooSunnyMonths(monthlyGhiKWhM2: readonly number[], site: Site): TooSunny[] {
  const place = clearSkyOf(site.elevationM, LEAST_TURBIDITY);
  const sumOf = (sun: MonthOfSun): number => clearDaysKWhPerM2(sun, place, site.elevationM).reduce((a, b) => a + b, 0);
  return monthlyGhiKWhM2.flatMap((sum, month) => {
    // Most months are far from it, and a look at their middle tells: it brings no more than 1.05 times the month's mean day, at any latitude.
    if (sum < SURELY_POSSIBLE_SHARE * daysIn(ANY_YEAR, month) * sumOf(middleOfMonth(ANY_YEAR, month, site))) return [];
    const clear = sumOf(monthOfSun(ANY_YEAR, month, site));
    return shareOf(sum, clear) > POSSIBLE_SHARE ? [{ month, mostKWhPerM2: POSSIBLE_SHARE * clear }] : [];
  });
}

/**
 * @throws RangeError  not twelve values, or a sum below 0
 */
export function checkClimate({ monthlyGhiKWhM2, monthlyTempC }: Climate): void {
  if (monthlyGhiKWhM2.length !== 12) throw new RangeError(`monthlyGhiKWhM2 has ${monthlyGhiKWhM2.length} values: must have 12`);
  if (monthlyTempC.length !== 12) throw new RangeError(`monthlyTempC has ${monthlyTempC.length} values: must have 12`);
  for (const sum of monthlyGhiKWhM2) if (!(sum >= 0)) throw new RangeError(`monthlyGhiKWhM2 holds ${sum}: must be 0 or more`);
}
