/**
 * Zeros for so many values: in an array that nobody needs any more if it has this length, else in a fresh one. Fresh memory costs a
 * browser more than the sums that fill it.
 *
 * @example cleared(2, Float64Array.of(3, 4))[1] // 0
 */
export const cleared = (length: number, used?: Float64Array): Float64Array =>
  used !== undefined && used.length === length ? used.fill(0) : new Float64Array(length);
