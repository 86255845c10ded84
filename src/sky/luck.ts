import { normalShareBelow } from './daily-clearness.ts';

/** Square roots of primes: steps that visit the unit interval evenly, each month and the year in its own way (Kronecker's sequence; Weyl 1916). */
const STEPS = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41].map((prime) => Math.sqrt(prime) % 1);
const YEAR = 12;
/** Years are so many seeds apart. */
const SEEDS_A_YEAR = 7920;
/** Correlation of a month's luck with its year's: what makes whole years good or poor. Set so that years of central Europe differ by 4 to 5 %. */
const WITH_THE_YEAR = 0.15;

/**
 * How lucky a month is with the sun: standard normal over the seeds, and evenly spread over any twenty of them that follow each other.
 *
 * Plain chance would need hundreds of seeds until their mean is the climate's; spread evenly, a dozen seeds show good, usual and poor years.
 *
 * @param seed   0, 1, 2 …
 * @param month  0 … 11
 * @example Math.abs(luckOfMonth(1, 2025, 5)) < 3 // true
 * @see weyl1916
 */
export function luckOfMonth(seed: number, year: number, month: number): number {
  const at = seed + year * SEEDS_A_YEAR;
  const own = normalOfShare(evenShare(at, month));
  const common = normalOfShare(evenShare(at, YEAR));
  return WITH_THE_YEAR * common + Math.sqrt(1 - WITH_THE_YEAR ** 2) * own;
}

/** Seeds go in pairs, 1 and 2, 3 and 4 …: what is a lucky month in the one is as unlucky in the other, so that few of them already balance. */
function evenShare(at: number, which: number): number {
  const pair = Math.floor((at + 1) / 2) % 1_000_003;
  const share = Math.min(0.9995, Math.max(0.0005, (pair * (STEPS[which] ?? 0) + 0.37 * (which + 1)) % 1));
  return at % 2 === 1 ? share : 1 - share;
}

/**
 * Standard normal below which a share of all values lies: the inverse of `normalShareBelow`, by halving.
 *
 * @example normalOfShare(0.8413) // 1.000
 * @see abramowitzStegun1964
 */
export function normalOfShare(share: number): number {
  let [low, high] = [-6, 6];
  for (let round = 0; round < 40; round++) {
    const middle = (low + high) / 2;
    if (normalShareBelow(middle) < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
