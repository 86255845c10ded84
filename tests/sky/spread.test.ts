import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Steps, type SunTrack, spreadFlat, sunTrack, type Weather } from '../../src/sky/index.ts';

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

  // A sun that stands still, so that all of an interval's steps are alike.
  const still = (steps: number, cosZenith = 0.5): SunTrack => {
    const each = (value: number): Float64Array => new Float64Array(steps).fill(value);
    const [east, north] = [each(0), each(0)];
    return { east, north, cosZenith: each(cosZenith), zenithDeg: each(60), airMass: each(2), extraterrestrialWPerM2: each(1361) };
  };
  const hours = (...ghi: number[]): Weather =>
    weatherOf(
      ghi.length,
      (i) => ghi[i]!,
      () => 0.25,
    );
  const HOURS: Steps = { startMs: DAY_MS, stepS: 3600, steps: 3 };
  const onto = (startMin: number, stepMin: number, steps: number): Steps => ({
    startMs: DAY_MS + startMin * 60_000,
    stepS: stepMin * 60,
    steps,
  });
  test.each<[string, Steps, number[]]>([
    ['halves', onto(0, 30, 6), [100, 100, 200, 200, 400, 400]],
    ['a run within the file, cut through its hours', onto(45, 30, 3), [150, 200, 300]],
    ['steps that share an hour by a third', onto(0, 40, 4), [100, 150, 200, 400]],
    ['steps longer than hours', onto(0, 90, 2), [400 / 3, 1000 / 3]],
    ['a run that goes beyond the file at both ends', onto(-60, 60, 5), [0, 100, 200, 400, 0]],
    ['a run beside the file', onto(-180, 60, 3), [0, 0, 0]],
  ])('%s', (_, steps, wanted) => {
    const out = spreadFlat(HOURS, hours(100, 200, 400), steps, still(steps.steps));
    wanted.forEach((ghi, k) => {
      expect(out.ghiWPerM2[k]).toBeCloseTo(ghi, 9);
      expect(out.dhiWPerM2[k]).toBeCloseTo(0.25 * ghi, 9);
      expect(out.dniWPerM2[k]).toBeCloseTo((0.75 * ghi) / 0.5, 9);
    });
  });
  test('light below 0 and light at night are dropped', () => {
    const steps = onto(0, 30, 6);
    expect(Math.max(...spreadFlat(HOURS, hours(50, 50, 50), steps, still(6, 0)).ghiWPerM2)).toBe(0);
    const { ghiWPerM2, dhiWPerM2 } = spreadFlat(HOURS, hours(-9, 0, 50), steps, still(6));
    expect(Array.from(ghiWPerM2.subarray(0, 4))).toEqual([0, 0, 0, 0]);
    expect(Array.from(dhiWPerM2.subarray(0, 4))).toEqual([0, 0, 0, 0]);
  });
  test('within an hour diffuse light goes with the height of the sun, and the beam is the same', () => {
    const sun = { ...still(2), cosZenith: Float64Array.of(0.2, 0.6) };
    const out = spreadFlat({ ...HOURS, steps: 1 }, hours(400), onto(0, 30, 2), sun);
    expect(Array.from(out.dhiWPerM2)).toEqual([50, 150]);
    // 300 of beam over a mean cosine of 0.4.
    for (const dni of out.dniWPerM2) expect(dni).toBeCloseTo(750, 9);
    // While the sun is down there is neither.
    const rise = { ...still(2), cosZenith: Float64Array.of(0, 0.6) };
    const risen = spreadFlat({ ...HOURS, steps: 1 }, hours(400), onto(0, 30, 2), rise);
    expect([risen.dniWPerM2[0], risen.dhiWPerM2[0]]).toEqual([0, 0]);
    expect(risen.ghiWPerM2[1]).toBeCloseTo(800, 9);
  });
  test('a beam stronger than outside becomes diffuse, and GHI stays', () => {
    const out = spreadFlat({ ...HOURS, steps: 1 }, hours(1200), onto(0, 60, 1), still(1));
    expect([out.dniWPerM2[0], out.dhiWPerM2[0], out.ghiWPerM2[0]]).toEqual([1361, 1200 - 680.5, 1200]);
  });
  test('air onto longer steps is the mean; beyond the file it is held', () => {
    const air = { ...hours(0, 0, 0), airC: Float64Array.of(10, 13, 22) };
    const airOn = (steps: Steps): number[] => Array.from(spreadFlat(HOURS, air, steps, still(steps.steps)).airC);
    expect(airOn(onto(0, 180, 1))[0]).toBeCloseTo(15, 12);
    expect(airOn(onto(-180, 60, 2))).toEqual([10, 10]);
    expect(airOn(onto(240, 60, 2))).toEqual([22, 22]);
    // Two looks at 1½ hours: at 22½ and 67½ minutes.
    expect(airOn(onto(0, 90, 2))[0]).toBeCloseTo((10 + 10 + (3 * 37.5) / 60) / 2, 12);
    expect(airOn(onto(30, 30, 2))).toEqual([10.75, 12.25]);
  });
  test('another number of intervals, or of steps, is refused', () => {
    expect(() => spreadFlat({ ...HOURS, steps: 4 }, hours(1, 2, 3), onto(0, 60, 3), still(3))).toThrow(
      new RangeError('weather has 3 intervals: must have 4'),
    );
    expect(() => spreadFlat(HOURS, hours(1, 2, 3), onto(0, 60, 3), still(2))).toThrow(
      new RangeError('sun has 2 steps: must have 3'),
    );
  });
});
