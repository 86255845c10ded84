import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fixedZone, timeGrid } from '../../src/base/index.ts';
import {
  cosIncidence,
  type PvArray,
  type PvSystem,
  perezDiffuse,
  planeYields,
  powerOfPlanesW,
  pvPowerW,
  type WeatherNumbers,
} from '../../src/pv/index.ts';
import { relativeAirMass, sunTrack } from '../../src/sky/index.ts';

const GRID = timeGrid(Date.UTC(2025, 5, 21), 1, 600, fixedZone('UTC+1', 3600));
const SUN = sunTrack(GRID, 48.2, 16.4);
const array = (more: Partial<PvArray> = {}): PvArray => ({
  kWp: 5,
  tiltDeg: 30,
  azimuthDeg: 180,
  temperatureCoefficientPerK: -0.0034,
  lossPercent: 8,
  mounting: 'roof',
  horizonDeg: [],
  monthlyLossPercent: [],
  ...more,
});
const system = (arrays: PvArray[], ratedW = 1000 * arrays.reduce((sum, a) => sum + a.kWp, 0)): PvSystem => ({
  arrays,
  inverter: { ratedW, efficiency: 0.965 },
});
/** A day of constant beam and diffuse clearness. */
const weather = (beam: number, diffusePerCos: number): WeatherNumbers => {
  const dhiWPerM2 = SUN.cosZenith.map((c) => diffusePerCos * c);
  const dniWPerM2 = SUN.cosZenith.map((c) => (c > 0 ? beam : 0));
  return {
    dniWPerM2,
    dhiWPerM2,
    ghiWPerM2: SUN.cosZenith.map((c, k) => (dhiWPerM2[k] ?? 0) + (dniWPerM2[k] ?? 0) * c),
    airC: new Float64Array(GRID.steps).fill(20),
    windMPerS: new Float64Array(GRID.steps).fill(1),
  };
};
const kWh = (power: Float64Array): number => power.reduce((a, b) => a + b, 0) / 6000;
const run = (s: PvSystem, w: WeatherNumbers): Float64Array => pvPowerW(s, GRID, SUN, w);

describe('pvPowerW', () => {
  test('a clear June day of 5 kWp to the south gives 5 to 7 kWh/kWp (te Heesen and others: 5–6, rarely more)', () => {
    const day = kWh(run(system([array()]), weather(800, 120))) / 5;
    expect(day).toBeGreaterThan(5);
    expect(day).toBeLessThan(7);
  });
  test('beyond the polar circle a stretch of light goes on past midnight, and each day has the losses of its own month', () => {
    const grid = timeGrid(Date.UTC(2025, 5, 29), 4, 600, fixedZone('UTC', 0));
    const sun = sunTrack(grid, 78, 15);
    const sky = {
      ghiWPerM2: sun.cosZenith.map((c) => 300 * c),
      dniWPerM2: new Float64Array(grid.steps),
      dhiWPerM2: sun.cosZenith.map((c) => 300 * c),
      airC: new Float64Array(grid.steps),
      windMPerS: new Float64Array(grid.steps),
    };
    // A noon without light cuts the stretch in two.
    sky.ghiWPerM2[72] = 0;
    sky.dhiWPerM2[72] = 0;
    const [plane] = planeYields([array()], grid, sun, sky);
    expect(plane?.lit).toEqual([0, 72, 73, grid.steps]);
    expect(plane?.dcWPerKWp.length).toBe(grid.steps - 1);
    const flat = pvPowerW(system([array()], 20_000), grid, sun, sky);
    const july = [0, 0, 0, 0, 0, 0, 100, 0, 0, 0, 0, 0];
    const lossy = pvPowerW(system([array({ monthlyLossPercent: july })], 20_000), grid, sun, sky);
    const firstOfJuly = grid.dayStart[2] ?? 0;
    expect(flat[72]).toBe(0);
    expect(Math.max(...flat.subarray(firstOfJuly))).toBeGreaterThan(100);
    expect(lossy.subarray(0, firstOfJuly)).toEqual(flat.subarray(0, firstOfJuly));
    expect(Math.max(...lossy.subarray(firstOfJuly))).toBe(0);
  });
  test('used room is written over whole; power at night too', () => {
    const sky = weather(700, 150);
    const fresh = planeYields([array()], GRID, SUN, sky);
    const steps = fresh[0]!.dcWPerKWp.length;
    expect(steps).toBeLessThan(GRID.steps);
    const used = { dcWPerKWp: new Float64Array(steps).fill(7), lit: [] };
    const again = planeYields([array()], GRID, SUN, sky, undefined, undefined, [used]);
    expect(again[0]?.dcWPerKWp).toBe(used.dcWPerKWp);
    expect(again).toEqual(fresh);
    const power = new Float64Array(GRID.steps).fill(7);
    expect(powerOfPlanesW(system([array()]), GRID, fresh, power)).toBe(power);
    expect(power).toEqual(run(system([array()]), sky));
  });
  test('never above the rating, never below 0, dark at night', () => {
    const power = run(system([array()], 2500), weather(850, 120));
    expect(Math.max(...power)).toBe(2500);
    expect(Math.min(...power)).toBe(0);
    SUN.cosZenith.forEach((c, k) => void (c === 0 && expect(power[k]).toBe(0)));
  });
  test('east before noon, west after; both together are what each gives, into one inverter far from its limit', () => {
    const east = run(system([array({ azimuthDeg: 90 })], 20_000), weather(700, 150));
    const west = run(system([array({ azimuthDeg: 270 })], 20_000), weather(700, 150));
    const both = run(system([array({ azimuthDeg: 90 }), array({ azimuthDeg: 270 })], 20_000), weather(700, 150));
    const peak = (power: Float64Array): number => power.indexOf(Math.max(...power));
    expect(peak(east)).toBeLessThan(peak(west));
    // The inverter's own need is paid once, not twice: together they give a little more.
    expect(kWh(both)).toBeGreaterThan(kWh(east) + kWh(west));
    expect(kWh(both) / (kWh(east) + kWh(west))).toBeLessThan(1.05);
  });
  test('losses: ten percent less light on the modules is about ten percent less power; months count on top', () => {
    const full = kWh(run(system([array({ lossPercent: 0 })]), weather(600, 150)));
    const less = kWh(run(system([array({ lossPercent: 10 })]), weather(600, 150)));
    const june = kWh(
      run(system([array({ lossPercent: 0, monthlyLossPercent: [0, 0, 0, 0, 0, 10, 0, 0, 0, 0, 0, 0] })]), weather(600, 150)),
    );
    expect(less / full).toBeCloseTo(0.9, 2);
    expect(june).toBeCloseTo(less, 9);
  });
  test('an open rack runs cooler than a roof and gives more', () => {
    expect(kWh(run(system([array({ mounting: 'open' })]), weather(700, 150)))).toBeGreaterThan(
      kWh(run(system([array()]), weather(700, 150))),
    );
  });
  test('a skyline in the south takes the low sun; flat zeros change nothing', () => {
    const free = run(system([array()]), weather(700, 150));
    expect(run(system([array({ horizonDeg: [0, 0, 0, 0] })]), weather(700, 150))).toEqual(free);
    const east = run(system([array({ horizonDeg: [0, 0, 30, 0, 0, 0, 0, 0] })]), weather(700, 150));
    const morning = SUN.zenithDeg.findIndex((z) => z < 75);
    expect(east[morning] ?? 0).toBeLessThan(0.6 * (free[morning] ?? 0));
    const noon = 66;
    expect((east[noon] ?? 0) / (free[noon] ?? 1)).toBeGreaterThan(0.97);
    expect(east[noon] ?? 0).toBeLessThan(free[noon] ?? 0);
  });
  test('lengths must match', () => {
    expect(() => pvPowerW(system([array()]), timeGrid(Date.UTC(2025, 5, 21), 1, 60, GRID.zone), SUN, weather(1, 1))).toThrow(
      RangeError,
    );
  });
});

describe('laws', () => {
  const sunny = fc.record({
    beam: fc.double({ min: 0, max: 1000, noNaN: true }),
    diffuse: fc.double({ min: 0, max: 500, noNaN: true }),
    more: fc.double({ min: 0, max: 0.3, noNaN: true }),
    tilt: fc.integer({ min: 0, max: 90 }),
    azimuth: fc.integer({ min: 0, max: 359 }),
  });
  test('more sun is never less PV at the same air temperature: beam and diffuse grown alike', () => {
    fc.assert(
      fc.property(sunny, ({ beam, diffuse, more, tilt, azimuth }) => {
        const s = system([array({ tiltDeg: tilt, azimuthDeg: azimuth })]);
        const before = run(s, weather(beam, diffuse));
        const after = run(s, weather(beam * (1 + more), diffuse * (1 + more)));
        before.forEach((power, k) => void expect(after[k] ?? 0).toBeGreaterThanOrEqual(power - 1e-6));
      }),
      { numRuns: 200 },
    );
  });
  test('Perez on a plane is never negative, whatever cloud edges do', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 90, noNaN: true }),
        fc.double({ min: 0, max: 1200, noNaN: true }),
        fc.double({ min: 0, max: 900, noNaN: true }),
        fc.double({ min: 0, max: 90, noNaN: true }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        (zenithDeg, dniWPerM2, dhiWPerM2, tiltDeg, cosIncidence) => {
          const parts = perezDiffuse({
            zenithDeg,
            dniWPerM2,
            dhiWPerM2,
            tiltDeg,
            cosIncidence,
            extraterrestrialWPerM2: 1361,
            airMass: relativeAirMass(zenithDeg),
          });
          expect(parts.totalWPerM2).toBeGreaterThanOrEqual(0);
        },
      ),
      { numRuns: 20_000 },
    );
  });
  test('the clamp has work to do: a bright, cloudy low sun behind the plane turns the bare sum negative', () => {
    const parts = perezDiffuse({
      zenithDeg: 75,
      dniWPerM2: 200,
      dhiWPerM2: 900,
      tiltDeg: 30,
      cosIncidence: cosIncidence(30, 0, 75, 180),
      extraterrestrialWPerM2: 1330,
      airMass: relativeAirMass(75),
    });
    expect(parts.isotropicWPerM2 + parts.circumsolarWPerM2 + parts.horizonWPerM2).toBeLessThan(0);
    expect(parts.totalWPerM2).toBe(0);
  });
});
