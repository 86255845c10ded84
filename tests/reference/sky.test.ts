/**
 * Clear sky, air mass and diffuse split against published values.
 * Sources: tests of pvlib-python (BSD-3) for B1, B4–B6, B8, B9, B16, B19; the papers' formulas reckoned by a separate program for the rest. November 2026.
 */
import { describe, expect, test } from 'vitest';
import { cosDeg } from '../../src/base/index.ts';
import {
  absoluteAirMass,
  beamByClosure,
  clearGhiHaurwitzWPerM2,
  clearnessOf,
  clearSky,
  clearSkyOf,
  erbsDiffuseShare,
  erbsSplit,
  relativeAirMass,
  standardPressurePa,
  sunTrack,
} from '../../src/sky/index.ts';
import { TOLERANCE } from './tolerances.ts';
import { within, withinShare } from './within.ts';

describe('air mass, Kasten & Young 1989', () => {
  test.each([
    [0, 0.9997],
    [80, 5.586],
    [89.9, 36.467],
  ])('B1: zenith %s: %s', (z, wanted) => withinShare(relativeAirMass(z), wanted, TOLERANCE.airMassShare));
  test.each([
    [30, 1.154],
    [60, 1.9943],
    [70, 2.9031],
    [75, 3.8129],
    [85, 10.306],
    [87, 15.148],
    [88, 19.433],
    [89, 26.311],
    [90, 37.92],
  ])('B2: zenith %s: %s', (z, wanted) => withinShare(relativeAirMass(z), wanted, TOLERANCE.airMassShare));
  test.each([60, 80, 85])('B3: below the plane-parallel 1/cos z at %s', (z) =>
    expect(relativeAirMass(z)).toBeLessThan(1 / cosDeg(z)),
  );
  test('B4: 2 at 90 kPa: 1.776', () => within(absoluteAirMass(2, 90_000), 1.776, TOLERANCE.absoluteAirMass));
  test.each([
    [-100, 102_532.1],
    [0, 101_325],
    [1000, 89_874.8],
    [8000, 35_600.5],
  ])('B5: pressure at %s m: %s Pa', (h, wanted) => withinShare(standardPressurePa(h), wanted, TOLERANCE.pressureShare));
});

describe('clear sky', () => {
  test.each([
    [85, 48.6299],
    [80, 135.7417],
    [60, 487.8941],
    [40, 778.7667],
    [0, 1035.092],
  ])('B6: Haurwitz, zenith %s: %s', (z, wanted) => within(clearGhiHaurwitzWPerM2(cosDeg(z)), wanted, TOLERANCE.clearSkyWPerM2));
  test.each([
    [10, 1018.44],
    [20, 968.99],
    [30, 888.27],
    [70, 316.04],
  ])('B7: Haurwitz, zenith %s: %s', (z, wanted) =>
    within(clearGhiHaurwitzWPerM2(cosDeg(z)), wanted, TOLERANCE.haurwitzRecomputedWPerM2),
  );
  test('B6: Haurwitz at and below the horizon: 0', () =>
    expect([clearGhiHaurwitzWPerM2(0), clearGhiHaurwitzWPerM2(-0.1)]).toEqual([0, 0]));
  test.each([
    ['B8', 1364, 1038.1592, 942.2082, 110.2653],
    ['B9', 1370, 1042.7259, 946.3528, 110.7503],
  ])('%s: Ineichen & Perez, zenith 10, air mass 1, turbidity 3, sea level, I0 %s', (_, i0, ghi, dni, dhi) => {
    const sky = clearSky(clearSkyOf(0, 3), i0, 10, 1);
    within(sky.ghiWPerM2, ghi, TOLERANCE.clearSkyWPerM2);
    within(sky.dniWPerM2, dni, TOLERANCE.clearSkyWPerM2);
    within(sky.dhiWPerM2, dhi, TOLERANCE.clearSkyWPerM2);
  });
  test.each([
    [0, 1037.9, 908.1, 129.8],
    [30, 879.5, 877.8, 119.3],
    [60, 451.0, 729.8, 86.1],
    [80, 94.3, 331.5, 36.8],
  ])('B12: 200 m, turbidity 3.5, zenith %s', (z, ghi, dni, dhi) => {
    const sky = clearSky(clearSkyOf(200, 3.5), 1361, z, relativeAirMass(z) * Math.exp(-200 / 8434.5));
    within(sky.ghiWPerM2, ghi, TOLERANCE.clearSkyRecomputedWPerM2);
    within(sky.dniWPerM2, dni, TOLERANCE.clearSkyRecomputedWPerM2);
    within(sky.dhiWPerM2, dhi, TOLERANCE.clearSkyRecomputedWPerM2);
  });
  test.each([
    ['2025-03-20', 6.993, 4.553, 0.877, 650, 4.915, 670],
    ['2025-06-21', 11.576, 8.072, 1.307, 898, 8.738, 934],
    ['2025-12-21', 2.356, 1.154, 0.355, 251, 1.422, 288],
  ])('B13, B14: clear day in Vienna, %s, sums within 1 %%', (date, h0, ghi, dhi, noon, haurwitz, haurwitzNoon) => {
    const sun = sunTrack({ startMs: Date.parse(`${date}T00:00Z`), stepS: 60, steps: 1440 }, 48.2082, 16.3738);
    const sum = { h0: 0, ghi: 0, dhi: 0, noon: 0, haurwitz: 0, haurwitzNoon: 0 };
    const place = clearSkyOf(170, 3.5);
    for (let k = 0; k < 1440; k++) {
      const cosZenith = sun.cosZenith[k] ?? 0;
      if (cosZenith <= 0) continue;
      const i0 = sun.extraterrestrialWPerM2[k] ?? 0;
      const sky = clearSky(place, i0, sun.zenithDeg[k] ?? 90, absoluteAirMass(sun.airMass[k] ?? 0, standardPressurePa(170)));
      sum.h0 += (i0 * cosZenith) / 60_000;
      sum.ghi += sky.ghiWPerM2 / 60_000;
      sum.dhi += sky.dhiWPerM2 / 60_000;
      sum.noon = Math.max(sum.noon, sky.ghiWPerM2);
      sum.haurwitz += clearGhiHaurwitzWPerM2(cosZenith) / 60_000;
      sum.haurwitzNoon = Math.max(sum.haurwitzNoon, clearGhiHaurwitzWPerM2(cosZenith));
    }
    withinShare(sum.h0, h0, TOLERANCE.clearDayShare);
    withinShare(sum.ghi, ghi, TOLERANCE.clearDayShare);
    withinShare(sum.dhi, dhi, TOLERANCE.clearDayShare);
    withinShare(sum.noon, noon, TOLERANCE.clearDayShare);
    withinShare(sum.haurwitz, haurwitz, TOLERANCE.clearDayShare);
    withinShare(sum.haurwitzNoon, haurwitzNoon, TOLERANCE.clearDayShare);
  });
});

describe('diffuse split, Erbs, Klein & Duffie 1982', () => {
  test.each([
    [0.1, 0.991],
    [0.2, 0.982],
    [0.3, 0.9486],
    [0.4, 0.84],
    [0.5, 0.6591],
    [0.6, 0.4395],
    [0.7, 0.244],
    [0.75, 0.1831],
    [0.8, 0.1653],
    [0.9, 0.165],
  ])('B15: clearness %s: %s', (k, wanted) => within(erbsDiffuseShare(k), wanted, TOLERANCE.erbsShare));
  // Outside the atmosphere: 1366.1 W/m² times Spencer's factor of day 1 and day 171, as the published values were made.
  test.each([
    [1413.982, 50, 85, 0.40572, 41.57, 96.719],
    [1413.982, 1000, 10, 0.71813, 217.86, 794.206],
    [1321.801, 1000, 10, 0.76821, 170.79, 842.002],
  ])('B16: %s W/m² outside, GHI %s, zenith %s', (i0, ghi, z, clearness, dhi, dni) => {
    const split = erbsSplit(ghi, i0, z, cosDeg(z));
    withinShare(clearnessOf(ghi, i0, cosDeg(z)), clearness, TOLERANCE.erbsSplitShare);
    withinShare(split.dhiWPerM2, dhi, TOLERANCE.erbsSplitShare);
    withinShare(split.dniWPerM2, dni, TOLERANCE.erbsSplitShare);
  });
  test('B17: closure, clearness at most 1, no beam beyond 87°', () => {
    for (const z of [0, 30, 60, 80, 86, 88, 89.9]) {
      for (const ghi of [1, 50, 400, 1500]) {
        const split = erbsSplit(ghi, 1361, z, cosDeg(z));
        within(split.dhiWPerM2 + split.dniWPerM2 * cosDeg(z), ghi, TOLERANCE.closureWPerM2);
        if (z > 87) expect(split.dniWPerM2).toBe(0);
      }
    }
    expect(clearnessOf(5000, 1361, 1)).toBe(1);
  });
  test('B19: DNI of GHI 100, DHI 50', () => {
    within(beamByClosure(100, 50, cosDeg(85)), 573.6857, TOLERANCE.beamWPerM2);
    within(beamByClosure(100, 50, cosDeg(70)), 146.1902, TOLERANCE.beamWPerM2);
  });
});
