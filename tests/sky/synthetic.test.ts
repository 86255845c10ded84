/**
 * The synthetic year against the bands of published climates.
 * Monthly sums, plane and yield: IWEC typical year of Vienna-Schwechat (48.12 N, 16.57 E, 190 m), reckoned from the file carried in
 * christiankral/PhotoVoltaics (the file itself is not here). Spread of years: German weather service, annual means 1983–2023, 950 to 1227 kWh/m².
 */
import { beforeAll, describe, expect, test } from 'vitest';
import { fixedZone, type TimeGrid, timeGrid } from '../../src/base/index.ts';
import {
  beamOnPlaneWPerM2,
  cosIncidence,
  groundOnPlaneWPerM2,
  hayDaviesDiffuse,
  isotropicDiffuseWPerM2,
  perezDiffuse,
  pvPowerW,
} from '../../src/pv/index.ts';
import { type Climate, clearSkyOf, sunTrack, syntheticWeather, type Weather } from '../../src/sky/index.ts';
import { ROOF_30_SOUTH, VIENNA } from '../reference/published.ts';

const { site: SITE, ghiKWhM2: GHI } = VIENNA;
/** Invented to give the file's yearly mean, 10 °C. */
const AIR = [-1, 1, 5, 10, 15, 18, 20, 19, 15, 10, 4, 0];
const climate = (seed: number): Climate => ({ monthlyGhiKWhM2: GHI, monthlyTempC: AIR, seed });
const GRID = timeGrid(Date.UTC(2025, 0, 1), 365, 60, fixedZone('UTC+1', 3600));
const SUN = sunTrack(GRID, SITE.latitudeDeg, SITE.longitudeDeg);
const SEEDS = Array.from({ length: 20 }, (_, i) => i + 1);
const sumKWh = (values: Float64Array, from = 0, to = values.length): number => {
  let sum = 0;
  for (let k = from; k < to; k++) sum += values[k] ?? 0;
  return sum / 60_000;
};
const monthOf = (grid: TimeGrid, day: number): number => new Date(grid.dayMs[day] ?? 0).getUTCMonth();

describe('syntheticWeather', () => {
  let years: Weather[];
  beforeAll(() => {
    years = SEEDS.map((seed) => syntheticWeather(climate(seed), SITE, GRID, SUN));
  }, 60_000);
  const annual = (): number[] => years.map((year) => sumKWh(year.ghiWPerM2));
  const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

  test('months on the mean of 20 seeds: within 2 %, and so is the year', () => {
    const months = new Array<number>(12).fill(0);
    for (const year of years) {
      GRID.dayMs.forEach((_, d) => {
        const m = monthOf(GRID, d);
        months[m] = (months[m] ?? 0) + sumKWh(year.ghiWPerM2, GRID.dayStart[d], GRID.dayStart[d + 1]) / years.length;
      });
    }
    months.forEach((sum, m) => void expect(Math.abs(sum / (GHI[m] ?? 1) - 1), `month ${m + 1}: ${sum}`).toBeLessThan(0.02));
    expect(Math.abs(mean(annual()) / 1122 - 1)).toBeLessThan(0.02);
  });
  // German weather service, annual means of Germany: 950 (1987) to 1227 (2022) in 36 years, a range of 26 % of 1080: with a normal
  // spread the range of 36 draws is 4.2 standard deviations, so 6 %, of which the trend of those years is a part.
  test('years differ as years do: standard deviation 3.5 … 6 %', () => {
    const all = annual();
    const spread = Math.sqrt(mean(all.map((x) => (x - mean(all)) ** 2))) / mean(all);
    expect(spread, `${spread}`).toBeGreaterThan(0.035);
    expect(spread).toBeLessThan(0.06);
  });
  test('J1: diffuse share near 0.559', () => {
    const share = mean(years.map((year) => sumKWh(year.dhiWPerM2) / sumKWh(year.ghiWPerM2)));
    expect(Math.abs(share - 0.559), `${share}`).toBeLessThan(0.05);
  });
  test('J3: plane 30° south over level, isotropic 1.080, Hay & Davies 1.109, Perez 1.130, within 2 % on the mean of four seeds', () => {
    const sums = { ghi: 0, isotropic: 0, hayDavies: 0, perez: 0 };
    for (const year of years.slice(0, 4)) {
      for (let k = 0; k < GRID.steps; k += 3) {
        const ghi = year.ghiWPerM2[k] ?? 0;
        if (ghi <= 0) continue;
        const zenithDeg = SUN.zenithDeg[k] ?? 90;
        const azimuthDeg = (Math.atan2(SUN.east[k] ?? 0, SUN.north[k] ?? 0) * 180) / Math.PI;
        const sky = {
          dhiWPerM2: year.dhiWPerM2[k] ?? 0,
          dniWPerM2: year.dniWPerM2[k] ?? 0,
          extraterrestrialWPerM2: SUN.extraterrestrialWPerM2[k] ?? 0,
          airMass: SUN.airMass[k] ?? 0,
          zenithDeg,
          tiltDeg: 30,
          cosIncidence: cosIncidence(30, 180, zenithDeg, azimuthDeg),
        };
        const rest = beamOnPlaneWPerM2(sky.dniWPerM2, sky.cosIncidence) + groundOnPlaneWPerM2(ghi, 30, 0.2);
        sums.ghi += ghi;
        sums.isotropic += rest + isotropicDiffuseWPerM2(sky.dhiWPerM2, 30);
        sums.hayDavies += rest + hayDaviesDiffuse(sky).totalWPerM2;
        sums.perez += rest + perezDiffuse(sky).totalWPerM2;
      }
    }
    const ratios = `${sums.isotropic / sums.ghi} ${sums.hayDavies / sums.ghi} ${sums.perez / sums.ghi}`;
    expect(Math.abs(sums.isotropic / sums.ghi / 1.08 - 1), ratios).toBeLessThan(0.02);
    expect(Math.abs(sums.hayDavies / sums.ghi / 1.109 - 1)).toBeLessThan(0.02);
    expect(Math.abs(sums.perez / sums.ghi / 1.13 - 1)).toBeLessThan(0.02);
  });
  test('J4, J15: 1082 kWh/kWp within 8 %; October to March 28.7 % within 3; yield over GHI near 0.96 … 1.00', () => {
    const powers = years.slice(0, 8).map((year) => pvPowerW(ROOF_30_SOUTH, GRID, SUN, year));
    const yields = mean(powers.map((power) => sumKWh(power)));
    const winter = powers.map((power) =>
      GRID.dayMs.reduce(
        (sum, _, d) =>
          monthOf(GRID, d) < 3 || monthOf(GRID, d) > 8 ? sum + sumKWh(power, GRID.dayStart[d], GRID.dayStart[d + 1]) : sum,
        0,
      ),
    );
    expect(Math.abs(yields / 1082 - 1)).toBeLessThan(0.08);
    expect(Math.abs(mean(winter) / yields - 0.287)).toBeLessThan(0.03);
    // Our glass and part-load inverter put us a little below the rule of thumb.
    expect(yields / mean(annual())).toBeGreaterThan(0.93);
    expect(yields / mean(annual())).toBeLessThan(1);
  });
  test('every minute closes, nothing is negative, night is dark, at most 1.5 times a clear sky', () => {
    const year = years[0] as Weather;
    let worst = 0;
    let least = 0;
    let night = 0;
    for (let k = 0; k < GRID.steps; k++) {
      const [ghi, dni, dhi, cosZenith] = [
        year.ghiWPerM2[k] ?? 0,
        year.dniWPerM2[k] ?? 0,
        year.dhiWPerM2[k] ?? 0,
        SUN.cosZenith[k] ?? 0,
      ];
      worst = Math.max(worst, Math.abs(ghi - dhi - dni * cosZenith));
      least = Math.min(least, ghi, dni, dhi);
      if (cosZenith === 0) night = Math.max(night, ghi);
    }
    expect(worst).toBeLessThan(1e-9);
    expect(least).toBe(0);
    expect(night).toBe(0);
  });
  test('temperature: mean of the table within 1 K on the mean of seeds, no jump between minutes', () => {
    const few = years.slice(0, 6);
    expect(Math.abs(mean(few.map((year) => year.airC.reduce((a, b) => a + b, 0) / GRID.steps)) - mean(AIR))).toBeLessThan(1);
    for (const year of few)
      for (let k = 1; k < GRID.steps; k++)
        if (Math.abs((year.airC[k] ?? 0) - (year.airC[k - 1] ?? 0)) > 0.2) throw new Error(`jump at ${k}`);
  });
  test('same seed, same bytes; another seed, another year', () => {
    const again = syntheticWeather(climate(1), SITE, GRID, SUN);
    for (const column of ['ghiWPerM2', 'dniWPerM2', 'dhiWPerM2', 'airC', 'windMPerS'] as const) {
      expect(Buffer.from(again[column].buffer).equals(Buffer.from((years[0] as Weather)[column].buffer))).toBe(true);
    }
    expect(sumKWh((years[1] as Weather).ghiWPerM2)).not.toBe(sumKWh((years[0] as Weather).ghiWPerM2));
  });
  test.each([5, 900, 3600])('steps of %s s see the same days as minutes do', (stepS) => {
    const grid = timeGrid(Date.UTC(2025, 3, 1), 3, stepS, GRID.zone);
    const minutes = timeGrid(Date.UTC(2025, 3, 1), 3, 60, GRID.zone);
    const sunOf = (g: TimeGrid) => sunTrack(g, SITE.latitudeDeg, SITE.longitudeDeg);
    const coarse = syntheticWeather(climate(3), SITE, grid, sunOf(grid));
    const fine = syntheticWeather(climate(3), SITE, minutes, sunOf(minutes));
    expect((sumKWh(coarse.ghiWPerM2) * stepS) / 60 / sumKWh(fine.ghiWPerM2)).toBeCloseTo(1, 2);
  });
  test('a southern July (Seville, about 245 kWh/m², from memory) is met by clearer air', () => {
    const site = { latitudeDeg: 37.4, longitudeDeg: -5.9, elevationM: 10 };
    const july = timeGrid(Date.UTC(2025, 6, 1), 31, 60, fixedZone('UTC', 0));
    const sun = sunTrack(july, site.latitudeDeg, site.longitudeDeg);
    const monthlyGhiKWhM2 = [82, 100, 145, 173, 210, 233, 245, 217, 163, 118, 86, 72];
    const sums = SEEDS.map((seed) => sumKWh(syntheticWeather({ ...climate(seed), monthlyGhiKWhM2 }, site, july, sun).ghiWPerM2));
    expect(Math.abs(mean(sums) / 245 - 1)).toBeLessThan(0.03);
  });
  test('sums that no clear sky gives are refused, and so are eleven months', () => {
    expect(() => syntheticWeather({ ...climate(1), monthlyGhiKWhM2: GHI.map(() => 300) }, SITE, GRID, SUN)).toThrow(
      /clearest sky/,
    );
    expect(() => syntheticWeather({ ...climate(1), monthlyTempC: AIR.slice(1) }, SITE, GRID, SUN)).toThrow(/must have 12/);
    expect(() => clearSkyOf(0, 0.5)).toThrow(RangeError);
  });
});
