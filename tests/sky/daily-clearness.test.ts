/** The exponential family of daily clearness (Bendt, Collares-Pereira and Rabl 1981) against its own integrals. */
import { describe, expect, test } from 'vitest';
import { dailyClearSkyIndex, normalShareBelow, steepnessForMean } from '../../src/sky/index.ts';

const [DARKEST, BRIGHTEST] = [0.07, 1.06];
const SPAN = BRIGHTEST - DARKEST;
/** Mean of a density that goes with exp(steepness · index), by Simpson's rule. */
function meanByIntegral(steepness: number): number {
  let [sum, whole] = [0, 0];
  const parts = 2000;
  for (let i = 0; i <= parts; i++) {
    const index = DARKEST + (SPAN * i) / parts;
    const weight = (i === 0 || i === parts ? 1 : i % 2 === 1 ? 4 : 2) * Math.exp(steepness * (index - BRIGHTEST));
    sum += weight * index;
    whole += weight;
  }
  return sum / whole;
}
/** Share of the family below an index. */
const shareBelow = (steepness: number, index: number): number =>
  steepness === 0 ? (index - DARKEST) / SPAN : Math.expm1(steepness * (index - DARKEST)) / Math.expm1(steepness * SPAN);

describe('steepnessForMean', () => {
  test.each([0.15, 0.3, 0.5, 0.56, 0.57, 0.7, 0.95])('a month whose mean is %s', (mean) => {
    expect(meanByIntegral(steepnessForMean(mean))).toBeCloseTo(mean, 9);
  });
  test('the middle of the range: all days are as likely', () => expect(steepnessForMean(0.565)).toBe(0));
  test('as far to the bright side as to the dark one', () =>
    expect(steepnessForMean(0.565 + 0.2)).toBeCloseTo(-steepnessForMean(0.565 - 0.2), 9));
  test('a little off the middle it is a little off 0: 12 times that over the square of the span', () => {
    // Mean = middle + steepness · span² / 12 for a small steepness.
    for (const off of [1e-3, -1e-3, 1e-5, -1e-8])
      expect(steepnessForMean(0.565 + off) / ((12 * off) / SPAN ** 2)).toBeCloseTo(1, 4);
  });
  test('means beyond the family give the nearest it has', () => {
    expect(steepnessForMean(0)).toBeCloseTo(-200, 6);
    expect(steepnessForMean(2)).toBeCloseTo(200, 6);
  });
});

describe('dailyClearSkyIndex', () => {
  test.each([-30, -3, -0.5, 0, 1e-7, 0.5, 3, 30])(
    'steepness %s: as many days are darker as normal numbers are lower',
    (steepness) => {
      for (const normal of [-2.5, -1, -0.1, 0, 0.7, 2]) {
        const index = dailyClearSkyIndex(steepness, normal);
        expect(shareBelow(Math.abs(steepness) < 1e-6 ? 0 : steepness, index)).toBeCloseTo(normalShareBelow(normal), 6);
      }
    },
  );
  test('dark months mirror bright ones', () => {
    for (const normal of [-2, 0, 1])
      expect(dailyClearSkyIndex(-5, normal)).toBeCloseTo(DARKEST + BRIGHTEST - dailyClearSkyIndex(5, -normal), 7);
  });
  test('the steepest months have days at one end only', () => {
    for (const normal of [-4, 0, 4]) {
      expect(dailyClearSkyIndex(1e5, normal)).toBeCloseTo(BRIGHTEST, 3);
      expect(dailyClearSkyIndex(-1e5, normal)).toBeCloseTo(DARKEST, 3);
    }
  });
});

// Abramowitz & Stegun, table 26.1 (from memory).
test.each([
  [0, 0.5],
  [0.5, 0.69146246],
  [1, 0.84134475],
  [1.5, 0.9331928],
  [2, 0.97724987],
  [3, 0.9986501],
])('normalShareBelow: %s, table %s, and the rest beyond it', (x, share) => {
  expect(Math.abs(normalShareBelow(x) - share)).toBeLessThan(8e-8);
  expect(Math.abs(normalShareBelow(-x) - (1 - share))).toBeLessThan(8e-8);
});
