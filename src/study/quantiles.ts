/** What to expect of a quantity over years that differ by chance. Literal: how many of the years looked at reached it. */
export interface Expectation {
  /** The median. */
  readonly usual: number;
  readonly inNineOfTen: number;
  readonly inOneOfTen: number;
  readonly least: number;
  readonly most: number;
}

/**
 * The usual year, and what is reached in nine years of ten and in one of ten. Reached means: as much or more.
 *
 * Good from ten years on; with fewer, nine of ten is every year. A cost is reached downwards: hand in `less` and nine years of ten
 * cost as much or less.
 *
 * @param values  one a year, at least one
 * @throws RangeError  no values
 * @example expectationOf([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]).inNineOfTen // 2
 * @example expectationOf([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]).inOneOfTen // 10
 * @example expectationOf([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]).usual // 5.5
 * @example expectationOf([1, 2, 3, 4, 5, 6, 7, 8, 9, 10], 'less').inNineOfTen // 9
 */
export function expectationOf(values: readonly number[], reached: 'more' | 'less' = 'more'): Expectation {
  const sorted = Float64Array.from(values).sort();
  const n = sorted.length;
  if (n === 0) throw new RangeError('values: there must be at least one');
  const at = (i: number): number => sorted[i] ?? Number.NaN;
  const low = at(Math.floor(n / 10));
  const high = at(n - 1 - Math.floor(n / 10));
  // One year of ten: as few as can be, but one at least.
  const few = Math.max(1, Math.ceil(n / 10));
  const usual = n % 2 === 1 ? at((n - 1) / 2) : (at(n / 2 - 1) + at(n / 2)) / 2;
  return reached === 'more'
    ? { usual, inNineOfTen: low, inOneOfTen: at(n - few), least: at(0), most: at(n - 1) }
    : { usual, inNineOfTen: high, inOneOfTen: at(few - 1), least: at(0), most: at(n - 1) };
}

/** Mean of values, at least one. */
export const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
