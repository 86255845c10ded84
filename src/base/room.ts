/**
 * Room for so many values: an array that nobody needs any more if it has this length, with what stood in it, else a fresh one. Fresh memory
 * costs a browser more than the sums that fill it. Whoever takes it writes every value.
 *
 * @example roomFor(2, Float64Array.of(3, 4))[1] // 4
 */
export const roomFor = (length: number, used?: Float64Array): Float64Array =>
  used !== undefined && used.length === length ? used : new Float64Array(length);
