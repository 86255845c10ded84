import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Steps, spreadFlat, sunTrack, type Weather } from '../../src/sky/index.ts';

const DAY_MS = Date.UTC(2025, 3, 12);
const weatherOf = (steps: number, ghi: (i: number) => number, diffuseShare: (i: number) => number): Weather => ({
  ghiWPerM2: Float64Array.from({ length: steps }, (_, i) => ghi(i)),
  dhiWPerM2: Float64Array.from({ length: steps }, (_, i) => ghi(i) * diffuseShare(i)),
  dniWPerM2: new Float64Array(steps),
  airC: Float64Array.from({ length: steps }, (_, i) => 10 + (i % 7)),
  windMPerS: new Float64Array(steps).fill(2),
});
const mean = (values: Float64Array, from: number, to: number): number =>
  values.slice(from, to).reduce((a, b) => a + b, 0) / (to - from);

describe('spreadFlat', () => {
  test('hours onto minutes: means of GHI and DHI kept to 1e-9, closure in each minute, dark night', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({ k: fc.double({ min: 0, max: 0.85, noNaN: true }), d: fc.double({ min: 0.2, max: 1, noNaN: true }) }),
          { minLength: 24, maxLength: 24 },
        ),
        (days) => {
          const from: Steps = { startMs: DAY_MS, stepS: 3600, steps: 24 };
          const onto: Steps = { startMs: DAY_MS, stepS: 60, steps: 1440 };
          const sun = sunTrack(onto, 48.2, 16.4);
          const clear = (h: number): number => 1361 * mean(sun.cosZenith, h * 60, h * 60 + 60);
          const weather = weatherOf(
            24,
            (h) => (days[h]?.k ?? 0) * clear(h),
            (h) => days[h]?.d ?? 1,
          );
          const out = spreadFlat(from, weather, onto, sun);
          for (let h = 0; h < 24; h++) {
            expect(Math.abs(mean(out.ghiWPerM2, h * 60, h * 60 + 60) - (weather.ghiWPerM2[h] ?? 0))).toBeLessThan(1e-9);
            expect(Math.abs(mean(out.dhiWPerM2, h * 60, h * 60 + 60) - (weather.dhiWPerM2[h] ?? 0))).toBeLessThan(1e-9);
          }
          for (let k = 0; k < 1440; k++) {
            const cosZenith = sun.cosZenith[k] ?? 0;
            expect(
              Math.abs((out.ghiWPerM2[k] ?? 0) - (out.dhiWPerM2[k] ?? 0) - (out.dniWPerM2[k] ?? 0) * cosZenith),
            ).toBeLessThan(1e-9);
            expect(Math.min(out.dniWPerM2[k] ?? -1, out.dhiWPerM2[k] ?? -1)).toBeGreaterThanOrEqual(0);
            if (cosZenith === 0) expect(out.ghiWPerM2[k]).toBe(0);
          }
        },
      ),
      { numRuns: 40 },
    );
  });

  test('intervals that begin inside steps (hours shifted by 40 min and 17 s) keep the energy of the day', () => {
    const from: Steps = { startMs: DAY_MS - 3600_000 + 40 * 60_000 + 17_000, stepS: 3600, steps: 26 };
    for (const stepS of [60, 900, 3600]) {
      const onto: Steps = { startMs: DAY_MS, stepS, steps: 86_400 / stepS };
      const sun = sunTrack(onto, 48.2, 16.4);
      const hours = sunTrack(from, 48.2, 16.4);
      const weather = weatherOf(
        26,
        (h) => 700 * (hours.cosZenith[h] ?? 0),
        () => 0.3,
      );
      const out = spreadFlat(from, weather, onto, sun);
      const energy = (values: Float64Array, s: number): number => values.reduce((a, b) => a + b, 0) * s;
      expect(energy(out.ghiWPerM2, stepS) / energy(weather.ghiWPerM2, 3600)).toBeCloseTo(1, 6);
      expect(energy(out.dhiWPerM2, stepS) / energy(weather.dhiWPerM2, 3600)).toBeCloseTo(1, 6);
    }
  });

  test('minutes onto quarters of an hour are averaged', () => {
    const from: Steps = { startMs: DAY_MS, stepS: 60, steps: 1440 };
    const onto: Steps = { startMs: DAY_MS, stepS: 900, steps: 96 };
    const fine = sunTrack(from, 48.2, 16.4);
    const weather = weatherOf(
      1440,
      (k) => (600 + 200 * Math.sin(k)) * (fine.cosZenith[k] ?? 0),
      () => 0.4,
    );
    const out = spreadFlat(from, weather, onto, sunTrack(onto, 48.2, 16.4));
    for (let q = 30; q < 66; q++) expect(out.ghiWPerM2[q]).toBeCloseTo(mean(weather.ghiWPerM2, q * 15, q * 15 + 15), 9);
  });

  test('light that a wrong clock puts at the edge of the night is no beam beyond the sun', () => {
    const from: Steps = { startMs: DAY_MS, stepS: 3600, steps: 24 };
    const onto: Steps = { startMs: DAY_MS, stepS: 60, steps: 1440 };
    const out = spreadFlat(
      from,
      weatherOf(
        24,
        () => 300,
        () => 0.1,
      ),
      onto,
      sunTrack(onto, 48.2, 16.4),
    );
    for (const dni of out.dniWPerM2) expect(dni).toBeLessThan(1420);
  });

  test('air runs linearly between the middles of the intervals and is held at the ends', () => {
    const from: Steps = { startMs: DAY_MS, stepS: 3600, steps: 24 };
    const onto: Steps = { startMs: DAY_MS, stepS: 60, steps: 1440 };
    const out = spreadFlat(
      from,
      weatherOf(
        24,
        () => 0,
        () => 1,
      ),
      onto,
      sunTrack(onto, 48.2, 16.4),
    );
    expect(out.airC[0]).toBe(10);
    expect(out.airC[60]).toBeCloseTo(10.508, 3);
    expect(((out.airC[89] ?? 0) + (out.airC[90] ?? 0)) / 2).toBeCloseTo(11, 9);
  });
});
