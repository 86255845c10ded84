import { describe, expect, test } from 'vitest';
import { fixedZone, timeGrid } from '../../src/base/index.ts';
import { runSky, typicalDay } from '../../src/report/run-sky.ts';
import { CLIMATES, sunTrack, syntheticWeather } from '../../src/sky/index.ts';

const SITE = { latitudeDeg: 48.2, longitudeDeg: 16.4, elevationM: 170 };
const GRID = timeGrid(Date.UTC(2025, 0, 1), 365, 60, fixedZone('UTC+1', 3600));
const SUN = sunTrack(GRID, SITE.latitudeDeg, SITE.longitudeDeg);

describe('typicalDay', () => {
  test('in five of six years the clear day is clear: nine in ten of its middle minutes have more than half its best beam', () => {
    const isClear = [1, 2, 3, 4, 5, 6].map((seed) => {
      const sky = runSky(GRID, syntheticWeather({ ...CLIMATES.vienna, seed }, SITE, GRID, SUN), SITE);
      const day = typicalDay(sky, 'clear')!;
      const beam = [];
      for (let k = GRID.dayStart[day]!; k < GRID.dayStart[day + 1]!; k++)
        if (SUN.cosZenith[k]! > 0.5) beam.push(sky.weather.dniWPerM2[k]!);
      beam.sort((a, b) => a - b);
      return sky.clearness[day]! > 0.8 && beam[Math.floor(beam.length / 10)]! > beam.at(-1)! / 2;
    });
    expect(isClear.filter(Boolean).length).toBeGreaterThanOrEqual(5);
  }, 30_000);
  test('an overcast day and a mixed one are of their kind; a single dark winter day is none', () => {
    const weather = syntheticWeather({ ...CLIMATES.vienna, seed: 1 }, SITE, GRID, SUN);
    const sky = runSky(GRID, weather, SITE);
    expect(sky.clearness[typicalDay(sky, 'overcast')!]).toBeLessThan(0.4);
    expect(sky.clearness[typicalDay(sky, 'mixed')!]).toBeGreaterThan(0.4);
    const day = timeGrid(Date.UTC(2025, 11, 21), 1, 60, GRID.zone);
    const none = new Float64Array(day.steps);
    const dark = { ghiWPerM2: none, dniWPerM2: none, dhiWPerM2: none, airC: none, windMPerS: none };
    expect(typicalDay(runSky(day, dark, SITE), 'clear')).toBeNull();
    expect(typicalDay(runSky(day, dark, SITE), 'overcast')).toBe(0);
  });
});
