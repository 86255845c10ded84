import { describe, expect, test } from 'vitest';
import { type TimeGrid, timeGrid, UTC } from '../../src/base/index.ts';
import { syntheticHousehold } from '../../src/house/index.ts';
import { ALBEDO, pvPowerW } from '../../src/pv/index.ts';
import type { Household, PvArray, Scenario, WeatherSeries } from '../../src/scenario/index.ts';
import { houseLoad, makeProfiles, roofW, simulate, skyOver, sunOver, yieldsUnder } from '../../src/simulate/index.ts';
import { sunTrack, syntheticWeather } from '../../src/sky/index.ts';
import { scenarioOf } from './hand.ts';

const JUNE_MS = Date.UTC(2025, 5, 10);
const HOUR_MS = 3_600_000;

const DAYS = { file: 'two days', intervalS: 86_400, atMs: Float64Array.of(JUNE_MS, JUNE_MS + 86_400_000) };
/** No roof and no house. */
const NOTHING: Pick<Scenario, 'pv' | 'household'> = {
  pv: { kind: 'measured', series: { ...DAYS, columns: { pvW: new Float64Array(2) } }, phases: [1] },
  household: {
    kind: 'measured',
    from: 'csv',
    series: { ...DAYS, columns: { loadW: new Float64Array(2) } },
    phaseSplit: [1, 0, 0],
    spikesSeed: null,
  },
};

/** Two days in June in steps of ten minutes, with parts of the scenario as wanted. */
function scenario(parts: Partial<Scenario>, grid: TimeGrid = timeGrid(JUNE_MS, 2, 600, UTC)): Scenario {
  return { ...scenarioOf({ pv: [[2, 0]] }), ...NOTHING, grid, ...parts };
}

const ARRAY: PvArray = {
  name: 'roof',
  peakW: 8000,
  tiltDeg: 30,
  azimuthDeg: 200,
  temperatureCoefficientPerK: -0.0034,
  lossShare: 0.08,
  monthlyLossPercent: [0, 0, 0, 0, 0, 10, 0, 0, 0, 0, 0, 0],
  mounting: 'roof',
  horizonDeg: [0, 10, 20, 10],
};
const PV: Scenario['pv'] = {
  kind: 'arrays',
  arrays: [ARRAY, { ...ARRAY, peakW: 2000, tiltDeg: 90, azimuthDeg: 90, mounting: 'open', horizonDeg: [] }],
  inverter: { ratedW: 6000, efficiencyShare: 0.96 },
  phases: [1, 2, 3],
};
const CLIMATE: Scenario['weather'] = {
  kind: 'synthetic',
  seed: 5,
  monthlyGhiWhPerM2: [34, 54, 95, 127, 157, 160, 166, 142, 103, 67, 37, 27].map((kWh) => kWh * 1000),
  monthlyAirC: [-1, 1, 5, 9, 14, 17, 19, 19, 15, 10, 4, 0],
};

describe('the roof', () => {
  test('modules under invented weather: the chain of pv, in kWp and percent, under the weather of sky, in kWh', () => {
    const whole = scenario({ pv: PV, weather: CLIMATE });
    const { grid, site } = whole;
    const sun = sunTrack(grid, site.latitudeDeg, site.longitudeDeg);
    const climate = {
      monthlyGhiKWhM2: [34, 54, 95, 127, 157, 160, 166, 142, 103, 67, 37, 27],
      monthlyTempC: CLIMATE.monthlyAirC,
      seed: 5,
    };
    const weather = syntheticWeather(climate, site, grid, sun);
    const arrays = PV.arrays.map(({ peakW, lossShare, ...array }) => ({
      ...array,
      kWp: peakW / 1000,
      lossPercent: 100 * lossShare,
    }));
    const expected = pvPowerW({ arrays, inverter: { ratedW: 6000, efficiency: 0.96 }, albedo: ALBEDO }, grid, sun, weather);
    const made = makeProfiles(whole);
    expect(made.pvW).toEqual(expected);
    expect(Math.max(...made.pvW)).toBeGreaterThan(3000);
    expect(made.weather).toEqual(weather);
  });

  test('what planes yield may be kept: only the others are worked out', () => {
    const whole = scenario({ pv: PV, weather: CLIMATE });
    const sky = skyOver(whole)!;
    const yields = yieldsUnder(() => sky, whole);
    expect(yields).toHaveLength(2);
    expect(yields[0]!.dcWPerKWp).not.toEqual(yields[1]!.dcWPerKWp);
    const asked: number[] = [];
    const again = yieldsUnder(
      () => sky,
      whole,
      (array, make) => {
        asked.push(array);
        return array === 0 ? yields[0]! : make();
      },
    );
    expect(asked).toEqual([0, 1]);
    expect(again[0]).toBe(yields[0]);
    expect(again[1]).toEqual(yields[1]);
    expect(sky.glow()).toBe(sky.glow());
  });

  test('where the yield of all planes is kept, the sky need not be there', () => {
    const whole = scenario({ pv: PV, weather: CLIMATE });
    const sky = skyOver(whole);
    const yields = yieldsUnder(() => sky, whole);
    const noSky = (): never => {
      throw new Error('asked for the sky');
    };
    expect(yieldsUnder(noSky, whole, (array) => yields[array] ?? null)).toEqual(yields);
    expect(() => yieldsUnder(noSky, whole)).toThrow('asked for the sky');
  });

  test('years of weather at a place share its sun', () => {
    const year = (seed: number) => scenario({ weather: { ...CLIMATE, seed } });
    const sun = sunOver(year(1));
    for (const seed of [1, 2]) {
      const shared = skyOver(year(seed), () => sun);
      expect(shared?.sun).toBe(sun.track);
      expect(shared?.weather).toEqual(skyOver(year(seed))?.weather);
    }
  });

  test('measured: means over the steps; the sky is not asked', () => {
    const series = { file: 'pv.csv', intervalS: 300, atMs: Float64Array.from({ length: 576 }, (_, i) => JUNE_MS + i * 300_000) };
    const measured: Scenario['pv'] = {
      kind: 'measured',
      series: { ...series, columns: { pvW: Float64Array.from({ length: 576 }, (_, i) => i) } },
      phases: [1],
    };
    const { pvW, weather } = makeProfiles(scenario({ pv: measured }));
    expect([...pvW.slice(0, 3)]).toEqual([0.5, 2.5, 4.5]);
    expect(weather).toBeNull();
    const sunny = scenario({ pv: measured, weather: CLIMATE });
    expect(yieldsUnder(() => skyOver(sunny), sunny)).toEqual([]);
    expect(makeProfiles(sunny).weather).not.toBeNull();
  });

  test('modules without weather give nothing', () => {
    const dark = scenario({ pv: PV });
    expect(skyOver(dark)).toBeNull();
    expect(
      roofW(
        dark,
        yieldsUnder(() => null, dark),
      ),
    ).toEqual(new Float64Array(288));
  });
});

describe('measured weather', () => {
  /** Hours around the period, each with numbers of its own; a clear sky would give more. */
  function weather(fromH: number, hours: number, changes: Partial<WeatherSeries> = {}): WeatherSeries {
    const value = (of: (hour: number) => number) => Float64Array.from({ length: hours }, (_, i) => of(fromH + i));
    return {
      file: 'weather.csv',
      intervalS: 3600,
      atMs: value((hour) => JUNE_MS + hour * HOUR_MS),
      ghiWPerM2: value((hour) => 300 + (hour % 7) * 20),
      dniWPerM2: null,
      dhiWPerM2: null,
      airC: value((hour) => hour / 2),
      windMPerS: null,
      ...changes,
    };
  }
  const under = (series: WeatherSeries, cloudsSeed: number | null = null, grid?: TimeGrid) =>
    makeProfiles(scenario({ weather: { kind: 'measured', source: 'csv', series, cloudsSeed } }, grid)).weather!;
  const noon = 12 * 6;
  const meanOf = (values: Float64Array, from: number, count: number): number =>
    values.subarray(from, from + count).reduce((sum, value) => sum + value, 0) / count;

  test('the mean of every hour of day is kept; air runs between the middles of the hours', () => {
    const { ghiWPerM2, airC, windMPerS } = under(weather(0, 48));
    for (const hour of [10, 12, 34]) expect(meanOf(ghiWPerM2, hour * 6, 6)).toBeCloseTo(300 + (hour % 7) * 20, 9);
    expect(airC[noon + 2]!).toBeCloseTo(6 - 1 / 24, 9);
    expect(airC[noon + 3]!).toBeCloseTo(6 + 1 / 24, 9);
    expect(new Set(windMPerS).size).toBe(1);
  });

  test('a year of a file gives the same as the days of it, and an hour more on each side for the air', () => {
    const whole = under(weather(-500, 1000));
    expect(whole).toEqual(under(weather(-1, 50)));
    // Without it the air stands still in the first and the last half-hour.
    const cut = under(weather(0, 48));
    expect(cut.ghiWPerM2).toEqual(whole.ghiWPerM2);
    expect([whole.airC[0]!, cut.airC[0]!]).toEqual([expect.closeTo(-5 / 24, 9), 0]);
    expect([whole.airC[287]!, cut.airC[287]!]).toEqual([expect.closeTo(23.5 + 5 / 24, 9), 23.5]);
  });

  test('beam, diffuse and wind are used where the file has them', () => {
    const beam = Float64Array.from({ length: 48 }, () => 200);
    const diffuse = Float64Array.from({ length: 48 }, () => 100);
    const wind = Float64Array.from({ length: 48 }, () => 3);
    expect(meanOf(under(weather(0, 48, { dniWPerM2: beam })).dniWPerM2, noon, 6)).toBeCloseTo(200, 1);
    expect(meanOf(under(weather(0, 48, { dhiWPerM2: diffuse })).dhiWPerM2, noon, 6)).toBeCloseTo(100, 6);
    expect(under(weather(0, 48, { windMPerS: wind })).windMPerS[noon]).toBe(3);
  });

  test('clouds come into coarse weather where a seed is given, and into fine weather never', () => {
    const series = weather(0, 48);
    const flat = under(series);
    const cloudy = under(series, 7);
    expect(cloudy.ghiWPerM2).not.toEqual(flat.ghiWPerM2);
    expect(meanOf(cloudy.ghiWPerM2, noon, 6)).toBeCloseTo(meanOf(flat.ghiWPerM2, noon, 6), 6);
    expect(cloudy).toEqual(under(series, 7));
    expect(cloudy.ghiWPerM2).not.toEqual(under(series, 8).ghiWPerM2);
    // Steps as long as the hours: nothing to break up.
    const hours = timeGrid(JUNE_MS, 2, 3600, UTC);
    expect(under(series, 7, hours)).toEqual(under(series, null, hours));
  });

  test('cars drive in its air', () => {
    const usage = {
      kind: 'stays' as const,
      stays: [{ arriveMs: JUNE_MS + 6 * HOUR_MS, departMs: JUNE_MS + 40 * HOUR_MS, km: 50 }],
    };
    const drive = (air: number): number => {
      const airC = Float64Array.from({ length: 48 }, () => air);
      const base = scenario({ weather: { kind: 'measured', source: 'csv', series: weather(0, 48, { airC }), cloudsSeed: null } });
      const chargePoints = base.chargePoints.map((point) => ({
        ...point,
        usage,
        vehicle: { ...point.vehicle, startSoc: 1, coldFactor: 2 },
      }));
      return simulate({ ...base, chargePoints }).drives[0]!.usedWh;
    };
    // Twice as much at -6.7 °C, 170 Wh a km at 20 °C.
    expect(drive(20)).toBeCloseTo(50 * 170, 6);
    expect(drive(-6.7)).toBeCloseTo(2 * 50 * 170, 6);
  });
});

describe('the house', () => {
  const load = (household: Household, grid?: TimeGrid) => houseLoad(scenario({ household }, grid));
  const quarters = (value: (i: number) => number) => Float64Array.from({ length: 192 }, (_, i) => value(i));
  const series = { file: 'load.csv', intervalS: 900, atMs: quarters((i) => JUNE_MS + i * 900_000) };
  const loadW = quarters((i) => 300 + 40 * (i % 16) ** 2);
  const measured = (changes: object): Household => ({
    kind: 'measured',
    from: 'csv',
    series: { ...series, columns: { loadW } },
    phaseSplit: [0.5, 0.3, 0.2],
    spikesSeed: null,
    ...changes,
  });
  const MINUTES = timeGrid(JUNE_MS, 2, 60, UTC);
  const sumOf = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0);

  test('invented: the household of house, at the latitude of the site', () => {
    const options = { annualWh: 3_500_000, people: 3, seed: 4, hotWaterWh: 0, heatPumpWh: 2_000_000, daysOff: [], holidays: [] };
    const household = { kind: 'synthetic', ...options, phaseSplit: [0.4, 0.3, 0.3] } as const;
    const made = load(household);
    const expected = syntheticHousehold({ ...household, latitudeDeg: 48 }, timeGrid(JUNE_MS, 2, 600, UTC));
    expect(made.loadByPhaseW).toEqual(expected);
    expect(made.loadW).toEqual(expected[0].map((watts, k) => watts + expected[1][k]! + expected[2][k]!));
  });

  test('measured and held: means over the steps, split over the phases', () => {
    const made = load(measured({}));
    // Steps of ten minutes in quarter-hours of 300, 340, 460 W: the second has five minutes of each.
    expect([...made.loadW.slice(0, 4)]).toEqual([300, 320, 340, 460]);
    expect(made.loadByPhaseW.map((phase) => phase[3])).toEqual([230, 138, 92]);
  });

  test('broken up into minutes: the energy of each quarter-hour is kept, the minutes differ', () => {
    const spiky = load(measured({ spikesSeed: 3 }), MINUTES);
    const held = load(measured({}), MINUTES);
    expect(spiky.loadW).not.toEqual(held.loadW);
    for (const i of [0, 7, 100]) {
      const quarter = spiky.loadW.subarray(15 * i, 15 * (i + 1));
      expect(sumOf(quarter) / 15).toBeCloseTo(loadW[i]!, 6);
    }
    expect(Math.min(...spiky.loadByPhaseW.map(sumOf))).toBeGreaterThan(0);
    // The part of each phase that is spread evenly, in a quarter-hour without pulses.
    expect(spiky.loadByPhaseW.map((phase) => phase[0]! / spiky.loadW[0]!)).toEqual([
      expect.closeTo(0.5, 9),
      expect.closeTo(0.3, 9),
      expect.closeTo(0.2, 9),
    ]);
  });

  test('not broken up: five minutes or less, no whole minutes, or steps as long as the intervals', () => {
    const every = (intervalS: number, grid: TimeGrid) => {
      const steps = (2 * 86_400) / intervalS;
      const atMs = Float64Array.from({ length: steps }, (_, i) => JUNE_MS + i * intervalS * 1000);
      const columns = { loadW: Float64Array.from({ length: steps }, (_, i) => 300 + 40 * (i % 16) ** 2) };
      const both = [3, null].map(
        (spikesSeed) => load(measured({ series: { file: '', intervalS, atMs, columns }, spikesSeed }), grid).loadW,
      );
      return both[0]!.every((w, k) => w === both[1]![k]);
    };
    expect([every(300, MINUTES), every(450, MINUTES), every(900, timeGrid(JUNE_MS, 2, 900, UTC))]).toEqual([true, true, true]);
    expect([every(360, MINUTES), every(900, timeGrid(JUNE_MS, 2, 600, UTC))]).toEqual([false, false]);
  });

  test('measured phase by phase: each on its own, and each with spikes of its own', () => {
    const byPhase = (spikesSeed: number | null, grid?: TimeGrid) => {
      const columns = { l1W: loadW, l2W: loadW.map((w) => 2 * w), l3W: loadW };
      return load({ kind: 'measured-phases', series: { ...series, columns }, spikesSeed }, grid);
    };
    expect(byPhase(null).loadByPhaseW.map((phase) => phase[3])).toEqual([460, 920, 460]);
    const [one, two, three] = byPhase(3, MINUTES).loadByPhaseW;
    for (const [phase, times] of [
      [one, 1],
      [two, 2],
      [three, 1],
    ] as const) {
      for (const i of [0, 7, 100]) expect(sumOf(phase.subarray(15 * i, 15 * (i + 1))) / 15).toBeCloseTo(times * loadW[i]!, 6);
    }
    expect(one).not.toEqual(three);
    expect(byPhase(3).loadByPhaseW[0]).not.toEqual(byPhase(null).loadByPhaseW[0]);
    // Quarter-hours into quarter-hours: held as they are.
    const coarse = timeGrid(JUNE_MS, 2, 900, UTC);
    expect(byPhase(3, coarse)).toEqual(byPhase(null, coarse));
  });
});
