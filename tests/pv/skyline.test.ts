import { expect, test } from 'vitest';
import { sinDeg } from '../../src/base/index.ts';
import { behindSkyline, openSkyShare, skylineDeg, skylineTangents } from '../../src/pv/index.ts';

test('skylineDeg: linear between the heights and around the circle', () => {
  const heights = [0, 10, 20, 10];
  expect([0, 45, 90, 135, 180, 315, 360, -90].map((a) => skylineDeg(heights, a))).toEqual([0, 5, 10, 15, 20, 5, 0, 10]);
  expect(() => skylineDeg([5], 0)).toThrow(RangeError);
});

test('openSkyShare: an even skyline h around a level plane leaves cos² h of the even sky', () => {
  for (const h of [10, 20, 45]) expect(openSkyShare([h, h], 0, 0)).toBeCloseTo(1 - sinDeg(h) ** 2, 3);
  expect(openSkyShare([0, 0], 60, 180)).toBe(1);
});

test('openSkyShare: what stands behind a steep plane hardly matters, what stands before it does', () => {
  const before = openSkyShare([0, 0, 0, 20, 20, 20, 0, 0], 60, 180);
  const behind = openSkyShare([20, 20, 0, 0, 0, 0, 0, 20], 60, 180);
  expect(before).toBeLessThan(behind);
  expect(behind).toBeGreaterThan(0.97);
});

test('behindSkyline: a sun of 10° behind 11°, not behind 9°', () => {
  const up = sinDeg(10);
  const flat = Math.sqrt(1 - up * up);
  for (const azimuth of [1, 91, 181, 271, 359]) {
    const [east, north] = [flat * sinDeg(azimuth), flat * sinDeg(azimuth + 90)];
    expect(behindSkyline(skylineTangents([11, 11]), east, north, up)).toBe(true);
    expect(behindSkyline(skylineTangents([9, 9]), east, north, up)).toBe(false);
  }
});
