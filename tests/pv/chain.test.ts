import { expect, test } from 'vitest';
import { chance, degOf, fixedZone, timeGrid } from '../../src/base/index.ts';
import {
  acPowerW,
  beamOnPlaneWPerM2,
  cellTempFaimanC,
  cosIncidence,
  dcPowerW,
  groundIncidenceDeg,
  groundOnPlaneWPerM2,
  MOUNTINGS,
  openSkyShare,
  type PvArray,
  passingShare,
  passingShareGround,
  passingShareSky,
  perezDiffuse,
  planeYields,
  powerOfPlanesW,
  pvPowerW,
  skyIncidenceDeg,
  skylineDeg,
  type WeatherNumbers,
} from '../../src/pv/index.ts';
import { sunTrack } from '../../src/sky/index.ts';
import { byStep } from './by-step.ts';

// The chain works with vectors, tables and parts made once; here each step is put together again out of the published functions,
// each of which has its own reference test. Both must agree, to what an angle and its cosine lose on the way there and back.

const GRID = timeGrid(Date.UTC(2025, 3, 30), 2, 300, fixedZone('UTC+1', 3600));
const SUN = sunTrack(GRID, 47.3, 15.1);
const ALBEDO = 0.35;
const ARRAYS: readonly PvArray[] = [
  {
    kWp: 4.2,
    tiltDeg: 34,
    azimuthDeg: 140,
    temperatureCoefficientPerK: -0.0038,
    lossPercent: 7,
    mounting: 'roof',
    horizonDeg: [0, 4, 12, 9, 2, 0, 6, 15],
    monthlyLossPercent: [0, 0, 0, 25, 3, 0, 0, 0, 0, 0, 0, 0],
  },
  {
    kWp: 2.1,
    tiltDeg: 75,
    azimuthDeg: 265,
    temperatureCoefficientPerK: -0.003,
    lossPercent: 11,
    mounting: 'open',
    horizonDeg: [],
    monthlyLossPercent: [],
  },
];
const INVERTER = { ratedW: 4200, efficiency: 0.955 };

/** Every kind of light, by chance: beam without diffuse, diffuse without beam, both, and none in full day. */
function skies(): WeatherNumbers {
  const luck = chance(11, 'tests/chain');
  const some = (most: number): Float64Array =>
    Float64Array.from(SUN.cosZenith, (cosZenith) => (cosZenith > 0 && luck.uniform() > 0.1 ? most * luck.uniform() : 0));
  const [dniWPerM2, dhiWPerM2] = [some(950), some(400)];
  const ghiWPerM2 = Float64Array.from(dhiWPerM2, (dhi, k) => dhi + (dniWPerM2[k] ?? 0) * (SUN.cosZenith[k] ?? 0));
  return {
    ghiWPerM2,
    dniWPerM2,
    dhiWPerM2,
    airC: Float64Array.from({ length: GRID.steps }, () => 30 * luck.uniform() - 5),
    windMPerS: Float64Array.from({ length: GRID.steps }, () => 8 * luck.uniform()),
  };
}

/** Light on the cells of an array in a step, out of the published functions. */
function lightAt(k: number, { tiltDeg, azimuthDeg, horizonDeg }: PvArray, sky: WeatherNumbers): number {
  const at = (values: Float64Array): number => values[k] ?? 0;
  const [zenithDeg, sunAzimuthDeg] = [at(SUN.zenithDeg), degOf(Math.atan2(at(SUN.east), at(SUN.north)))];
  if (at(SUN.cosZenith) <= 0) return 0;
  const cos = cosIncidence(tiltDeg, azimuthDeg, zenithDeg, sunAzimuthDeg);
  const parts = perezDiffuse({
    dhiWPerM2: at(sky.dhiWPerM2),
    dniWPerM2: at(sky.dniWPerM2),
    extraterrestrialWPerM2: at(SUN.extraterrestrialWPerM2),
    airMass: at(SUN.airMass),
    zenithDeg,
    tiltDeg,
    cosIncidence: cos,
  });
  const isBehind = horizonDeg.length > 0 && 90 - zenithDeg < skylineDeg(horizonDeg, sunAzimuthDeg);
  const open = horizonDeg.length > 0 ? openSkyShare(horizonDeg, tiltDeg, azimuthDeg) : 1;
  const glow = isBehind ? 0 : passingShare(cos);
  const wide = (parts.isotropicWPerM2 + parts.horizonWPerM2) * passingShareSky(tiltDeg) * open;
  const beam = beamOnPlaneWPerM2(at(sky.dniWPerM2), cos) * glow;
  const ground = groundOnPlaneWPerM2(at(sky.ghiWPerM2), tiltDeg, ALBEDO) * passingShareGround(tiltDeg);
  return beam + Math.max(0, wide + parts.circumsolarWPerM2 * glow) + ground;
}

/** Steps in which the sun stands so close to the skyline that half a degree of the chain's table decides. */
function isAtSkyline(k: number, { horizonDeg }: PvArray): boolean {
  if (horizonDeg.length === 0) return false;
  const sunAzimuthDeg = degOf(Math.atan2(SUN.east[k] ?? 0, SUN.north[k] ?? 0));
  return Math.abs(90 - (SUN.zenithDeg[k] ?? 0) - skylineDeg(horizonDeg, sunAzimuthDeg)) < 0.2;
}

/** Equal to a ten-millionth. */
function expectSame(found: number | undefined, expected: number, what: string): void {
  expect(Math.abs((found ?? Number.NaN) - expected), what).toBeLessThan(1e-7 * (1 + Math.abs(expected)));
}

test('the chain is its published parts, step by step: light, cells, modules, inverter', () => {
  const sky = skies();
  const yields = planeYields(ARRAYS, GRID, SUN, sky, ALBEDO).map((plane) => byStep(plane, GRID.steps));
  const power = pvPowerW({ arrays: ARRAYS, inverter: INVERTER, albedo: ALBEDO }, GRID, SUN, sky);
  let [lit, shaded] = [0, 0];
  for (let k = 0; k < GRID.steps; k++) {
    if (ARRAYS.some((array) => isAtSkyline(k, array))) continue;
    let dcW = 0;
    ARRAYS.forEach((array, i) => {
      const light = lightAt(k, array, sky);
      if (light === 0) {
        expect(yields[i]?.[k], `yield in step ${k}, array ${i}`).toBe(0);
        return;
      }
      const cellC = cellTempFaimanC(light, sky.airC[k] ?? 0, sky.windMPerS[k] ?? 0, MOUNTINGS[array.mounting]);
      expectSame(
        yields[i]?.[k],
        dcPowerW(1000, light, cellC, array.temperatureCoefficientPerK),
        `yield in step ${k}, array ${i}`,
      );
      // The first day is in April, the second in May: the losses by month differ.
      const month = k < (GRID.dayStart[1] ?? 0) ? 3 : 4;
      const rest = (1 - array.lossPercent / 100) * (1 - (array.monthlyLossPercent[month] ?? 0) / 100);
      dcW += dcPowerW(1000 * array.kWp * rest, light, cellC, array.temperatureCoefficientPerK);
      lit++;
    });
    const first = ARRAYS[0] as PvArray;
    if (lightAt(k, { ...first, horizonDeg: [] }, sky) > lightAt(k, first, sky) + 50) shaded++;
    expectSame(power[k], dcW > 0 ? acPowerW(dcW, INVERTER.ratedW, INVERTER.efficiency) : 0, `power in step ${k}`);
  }
  // The test saw what it is about: light, a skyline in the way of the sun, a full inverter, and dark.
  expect([lit > 400, shaded > 5, power.includes(INVERTER.ratedW), power.includes(0)]).toEqual([true, true, true, true]);
});

test('a row of heights of zero is a flat horizon', () => {
  const sky = skies();
  const [flat, none] = [[0, 0, 0, 0], []].map((horizonDeg) =>
    planeYields([{ ...(ARRAYS[0] as PvArray), horizonDeg }], GRID, SUN, sky),
  );
  expect(flat).toEqual(none);
});

test('a single height is no skyline, two are', () => {
  const sky = skies();
  const light = (horizonDeg: readonly number[]) =>
    planeYields([{ ...(ARRAYS[0] as PvArray), horizonDeg }], GRID, SUN, sky)[0]?.dcWPerKWp;
  expect(light([30])).toEqual(light([]));
  expect(light([0, 20])).not.toEqual(light([]));
});

test('with the sun down a plane stays dark, whatever the weather says', () => {
  const sky = skies();
  const bright = { ...sky, ghiWPerM2: sky.ghiWPerM2.map(() => 200), dhiWPerM2: sky.dhiWPerM2.map(() => 200) };
  const [yields] = planeYields([ARRAYS[1] as PvArray], GRID, SUN, bright).map((plane) => byStep(plane, GRID.steps));
  const lit = SUN.cosZenith.map((cosZenith, k) => Number(cosZenith > 0 !== (yields?.[k] ?? 0) > 0));
  expect(lit.includes(1)).toBe(false);
});

test('numbers that make no sense are refused by name', () => {
  const sky = skies();
  const short = { ...sky, ghiWPerM2: sky.ghiWPerM2.subarray(1) };
  expect(() => planeYields(ARRAYS, { steps: 3 }, SUN, sky)).toThrow(/^sun has 576 steps: must have 3$/);
  expect(() => planeYields(ARRAYS, GRID, SUN, short)).toThrow(/^weather has 575 steps: must have 576$/);
  expect(() => powerOfPlanesW({ arrays: ARRAYS, inverter: INVERTER }, GRID, [])).not.toThrow(/undefined/);
  expect(() => powerOfPlanesW({ arrays: ARRAYS, inverter: INVERTER }, GRID, [])).toThrow(/^yields has 0 planes: must have 2$/);
  expect(() => acPowerW(100, 0, 0.9)).toThrow(/^ratedW = 0: must be above 0$/);
  expect(() => acPowerW(100, 100, 0)).toThrow(/^efficiency = 0: must be above 0$/);
  expect(() => cellTempFaimanC(-1, 20, 1, MOUNTINGS.roof)).toThrow(/^poaWPerM2 = -1: must be 0 or more$/);
  expect(() => cellTempFaimanC(100, 20, Number.NaN, MOUNTINGS.roof)).toThrow(/^windMPerS = NaN: must be 0 or more$/);
  expect(() => skylineDeg([5], 90)).toThrow(/^horizonDeg has 1 heights: must have 2 or more$/);
});

test('angles for sky and ground light (Brandemuehl and Beckman 1980, as printed in Duffie and Beckman, eq. 5.4.1 and 5.4.2)', () => {
  expect([skyIncidenceDeg(0), skyIncidenceDeg(90)]).toEqual([59.7, expect.closeTo(59.3337, 6)]);
  expect([groundIncidenceDeg(0), groundIncidenceDeg(90)]).toEqual([90, expect.closeTo(59.7213, 6)]);
});
