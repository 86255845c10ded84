import { gridEndMs, MS_PER_S, type TimeGrid, W_PER_KW, WH_PER_KWH } from '../base/index.ts';
import { syntheticHousehold } from '../house/index.ts';
import { pvPowerW } from '../pv/index.ts';
import {
  type Household,
  type MeasuredSeries,
  onGrid,
  type PhaseSplit,
  type Pv,
  type PvArray,
  type Scenario,
  type WeatherSeries,
} from '../scenario/index.ts';
import {
  completeIrradiance,
  type Site,
  type SunTrack,
  spreadFlat,
  sunTrack,
  syntheticWeather,
  type Weather,
} from '../sky/index.ts';
import type { Profiles } from './plan.ts';

/** Profiles of a run, and the weather they came from (null where the scenario has none: PV is measured then). */
export interface ProfilesWithWeather extends Profiles {
  readonly weather: Weather | null;
}

/**
 * From a scenario to what the roof gives and the house takes, a mean for every step: here sun, PV and household meet.
 *
 * @throws RangeError  a measured series that does not cover the period (the door refuses such a scenario)
 */
export function makeProfiles(scenario: Scenario): ProfilesWithWeather {
  const { grid, site } = scenario;
  // Where PV is measured nothing needs the sun; the weather then has nothing to say but the temperature, which no rule uses.
  const sun = scenario.pv.kind === 'arrays' ? sunTrack(grid, site.latitudeDeg, site.longitudeDeg) : null;
  const weather = sun === null ? null : weatherOn(scenario, grid, sun);
  const pvW = pvOn(scenario.pv, grid, sun, weather);
  const loadByPhaseW = loadOn(scenario.household, site, grid);
  return { pvW, loadByPhaseW, loadW: sumOf(loadByPhaseW), weather };
}

/** The weather of every step. */
function weatherOn(scenario: Scenario, grid: TimeGrid, sun: SunTrack): Weather | null {
  const { weather, site } = scenario;
  switch (weather.kind) {
    case 'none':
      return null;
    case 'synthetic':
      return syntheticWeather(
        {
          monthlyGhiKWhM2: weather.monthlyGhiWhPerM2.map((wh) => wh / WH_PER_KWH),
          monthlyTempC: weather.monthlyAirC,
          seed: weather.seed,
        },
        site,
        grid,
        sun,
      );
    case 'measured':
      return measuredOn(weather.series, site, grid, sun);
  }
}

/** Measured weather is made complete at its own resolution, then laid on the steps. */
function measuredOn(series: WeatherSeries, site: Site, grid: TimeGrid, sun: SunTrack): Weather {
  const part = partFor(series, grid);
  const intervals = { startMs: part.atMs[0]!, stepS: series.intervalS, steps: part.atMs.length };
  const ownSun = sunTrack(intervals, site.latitudeDeg, site.longitudeDeg);
  const measured = {
    ghiWPerM2: part.of(series.ghiWPerM2),
    airC: part.of(series.airC),
    ...(series.dniWPerM2 === null ? {} : { dniWPerM2: part.of(series.dniWPerM2) }),
    ...(series.dhiWPerM2 === null ? {} : { dhiWPerM2: part.of(series.dhiWPerM2) }),
    ...(series.windMPerS === null ? {} : { windMPerS: part.of(series.windMPerS) }),
  };
  return spreadFlat(intervals, completeIrradiance(measured, ownSun).weather, grid, sun);
}

/** The intervals of a series that touch the period: a year of a file need not be worked through for a week of it. */
function partFor(series: { readonly atMs: Float64Array; readonly intervalS: number }, grid: TimeGrid) {
  const firstMs = series.atMs[0] ?? 0;
  const intervalMs = series.intervalS * MS_PER_S;
  // One interval more on each side: temperatures run between the middles of the intervals.
  const from = Math.max(0, Math.floor((grid.startMs - firstMs) / intervalMs) - 1);
  const to = Math.min(series.atMs.length, Math.ceil((gridEndMs(grid) - firstMs) / intervalMs) + 1);
  return { atMs: series.atMs.subarray(from, to), of: (values: Float64Array) => values.subarray(from, to) };
}

function pvOn(pv: Pv, grid: TimeGrid, sun: SunTrack | null, weather: Weather | null): Float64Array {
  if (pv.kind === 'measured') return onSteps(pv.series, 'pvW', grid);
  if (sun === null || weather === null) return new Float64Array(grid.steps);
  const { ratedW, efficiencyShare } = pv.inverter;
  return pvPowerW({ arrays: pv.arrays.map(arrayOf), inverter: { ratedW, efficiency: efficiencyShare } }, grid, sun, weather);
}

const arrayOf = (array: PvArray) => ({
  kWp: array.peakW / W_PER_KW,
  tiltDeg: array.tiltDeg,
  azimuthDeg: array.azimuthDeg,
  temperatureCoefficientPerK: array.temperatureCoefficientPerK,
  lossPercent: array.lossShare * 100,
  mounting: array.mounting,
  horizonDeg: array.horizonDeg,
  monthlyLossPercent: [],
});

type ByPhase = [Float64Array, Float64Array, Float64Array];

function loadOn(household: Household, site: Site, grid: TimeGrid): ByPhase {
  switch (household.kind) {
    case 'synthetic':
      return syntheticHousehold({ ...household, latitudeDeg: site.latitudeDeg }, grid);
    case 'measured':
      return split(onSteps(household.series, 'loadW', grid), household.phaseSplit);
    case 'measured-phases':
      return [
        onSteps(household.series, 'l1W', grid),
        onSteps(household.series, 'l2W', grid),
        onSteps(household.series, 'l3W', grid),
      ];
  }
}

const onSteps = <Name extends string>(series: MeasuredSeries<Name>, name: Name, grid: TimeGrid): Float64Array =>
  onGrid(series.atMs, series.intervalS, series.columns[name], grid);

const split = (loadW: Float64Array, shares: PhaseSplit): ByPhase => [
  loadW.map((w) => w * shares[0]),
  loadW.map((w) => w * shares[1]),
  loadW.map((w) => w * shares[2]),
];

const sumOf = ([one, two, three]: ByPhase): Float64Array => one.map((w, k) => w + two[k]! + three[k]!);
