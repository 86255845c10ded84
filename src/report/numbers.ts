/**
 * Numbers as text: plain digits with a point, no thousands marks, no exponent, no "-0".
 */

/** Decimals of power and current in steps.csv: nine or so terms rounded to 1e-7 still balance to 1e-6 W. */
export const POWER_DECIMALS = 7;
/** Decimals of a state of charge in steps.csv. */
export const SOC_DECIMALS = 9;

/**
 * The shortest plain text of a value rounded to so many decimals.
 *
 * @param value     finite
 * @param decimals  0 … 9
 * @throws RangeError  value not finite
 * @example shortNumber(1380.00000004, 7) // '1380'
 */
export function shortNumber(value: number, decimals: number): string {
  if (value === 0) return '0';
  if (!Number.isFinite(value)) throw new RangeError(`value = ${value}: must be finite`);
  const scale = 10 ** decimals;
  const rounded = Math.round(value * scale) / scale;
  if (rounded === 0) return '0';
  // Below a millionth JavaScript writes an exponent; a CSV reader may not understand it.
  if (Math.abs(rounded) < 1e-6) return rounded.toFixed(decimals).replace(/0+$/, '');
  return String(rounded);
}

/**
 * A value rounded to so many decimals, as a number; never -0.
 *
 * @example rounded(1842.4567, 1) // 1842.5
 */
export function rounded(value: number, decimals: number): number {
  return Math.round(value * 10 ** decimals) / 10 ** decimals + 0;
}

/**
 * A number for people: fixed decimals, commas between thousands.
 *
 * @example grouped(1842.4, 0) // '1,842'
 */
export function grouped(value: number, decimals: number): string {
  const [whole = '', part] = rounded(value, decimals).toFixed(decimals).split('.');
  const marked = whole.replace(/\B(?=(\d{3})+$)/g, ',');
  return part === undefined ? marked : `${marked}.${part}`;
}

/**
 * A quantity for people: whole numbers, but for small ones, which a decimal keeps apart.
 *
 * @param value  0 or more
 * @example brief(1.46) // '1.5'
 */
export const brief = (value: number): string => grouped(value, value < 9.95 ? 1 : 0);
