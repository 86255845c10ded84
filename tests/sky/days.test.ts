/** Days of a month and the luck of months: sums, spread and memory of what is drawn. */
import { describe, expect, test } from 'vitest';
import { daysOfMonth, luckOfMonth, normalOfShare, normalShareBelow, steepnessForMean } from '../../src/sky/index.ts';

const meanOf = (values: ArrayLike<number>): number => Array.from(values).reduce((a, b) => a + b, 0) / values.length;
const [DARKEST, BRIGHTEST] = [0.07, 1.06];

describe('luckOfMonth', () => {
  const seeds = Array.from({ length: 400 }, (_, i) => i + 1);
  const lucks = (): number[][] => Array.from({ length: 12 }, (_, month) => seeds.map((seed) => luckOfMonth(seed, 2025, month)));

  test('a lucky month of one seed is as unlucky in the other of its pair', () => {
    for (const months of lucks()) for (let i = 0; i < 400; i += 2) expect(months[i]! + months[i + 1]!).toBeCloseTo(0, 9);
  });
  test('every month is standard normal over the seeds: spread 1, kurtosis 3', () => {
    for (const months of lucks()) {
      expect(Math.abs(meanOf(months.map((one) => one ** 2)) - 1)).toBeLessThan(0.1);
      expect(Math.abs(meanOf(months.map((one) => one ** 4)) - 3)).toBeLessThan(0.9);
    }
  });
  test('all months together: spread 1 within a hundredth', () => {
    const all = meanOf(lucks().map((months) => meanOf(months.map((one) => one ** 2))));
    expect(Math.abs(Math.sqrt(all) - 1)).toBeLessThan(0.01);
  });
  test('evenly: of any twenty seeds in a row each fourth of the distribution has three to seven', () => {
    for (const months of lucks())
      for (let from = 0; from < 380; from += 20) {
        const counts = [0, 0, 0, 0];
        for (const luck of months.slice(from, from + 20)) counts[Math.floor(4 * normalShareBelow(luck))]!++;
        expect(Math.min(...counts)).toBeGreaterThanOrEqual(3);
        expect(Math.max(...counts)).toBeLessThanOrEqual(7);
      }
  });
  test('months of a year share 0.15 of their luck, so their mean spreads by 0.1045', () => {
    // Variance of the mean of twelve: 0.15² + (1 − 0.15²) / 12.
    const all = lucks();
    const years = seeds.map((_, i) => meanOf(all.map((months) => months[i]!)));
    expect(Math.abs(meanOf(years.map((one) => one ** 2)) / (0.15 ** 2 + (1 - 0.15 ** 2) / 12) - 1)).toBeLessThan(0.05);
  });
  test('another year is another luck, and a month has its own', () => {
    expect(luckOfMonth(1, 2026, 3)).not.toBe(luckOfMonth(1, 2025, 3));
    expect(new Set(lucks().map((months) => months[0])).size).toBe(12);
  });
});

// Quantiles of the standard normal (from memory): 5, 50, 84.134, 97.5 %.
test.each([
  [0.05, -1.6449],
  [0.5, 0],
  [0.84134, 1],
  [0.975, 1.96],
])('normalOfShare: %s lie below %s', (share, normal) => expect(Math.abs(normalOfShare(share) - normal)).toBeLessThan(5e-5));

describe('daysOfMonth', () => {
  const clear = Float64Array.from({ length: 30 }, (_, d) => 5 + d / 10);
  const whole = clear.reduce((a, b) => a + b, 0);
  const monthOf = (meanIndex: number, seed: number, days = clear, year = 2025): Float64Array =>
    daysOfMonth({ year, month: 4, clear: days, meanIndex, seed });
  const indexOf = (meanIndex: number, seed: number): number =>
    monthOf(meanIndex, seed).reduce((sum, one, d) => sum + one * clear[d]!, 0) / whole;

  test('every day lies within what days bring', () => {
    for (let seed = 1; seed < 20; seed++)
      for (const day of monthOf(0.6, seed)) {
        expect(day).toBeGreaterThanOrEqual(DARKEST);
        expect(day).toBeLessThanOrEqual(BRIGHTEST);
      }
  });
  test('two seeds of a pair make an average year, weighted by what clear days bring', () => {
    for (const mean of [0.3, 0.5, 0.7]) expect((indexOf(mean, 1) + indexOf(mean, 2)) / 2).toBeCloseTo(mean, 6);
  });
  test('a month of middling light is off by its luck times 1.2 times what thirty days with a memory of 0.29 leave of their spread', () => {
    // Uniform days: spread (1.06 − 0.07) / √12, less 4 % for the ends that the code's quantiles leave out.
    const wanted = ((BRIGHTEST - DARKEST) / Math.sqrt(12)) * 1.2 * Math.sqrt(1.29 / 0.71 / 30);
    for (const seed of [1, 2, 5, 9]) {
      const ratio = (indexOf(0.565, seed) - 0.565) / luckOfMonth(seed, 2025, 4) / wanted;
      expect(ratio).toBeGreaterThan(0.96);
      expect(ratio).toBeLessThan(1);
    }
  });
  test('no month is darker than 0.12 or brighter than 1.02 of a clear one', () => {
    const all = (mean: number): number[] => Array.from({ length: 40 }, (_, seed) => indexOf(mean, seed));
    expect(Math.min(...all(0.13))).toBeCloseTo(0.12, 6);
    expect(Math.max(...all(1.01))).toBeCloseTo(1.02, 6);
  });
  test('a long month: days follow the family of its mean, and 0.29 of a day is there the day after', () => {
    const days = monthOf(0.45, 3, new Float64Array(4000).fill(1));
    const steepness = steepnessForMean(meanOf(days));
    const normals = Array.from(days, (day) =>
      normalOfShare(Math.expm1(steepness * (day - DARKEST)) / Math.expm1(steepness * (BRIGHTEST - DARKEST))),
    );
    expect(Math.abs(meanOf(normals))).toBeLessThan(0.03);
    expect(Math.abs(meanOf(normals.map((one) => one ** 2)) - 1)).toBeLessThan(0.06);
    expect(Math.abs(meanOf(normals.slice(1).map((one, d) => one * normals[d]!)) - 0.29)).toBeLessThan(0.04);
    expect(Math.abs(meanOf(normals.slice(2).map((one, d) => one * normals[d]!)) - 0.29 ** 2)).toBeLessThan(0.04);
  });
  test('the same again for the same seed, other days in another year', () => {
    expect(monthOf(0.5, 3)).toEqual(monthOf(0.5, 3));
    // Luck moves all days together; which of them is the brightest it leaves alone.
    const brightest = (year: number): number =>
      monthOf(0.5, 3, clear, year).reduce((best, one, d, all) => (one > all[best]! ? d : best), 0);
    expect(new Set([2025, 2026, 2027, 2028].map(brightest)).size).toBeGreaterThan(2);
  });
});
