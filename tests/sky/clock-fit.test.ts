/** The clock check on days made by hand: the misfit of its docstring reckoned a second time, without running sums. */
import { describe, expect, test } from 'vitest';
import { chance, cosDeg, once, sinDeg } from '../../src/base/index.ts';
import { type ClockFit, clearGhiHaurwitzWPerM2, clockFit, type Steps, sunTrack } from '../../src/sky/index.ts';

const PLACE = [48, 0] as const;
const MIDNIGHT_MS = Date.UTC(2025, 4, 10);
const stepsOf = (days: number, stepS = 3600, startMs = MIDNIGHT_MS): Steps => ({
  startMs,
  stepS,
  steps: (days * 86_400) / stepS,
});
interface Plane {
  readonly tiltDeg: number;
  readonly azimuthDeg: number;
}

/** Haurwitz' clear sky over intervals that come so many minutes later than they say, as means of five minutes each. */
function clearLight(steps: Steps, laterMin = 0, { tiltDeg, azimuthDeg }: Plane = { tiltDeg: 0, azimuthDeg: 180 }): Float64Array {
  const pieces = steps.stepS / 300;
  const fine = { startMs: steps.startMs + laterMin * 60_000, stepS: 300, steps: steps.steps * pieces };
  const sun = sunTrack(fine, ...PLACE);
  return Float64Array.from({ length: steps.steps }, (_, i) => {
    let sum = 0;
    for (let k = i * pieces; k < (i + 1) * pieces; k++) {
      const [east, north, up] = [sun.east[k]!, sun.north[k]!, sun.cosZenith[k]!];
      const onPlane = sinDeg(tiltDeg) * (sinDeg(azimuthDeg) * east + cosDeg(azimuthDeg) * north) + cosDeg(tiltDeg) * up;
      if (up > 0) sum += clearGhiHaurwitzWPerM2(up) * (0.15 + (0.85 * Math.max(0, onPlane)) / up);
    }
    return sum / pieces;
  });
}

const HOURS = stepsOf(4);
const SHIFTS = Array.from({ length: 73 }, (_, s) => 5 * s - 180);
const clearByShift = once(() => SHIFTS.map((shift) => clearLight(HOURS, shift)));

/** What the docstring of `clockFit` asks for, on four days of hours. */
function worked(light: Float64Array): Omit<ClockFit, 'verdict'> {
  const misfits = Array.from({ length: 4 }, (_, d) =>
    clearByShift().map((model) => {
      let [power, common, square] = [0, 0, 0];
      for (let i = d * 24; i < (d + 1) * 24; i++) {
        power += light[i]! ** 2;
        common += light[i]! * model[i]!;
        square += model[i]! ** 2;
      }
      return Math.log(1 - common ** 2 / (power * square) + 0.002);
    }),
  );
  const total = SHIFTS.map((_, s) => misfits.reduce((sum, day) => sum + day[s]!, 0));
  const best = total.indexOf(Math.min(...total));
  const gains = misfits.map((day) => day[36]! - day[best]!);
  const mean = gains.reduce((a, b) => a + b, 0) / gains.length;
  const variance = gains.reduce((a, b) => a + (b - mean) ** 2, 0) / (gains.length - 1);
  const [before, here, after] = [total[best - 1], total[best]!, total[best + 1]];
  const bend = before === undefined || after === undefined ? 0 : (5 * (before - after)) / (2 * (before - 2 * here + after));
  return {
    bestShiftMin: Math.round(SHIFTS[best]! + bend),
    gainShare: 1 - Math.exp(-mean),
    certainty: best === 36 ? 0 : mean / Math.sqrt(variance / gains.length),
    days: misfits.length,
  };
}
const verdictBy = ({ bestShiftMin, certainty }: Omit<ClockFit, 'verdict'>): string =>
  Math.abs(bestShiftMin) <= 15 ? 'fits' : certainty >= 2 ? 'off' : 'cannot-tell';
const sure = (found: ClockFit): readonly unknown[] => [found.verdict, found.bestShiftMin, found.days];

describe('what it finds', () => {
  test.each([
    [-150, 'off'],
    [-60, 'off'],
    [-12, 'fits'],
    [0, 'fits'],
    [12, 'fits'],
    [18, 'off'],
    [120, 'off'],
  ])('clear days that come %s min late are to be moved by as much: %s', (late, verdict) => {
    const steps = stepsOf(4, 600);
    const fit = clockFit(steps, clearLight(steps, late), ...PLACE);
    expect(Math.abs(fit.bestShiftMin - late)).toBeLessThanOrEqual(1);
    expect(fit.verdict).toBe(verdict);
  });
  // Light by chance has no clock; clear days with clouds by chance have one.
  test.each([0, 0.2, 0.5, 1])('hours of which chance decides %s: shift, gain, certainty and verdict as defined', (chaos) => {
    const seen = new Set<string>();
    for (let seed = 0; seed < 8; seed++) {
      const draw = chance(seed, 'clouds');
      const light = clearByShift()[54 - 5 * seed]!.map((one) => one * (1 - chaos) + chaos * 900 * draw.uniform());
      const [found, wanted] = [clockFit(HOURS, light, ...PLACE), worked(light)];
      expect(Math.abs(found.bestShiftMin - wanted.bestShiftMin)).toBeLessThanOrEqual(chaos === 0 ? 0 : 1);
      expect(found.gainShare).toBeCloseTo(wanted.gainShare, 4);
      if (chaos > 0) expect(found.certainty).toBeCloseTo(wanted.certainty, 3);
      expect(found.days).toBe(4);
      expect(found.verdict).toBe(verdictBy(found));
      seen.add(found.verdict);
    }
    expect(seen.has(chaos === 1 ? 'cannot-tell' : 'off')).toBe(true);
  });
  test.each([-200, 200])('%s min is beyond its reach: the end of the reach', (late) => {
    const steps = stepsOf(4);
    expect(clockFit(steps, clearLight(steps, late), ...PLACE).bestShiftMin).toBe(Math.sign(late) * 180);
  });
  test('a roof to the east looks like an early clock to who does not know its plane', () => {
    const plane = { tiltDeg: 40, azimuthDeg: 110 };
    const steps = stepsOf(4, 600);
    const power = clearLight(steps, 0, plane);
    expect(sure(clockFit(steps, power, ...PLACE, plane))).toEqual(['fits', 0, 4]);
    expect(clockFit(steps, power, ...PLACE).bestShiftMin).toBeGreaterThan(30);
    const late = clearLight(steps, 60, plane);
    const fit = clockFit(steps, late, ...PLACE, plane);
    expect(sure(fit)).toEqual(['off', 60, 4]);
    // Moved by an hour nothing is left but the 0.002 of a clear day.
    const [common, square, model] = [
      late.map((one, i) => one * power[i]!),
      late.map((one) => one ** 2),
      power.map((one) => one ** 2),
    ].map((values) => values.reduce((a, b) => a + b, 0)) as [number, number, number];
    expect(fit.gainShare).toBeCloseTo(1 - 0.002 / (1 - common ** 2 / (square * model) + 0.002), 4);
  });
});

describe('what the light may be', () => {
  const minutes = stepsOf(4, 60);
  const draw = chance(1, 'minutes');
  const tens = stepsOf(4, 600);
  const tenLight = clearLight(tens, 45);
  const light = Float64Array.from({ length: minutes.steps }, (_, k) => tenLight[Math.floor(k / 10)]! * (0.5 + draw.uniform()));
  const means = Float64Array.from(
    { length: tens.steps },
    (_, i) => light.subarray(10 * i, 10 * i + 10).reduce((a, b) => a + b, 0) / 10,
  );
  const fit = clockFit(minutes, light, ...PLACE);

  test('minutes say what their means over ten say', () => {
    const coarse = clockFit(tens, means, ...PLACE);
    expect(sure(fit)).toEqual(sure(coarse));
    expect(fit.certainty).toBeCloseTo(coarse.certainty, 9);
    expect(fit.gainShare).toBeCloseTo(coarse.gainShare, 9);
  });
  test('some minutes beyond the last full ten change nothing', () => {
    const more = Float64Array.from([...light, 1e6, 1e6, 1e6]);
    expect(clockFit({ ...minutes, steps: more.length }, more, ...PLACE)).toEqual(fit);
  });
  test('watts of any roof: a thousandth or a thousand times as much is the same', () => {
    for (const factor of [1e-3, 1e3]) {
      const found = clockFit(
        minutes,
        light.map((one) => one * factor),
        ...PLACE,
      );
      expect(sure(found)).toEqual(sure(fit));
      expect(found.certainty).toBeCloseTo(fit.certainty, 6);
    }
  });
  test('missing and negative values count as dark', () => {
    const holes = (dark: number) => light.map((one, k) => (k % 9 === 4 || one === 0 ? dark : one));
    for (const dark of [Number.NaN, -50])
      expect(clockFit(minutes, holes(dark), ...PLACE)).toEqual(clockFit(minutes, holes(0), ...PLACE));
  });
  test('steps of seven minutes go in pairs', () => {
    const sevens = { startMs: MIDNIGHT_MS, stepS: 420, steps: 822 };
    const sun = sunTrack({ ...sevens, startMs: MIDNIGHT_MS + 50 * 60_000 }, ...PLACE);
    const found = clockFit(sevens, sun.cosZenith.map(clearGhiHaurwitzWPerM2), ...PLACE);
    expect(Math.abs(found.bestShiftMin - 50)).toBeLessThanOrEqual(1);
    expect(found.days).toBe(4);
  });
  test('another number of values than intervals is refused', () =>
    expect(() => clockFit(tens, means.subarray(1), ...PLACE)).toThrow(new RangeError('light has 575 values: must have 576')));
});

describe('days that count', () => {
  const daysOf = (steps: Steps, light = clearLight(steps)): number => clockFit(steps, light, ...PLACE).days;
  test('three at least, or it cannot tell', () => {
    const fitOf = (days: number): ClockFit => clockFit(stepsOf(days), clearLight(stepsOf(days), 60), ...PLACE);
    expect(fitOf(2)).toEqual({ verdict: 'cannot-tell', bestShiftMin: 0, gainShare: 0, certainty: 0, days: 2 });
    expect(sure(fitOf(3))).toEqual(['off', 60, 3]);
  });
  test('a day cut off at either end is left out, one that lacks less than an hour is not', () => {
    const from = (hours: number, days: number): Steps => stepsOf(days, 600, MIDNIGHT_MS + hours * 3_600_000);
    expect(daysOf(from(0, 4))).toBe(4);
    expect(daysOf(from(0.5, 4))).toBe(4);
    expect(daysOf(from(2, 4))).toBe(3);
    expect(daysOf(from(12, 4))).toBe(3);
    expect(daysOf(from(22, 4))).toBe(3);
  });
  test('days change at midnight by the sun: at 90 east that is 18:00 UTC', () => {
    const steps = stepsOf(4, 3600, MIDNIGHT_MS - 6 * 3_600_000);
    const sun = sunTrack(steps, 48, 90);
    const fit = clockFit(steps, sun.cosZenith.map(clearGhiHaurwitzWPerM2), 48, 90);
    expect([fit.days, fit.verdict]).toEqual([4, 'fits']);
    expect(clockFit(stepsOf(4), sunTrack(stepsOf(4), 48, 90).cosZenith, 48, 90).days).toBe(3);
  });
  // The brightest interval stands for 1000 W/m²; a clear day's brightest mean here is 924, so 0.15 of it is 0.139 of the clear day.
  test('a day needs 0.15 of a clear day’s light', () => {
    const steps = stepsOf(4);
    const clear = clearLight(steps);
    const dimmed = (share: number): Float64Array => clear.map((one, i) => (Math.floor(i / 24) === 2 ? share * one : one));
    const least = (0.15 * Math.max(...clear)) / 1000;
    expect(daysOf(steps, dimmed(least * 1.01))).toBe(4);
    expect(daysOf(steps, dimmed(least * 0.99))).toBe(3);
  });
  test('a dark day is one from midnight to midnight, whenever the file begins', () => {
    const steps = stepsOf(4, 3600, MIDNIGHT_MS + 6 * 3_600_000);
    const dark = clearLight(steps).map((one, i) => (i >= 42 && i < 66 ? 0.05 * one : one));
    expect([daysOf(steps), daysOf(steps, dark)]).toEqual([3, 2]);
  });
  test('polar night has none, whatever the instrument says', () => {
    const steps = stepsOf(5, 3600, Date.UTC(2025, 11, 20));
    expect(clockFit(steps, new Float64Array(120).fill(5), 80, 0).days).toBe(0);
  });
});
