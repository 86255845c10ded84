import { describe, expect, test } from 'vitest';
import { completeIrradiance, type SunTrack, sunTrack } from '../../src/sky/index.ts';
import { haveSharedData, readSharedCsv } from './shared-data.ts';

const DAY = { startMs: Date.UTC(2025, 5, 21), stepS: 3600, steps: 24 };
const SUN = sunTrack(DAY, 48.2, 16.4);
const airC = new Float64Array(24).fill(20);
const column = (of: (cosZenith: number, k: number) => number): Float64Array => Float64Array.from(SUN.cosZenith, of);

const closes = (weather: ReturnType<typeof completeIrradiance>['weather'], sun: SunTrack): void => {
  for (let k = 0; k < sun.cosZenith.length; k++) {
    const [ghi, dni, dhi] = [weather.ghiWPerM2[k] ?? -1, weather.dniWPerM2[k] ?? -1, weather.dhiWPerM2[k] ?? -1];
    expect(Math.min(ghi, dni, dhi)).toBeGreaterThanOrEqual(0);
    expect(Math.abs(ghi - dhi - dni * (sun.cosZenith[k] ?? 0))).toBeLessThan(1e-9);
    if ((sun.cosZenith[k] ?? 0) === 0) expect(ghi + dni + dhi).toBe(0);
  }
};

describe('completeIrradiance', () => {
  test('only GHI: Erbs splits it, GHI is kept, all closes', () => {
    const ghiWPerM2 = column((c) => 600 * c);
    const { weather } = completeIrradiance({ ghiWPerM2, airC }, SUN);
    closes(weather, SUN);
    expect(weather.ghiWPerM2[10]).toBe(ghiWPerM2[10]);
    expect(weather.dhiWPerM2[10]).toBeGreaterThan(0.5 * (ghiWPerM2[10] ?? 0));
  });
  test('GHI and DHI: DNI follows', () => {
    const { weather } = completeIrradiance({ ghiWPerM2: column((c) => 900 * c), dhiWPerM2: column((c) => 100 * c), airC }, SUN);
    closes(weather, SUN);
    expect(weather.dniWPerM2[10]).toBeCloseTo(800, 9);
  });
  test('GHI and DNI: DHI is what the beam leaves', () => {
    const { weather } = completeIrradiance({ ghiWPerM2: column((c) => 900 * c), dniWPerM2: column(() => 700), airC }, SUN);
    closes(weather, SUN);
    expect(weather.dhiWPerM2[10]).toBeCloseTo(200 * (SUN.cosZenith[10] ?? 0), 9);
  });
  test('GHI missing: the sum of the other two; all missing: dark, and counted', () => {
    const ghiWPerM2 = column(() => Number.NaN);
    const dhiWPerM2 = column((_, k) => (k === 12 ? Number.NaN : 100));
    const { weather, unknownSteps } = completeIrradiance({ ghiWPerM2, dniWPerM2: column(() => 700), dhiWPerM2, airC }, SUN);
    closes(weather, SUN);
    expect(weather.ghiWPerM2[10]).toBeCloseTo(100 + 700 * (SUN.cosZenith[10] ?? 0), 9);
    expect(weather.ghiWPerM2[12]).toBe(0);
    expect(unknownSteps).toBe(1);
  });
  test('night offsets vanish, DHI above GHI is cut, a beam beyond the sun becomes diffuse', () => {
    const ghiWPerM2 = column((c, k) => (c === 0 ? -2 : k === 4 ? 200 : 500 * c));
    const dhiWPerM2 = column((c, k) => (k === 4 ? 0 : 600 * c));
    const { weather } = completeIrradiance({ ghiWPerM2, dhiWPerM2, airC }, SUN);
    closes(weather, SUN);
    expect(weather.dniWPerM2[10]).toBe(0);
    expect(weather.dniWPerM2[4]).toBeLessThanOrEqual(SUN.extraterrestrialWPerM2[4] ?? 0);
    expect(weather.ghiWPerM2[4]).toBe(200);
  });
  test('what was measured and does not agree is told', () => {
    const measured = {
      ghiWPerM2: column((c) => 900 * c + 10),
      dniWPerM2: column(() => 800),
      dhiWPerM2: column((c) => 100 * c),
      airC,
    };
    expect(completeIrradiance(measured, SUN).closureGapWPerM2).toBeCloseTo(10, 9);
  });
  test('a column of another length is refused', () => {
    expect(() => completeIrradiance({ ghiWPerM2: new Float64Array(23), airC }, SUN)).toThrow(/ghiWPerM2 has 23/);
  });
  test.skipIf(!haveSharedData)('real minutes (Lyngby, June): all closes, GHI of the month as measured, 153.9 kWh/m²', () => {
    const { steps, columns } = readSharedCsv('lyngby-2017-06-1min.csv.gz');
    const sun = sunTrack(steps, 55.79064, 12.52505);
    const [ghiWPerM2, dniWPerM2, dhiWPerM2, air] = ['ghi_w_m2', 'dni_w_m2', 'dhi_w_m2', 'temp_c'].map(
      (name) => columns[name] ?? new Float64Array(0),
    ) as [Float64Array, Float64Array, Float64Array, Float64Array];
    const { weather, closureGapWPerM2 } = completeIrradiance({ ghiWPerM2, dniWPerM2, dhiWPerM2, airC: air }, sun);
    closes(weather, sun);
    expect(weather.ghiWPerM2.reduce((a, b) => a + b, 0) / 60_000).toBeCloseTo(153.9, 0);
    expect(closureGapWPerM2).toBeLessThan(10);
  });
});
