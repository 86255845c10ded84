/** The sun over short runs: against the call for single instants, and what is made of its positions. */
import { getPosition } from 'suncalc';
import { describe, expect, test } from 'vitest';
import { degOf, MS_PER_DAY, MS_PER_H, radOf } from '../../src/base/index.ts';
import {
  apparentZenithDeg,
  dayOfYearAt,
  extraterrestrialWPerM2,
  relativeAirMass,
  type Steps,
  type SunTrack,
  sunAngles,
  sunTimes,
  sunTrack,
} from '../../src/sky/index.ts';
import { TOLERANCE } from '../reference/tolerances.ts';

const dayOf = (month: number, day: number, stepS: number, startH = 0): Steps => ({
  startMs: Date.UTC(2025, month, day, startH),
  stepS,
  steps: 86_400 / stepS,
});
const VECTOR = ['east', 'north', 'cosZenith'] as const;

describe('sunTrack in steps up to ten minutes', () => {
  test.each([
    ['Vienna in April', 48.2, 16.4, 3],
    ['Spitsbergen in June, past midnight', 78, 15, 5],
    ['Cape Town in December', -33.9, 18.4, 11],
    ['the equator beside the date line', 0, -179.9, 8],
    ['Wellington in March', -41.3, 174.8, 2],
    ['the pole in May', 90, 0, 4],
  ])('%s: where the call for the middle of each step has it', (_, latitude, longitude, month) => {
    for (const steps of [
      dayOf(month, 12, 600),
      { ...dayOf(month, 12, 60, 9), startMs: Date.UTC(2025, month, 12, 9, 23, 17), steps: 90 },
    ]) {
      const sun = sunTrack(steps, latitude, longitude);
      let up = 0;
      for (let k = 0; k < steps.steps; k++) {
        const { zenithDeg, azimuthDeg } = sunAngles(steps.startMs + (k + 0.5) * steps.stepS * 1000, latitude, longitude);
        if (Math.abs(zenithDeg - 90) < 0.01) continue;
        if (zenithDeg > 90) {
          expect([sun.east[k], sun.north[k], sun.cosZenith[k], sun.zenithDeg[k], sun.airMass[k]]).toEqual([0, 0, 0, 90, 0]);
          continue;
        }
        up++;
        const [z, a] = [radOf(zenithDeg), radOf(azimuthDeg)];
        const off = Math.hypot(
          sun.east[k]! - Math.sin(z) * Math.sin(a),
          sun.north[k]! - Math.sin(z) * Math.cos(a),
          sun.cosZenith[k]! - Math.cos(z),
        );
        expect(degOf(off)).toBeLessThanOrEqual(TOLERANCE.sunTrackDeg);
        expect(Math.abs(sun.zenithDeg[k]! - zenithDeg)).toBeLessThanOrEqual(TOLERANCE.sunTrackDeg);
        expect(sun.airMass[k]).toBe(relativeAirMass(sun.zenithDeg[k]!));
      }
      if (steps.stepS === 600) expect(up).toBeGreaterThan(60);
    }
  });
});

describe('sunTrack in longer steps', () => {
  const meanOf = (fine: SunTrack, pieces: number, name: (typeof VECTOR)[number], k: number): number =>
    fine[name].subarray(k * pieces, (k + 1) * pieces).reduce((a, b) => a + b, 0) / pieces;
  test.each([
    [3600, 12],
    [1800, 6],
    [1200, 4],
    // No whole number of five minutes goes into these: pieces are shorter then.
    [675, 3],
    [960, 4],
  ])('%s s: the mean vector of %s pieces, night as zero', (stepS, pieces) => {
    const steps = dayOf(3, 12, stepS);
    const sun = sunTrack(steps, 48.2, 16.4);
    const fine = sunTrack({ startMs: steps.startMs, stepS: stepS / pieces, steps: steps.steps * pieces }, 48.2, 16.4);
    for (let k = 0; k < steps.steps; k++) {
      const [east, north, up] = VECTOR.map((name) => meanOf(fine, pieces, name, k)) as [number, number, number];
      expect(sun.east[k]).toBeCloseTo(east, 12);
      expect(sun.north[k]).toBeCloseTo(north, 12);
      expect(sun.cosZenith[k]).toBeCloseTo(up, 12);
      const zenithDeg = up > 0 ? degOf(Math.acos(up / Math.hypot(east, north, up))) : 90;
      expect(sun.zenithDeg[k]).toBeCloseTo(zenithDeg, 6);
      expect(sun.airMass[k]).toBeCloseTo(up > 0 ? relativeAirMass(zenithDeg) : 0, 4);
    }
  });
  test('ten minutes take the middle, a second more the mean', () => {
    const at = (stepS: number): number => {
      const startMs = Date.UTC(2025, 3, 12, 10);
      const [sun] = [sunTrack({ startMs, stepS, steps: 1 }, 48.2, 16.4)];
      return Math.hypot(sun.east[0]!, sun.north[0]!, sun.cosZenith[0]!);
    };
    // The middle is a direction, of length 1; a mean of directions is shorter.
    expect(Math.abs(at(600) - 1)).toBeLessThan(1e-6);
    expect(at(601)).toBeLessThan(1 - 2e-5);
  });
});

describe('outside the atmosphere', () => {
  test.each([
    ['minutes across midnight', { startMs: Date.UTC(2025, 2, 4, 23, 50), stepS: 60, steps: 30 }],
    ['hours from half past seven over two days', { startMs: Date.UTC(2025, 2, 4, 19, 30), stepS: 3600, steps: 40 }],
    ['a step whose middle is midnight', { startMs: Date.UTC(2025, 2, 4, 23, 30), stepS: 3600, steps: 2 }],
    ['a step just before it', { startMs: Date.UTC(2025, 2, 4, 23, 29), stepS: 3600, steps: 3 }],
    ['days', { startMs: Date.UTC(2025, 2, 4, 6), stepS: 86_400, steps: 5 }],
    ['steps longer than days', { startMs: Date.UTC(2025, 2, 4), stepS: 3 * 86_400, steps: 4 }],
  ])('%s: each has the value of the noon of the day that holds its middle', (_, steps) => {
    const found = sunTrack(steps, 48.2, 16.4).extraterrestrialWPerM2;
    expect(found).toHaveLength(steps.steps);
    found.forEach((value, k) => {
      const middleMs = steps.startMs + (k + 0.5) * steps.stepS * 1000;
      expect(value).toBe(extraterrestrialWPerM2(Math.floor(middleMs / MS_PER_DAY) * MS_PER_DAY + MS_PER_DAY / 2));
    });
  });
});

describe('refraction', () => {
  // Saemundsson 1986 as in Meeus 16.4: 1.02′ / tan(h + 10.3 / (h + 5.11)), degrees.
  const arcMin = (altitudeDeg: number): number => 1.02 / Math.tan(radOf(altitudeDeg + 10.3 / (altitudeDeg + 5.11)));
  test('what suncalc adds to the altitude is taken off again, below the horizon what it adds there', () => {
    for (let hour = 0; hour < 24; hour++) {
      const at = new Date(Date.UTC(2025, 3, 12, hour, 20));
      const seenDeg = getPosition(at, 48.2, 16.4).altitude;
      const trueDeg = 90 - sunAngles(at.getTime(), 48.2, 16.4).zenithDeg;
      // Its constants are rounded, which is 0.056′ at the horizon.
      expect(Math.abs(60 * (seenDeg - trueDeg) - arcMin(Math.max(0, trueDeg)))).toBeLessThan(0.057);
    }
  });
  test('the horizon is lifted by 29′ at 1010 hPa and 10 °C, and all below it by as much', () => {
    expect(arcMin(0)).toBeCloseTo(28.98, 2);
    expect(60 * (90 - apparentZenithDeg(90, 101_000, 10))).toBeCloseTo(arcMin(0), 9);
    expect(60 * (97 - apparentZenithDeg(97, 101_000, 10))).toBeCloseTo(arcMin(0), 9);
  });
  test('half the pressure, half of it; at twice the absolute temperature half of it too', () => {
    const liftArcMin = (pressurePa: number, airC: number): number => 60 * (70 - apparentZenithDeg(70, pressurePa, airC));
    expect(liftArcMin(101_000, 10)).toBeCloseTo(arcMin(20), 9);
    expect(liftArcMin(50_500, 10)).toBeCloseTo(arcMin(20) / 2, 9);
    expect(liftArcMin(101_000, 293)).toBeCloseTo(arcMin(20) / 2, 9);
  });
});

describe('days and places', () => {
  test.each([
    [Date.UTC(2025, 0, 1), 1],
    [Date.UTC(2025, 0, 2) - 1, 1],
    [Date.UTC(2025, 11, 31, 23), 365],
    [Date.UTC(2024, 11, 31), 366],
    [Date.UTC(2024, 2, 1), 61],
  ])('dayOfYearAt(%s) is %s', (atMs, day) => expect(dayOfYearAt(atMs)).toBe(day));
  // NREL's algorithm, 21 June 2025 in Vienna: 02:53:56 and 18:58:45 UTC (A34 in tests/reference/sun.test.ts).
  test('sunrise and sunset; neither at the pole', () => {
    const { riseMs, noonMs, setMs } = sunTimes(Date.UTC(2025, 5, 21, 12), 48.2082, 16.3738);
    expect(Math.abs(riseMs! - Date.UTC(2025, 5, 21, 2, 53, 56))).toBeLessThanOrEqual(1000 * TOLERANCE.riseSetS);
    expect(Math.abs(setMs! - Date.UTC(2025, 5, 21, 18, 58, 45))).toBeLessThanOrEqual(1000 * TOLERANCE.riseSetS);
    expect(Math.abs(noonMs - (riseMs! + setMs!) / 2)).toBeLessThan(0.01 * MS_PER_H);
    const { riseMs: none, setMs: never } = sunTimes(Date.UTC(2025, 5, 21, 12), 85, 0);
    expect([none, never]).toEqual([undefined, undefined]);
  });
  test.each([
    [90.001, 0, 'latitudeDeg = 90.001: must lie in −90 … 90'],
    [-91, 0, 'latitudeDeg = -91: must lie in −90 … 90'],
    [Number.NaN, 0, 'latitudeDeg = NaN: must lie in −90 … 90'],
    [0, 180.5, 'longitudeDeg = 180.5: must lie in −180 … 180'],
    [0, -181, 'longitudeDeg = -181: must lie in −180 … 180'],
    [0, Number.NaN, 'longitudeDeg = NaN: must lie in −180 … 180'],
  ])('%s, %s is no place', (latitude, longitude, message) => {
    expect(() => sunAngles(0, latitude, longitude)).toThrow(new RangeError(message));
    expect(() => sunTimes(0, latitude, longitude)).toThrow(new RangeError(message));
    expect(() => sunTrack({ startMs: 0, stepS: 60, steps: 0 }, latitude, longitude)).toThrow(new RangeError(message));
  });
  test.each([
    [90, 180],
    [-90, -180],
  ])('%s, %s is one', (latitude, longitude) => {
    expect(sunAngles(Date.UTC(2025, 2, 20, 9), latitude, longitude).zenithDeg).toBeCloseTo(90, 0);
    expect(sunTimes(Date.UTC(2025, 2, 20, 12), latitude, longitude).noonMs).toBeGreaterThan(0);
  });
});
