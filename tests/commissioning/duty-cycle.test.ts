import { describe, expect, test } from 'vitest';
import { dutyPercentFor, offerOf } from '../../src/commissioning/index.ts';

// IEC 61851-1 Annex A as printed in two independent manuals (a test adapter's, p. 12 table 4; an industrial module's, p. 23 table 3-1).
describe('current that a duty cycle offers', () => {
  test.each([
    [10, 6.0],
    [16, 9.6],
    [20, 12.0],
    [25, 15.0],
    [30, 18.0],
    [50, 30.0],
    [53, 31.8],
    [80, 48.0],
    [84, 50.4],
    [86, 55.0],
    [90, 65.0],
    [96, 80.0],
  ])('%d %% offers %d A', (dutyPercent, currentA) => {
    const offer = offerOf(dutyPercent);
    expect(offer.kind === 'current' && Math.abs(offer.currentA - currentA) <= 0.01).toBe(true);
  });

  test.each([
    [0, 'none'],
    [2.99, 'none'],
    [4.5, 'digital'],
    [5, 'digital'],
    [5.5, 'digital'],
    [7, 'digital'],
    [7.01, 'none'],
    [7.99, 'none'],
    [8, 'current'],
    [9.99, 'current'],
    [10, 'current'],
    [97, 'current'],
    [97.01, 'none'],
    [99.99, 'none'],
    [100, 'steady'],
  ])('%d %%: %s', (dutyPercent, kind) => expect(offerOf(dutyPercent).kind).toBe(kind));

  test.each([
    [8, 6],
    [9.99, 6],
    [10, 6],
    [10.01, 6.006],
    [84.99, 50.994],
    [85.01, 52.525],
    [95.99, 79.975],
    [96, 80],
    [96.01, 80],
    [97, 80],
  ])('edges, both sides: %d %% offers %d A', (dutyPercent, currentA) => {
    const offer = offerOf(dutyPercent);
    expect(offer.kind === 'current' ? offer.currentA : Number.NaN).toBeCloseTo(currentA, 9);
  });

  test('outside 0 to 100: refused', () => {
    expect(() => offerOf(-0.1)).toThrow(RangeError);
    expect(() => offerOf(100.1)).toThrow(RangeError);
    expect(() => offerOf(Number.NaN)).toThrow(RangeError);
  });
});

// The inverse of the same formula, recomputed from it (no table of it was found).
describe('duty cycle for a current', () => {
  test.each([
    [6, 10.0],
    [8, 13.33],
    [10, 16.67],
    [13, 21.67],
    [16, 26.67],
    [20, 33.33],
    [25, 41.67],
    [32, 53.33],
    [40, 66.67],
    [63, 89.2],
    [80, 96.0],
  ])('%d A: %d %%', (currentA, dutyPercent) =>
    expect(Math.abs(dutyPercentFor(currentA) - dutyPercent)).toBeLessThanOrEqual(0.01),
  );

  test('there and back again', () => {
    for (let currentA = 6; currentA <= 80; currentA += 0.1) {
      if (currentA > 51 && currentA < 52.6) continue;
      const offer = offerOf(dutyPercentFor(currentA));
      expect(offer.kind === 'current' ? offer.currentA : Number.NaN).toBeCloseTo(currentA, 9);
    }
    expect(() => dutyPercentFor(5.99)).toThrow(RangeError);
    expect(() => dutyPercentFor(80.01)).toThrow(RangeError);
  });
});
