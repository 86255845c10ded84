import { describe, expect, test } from 'vitest';
import { completeIrradiance, erbsSplit, type MeasuredWeather, type SunTrack, sunTrack } from '../../src/sky/index.ts';
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
    expect(() => completeIrradiance({ ghiWPerM2: new Float64Array(23), airC }, SUN)).toThrow(
      new RangeError('ghiWPerM2 has 23 values: must have 24, one a step of the sun'),
    );
    expect(() => completeIrradiance({ ghiWPerM2: new Float64Array(24), airC, windMPerS: new Float64Array(25) }, SUN)).toThrow(
      /windMPerS has 25/,
    );
  });
  // One step of day by itself: the sun at 30 degrees of height, 1361 W/m² outside.
  const oneOf = (value: number): Float64Array => Float64Array.of(value);
  const STEP: SunTrack = {
    east: oneOf(0),
    north: oneOf(-0.8),
    cosZenith: oneOf(0.5),
    zenithDeg: oneOf(60),
    airMass: oneOf(2),
    extraterrestrialWPerM2: oneOf(1361),
  };
  interface Seen {
    readonly ghi?: number;
    readonly dni?: number;
    readonly dhi?: number;
    readonly wind?: number;
  }
  const stepOf = ({ ghi = Number.NaN, dni, dhi, wind }: Seen, sun = STEP) => {
    const measured: MeasuredWeather = {
      ghiWPerM2: oneOf(ghi),
      airC: oneOf(7),
      ...(dni === undefined ? {} : { dniWPerM2: oneOf(dni) }),
      ...(dhi === undefined ? {} : { dhiWPerM2: oneOf(dhi) }),
      ...(wind === undefined ? {} : { windMPerS: oneOf(wind) }),
    };
    const { weather, ...told } = completeIrradiance(measured, sun);
    return { light: [weather.ghiWPerM2[0], weather.dniWPerM2[0], weather.dhiWPerM2[0]], weather, ...told };
  };
  test.each<[string, Seen, number, number, number]>([
    ['all three that agree', { ghi: 500, dni: 700, dhi: 150 }, 500, 700, 150],
    ['of three that do not, GHI and DHI count', { ghi: 500, dni: 600, dhi: 150 }, 500, 700, 150],
    ['DHI above GHI is cut', { ghi: 300, dhi: 350 }, 300, 0, 300],
    ['a negative DHI is none', { ghi: 300, dhi: -5 }, 300, 600, 0],
    ['DNI above GHI leaves no DHI, and is cut', { ghi: 300, dni: 900 }, 300, 600, 0],
    ['a sun that was measured as hidden leaves all to DHI', { ghi: 300, dni: 0 }, 300, 0, 300],
    ['a beam stronger than outside becomes diffuse', { ghi: 800, dhi: 50 }, 800, 1361, 119.5],
    ['without GHI, DNI counts up to what comes from outside', { dni: 1500, dhi: 100 }, 780.5, 1361, 100],
    ['without GHI, negative DNI is none', { dni: -3, dhi: 100 }, 100, 0, 100],
    ['no light', { ghi: 0 }, 0, 0, 0],
    ['a negative GHI is none', { ghi: -4 }, 0, 0, 0],
  ])('%s', (_, seen, ghi, dni, dhi) => {
    const { light, unknownSteps } = stepOf(seen);
    [ghi, dni, dhi].forEach((wanted, i) => void expect(light[i]).toBeCloseTo(wanted, 9));
    expect(unknownSteps).toBe(0);
  });
  test('only GHI: as Erbs splits it', () => {
    const { ghiWPerM2, dniWPerM2, dhiWPerM2 } = erbsSplit(400, 1361, 60, 0.5);
    stepOf({ ghi: 400 }).light.forEach((one, i) => void expect(one).toBeCloseTo([ghiWPerM2, dniWPerM2, dhiWPerM2][i]!, 9));
  });
  test.each<[string, Seen]>([
    ['nothing', {}],
    ['DNI alone', { dni: 700 }],
    ['DHI alone', { dhi: 100 }],
  ])('%s is too little: dark, counted by day, not by night', (_, seen) => {
    expect(stepOf(seen)).toMatchObject({ light: [0, 0, 0], unknownSteps: 1, closureGapWPerM2: 0 });
    expect(stepOf(seen, { ...STEP, cosZenith: oneOf(0) }).unknownSteps).toBe(0);
  });
  test('the gap is the mean of steps with all three, by day, whichever way they are off', () => {
    const three = (...values: number[]): Float64Array => Float64Array.from(values);
    const sun = { ...STEP, cosZenith: three(0.5, 0.5, 0.5, 0), extraterrestrialWPerM2: three(1361, 1361, 1361, 1361) };
    const measured = {
      ghiWPerM2: three(500, 500, 500, 50),
      dniWPerM2: three(700, 760, Number.NaN, 0),
      dhiWPerM2: three(140, 140, 140, 0),
      airC: three(1, 1, 1, 1),
    };
    // 500 − 140 − 350 = 10 and 500 − 140 − 380 = −20.
    expect(completeIrradiance(measured, sun).closureGapWPerM2).toBeCloseTo(15, 12);
    // A step that agrees counts too.
    const agreed = { ...measured, dniWPerM2: three(700, 720, Number.NaN, 0) };
    expect(completeIrradiance(agreed, sun).closureGapWPerM2).toBeCloseTo(5, 12);
  });
  test('wind: as measured, none below 0, 2 m/s where it is missing; air as it is', () => {
    const windOf = (wind?: number) => stepOf(wind === undefined ? {} : { wind }).weather.windMPerS[0];
    expect([windOf(5), windOf(0), windOf(-1), windOf(Number.NaN), windOf()]).toEqual([5, 0, 0, 2, 2]);
    expect(stepOf({}).weather.airC).toEqual(oneOf(7));
    // A copy: what is done with the weather does not touch what was measured.
    expect(completeIrradiance({ ghiWPerM2: oneOf(1), airC: STEP.airMass }, STEP).weather.airC).not.toBe(STEP.airMass);
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
