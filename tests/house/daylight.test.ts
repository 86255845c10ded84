import { describe, expect, test } from 'vitest';
import { darknessShare, dayLengthH, winterness } from '../../src/house/daylight.ts';

describe('dayLengthH', () => {
  test('latitude 48.2 at the solstices: 15.87 and 8.13 h, geometric (reference value A32; 2 min)', () => {
    expect(Math.abs(dayLengthH(172, 48.2) - 15.87)).toBeLessThan(2 / 60);
    expect(Math.abs(dayLengthH(355, 48.2) - 8.13)).toBeLessThan(2 / 60);
  });
  test('half a day at the equator and at the equinox; polar day and night', () => {
    expect(dayLengthH(200, 0)).toBeCloseTo(12, 9);
    expect(dayLengthH(81, 60)).toBeCloseTo(12, 1);
    expect([dayLengthH(172, 80), dayLengthH(355, 80), dayLengthH(355, -80)]).toEqual([24, 0, 24]);
  });
});

test('darknessShare: none at noon, half at sunset, all half an hour later', () => {
  expect([12, 17.4, 18, 18.25, 18.5, 23].map((hour) => darknessShare(hour, 12, 12))).toEqual([0, 0, 0.5, 0.75, 1, 1]);
  expect(darknessShare(6, 12, 12)).toBe(0.5);
});

test('winterness: mid-January, mid-July, and the other way round in the south', () => {
  expect(winterness(15, 48)).toBe(1);
  expect(winterness(197.5, 48)).toBeCloseTo(-1, 9);
  expect(winterness(15, -35)).toBe(-1);
});
