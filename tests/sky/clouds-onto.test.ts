/** Coarse weather with clouds laid onto the steps of a run: one day, put together again from its parts, and cut in other ways. */
import { describe, expect, test } from 'vitest';
import { MS_PER_S } from '../../src/base/index.ts';
import { turbidityAt, turbidityOfDays } from '../../src/sky/day-turbidity.ts';
import {
  clearMinutes,
  cloudMinutes,
  cloudNoise,
  completeIrradiance,
  lightOnto,
  type Steps,
  type SunTrack,
  spreadClouds,
  sunTrack,
  takesClouds,
  type Weather,
} from '../../src/sky/index.ts';

const SITE = { latitudeDeg: 48.2, longitudeDeg: 16.4, elevationM: 170 };
const START_MS = Date.UTC(2025, 3, 10);
const sunOf = (steps: Steps): SunTrack => sunTrack(steps, SITE.latitudeDeg, SITE.longitudeDeg);
/** Two days of half hours; the second is clear. */
const COARSE: Steps = { startMs: START_MS, stepS: 1800, steps: 96 };
const WEATHER: Weather = (() => {
  const sun = sunOf(COARSE);
  const of = (share: (i: number) => number): Float64Array => sun.cosZenith.map((c, i) => 1361 * c * share(i));
  const airC = Float64Array.from({ length: 96 }, (_, i) => 10 + i);
  const windMPerS = Float64Array.from({ length: 96 }, (_, i) => i / 10);
  const ghiWPerM2 = of((i) => (i < 48 ? 0.25 + 0.2 * Math.sin(i) : 0.7));
  return completeIrradiance({ ghiWPerM2, dhiWPerM2: of((i) => (i < 48 ? 0.2 : 0.1)), airC, windMPerS }, sun).weather;
})();
const MINUTES: Steps = { startMs: START_MS, stepS: 60, steps: 2880 };
const on = (steps: Steps, seed = 1): Weather => spreadClouds(COARSE, WEATHER, steps, sunOf(steps), SITE, seed);
const whole = (): Weather => on(MINUTES);
const LIGHT = ['ghiWPerM2', 'dniWPerM2', 'dhiWPerM2'] as const;
const near = (found: ArrayLike<number>, wanted: ArrayLike<number>, tolerance: number): void => {
  expect(found.length).toBe(wanted.length);
  for (let k = 0; k < wanted.length; k++)
    expect(Math.abs(found[k]! - wanted[k]!), `${k}: ${found[k]} against ${wanted[k]}`).toBeLessThanOrEqual(tolerance);
};

describe('spreadClouds', () => {
  test('on the minutes of the record it is its parts put together', () => {
    const sun = sunOf(MINUTES);
    const daily = turbidityOfDays(2, (i) => (i < 48 ? 0 : 1), WEATHER.dniWPerM2, sunOf(COARSE), SITE.elevationM);
    const light = cloudMinutes(
      {
        minutesEach: 30,
        beamWPerM2: WEATHER.ghiWPerM2.map((ghi, i) => ghi - WEATHER.dhiWPerM2[i]!),
        diffuseWPerM2: WEATHER.dhiWPerM2,
      },
      clearMinutes(sun, SITE.elevationM, turbidityAt(daily, MINUTES)),
      cloudNoise(1, START_MS, sun.cosZenith, SITE.longitudeDeg),
    );
    const found = whole();
    for (const name of LIGHT) expect(found[name]).toEqual(light[name]);
    expect(on(MINUTES, 2).ghiWPerM2).not.toEqual(light.ghiWPerM2);
  });
  test('means over the half hours are kept', () => {
    const found = whole();
    for (const name of ['ghiWPerM2', 'dhiWPerM2'] as const)
      near(
        Array.from({ length: 96 }, (_, i) => found[name].subarray(30 * i, 30 * i + 30).reduce((a, b) => a + b, 0) / 30),
        WEATHER[name],
        1e-9,
      );
  });
  test('air and wind run straight between the middles of the half hours', () => {
    // Minute 44 to 45 begins as far behind the first middle, 15, as 29.5 of 30 minutes.
    const { airC, windMPerS } = whole();
    expect(airC[44]).toBeCloseTo(10 + 29.5 / 30, 9);
    expect(windMPerS[44]).toBeCloseTo(0.1 * (29.5 / 30), 9);
  });
  const minutesFrom = (first: number, steps: number): Steps => ({ startMs: START_MS + first * 60_000, stepS: 60, steps });
  test.each([
    ['within the record', 600, 900],
    ['from its beginning', 0, 1440],
    ['to its end', 1440, 1440],
    ['that ends at noon, within a half hour,', 540, 190],
  ])('a run %s sees the same minutes', (_, first, steps) => {
    const [run, all] = [on(minutesFrom(first, steps)), whole()];
    for (const name of LIGHT) near(run[name], all[name].subarray(first, first + steps), 0.05);
  });
  test('what the run knows of the sun is taken over, not reckoned again', () => {
    // A sun that is told to be down throughout gives a dark run, whatever the record says.
    const steps = minutesFrom(600, 120);
    const sun = sunOf(steps);
    const none = new Float64Array(120);
    const dark = { ...sun, cosZenith: none, zenithDeg: new Float64Array(120).fill(90), airMass: none };
    expect(Math.max(...spreadClouds(COARSE, WEATHER, steps, dark, SITE, 1).ghiWPerM2)).toBe(0);
  });
  test('beyond the record it is dark', () => {
    const run = on(minutesFrom(-300, 3480));
    near(run.ghiWPerM2.subarray(300, 3180), whole().ghiWPerM2, 1e-6);
    expect(Math.max(...run.ghiWPerM2.subarray(0, 300), ...run.ghiWPerM2.subarray(3180))).toBe(0);
    near(on(minutesFrom(-60, 800)).ghiWPerM2.subarray(60), whole().ghiWPerM2.subarray(0, 740), 1e-6);
    near(on(minutesFrom(2200, 700)).ghiWPerM2.subarray(0, 680), whole().ghiWPerM2.subarray(2200), 1e-6);
  });
  test.each([
    ['steps of five minutes', 300, 0],
    ['steps of five minutes, two minutes late', 300, 120],
    ['minutes that begin in the middle of minutes', 60, 30],
    ['steps of ten seconds', 10, 0],
  ])('%s: the light of the minutes they cover', (_, stepS, lateS) => {
    const steps = { startMs: START_MS + (8 * 3600 + lateS) * MS_PER_S, stepS, steps: 7200 / stepS };
    const run = on(steps);
    const fine = whole().ghiWPerM2;
    // By the second, from the minutes.
    const wanted = Array.from({ length: steps.steps }, (_, k) => {
      let sum = 0;
      for (let s = 0; s < stepS; s += 10) sum += fine[480 + Math.floor((lateS + k * stepS + s) / 60)]!;
      return (sum * 10) / stepS;
    });
    // In a minute the sun climbs by up to 0.3 %, and an interval's light goes with it.
    run.ghiWPerM2.forEach((ghi, k) => void expect(Math.abs(ghi / wanted[k]! - 1)).toBeLessThan(0.004));
  });
  test('intervals that are no whole minutes are refused', () =>
    expect(() => spreadClouds({ ...COARSE, stepS: 1790 }, WEATHER, MINUTES, sunOf(MINUTES), SITE, 1)).toThrow(
      new RangeError('stepS = 1790: intervals must be whole minutes'),
    ));
});

describe('lightOnto', () => {
  const four = (first: number): Float64Array => Float64Array.of(first, first + 1, first + 2, first + 3);
  const light = { ghiWPerM2: four(10), dniWPerM2: four(20), dhiWPerM2: four(30) };
  const minutes: Steps = { startMs: START_MS + 12 * 3_600_000, stepS: 60, steps: 4 };
  const from = (first: number, steps: number, stepS = 60) => {
    const onto = { startMs: minutes.startMs + first * 60_000, stepS, steps };
    return lightOnto(minutes, light, onto, sunOf(onto));
  };
  test('minutes are cut out as they are, up to the last', () => {
    for (const [first, steps] of [
      [0, 4],
      [1, 2],
      [2, 2],
    ] as const)
      for (const name of LIGHT)
        expect(Array.from(from(first, steps)[name])).toEqual(Array.from(light[name].subarray(first, first + steps)));
  });
  test('where a run goes further there is no light', () => {
    const late = from(3, 3).ghiWPerM2;
    expect(late[0]).toBeCloseTo(13, 9);
    expect([late[1], late[2]]).toEqual([0, 0]);
    expect(from(-1, 2).ghiWPerM2[0]).toBe(0);
    expect(from(-1, 2).ghiWPerM2[1]).toBeCloseTo(10, 9);
  });
  test('longer steps hold means', () => {
    const two = from(0, 2, 120);
    expect([two.ghiWPerM2[0]!, two.ghiWPerM2[1]!].map((one) => one.toFixed(6))).toEqual(['10.500000', '12.500000']);
    expect(two.dhiWPerM2).toHaveLength(2);
    expect(two.dniWPerM2).toHaveLength(2);
  });
});

test.each([
  [3600, 60, true],
  [3600, 3540, true],
  [360, 60, true],
  [300, 60, false],
  [3660, 60, false],
  [330, 60, false],
  [1830, 60, false],
  [900, 900, false],
  [900, 1800, false],
])('takesClouds: intervals of %s s onto steps of %s s: %s', (intervalS, stepS, wanted) =>
  expect(takesClouds(intervalS, stepS)).toBe(wanted),
);
