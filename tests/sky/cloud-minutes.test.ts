/** Clouds by the minute in small cases: a sun that stands still and noise written by hand, so that each number can be worked out. */
import { describe, expect, test } from 'vitest';
import { chance } from '../../src/base/index.ts';
import { CLOUDS } from '../../src/sky/cloud-numbers.ts';
import { type ClearMinutes, type CloudNoise, type CloudTargets, cloudMinutes, type LightMinutes } from '../../src/sky/index.ts';

type Of = number | readonly number[] | ((minute: number) => number);
const column = (minutes: number, of: Of): Float64Array =>
  Float64Array.from({ length: minutes }, (_, k) =>
    typeof of === 'number' ? of : typeof of === 'function' ? of(k) : (of[k] ?? 0),
  );

// The sky of these tests, W/m²: 800 · 0.875 = 700 of clear beam on the level, 875 of clear global; the sun so high that no sky is calm.
const [COS, BEAM, GLOBAL, OUTSIDE] = [0.875, 800, 875, 1361];
const clearOf = (minutes: number, isDay: (minute: number) => boolean = () => true): ClearMinutes => ({
  cosZenith: column(minutes, (k) => (isDay(k) ? COS : 0)),
  beamWPerM2: column(minutes, (k) => (isDay(k) ? BEAM : 0)),
  globalWPerM2: column(minutes, (k) => (isDay(k) ? GLOBAL : 0)),
  extraterrestrialWPerM2: column(minutes, OUTSIDE),
});
interface Noise {
  readonly opening?: Of;
  readonly sharpness?: Of;
  readonly brightness?: Of;
  readonly haze?: Of;
}
const noiseOf = (minutes: number, { opening = 0, sharpness = 3, brightness = 0, haze = 0 }: Noise): CloudNoise => ({
  opening: column(minutes, opening),
  sharpness: column(minutes, sharpness),
  brightness: column(minutes, brightness),
  haze: column(minutes, haze),
});
/** Shares of the clear beam and of the clear global as diffuse, interval by interval. */
const targetsOf = (minutesEach: number, beams: readonly number[], diffuses: readonly number[]): CloudTargets => ({
  minutesEach,
  beamWPerM2: Float64Array.from(beams, (share) => share * COS * BEAM),
  diffuseWPerM2: Float64Array.from(diffuses, (share) => share * GLOBAL),
});
function lightOf(
  each: number,
  beams: readonly number[],
  diffuses: readonly number[],
  noise: Noise = {},
  isDay?: (minute: number) => boolean,
): LightMinutes {
  const minutes = each * beams.length;
  return cloudMinutes(targetsOf(each, beams, diffuses), clearOf(minutes, isDay), noiseOf(minutes, noise));
}
const meanOf = (values: ArrayLike<number>): number => Array.from(values).reduce((a, b) => a + b, 0) / values.length;
const close = (found: ArrayLike<number>, wanted: ArrayLike<number>, tolerance: number): void => {
  expect(found.length).toBe(wanted.length);
  for (let k = 0; k < wanted.length; k++)
    expect(Math.abs(found[k]! - wanted[k]!), `${k}: ${found[k]} against ${wanted[k]}`).toBeLessThanOrEqual(tolerance);
};
/** How open each minute is when the S-curve over that noise is moved until it gives a share on the mean, minutes weighted. */
function openOf(share: number, hard: number, noise: readonly number[], weights = noise.map(() => 1)): number[] {
  const weighted = (open: readonly number[]): number => meanOf(open.map((one, k) => one * weights[k]!)) / meanOf(weights);
  const at = (line: number): number[] => noise.map((one) => 1 / (1 + Math.exp(-hard * (one + line))));
  let [low, high] = [-20, 20];
  for (let round = 0; round < 60; round++) {
    const middle = (low + high) / 2;
    if (weighted(at(middle)) < share) low = middle;
    else high = middle;
  }
  return at(low);
}
const backwards = (values: ArrayLike<number>): number[] => Array.from(values).reverse();
const ramp = (each: number): number[] => Array.from({ length: each }, (_, k) => (2 * k + 1) / each - 1);

describe('what must hold for any clouds', () => {
  const each = 15;
  const intervals = 12;
  const minutes = each * intervals;
  const draw = chance(5, 'targets');
  // A short day: the sun rises within the second interval and sets within the eleventh.
  const clear: ClearMinutes = {
    cosZenith: column(minutes, (k) => Math.max(0, 0.6 * Math.sin((Math.PI * (k - 20)) / 140))),
    beamWPerM2: column(minutes, (k) => Math.max(0, 850 * Math.sin((Math.PI * (k - 20)) / 140))),
    globalWPerM2: column(minutes, (k) => Math.max(0, 620 * Math.sin((Math.PI * (k - 20)) / 140))),
    extraterrestrialWPerM2: column(minutes, OUTSIDE),
  };
  const clearMean = (i: number): number => meanOf(clear.globalWPerM2.subarray(i * each, (i + 1) * each));
  const targets: CloudTargets = {
    minutesEach: each,
    beamWPerM2: Float64Array.from({ length: intervals }, (_, i) => (i % 4 === 1 ? 0 : 0.8 * draw.uniform() * clearMean(i))),
    diffuseWPerM2: Float64Array.from({ length: intervals }, (_, i) => (0.1 + 0.5 * draw.uniform()) * clearMean(i)),
  };
  const noise = noiseOf(minutes, {
    opening: () => draw.normal(),
    sharpness: () => 1 + 4 * draw.uniform(),
    brightness: () => draw.normal(),
    haze: () => draw.normal(),
  });
  const light = cloudMinutes(targets, clear, noise);
  const beam = light.dniWPerM2.map((dni, k) => dni * clear.cosZenith[k]!);

  test('beam, diffuse and global of every interval are kept', () => {
    const means = (values: Float64Array): number[] =>
      Array.from({ length: intervals }, (_, i) => meanOf(values.subarray(i * each, (i + 1) * each)));
    close(means(beam), targets.beamWPerM2, 1e-9);
    close(means(light.dhiWPerM2), targets.diffuseWPerM2, 1e-9);
    close(
      means(light.ghiWPerM2),
      targets.beamWPerM2.map((one, i) => one + targets.diffuseWPerM2[i]!),
      1e-9,
    );
  });
  test('every minute closes, nothing is negative, no beam is stronger than outside, night is dark', () => {
    close(
      light.ghiWPerM2,
      light.dhiWPerM2.map((dhi, k) => dhi + beam[k]!),
      1e-9,
    );
    for (const values of Object.values(light) as Float64Array[]) expect(Math.min(...values)).toBe(0);
    expect(Math.max(...light.dniWPerM2)).toBeLessThanOrEqual(OUTSIDE);
    clear.cosZenith.forEach((cosZenith, k) => {
      if (cosZenith === 0) expect(light.ghiWPerM2[k]).toBe(0);
      else expect(light.dhiWPerM2[k]).toBeGreaterThan(0);
    });
  });
  test('time runs either way: the day backwards has its minutes backwards', () => {
    // Sixteen minutes, of which every third is looked at, lie the same from both ends.
    const [beams, diffuses] = [
      [0.9, 0.3, 0.6, 0.1, 0.5],
      [0.2, 0.4, 0.3, 0.5, 0.1],
    ];
    const opening = Array.from({ length: 80 }, () => draw.normal());
    const brightness = Array.from({ length: 80 }, () => draw.normal());
    const forth = lightOf(16, beams, diffuses, { opening, brightness });
    const back = lightOf(16, backwards(beams), backwards(diffuses), {
      opening: backwards(opening),
      brightness: backwards(brightness),
    });
    close(backwards(back.dniWPerM2), forth.dniWPerM2, 1e-6);
    close(backwards(back.dhiWPerM2), forth.dhiWPerM2, 1e-6);
  });
  test('a clear sky of another length is refused', () =>
    expect(() => cloudMinutes(targets, clearOf(minutes - 1), noise)).toThrow(
      new RangeError('clear sky of 179 minutes: must have 180'),
    ));
});

describe('beam', () => {
  const each = 60;
  const opening = ramp(each);
  const clouded = (share: number, noise: Noise = {}): Float64Array =>
    lightOf(each, [share], [0.2], { opening, ...noise }).dniWPerM2;
  const expected = (share: number, open: readonly number[]): number[] => open.map((one) => (share * BEAM * one) / meanOf(open));

  // One interval speaks for its neighbours, so its haze takes 0.06 for good, and clouds the rest.
  test.each([0.1, 0.3, 0.5, 0.75])('share %s: an S-curve over the noise, gaps as clear as lasting haze leaves them', (share) => {
    close(clouded(share), expected(share, openOf(share / 0.94, 3, opening)), 0.005 * BEAM);
  });
  test.each([1, 8])('edges of hardness %s', (sharpness) => {
    close(clouded(0.5, { sharpness }), expected(0.5, openOf(0.5 / 0.94, sharpness, opening)), 0.005 * BEAM);
  });
  // Of the 0.44 that haze does not take for good it takes 0.36 at one standard deviation, at least −0.1, at most 0.95.
  test.each([
    [1, 0.94 - CLOUDS.hazeSpread * 0.44],
    [-5, 0.94 + 0.1 * 0.44],
    [5, 0.94 - 0.95 * 0.44],
  ])('haze of %s standard deviations leaves %s of a gap', (haze, gap) => {
    close(clouded(0.5, { haze }), expected(0.5, openOf(0.5 / gap, 3, opening)), 0.005 * BEAM);
  });
  test('the haze in the middle of an interval speaks for all of it', () => {
    const both = (haze: Of): Float64Array =>
      lightOf(each, [0.5, 0.6], [0.2, 0.2], { opening: (k) => Math.sin(k), haze }).dniWPerM2;
    const middles = (k: number): number => (k === 30 ? 1 : k === 90 ? -0.2 : -9);
    expect(Math.abs(both(middles)[70]! - both((k) => (k < each ? 1 : 0))[70]!)).toBeGreaterThan(1);
    close(
      both(middles),
      both((k) => (k < each ? 1 : -0.2)),
      1e-9,
    );
  });
  test('minutes weigh by their clear beam on the level', () => {
    const cosZenith = column(each, (k) => (k < 30 ? 0.1 : 0.9));
    const clear = { ...clearOf(each), cosZenith };
    const { dniWPerM2 } = cloudMinutes(targetsOf(each, [0.4], [0.2]), clear, noiseOf(each, { opening }));
    // 0.4 of it is asked for, when the mean of the cosine is 0.5 where these tests else have 0.875.
    const share = (0.4 * COS) / 0.5;
    const open = openOf(share / 0.94, 3, opening, Array.from(cosZenith));
    const mean = meanOf(open.map((one, k) => one * cosZenith[k]!)) / 0.5;
    close(
      dniWPerM2,
      open.map((one) => (share * BEAM * one) / mean),
      0.005 * BEAM,
    );
  });
  test('a clear hour has no clouds, whatever the noise', () => close(clouded(1), column(each, BEAM), 0.1));
  test('nor is it clouded to meet the end of the S-curve: its line stands at 4.7', () => {
    const open = opening.map((one) => 1 / (1 + Math.exp(-1.5 * (one + 4.7))));
    close(clouded(1, { sharpness: 1.5 }), expected(1, open), 1e-6);
  });
  test('what is asked for where a clear sky has no beam becomes diffuse', () => {
    const clear = { ...clearOf(8), beamWPerM2: column(8, (k) => (k < 4 ? 0 : BEAM)) };
    const { dniWPerM2, ghiWPerM2 } = cloudMinutes(targetsOf(4, [0.2, 0.2], [0.1, 0.1]), clear, noiseOf(8, {}));
    close(dniWPerM2.subarray(0, 4), column(4, 0), 0);
    close(dniWPerM2.subarray(4), column(4, 0.2 * BEAM), 0.001 * BEAM);
    expect(meanOf(ghiWPerM2.subarray(0, 4))).toBeCloseTo(0.2 * COS * BEAM + 0.1 * GLOBAL, 9);
  });
  test('an hour without beam has none, be it ever so short of it', () => {
    expect(Math.max(...clouded(0))).toBe(0);
    expect(meanOf(clouded(1e-4))).toBeCloseTo(1e-4 * BEAM, 9);
  });
  test('a beam stronger than outside is cut, and the rest becomes diffuse', () => {
    const { dniWPerM2, dhiWPerM2, ghiWPerM2 } = lightOf(4, [2], [0.1]);
    close(dniWPerM2, column(4, OUTSIDE), 1e-9);
    close(ghiWPerM2, column(4, 2 * COS * BEAM + 0.1 * GLOBAL), 1e-9);
    close(dhiWPerM2, column(4, 2 * COS * BEAM + 0.1 * GLOBAL - OUTSIDE * COS), 1e-9);
  });
});

describe('veils under a calm sky', () => {
  const opening = ramp(60);
  /** The beam of an interval among others, the noon sun at a height, over what the same share gives with a gap of that strength. */
  const at = (height: number, each: number, beams: readonly number[], i: number, haze = 0): Float64Array => {
    const minutes = each * beams.length;
    const clear = { ...clearOf(minutes), cosZenith: column(minutes, height) };
    const noise = noiseOf(minutes, { opening: (k) => opening[k % 60]!, haze });
    const targets = {
      ...targetsOf(
        each,
        beams,
        beams.map(() => 0.2),
      ),
      beamWPerM2: Float64Array.from(beams, (one) => one * height * BEAM),
    };
    return cloudMinutes(targets, clear, noise).dniWPerM2.subarray(i * each, (i + 1) * each);
  };
  const withGap = (share: number, gap: number): number[] => {
    const open = openOf(share / gap, 3, opening);
    return open.map((one) => (share * BEAM * one) / meanOf(open));
  };
  const calm = (height: number): number => 1 - (height / CLOUDS.stirringHeight) ** 4;
  // Of the 0.44 that haze does not take for good.
  const veiled = (height: number): number =>
    0.94 - 0.44 * CLOUDS.hazeSpread * calm(height) * (CLOUDS.veilsWhereEven - CLOUDS.cloudsWhereUneven);

  test.each([0.3, 0.5, 0.7])('hours alike are partly veiled, noon sun at %s', (height) => {
    close(at(height, 60, [0.5, 0.5, 0.5], 1), withGap(0.5, veiled(height)), 0.005 * BEAM);
  });
  test('not where the sun climbs high', () => close(at(0.9, 60, [0.5, 0.5, 0.5], 1), withGap(0.5, 0.94), 0.005 * BEAM));
  test('an hour that stands alone is not like any other: its gaps are clearer, to a limit', () => {
    const clearer = Math.min(0.1, CLOUDS.hazeSpread * calm(0.5) * CLOUDS.cloudsWhereUneven);
    close(at(0.5, 60, [0.5], 0), withGap(0.5, 0.94 + 0.44 * clearer), 0.005 * BEAM);
  });
  test('the more an hour differs from those beside it, the less it is veiled, and at last its gaps are clearer than elsewhere', () => {
    const strongest = (height: number, apart: number): number => Math.max(...at(height, 60, [0.5 - apart, 0.5, 0.5 + apart], 1));
    const ratios = [0, 0.1, 0.15, 0.2, 0.4].map((apart) => strongest(0.5, apart) / strongest(0.9, apart));
    expect(ratios).toEqual([...ratios].sort((a, b) => a - b));
    expect(ratios[0]).toBeLessThan(0.9);
    expect(ratios[4]).toBeGreaterThan(1);
  });
  test('shorter intervals are held against those an hour away', () => {
    // Quarters of an hour in turn: beside each stands another, an hour away the same.
    const quarters = Array.from({ length: 12 }, (_, i) => (i % 2 === 0 ? 0.5 : 0.3));
    const hazy = at(0.5, 15, quarters, 4, 0);
    const stirred = at(0.9, 15, quarters, 4, 0);
    expect(Math.max(...hazy)).toBeLessThan(0.9 * Math.max(...stirred));
  });
});

describe('haze or clouds', () => {
  const each = 16;
  const opening = (k: number): number => 1.5 * Math.cos(Math.PI * k);
  /** Faintest over strongest minute of the middle one of three intervals that lack so much of their beam. */
  const evenness = (lacks: readonly number[], isDay?: (minute: number) => boolean): number => {
    const beams = lacks.map((one) => 1 - one);
    const { dniWPerM2 } = lightOf(each, beams, [0.2, 0.2, 0.2], { opening }, isDay);
    const middle = dniWPerM2.subarray(each, 2 * each);
    return Math.min(...middle) / Math.max(...middle);
  };
  test.each([
    ['alike', [0.1, 0.1, 0.1]],
    ['on a line', [0.04, 0.08, 0.12]],
    ['a little above the line', [0.1, 0.11, 0.1]],
    ['below the line', [0.12, 0.1, 0.12]],
    ['as hazy as it may be', [0.149, 0.149, 0.149]],
  ])('%s: haze alone, no minute far off', (_, lacks) => expect(evenness(lacks)).toBeGreaterThan(0.94));
  test('between two nights, which speak like it: haze alone', () =>
    expect(evenness([1, 0.14, 1], (k) => k >= each && k < 2 * each)).toBeGreaterThan(0.999));
  test.each([
    ['above the line', [0.08, 0.12, 0.08]],
    ['hazier than it may be', [0.16, 0.16, 0.16]],
    ['too hazy before', [0.2, 0.14, 0.14]],
    ['too hazy after', [0.14, 0.14, 0.2]],
    ['clear around', [0, 0.12, 0]],
  ])('%s: clouds pass', (_, lacks) => expect(evenness(lacks)).toBeLessThan(0.9));
});

describe('lines from interval to interval', () => {
  test('haze: the beam runs straight through the middle of an interval between two others', () => {
    // Means 0.94, 0.92, 0.90. Ten minutes: the outer knot a is met where a + (0.92 − a) · 12.5/100 = 0.94, so a = 0.942857.
    const dni = lightOf(10, [0.94, 0.92, 0.9], [0.2, 0.2, 0.2]).dniWPerM2;
    const slope = (0.92 - 0.942857) / 10;
    close(
      dni.subarray(10, 20),
      column(10, (m) => BEAM * (0.92 + slope * (m - 4.5))),
      0.2,
    );
    // Before the first middle and after the last it is held.
    close(dni.subarray(0, 5), column(5, 0.942857 * BEAM), 0.3);
    expect(Math.abs(dni[9]! - dni[5]! - 4 * slope * BEAM)).toBeLessThan(0.2);
  });
  test('diffuse light likewise', () => {
    // Means 0.2, 0.4, 0.6: a + (0.4 − a) / 8 = 0.2 gives a = 0.171429.
    const dhi = lightOf(10, [0, 0, 0], [0.2, 0.4, 0.6]).dhiWPerM2;
    const slope = (0.4 - 0.171429) / 10;
    close(
      dhi.subarray(10, 20),
      column(10, (m) => GLOBAL * (0.4 + slope * (m - 4.5))),
      0.6,
    );
    close(dhi.subarray(0, 5), column(5, 0.171429 * GLOBAL), 1);
  });
  test('a half-clear hour between a clear and a dark one has its clouds at the dark end, and the front passes once', () => {
    const { dniWPerM2 } = lightOf(60, [1, 0.5, 0], [0.2, 0.2, 0.2]);
    const middle = dniWPerM2.subarray(60, 120);
    expect(middle[0]! / BEAM).toBeGreaterThan(0.95);
    expect(middle[59]! / BEAM).toBeLessThan(0.02);
    for (let k = 1; k < 60; k++) expect(middle[k]!).toBeLessThanOrEqual(middle[k - 1]!);
  });
  test('an hour without beam does not dim the hour beside it, it only brings its clouds', () => {
    // Clear up to its middle; at its end the line stands half-way from 4.7 to −3.2, which is nine tenths open.
    const { dniWPerM2 } = lightOf(60, [1, 0], [0.2, 0.2]);
    expect(dniWPerM2[30]! / BEAM).toBeGreaterThan(1);
    expect(dniWPerM2[59]! / dniWPerM2[30]!).toBeCloseTo(1 / (1 + Math.exp(-3 * (4.7 - 7.9 * (29.5 / 60)))), 1);
  });
  test.each([1, 3])('without noise the beam hardly jumps where intervals meet, edges of hardness %s', (sharpness) => {
    const { dniWPerM2 } = lightOf(15, [0.2, 0.5, 0.7, 0.6, 0.3], [0.2, 0.2, 0.2, 0.2, 0.2], { sharpness });
    for (let k = 1; k < 75; k++) expect(Math.abs(dniWPerM2[k]! - dniWPerM2[k - 1]!)).toBeLessThan(0.05 * BEAM);
  });
  test('night has no line of its own: days on both sides are as if it were not there', () => {
    const each = 10;
    const [first, second] = [
      [0.3, 0.6],
      [0.8, 0.4],
    ];
    const day = (beams: readonly number[], from: number): LightMinutes =>
      lightOf(each, beams, [0.2, 0.4], { opening: (k) => Math.sin(from + k), brightness: (k) => Math.cos(from + k) });
    const isDay = (k: number): boolean => Math.floor(k / each) % 4 > 0 && Math.floor(k / each) % 4 < 3;
    const both = lightOf(
      each,
      [0, ...first, 0, 0, ...second, 0],
      [0, 0.2, 0.4, 0, 0, 0.2, 0.4, 0],
      { opening: (k) => Math.sin(k), brightness: (k) => Math.cos(k) },
      isDay,
    );
    for (const name of ['dniWPerM2', 'dhiWPerM2', 'ghiWPerM2'] as const) {
      close(both[name].subarray(10, 30), day(first, 10)[name], 1e-9);
      close(both[name].subarray(50, 70), day(second, 50)[name], 1e-9);
      expect(Math.max(...both[name].subarray(30, 50))).toBe(0);
    }
  });
});

describe('brightness of the sky', () => {
  const coverSpread = (bright: number): number =>
    CLOUDS.brightnessSpread * Math.exp(-CLOUDS.darkerWanders * (Math.min(0.8, bright) - 0.35));
  const ratioOf = (light: LightMinutes): number => light.dhiWPerM2[0]! / light.dhiWPerM2[1]!;

  test.each([0.2, 0.5, 0.9])('under a closed cover that gives %s of a clear sky it wanders, the darker the more', (bright) => {
    // The least share of beam that is told apart, 0.002, is none to the power of six.
    expect(ratioOf(lightOf(2, [0], [bright], { brightness: [0.4, -0.4] }))).toBeCloseTo(Math.exp(0.8 * coverSpread(bright)), 9);
  });
  test('a closed cover has no edges, whatever the noise', () => {
    const opening = (k: number): number => 4 * Math.sin(k);
    close(lightOf(10, [0, 0], [0.3, 0.3], { opening }).dhiWPerM2, column(20, 0.3 * GLOBAL), 1e-9);
  });
  test.each([0.5, 0.8])('with %s of the beam it wanders less', (share) => {
    const spread = CLOUDS.clearSpread + (coverSpread(0.2) - CLOUDS.clearSpread) * (1 - share ** CLOUDS.clearPower);
    expect(ratioOf(lightOf(2, [0.94 * share], [0.2], { brightness: [0.4, -0.4] }))).toBeCloseTo(Math.exp(0.8 * spread), 6);
  });
  test('a clear sky hardly wanders', () => {
    const ratio = ratioOf(lightOf(2, [1], [0.2], { brightness: [1, -1] }));
    expect(ratio).toBeGreaterThan(Math.exp(2 * CLOUDS.clearSpread));
    expect(ratio).toBeLessThan(1.06);
  });
  test('edges of clouds shine: all of it at the edge, half of it at the width', () => {
    // No hardness, so every minute is half open, and the noise alone says how far the edge is.
    const light = lightOf(4, [0.47], [0.2], { sharpness: 0, opening: [0, CLOUDS.edgeWidth, -CLOUDS.edgeWidth, 9] });
    close(light.dniWPerM2, column(4, 0.47 * BEAM), 1e-9);
    const [edge, inside, outside, away] = Array.from(light.dhiWPerM2, Math.log) as [number, number, number, number];
    expect(edge - inside).toBeCloseTo(CLOUDS.edgeLight / 2, 9);
    expect(outside).toBeCloseTo(inside, 9);
    expect(edge - away).toBeCloseTo(CLOUDS.edgeLight * (1 - 1 / (1 + (9 / CLOUDS.edgeWidth) ** 2)), 9);
  });
  test.each([0.2, 0.7])(
    'an open way to the sun adds to it under a cover, and takes from it under a clear sky: share %s',
    (share) => {
      const hard = 3;
      const { dniWPerM2, dhiWPerM2 } = lightOf(20, [0.94 * share], [0.2], { opening: ramp(20), sharpness: hard });
      const withBeam = CLOUDS.brightWithBeam + CLOUDS.brightWithBeamByShare * share;
      const open = openOf(share, hard, ramp(20));
      const ripple = open.map((one) => {
        const depth = Math.log(one / (1 - one)) / hard;
        return Math.exp(withBeam * one + CLOUDS.edgeLight / (1 + (depth / CLOUDS.edgeWidth) ** 2));
      });
      close(
        dhiWPerM2,
        ripple.map((one) => (0.2 * GLOBAL * one) / meanOf(ripple)),
        0.4,
      );
      expect(meanOf(dniWPerM2)).toBeCloseTo(0.94 * share * BEAM, 9);
    },
  );
});

describe('no minute much brighter than a clear sky', () => {
  // Two minutes of a closed cover, apart by the noise; indices are diffuse light over a clear sky's.
  const [knee, most] = [1.25, 1.48];
  const spread = CLOUDS.brightnessSpread * Math.exp(-CLOUDS.darkerWanders * 0.45);
  const indices = (first: number, second: number): Float64Array => {
    const away = Math.log(first / second) / 2 / spread;
    const { dhiWPerM2 } = lightOf(2, [0], [(first + second) / 2], { brightness: [away, -away] });
    return dhiWPerM2.map((dhi) => dhi / GLOBAL);
  };
  const pressed = (index: number): number => knee + (most - knee) * (1 - Math.exp(-(index - knee) / (most - knee)));
  test('up to the knee all stays', () => close(indices(1.24, 0.9), [1.24, 0.9], 1e-9));
  test('beyond the knee it is pressed together, and the sum kept', () => {
    const factor = 2.2 / (pressed(1.5) + 0.7);
    close(indices(1.5, 0.7), [pressed(1.5) * factor, 0.7 * factor], 1e-9);
  });
  test('beam counts with it', () => {
    // Half open throughout (no hardness), far from any edge: 0.376 of a clear sky in both minutes; with it 1.5 and 0.8.
    const beam = (0.47 * COS * BEAM) / GLOBAL;
    const [first, second] = [1.5 - beam, 0.8 - beam];
    const bright = (first + second) / 2;
    const cover = CLOUDS.brightnessSpread * Math.exp(-CLOUDS.darkerWanders * (bright - 0.35));
    const away =
      Math.log(first / second) / 2 / (CLOUDS.clearSpread + (cover - CLOUDS.clearSpread) * (1 - 0.5 ** CLOUDS.clearPower));
    const { dhiWPerM2 } = lightOf(2, [0.47], [bright], { sharpness: 0, opening: 1e6, brightness: [away, -away] });
    const factor = (2 * bright) / (pressed(1.5) - beam + second);
    close(dhiWPerM2, [(pressed(1.5) - beam) * factor * GLOBAL, second * factor * GLOBAL], 1e-3);
  });
  test('what is still too bright is handed to the other minutes', () => close(indices(1.7, 0.9), [most, 2.6 - most], 1e-9));
  test('a mean that is brighter itself is kept, alike in all minutes', () => close(indices(1.65, 1.55), [1.6, 1.6], 1e-9));
  test('beside the beam there is room for less', () => {
    // Hard edges: one minute is shut, the other takes all the beam of both, 0.8 · 1.6 of a clear sky, and has room for 0.2.
    const { dniWPerM2, dhiWPerM2 } = lightOf(2, [0.8], [0.5], { opening: [-9, 9], sharpness: 50 });
    expect(dniWPerM2[0]).toBeLessThan(1e-6);
    expect((dniWPerM2[1]! * COS) / GLOBAL).toBeCloseTo(1.28, 6);
    close(dhiWPerM2, [0.8 * GLOBAL, 0.2 * GLOBAL], 1e-3);
  });
  test('beside a beam that is too bright by itself a little diffuse light is left, 0.03 of a clear sky', () => {
    const bright = { ...clearOf(2), extraterrestrialWPerM2: column(2, 5000) };
    const { dhiWPerM2 } = cloudMinutes(targetsOf(2, [0.95], [0.3]), bright, noiseOf(2, { opening: [-9, 9], sharpness: 50 }));
    close(dhiWPerM2, [0.57 * GLOBAL, 0.03 * GLOBAL], 1e-3);
  });
});
