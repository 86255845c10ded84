import { expect, test } from 'vitest';
import { radOf, sinDeg } from '../../src/base/index.ts';
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

test('openSkyShare: an upright wall in the east of a plane that looks east takes more than of one that looks west', () => {
  const wall = [0, 60, 0, 0];
  const [east, west] = [openSkyShare(wall, 90, 90), openSkyShare(wall, 90, 270)];
  // Between 45 and 135 degrees the heights rise to 60 and fall again; a plane that looks west has none of it before it.
  expect(east).toBeLessThan(0.6);
  expect(west).toBe(1);
  // Turned by a right angle with its plane it takes the same.
  expect(openSkyShare([0, 0, 60, 0], 90, 180)).toBeCloseTo(east, 2);
});

test('skylineTangents: half degrees from north, each at its middle', () => {
  const tangents = skylineTangents([0, 45, 0, 0]);
  expect(tangents).toHaveLength(720);
  // 0.25 degrees clockwise from north the line has risen to an eighth of a degree.
  expect(tangents[0]).toBeCloseTo(Math.tan(radOf(0.125)), 12);
  expect(tangents[179]).toBeCloseTo(Math.tan(radOf(44.875)), 12);
  expect(tangents[719]).toBe(0);
});

test('behindSkyline: a sun straight overhead stands behind nothing, and one on the line itself does not either', () => {
  const even = (tangent: number) => Float64Array.from({ length: 720 }, () => tangent);
  expect(behindSkyline(skylineTangents([89, 89]), 0, 0, 1)).toBe(false);
  expect([0.5, 0.51].map((tangent) => behindSkyline(even(tangent), 0, 0.5, 0.25))).toEqual([false, true]);
});
