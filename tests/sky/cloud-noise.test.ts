/** Seeded noise of clouds against the theory of the processes it is made of: first-order processes, weighted by a wandering power of their scale. */
import { describe, expect, test } from 'vitest';
import { CLOUDS } from '../../src/sky/cloud-numbers.ts';
import { type CloudNoise, cloudNoise } from '../../src/sky/index.ts';

const NOON_MS = Date.UTC(2025, 5, 1, 12);
/** Many days, of each a hundred minutes of a sun that stands still: slow processes are moved on at every fifth minute. */
function manyDays(height: number) {
  const cosZenith = new Float64Array(101).fill(height);
  const days = Array.from({ length: 1000 }, (_, d) => cloudNoise(7, Date.UTC(2025, 0, 1 + d), cosZenith, 0));
  /** Mean of something that is made of a few minutes, over all stretches of ten of them. */
  const mean = (name: keyof CloudNoise, of: (minute: (m: number) => number) => number): number => {
    let sum = 0;
    for (const day of days) for (let from = 0; from < 100; from += 10) sum += of((m) => day[name][from + m] ?? 0);
    return sum / (days.length * 10);
  };
  return { days, mean };
}
const low = () => manyDays(0.2);
const high = () => manyDays(0.9);
const square = (x: number): number => x * x;
/** Mean of a function of a standard normal number. */
function expected(of: (z: number) => number): number {
  let [sum, whole] = [0, 0];
  for (let z = -6; z <= 6; z += 0.01) {
    const weight = Math.exp((-z * z) / 2);
    sum += weight * of(z);
    whole += weight;
  }
  return sum / whole;
}
const nearShare = (found: number, wanted: number, share: number): void =>
  expect(Math.abs(found / wanted - 1), `${found} against ${wanted}`).toBeLessThan(share);
const keeps = (lagMin: number, minutes: number): number => Math.exp(-lagMin / minutes);

describe('opening', () => {
  const scales = [0, 1, 2, 3, 4].map((j) => CLOUDS.quickestMin * 4 ** j);
  /** Convection by the height of the sun: its fourth power, 0.15 the usual. */
  const shares = (height: number, restless: number): number[] => {
    const power = CLOUDS.scalePower + CLOUDS.moodSpread * restless - CLOUDS.moodWithSun * (height ** 4 - 0.15);
    const squares = [0, 1, 2, 3, 4].map((j) => 4 ** (2 * j * power));
    const whole = squares.reduce((a, b) => a + b, 0);
    return squares.map((one) => one / whole);
  };
  const heights: [string, number, typeof low][] = [
    ['low', 0.2, low],
    ['high', 0.9, high],
  ];
  test.each(heights)('%s sun: standard normal', (_, __, days) => {
    const { mean } = days();
    expect(Math.abs(mean('opening', (at) => at(0)))).toBeLessThan(0.05);
    nearShare(
      mean('opening', (at) => square(at(0))),
      1,
      0.05,
    );
    // Kurtosis of a normal process: 3.
    nearShare(
      mean('opening', (at) => at(0) ** 4),
      3,
      0.15,
    );
  });
  test.each(heights)(
    '%s sun: in a minute the two quick scales forget, and the slow ones run on by a fifth of their stretch',
    (_, height, days) => {
      const { mean } = days();
      const wanted = expected((restless) =>
        shares(height, restless).reduce(
          (sum, share, j) => sum + share * 2 * (j < 2 ? 1 - keeps(1, scales[j]!) : (1 - keeps(5, scales[j]!)) / 25),
          0,
        ),
      );
      nearShare(
        mean('opening', (at) => square(at(1) - at(0))),
        wanted,
        0.05,
      );
    },
  );
  test.each(heights)('%s sun: in five minutes every scale forgets by its own time', (_, height, days) => {
    const { mean } = days();
    const wanted = expected((restless) =>
      shares(height, restless).reduce((sum, share, j) => sum + share * 2 * (1 - keeps(5, scales[j]!)), 0),
    );
    // The power has wandered a little in between; that adds a hundredth.
    nearShare(
      mean('opening', (at) => square(at(5) - at(0))),
      wanted,
      0.07,
    );
  });
});

describe('sharpness', () => {
  const hardening = (height: number): number =>
    CLOUDS.hardWithSun * (height ** 4 - 0.15) - CLOUDS.slantPower * Math.log(Math.max(height, 0.17));
  test('its logarithm is normal around cumulus and slant', () => {
    const { mean } = high();
    const off = (x: number): number => Math.log(x / CLOUDS.sharpness) - hardening(0.9);
    expect(Math.abs(mean('sharpness', (at) => off(at(0))))).toBeLessThan(0.03);
    nearShare(Math.sqrt(mean('sharpness', (at) => square(off(at(0))))), CLOUDS.sharpnessSpread, 0.05);
    nearShare(
      mean('sharpness', (at) => square(off(at(5)) - off(at(0)))),
      CLOUDS.sharpnessSpread ** 2 * 2 * (1 - keeps(5, CLOUDS.moodMin)),
      0.1,
    );
  });
  test('under another sun the same day is harder by that alone; a sun below 0.17 slants no further', () => {
    const dayAt = (height: number): number => cloudNoise(3, NOON_MS, new Float64Array(6).fill(height), 0).sharpness[5]!;
    for (const height of [0.05, 0.15, 0.4, 1])
      expect(Math.log(dayAt(height) / dayAt(0.2))).toBeCloseTo(hardening(height) - hardening(0.2), 9);
  });
});

describe('haze and brightness', () => {
  test('haze: standard normal, forgotten slowly', () => {
    const { mean } = low();
    expect(Math.abs(mean('haze', (at) => at(0)))).toBeLessThan(0.05);
    nearShare(
      mean('haze', (at) => square(at(0))),
      1,
      // Of a thousand days a variance is known to 0.045.
      0.1,
    );
    nearShare(
      mean('haze', (at) => square(at(5) - at(0))),
      2 * (1 - keeps(5, CLOUDS.hazeMin)),
      0.05,
    );
  });
  const spread = (z: number): number =>
    Math.exp(CLOUDS.unrestSpread * Math.max(-2, Math.min(2, z)) - CLOUDS.unrestSpread ** 2 / 2);
  test('brightness: normal within 2.5, its spread lognormal around 1 within two standard deviations', () => {
    const { days, mean } = low();
    expect(Math.abs(mean('brightness', (at) => at(0)))).toBeLessThan(0.05);
    const limited = (z: number): number => Math.max(-2.5, Math.min(2.5, z));
    nearShare(
      mean('brightness', (at) => Math.abs(at(0))),
      expected((z) => Math.abs(limited(z))) * expected(spread),
      0.04,
    );
    nearShare(
      mean('brightness', (at) => square(at(0))),
      expected((z) => square(limited(z))) * expected((z) => square(spread(z))),
      0.08,
    );
    const most = days.reduce((a, { brightness }) => Math.max(a, ...brightness.map(Math.abs)), 0);
    expect(most).toBeLessThanOrEqual(2.5 * spread(2) + 1e-12);
    expect(most).toBeGreaterThan(2 * spread(2));
  });
  test('brightness forgets by its two times, weighted by their squares', () => {
    const { mean } = low();
    const [quick, slow] = CLOUDS.brightnessWeights.map((weight) => weight ** 2 / Math.hypot(...CLOUDS.brightnessWeights) ** 2);
    const [quickMin, slowMin] = CLOUDS.brightnessMin;
    const product = mean('brightness', (at) => at(5) * at(0));
    nearShare(product / mean('brightness', (at) => square(at(0))), quick! * keeps(5, quickMin) + slow! * keeps(5, slowMin), 0.04);
  });
  test('within five minutes it runs straight, and on into the next five', () => {
    const { days } = low();
    let [bend, jump, whole] = [0, 0, 0];
    for (let d = 0; d < 300; d++) {
      const at = (m: number): number => days[d]!.brightness[m]!;
      // At the limits of 2.5 it does not.
      if (Math.max(Math.abs(at(0)), Math.abs(at(4))) > 0.5) continue;
      bend = Math.max(bend, Math.abs(at(1) - 2 * at(2) + at(3)), Math.abs(at(0) - 2 * at(2) + at(4)));
      jump += square(at(5) - at(0) - (at(4) - at(0)) * 1.25);
      whole += square(at(5));
    }
    expect(bend).toBeLessThan(1e-12);
    // Only the spread has moved on.
    expect(jump / whole).toBeLessThan(0.05);
  });
});

describe('days', () => {
  const noiseOf = (minutes: number, startMs: number, longitudeDeg = 0, seed = 3) =>
    cloudNoise(seed, startMs, new Float64Array(minutes).fill(0.5), longitudeDeg);
  const names = ['opening', 'sharpness', 'brightness', 'haze'] as const;

  test('slow things stay for five minutes of daylight, quick ones do not; night is 0 and does not count', () => {
    const cosZenith = new Float64Array(40).fill(0.5);
    cosZenith.fill(0, 8, 20);
    const noise = cloudNoise(3, NOON_MS, cosZenith, 0);
    for (const name of names) expect(Array.from(noise[name].subarray(8, 20))).toEqual(new Array(12).fill(0));
    for (const name of ['sharpness', 'haze'] as const) {
      const lit = noise[name].filter((_, k) => cosZenith[k]! > 0);
      lit.forEach((value, k) => void expect(value === lit[0]).toBe(k < 5));
      expect(new Set(lit).size).toBe(6);
    }
    expect(new Set(noise.opening).size).toBe(29);
  });
  test.each([
    [0, 0],
    [90, 18],
    [-120, 8],
    [180, 12],
  ])('at longitude %s a new day begins at %s:00 UTC, and is the same whenever a run begins', (longitude, hour) => {
    const midnightMs = Date.UTC(2025, 5, 1, hour);
    const early = noiseOf(60 + 1440 + 30, midnightMs - 3_600_000, longitude);
    const [first, second] = [noiseOf(1440, midnightMs, longitude), noiseOf(30, midnightMs + 86_400_000, longitude)];
    for (const name of names) {
      expect(early[name].subarray(60, 1500)).toEqual(first[name]);
      expect(early[name].subarray(1500)).toEqual(second[name]);
      expect(first[name][7]).not.toBe(second[name][7]);
    }
  });
  test('another seed, other clouds', () => {
    for (const name of names) expect(noiseOf(6, NOON_MS, 0, 4)[name][5]).not.toBe(noiseOf(6, NOON_MS)[name][5]);
  });
});
