import type { Chance } from '../base/index.ts';

/** A whole number with Poisson's distribution (Knuth's product of uniforms; for means up to some ten). */
export function countOf(luck: Chance, mean: number): number {
  const floor = Math.exp(-mean);
  let count = 0;
  for (let product = luck.uniform(); product > floor; product *= luck.uniform()) count += 1;
  return count;
}

/** An hour of the day, each as likely as its weight. */
export function hourOf(luck: Chance, weights: readonly number[]): number {
  let left = luck.uniform() * weights.reduce((sum, weight) => sum + weight, 0);
  for (let hour = 0; hour < weights.length; hour++) {
    left -= weights[hour] ?? 0;
    if (left < 0) return hour;
  }
  return weights.length - 1;
}
