/** Distance of the sun and irradiance outside the atmosphere, over centuries. */
import { Body, HelioDistance } from 'astronomy-engine';
import { describe, expect, test } from 'vitest';
import { MS_PER_DAY } from '../../src/base/index.ts';
import { extraterrestrialWPerM2, sunDistanceAu } from '../../src/sky/index.ts';
import { TOLERANCE } from '../reference/tolerances.ts';

describe('sunDistanceAu', () => {
  test('Meeus, example 25.a (from memory): 13 October 1992, 0.99766', () =>
    expect(Math.abs(sunDistanceAu(Date.UTC(1992, 9, 13)) - 0.99766)).toBeLessThanOrEqual(0.000005));
  // astronomy-engine 2.1.19 knows the moon and the planets, which move the Earth by some 0.00005 AU; the series must not run away from it.
  test.each([1000, 1500, 1900, 2000, 2050, 2100, 2500, 3000])('the year %s, every sixth day', (year) => {
    let sum = 0;
    for (let i = 0; i < 60; i++) {
      const atMs = Date.UTC(year, 0, 1) + i * 6.2 * MS_PER_DAY;
      const off = sunDistanceAu(atMs) - HelioDistance(Body.Earth, new Date(atMs));
      expect(Math.abs(off)).toBeLessThan(7.5e-5);
      sum += off;
    }
    expect(Math.abs(sum / 60)).toBeLessThan(1.5e-5);
  });
});

describe('extraterrestrialWPerM2', () => {
  test('goes with the square of the distance', () => {
    const [near, far] = [Date.UTC(2025, 0, 4), Date.UTC(2025, 6, 4)];
    expect(extraterrestrialWPerM2(near) / extraterrestrialWPerM2(far)).toBeCloseTo(
      (sunDistanceAu(far) / sunDistanceAu(near)) ** 2,
      12,
    );
    expect(extraterrestrialWPerM2(near, 1000) * sunDistanceAu(near) ** 2).toBeCloseTo(1000, 9);
  });
  // As in tests/reference/sun.test.ts, A25.
  test('4 January 2025: 1407.5 W/m²', () =>
    expect(Math.abs(extraterrestrialWPerM2(Date.UTC(2025, 0, 4, 12)) - 1407.5)).toBeLessThanOrEqual(
      TOLERANCE.extraterrestrialWPerM2,
    ));
});
