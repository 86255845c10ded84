import type { Chance } from '../base/index.ts';

/** How much of the hour before is still there within a day (0.54 ± 0.14 published; 0.54 in the months the clouds are fitted to). */
const HOUR_PERSISTENCE = 0.54;
/** An hour's irradiation over a clear hour's lies between these. */
const DARKEST_HOUR = 0.03;
const BRIGHTEST_HOUR = 1.08;
/** Spread of hours within a day, on the scale of the S-curve: little on dark days, much on mixed ones. Fitted. */
const spreadWithin = (dayIndex: number): number => Math.min(1.05, 0.3 + 1.1 * dayIndex);

/**
 * The hours of a day: each one's irradiation over a clear hour's, from the day's.
 *
 * An S-curve over a normal process of first order, moved up or down until the day's sum is met (Graham and Hollands, there for the
 * clearness index).
 *
 * @param dayIndex  irradiation of the day over a clear day's, 0.05 … 1.06
 * @param clear     what each hour would bring under a clear sky, in any unit; 0 at night
 * @see grahamHollands1990
 */
export function hoursOfDay(dayIndex: number, clear: readonly number[], draw: Chance): number[] {
  const spread = spreadWithin(dayIndex);
  let normal = draw.normal();
  const normals = clear.map(() => {
    const value = spread * normal;
    normal = HOUR_PERSISTENCE * normal + Math.sqrt(1 - HOUR_PERSISTENCE ** 2) * draw.normal();
    return value;
  });
  const indexAt = (x: number): number => DARKEST_HOUR + (BRIGHTEST_HOUR - DARKEST_HOUR) / (1 + Math.exp(-x));
  const whole = clear.reduce((a, b) => a + b, 0);
  let [low, high] = [-9, 9];
  for (let round = 0; round < 24; round++) {
    const shift = (low + high) / 2;
    const sum = clear.reduce((a, c, h) => (c > 0 ? a + c * indexAt((normals[h] ?? 0) + shift) : a), 0);
    if (sum < dayIndex * whole) low = shift;
    else high = shift;
  }
  return normals.map((one) => indexAt(one + (low + high) / 2));
}

/** Diffuse light over clear global light by an hour's index: all of it under a thick cover, most where the cover breaks, least under a clear sky. */
const DIFFUSE_AT: readonly (readonly [index: number, diffuse: number])[] = [
  [0, 0],
  [0.28, 0.279],
  [0.36, 0.355],
  [0.44, 0.411],
  [0.52, 0.452],
  [0.6, 0.49],
  [0.68, 0.49],
  [0.76, 0.455],
  [0.84, 0.405],
  [0.92, 0.33],
  [1, 0.24],
  [1.08, 0.22],
];
const LEAST_DIFFUSE = 0.1;
/** Hours of the same index differ (as a logarithm): little under a cover, much where the sun shows, as a bright hour can be clear or broken and lit from cloud edges. */
const diffuseSpread = (index: number): number => Math.min(0.56, Math.max(0, 0.75 * (index - 0.3)));
/** How much of that is still there an hour later: the sky stays clear, or broken. */
const DIFFUSE_PERSISTENCE = 0.72;

/** Of the hours of a day, how their diffuse part is off the mean of their index: a standard normal process of first order. */
export function diffuseWander(hours: number, draw: Chance): number[] {
  let normal = draw.normal();
  return Array.from({ length: hours }, () => {
    const value = normal;
    normal = DIFFUSE_PERSISTENCE * normal + Math.sqrt(1 - DIFFUSE_PERSISTENCE ** 2) * draw.normal();
    return value;
  });
}

/**
 * Diffuse light of an hour over clear global light, from what the hour brings.
 *
 * Straight between the means of hours at the station that the clouds are fitted to, with their spread and persistence; where the sun
 * shows 0.02 more, since inland air is hazier (Vienna's typical year has 0.56 of its light diffuse).
 *
 * @param index   irradiation of the hour over a clear hour's
 * @param normal  standard normal, from `diffuseWander`; 0 gives the median
 * @returns       at most `index`
 * @example diffuseOfHour(0.6, 0) // 0.49
 */
export function diffuseOfHour(index: number, normal: number): number {
  let i = 1;
  while (i < DIFFUSE_AT.length - 1 && (DIFFUSE_AT[i]?.[0] ?? 0) < index) i++;
  const [x0, y0] = DIFFUSE_AT[i - 1] ?? [0, 0];
  const [x1, y1] = DIFFUSE_AT[i] ?? [1, 1];
  const mean = y0 + ((y1 - y0) * (Math.min(index, x1) - x0)) / (x1 - x0);
  const diffuse = mean * Math.exp(diffuseSpread(index) * Math.max(-2, Math.min(2, normal)));
  return Math.min(index, Math.max(Math.min(index, LEAST_DIFFUSE), diffuse));
}
