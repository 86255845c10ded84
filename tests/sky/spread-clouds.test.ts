import { describe, expect, test } from 'vitest';
import { fixedZone, type TimeGrid, timeGrid } from '../../src/base/index.ts';
import {
  CLIMATES,
  clearSky,
  clearSkyOf,
  cloudNoise,
  completeIrradiance,
  type Steps,
  spreadClouds,
  spreadFlat,
  sunTrack,
  syntheticWeather,
  takesClouds,
  type Weather,
} from '../../src/sky/index.ts';

const SITE = { latitudeDeg: 48.2, longitudeDeg: 16.4, elevationM: 170 };
const ZONE = fixedZone('UTC+1', 3600);
const sunOf = (steps: Steps) => sunTrack(steps, SITE.latitudeDeg, SITE.longitudeDeg);
const gridOf = (month: number, day: number, days: number, stepS = 60): TimeGrid =>
  timeGrid(Date.UTC(2025, month, day), days, stepS, ZONE);
const APRIL = gridOf(3, 1, 20);
const MINUTES = syntheticWeather({ ...CLIMATES.vienna, seed: 4 }, SITE, APRIL, sunOf(APRIL));

/** The same days in means over so many minutes. */
function means(minutesEach: number, weather: Weather = MINUTES, grid: TimeGrid = APRIL): { from: Steps; weather: Weather } {
  const from = { startMs: grid.startMs, stepS: minutesEach * 60, steps: grid.steps / minutesEach };
  const of = (values: Float64Array): Float64Array =>
    Float64Array.from({ length: from.steps }, (_, i) => {
      let sum = 0;
      for (let k = i * minutesEach; k < (i + 1) * minutesEach; k++) sum += values[k]!;
      return sum / minutesEach;
    });
  const measured = {
    ghiWPerM2: of(weather.ghiWPerM2),
    dhiWPerM2: of(weather.dhiWPerM2),
    airC: of(weather.airC),
    windMPerS: of(weather.windMPerS),
  };
  return { from, weather: completeIrradiance(measured, sunOf(from)).weather };
}
const bytes = (values: Float64Array): Buffer => Buffer.from(values.slice().buffer);

describe('spreadClouds', () => {
  test.each([10, 15, 30, 60])(
    'means over %s minutes are kept, every minute closes, nothing is negative, night is dark',
    (minutesEach) => {
      const { from, weather } = means(minutesEach);
      const sun = sunOf(APRIL);
      const minutes = spreadClouds(from, weather, APRIL, sun, SITE, 1);
      const again = means(minutesEach, minutes).weather;
      for (let i = 0; i < from.steps; i++) {
        expect(Math.abs(again.ghiWPerM2[i]! - weather.ghiWPerM2[i]!)).toBeLessThan(1e-6);
        expect(Math.abs(again.dhiWPerM2[i]! - weather.dhiWPerM2[i]!)).toBeLessThan(1e-6);
      }
      for (let k = 0; k < APRIL.steps; k++) {
        const [ghi, dni, dhi, cosZenith] = [
          minutes.ghiWPerM2[k]!,
          minutes.dniWPerM2[k]!,
          minutes.dhiWPerM2[k]!,
          sun.cosZenith[k]!,
        ];
        if (Math.abs(ghi - dhi - dni * cosZenith) > 1e-9 || Math.min(ghi, dni, dhi) < 0)
          throw new Error(`minute ${k}: ${ghi} ${dni} ${dhi}`);
        if (cosZenith === 0 && ghi !== 0) throw new Error(`light at night, minute ${k}`);
      }
    },
  );
  test('the same seed gives the same bytes, another one other minutes', () => {
    const { from, weather } = means(60);
    const of = (seed: number): Weather => spreadClouds(from, weather, APRIL, sunOf(APRIL), SITE, seed);
    expect(bytes(of(7).ghiWPerM2).equals(bytes(of(7).ghiWPerM2))).toBe(true);
    expect(bytes(of(7).ghiWPerM2).equals(bytes(of(8).ghiWPerM2))).toBe(false);
  });
  test('a day has the same clouds whatever period it is part of', () => {
    const all = cloudNoise(3, APRIL.startMs, sunOf(APRIL).cosZenith, SITE.longitudeDeg);
    const one = gridOf(3, 5, 1);
    const noise = cloudNoise(3, one.startMs, sunOf(one).cosZenith, SITE.longitudeDeg);
    const first = APRIL.dayStart[4]!;
    noise.opening.forEach((value, k) => void expect(value).toBeCloseTo(all.opening[first + k]!, 6));
    noise.brightness.forEach((value, k) => void expect(value).toBeCloseTo(all.brightness[first + k]!, 6));
  });
  test.each([10, 30, 300, 1800])('onto steps of %s s the energy of a day is the same', (stepS) => {
    const { from, weather } = means(60);
    const grid = gridOf(3, 1, 20, stepS);
    const sum = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);
    const fine = sum(spreadClouds(from, weather, APRIL, sunOf(APRIL), SITE, 1).ghiWPerM2) * 60;
    const other = sum(spreadClouds(from, weather, grid, sunOf(grid), SITE, 1).ghiWPerM2) * stepS;
    expect(other / fine).toBeCloseTo(1, 3);
  });
  test('an overcast hour has no beam, a clear one no cloud', () => {
    const noon: Steps = { startMs: Date.UTC(2025, 5, 20), stepS: 3600, steps: 48 };
    const sun = sunOf(noon);
    const weatherOf = (beamShare: number): Weather => {
      const clear = Array.from({ length: noon.steps }, (_, i) =>
        clearSky(clearSkyOf(SITE.elevationM, 3), sun.extraterrestrialWPerM2[i]!, sun.zenithDeg[i]!, sun.airMass[i]!),
      );
      const dhiWPerM2 = Float64Array.from(clear, (sky) => sky.dhiWPerM2);
      const ghiWPerM2 = Float64Array.from(clear, (sky) => sky.dhiWPerM2 + beamShare * (sky.ghiWPerM2 - sky.dhiWPerM2));
      return completeIrradiance({ ghiWPerM2, dhiWPerM2, airC: new Float64Array(48) }, sun).weather;
    };
    const onto = timeGrid(Date.UTC(2025, 5, 20), 2, 60, fixedZone('UTC', 0));
    const dull = spreadClouds(noon, weatherOf(0), onto, sunOf(onto), SITE, 1);
    expect(Math.max(...dull.dniWPerM2)).toBe(0);
    const bright = spreadClouds(noon, weatherOf(1), onto, sunOf(onto), SITE, 1);
    const midday = Array.from(bright.dniWPerM2.subarray(10 * 60, 13 * 60));
    expect(Math.min(...midday) / Math.max(...midday)).toBeGreaterThan(0.9);
  });
  test('steps that are no coarser than the weather are left to spreadFlat, and so are means of a few minutes, of hours, of broken minutes', () => {
    expect(takesClouds(3600, 60)).toBe(true);
    expect(takesClouds(600, 60)).toBe(true);
    expect(takesClouds(300, 60)).toBe(false);
    expect(takesClouds(450, 60)).toBe(false);
    expect(takesClouds(10_800, 60)).toBe(false);
    expect(takesClouds(900, 900)).toBe(false);
    const { from, weather } = means(60);
    expect(() => spreadClouds({ ...from, stepS: 3590 }, weather, APRIL, sunOf(APRIL), SITE, 1)).toThrow(RangeError);
    expect(spreadFlat(from, weather, APRIL, sunOf(APRIL)).ghiWPerM2).toHaveLength(APRIL.steps);
  });
});
