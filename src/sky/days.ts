import { chance } from '../base/index.ts';
import { dailyClearSkyIndex, steepnessForMean } from './daily-clearness.ts';
import { luckOfMonth } from './luck.ts';

/** How much of yesterday's weather is still there: lag-one correlation of the normal process behind daily clearness. */
const DAY_PERSISTENCE = 0.29;
/** Spells of weather outlast that process: months differ by so much more than it alone gives. */
const SPELLS = 1.2;

/** A month whose days are wanted. */
export interface MonthWanted {
  readonly year: number;
  /** 0 is January. */
  readonly month: number;
  /** What each day would bring under a clear sky, in any unit. */
  readonly clear: Float64Array;
  /** The month's irradiation over a clear month's, in an average year. */
  readonly meanIndex: number;
  readonly seed: number;
}

/**
 * A month of days: each one's irradiation over a clear day's.
 *
 * The month as a whole is as lucky as `luckOfMonth` says; its days follow the exponential family of Bendt and others around that mean, each
 * after the one before (Graham and others), and are moved together until the month's sum is met.
 *
 * @see bendt1981
 * @see graham1988
 */
export function daysOfMonth({ year, month, clear, meanIndex, seed }: MonthWanted): Float64Array {
  const days = clear.length;
  const usual = steepnessForMean(meanIndex);
  const spread = spreadOf(usual) * SPELLS * Math.sqrt((1 + DAY_PERSISTENCE) / (1 - DAY_PERSISTENCE) / days);
  const index = Math.min(LUCKIEST, Math.max(UNLUCKIEST, meanIndex + spread * luckOfMonth(seed, year, month)));
  const steepness = steepnessForMean(index);
  const draw = chance(seed, `days ${year}-${month}`);
  const normals = new Float64Array(days);
  let normal = draw.normal();
  for (let d = 0; d < days; d++) {
    normals[d] = normal;
    normal = DAY_PERSISTENCE * normal + Math.sqrt(1 - DAY_PERSISTENCE ** 2) * draw.normal();
  }
  const whole = clear.reduce((a, b) => a + b, 0);
  let [low, high] = [-4, 4];
  for (let round = 0; round < 30; round++) {
    const shift = (low + high) / 2;
    const sum = clear.reduce((a, c, d) => a + c * dailyClearSkyIndex(steepness, (normals[d] ?? 0) + shift), 0);
    if (sum < index * whole) low = shift;
    else high = shift;
  }
  return normals.map((one) => dailyClearSkyIndex(steepness, one + (low + high) / 2));
}

/** A month is never outside these, be it as lucky as it may. */
const UNLUCKIEST = 0.12;
const LUCKIEST = 1.02;

/** Spread of single days of the family, from its quantiles. */
function spreadOf(steepness: number): number {
  const normals = Array.from({ length: 41 }, (_, i) => (i - 20) / 8);
  const weights = normals.map((x) => Math.exp((-x * x) / 2));
  const all = weights.reduce((a, b) => a + b, 0);
  const values = normals.map((x) => dailyClearSkyIndex(steepness, x));
  const mean = values.reduce((a, v, i) => a + (v * (weights[i] ?? 0)) / all, 0);
  return Math.sqrt(values.reduce((a, v, i) => a + ((v - mean) ** 2 * (weights[i] ?? 0)) / all, 0));
}
