import { describe, expect, test } from 'vitest';
import { degOf, radOf } from '../../src/base/index.ts';
import { sunAngles, sunTrack } from '../../src/sky/index.ts';
import { TOLERANCE } from '../reference/tolerances.ts';

const MINUTES_OF_YEAR = { startMs: Date.UTC(2025, 0, 1), stepS: 60, steps: 525_600 };

describe('sunTrack', () => {
  test.each([
    [48.2, 16.4],
    [69.6, 18.9],
    [-33.9, 151.2],
    [0, -179.9],
  ])('at %s, %s: every 997th minute of a year is where the direct call has it', (latitude, longitude) => {
    const sun = sunTrack(MINUTES_OF_YEAR, latitude, longitude);
    for (let k = 0; k < MINUTES_OF_YEAR.steps; k += 997) {
      const direct = sunAngles(MINUTES_OF_YEAR.startMs + (k + 0.5) * 60_000, latitude, longitude);
      if (direct.zenithDeg >= 90) {
        expect(sun.cosZenith[k] ?? 0).toBeLessThan(1e-4);
        continue;
      }
      const z = radOf(direct.zenithDeg);
      const a = radOf(direct.azimuthDeg);
      const off = Math.hypot(
        (sun.east[k] ?? 0) - Math.sin(z) * Math.sin(a),
        (sun.north[k] ?? 0) - Math.sin(z) * Math.cos(a),
        (sun.cosZenith[k] ?? 0) - Math.cos(z),
      );
      expect(degOf(off)).toBeLessThanOrEqual(TOLERANCE.sunTrackDeg);
      expect(Math.abs((sun.zenithDeg[k] ?? 0) - direct.zenithDeg)).toBeLessThanOrEqual(TOLERANCE.sunTrackDeg);
    }
  });

  test('at night the vector is zero, the zenith 90, the air mass 0', () => {
    const sun = sunTrack({ startMs: Date.UTC(2025, 11, 21, 23), stepS: 60, steps: 1 }, 48.2, 16.4);
    expect([sun.east[0], sun.north[0], sun.cosZenith[0], sun.zenithDeg[0], sun.airMass[0]]).toEqual([0, 0, 0, 90, 0]);
  });

  test('an hour holds the mean of its minutes, so beam on a plane keeps its energy', () => {
    const day = Date.UTC(2025, 3, 12);
    const hours = sunTrack({ startMs: day, stepS: 3600, steps: 24 }, 48.2, 16.4);
    const minutes = sunTrack({ startMs: day, stepS: 60, steps: 1440 }, 48.2, 16.4);
    for (const column of ['east', 'north', 'cosZenith'] as const) {
      for (let h = 0; h < 24; h++) {
        const mean = minutes[column].slice(h * 60, h * 60 + 60).reduce((a, b) => a + b, 0) / 60;
        // Five-minute pieces: the two hours of sunrise and sunset may miss up to half a piece of slanting sun.
        expect(Math.abs((hours[column][h] ?? 0) - mean)).toBeLessThan(column === 'cosZenith' ? 5e-4 : 0.05);
      }
    }
    // The hour of sunrise has sun, although its middle may lie below the horizon.
    expect(hours.cosZenith[4]).toBeGreaterThan(0);
  });

  test('a place out of range is refused', () => {
    expect(() => sunAngles(0, 91, 0)).toThrow(RangeError);
    expect(() => sunAngles(0, 0, Number.NaN)).toThrow(RangeError);
  });

  test('refraction is off: at sunrise by the almanac the true zenith is 90.83', () => {
    // Vienna, 21 June 2025: 02:53:56 UTC (SPA).
    expect(sunAngles(Date.UTC(2025, 5, 21, 2, 53, 56), 48.2082, 16.3738).zenithDeg).toBeCloseTo(90.833, 1);
  });
});
