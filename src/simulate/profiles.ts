import {
  finished,
  gridEndMs,
  MS_PER_S,
  once,
  S_PER_MIN,
  type Stages,
  type TimeGrid,
  W_PER_KW,
  WH_PER_KWH,
} from '../base/index.ts';
import {
  type KeepSheet,
  meansOnSteps,
  type PhaseLoads,
  standardProfileW,
  sumOf,
  syntheticLoads,
  withSpikes,
} from '../house/index.ts';
import { ALBEDO, type PlaneYield, planeYields, powerOfPlanesW, type SkyGlow, skyGlow } from '../pv/index.ts';
import {
  type CloudsSeed,
  type Household,
  type MeasuredSeries,
  onGrid,
  type PhaseSplit,
  type PvArray,
  type Scenario,
  type WeatherSeries,
} from '../scenario/index.ts';
import {
  ClearYear,
  completeIrradiance,
  type Site,
  type SunTrack,
  spreadClouds,
  spreadFlat,
  sunTrack,
  syntheticWeatherInStages,
  takesClouds,
  type Weather,
} from '../sky/index.ts';
import type { Profiles } from './plan.ts';

/** Profiles of a run, and the weather that it has, be it only for what the cars consume (null where the scenario has none). */
export interface ProfilesWithWeather extends Profiles {
  readonly weather: Weather | null;
}

/**
 * From a scenario to what the roof gives and the house takes, a mean for every step: here sun, PV and household meet.
 *
 * It is put together from the parts below. Whoever runs many variants makes each part once and shares it.
 *
 * @throws RangeError  a measured series that does not cover the period (the door refuses such a scenario)
 */
export function makeProfiles(scenario: Scenario): ProfilesWithWeather {
  const sky = skyOver(scenario);
  return {
    pvW: roofW(
      scenario,
      yieldsUnder(() => sky, scenario),
    ),
    ...houseLoad(scenario),
    weather: sky?.weather ?? null,
  };
}

/** Sun and weather of every step. */
export interface Sky {
  readonly sun: SunTrack;
  readonly weather: Weather;
  /** The light around the sun and at the horizon: made when a plane first asks for it, since measured PV never does. */
  readonly glow: () => SkyGlow;
}

/** The sun of a place: over the steps of a run, and over the clear months that a climate is measured against. */
export interface SunOver {
  readonly track: SunTrack;
  readonly clearYear: () => ClearYear;
}

/** The sun of a scenario; it depends on site and period alone. */
export const sunOver = ({ grid, site }: Scenario): SunOver => ({
  track: sunTrack(grid, site.latitudeDeg, site.longitudeDeg),
  clearYear: once(() => new ClearYear(site)),
});

/**
 * Sun and weather; they depend on site, period and weather alone. Null where PV is measured and nothing needs them.
 *
 * @param sunOf  where the sun comes from: whoever runs several years of weather at a place makes it once
 */
export const skyOver = (scenario: Scenario, sunOf: () => SunOver = () => sunOver(scenario)): Sky | null =>
  finished(skyInStages(scenario, sunOf));

/** The same in stages. */
export function* skyInStages(scenario: Scenario, sunOf: () => SunOver): Stages<Sky | null> {
  if (scenario.weather.kind === 'none') return null;
  const sun = sunOf();
  const weather = yield* weatherOn(scenario, scenario.grid, sun);
  return weather === null ? null : { sun: sun.track, weather, glow: once(() => skyGlow(sun.track, weather)) };
}

/**
 * What each array's modules give per kWp; none where PV is measured. It depends on the sky, on the modules and where they look, not on how many
 * there are.
 *
 * @param skyOf  asked only for planes that are worked out
 * @param kept   where the yield of an array's plane comes from: whoever keeps some makes only the others, in the room of one that is dropped
 */
export function yieldsUnder(
  skyOf: () => Sky | null,
  { pv, grid }: Scenario,
  kept: (array: number, make: (room?: PlaneYield) => PlaneYield | null) => PlaneYield | null = (_, make) => make(),
): PlaneYield[] {
  if (pv.kind === 'measured') return [];
  const under = (array: PvArray, room: readonly PlaneYield[]): PlaneYield | null => {
    const sky = skyOf();
    return sky && planeYields([array], grid, sky.sun, sky.weather, ALBEDO, sky.glow(), room)[0]!;
  };
  return pv.arrays.flatMap((array, i) => kept(i, (room) => under(array, room === undefined ? [] : [room])) ?? []);
}

/** What the roof gives; `room` is what another gave that nobody needs any more. */
export function roofW({ pv, grid }: Scenario, yields: readonly PlaneYield[], room?: Float64Array): Float64Array {
  if (pv.kind === 'measured') return onSteps(pv.series, 'pvW', grid);
  if (yields.length === 0) return new Float64Array(grid.steps);
  const { ratedW, efficiencyShare } = pv.inverter;
  const system = { arrays: pv.arrays.map(arrayOf), inverter: { ratedW, efficiency: efficiencyShare } };
  return powerOfPlanesW(system, grid, yields, room);
}

/** What the house takes, in sum and by phase. */
export type HouseLoad = Pick<Profiles, 'loadW' | 'loadByPhaseW'>;

/**
 * What the house takes; it depends on household, site and period alone.
 *
 * @param room  what another took that nobody needs any more
 * @param keep  keeps parts of a made-up household that a change of its consumption leaves as they are
 */
export function houseLoad({ household, site, grid }: Scenario, room?: HouseLoad, keep?: KeepSheet): HouseLoad {
  if (household.kind === 'synthetic') {
    const options = { ...household, latitudeDeg: site.latitudeDeg };
    const { byPhaseW, sumW } = syntheticLoads(options, grid, { byPhaseW: room?.loadByPhaseW, sumW: room?.loadW }, keep);
    return { loadW: sumW, loadByPhaseW: byPhaseW };
  }
  const loadByPhaseW = loadOn(household, grid);
  return { loadW: sumOf(loadByPhaseW, room?.loadW), loadByPhaseW };
}

/** The weather of every step. */
function* weatherOn(scenario: Scenario, grid: TimeGrid, { track, clearYear }: SunOver): Stages<Weather | null> {
  const { weather, site } = scenario;
  switch (weather.kind) {
    case 'none':
      return null;
    case 'synthetic':
      return yield* syntheticWeatherInStages(
        {
          monthlyGhiKWhM2: weather.monthlyGhiWhPerM2.map((wh) => wh / WH_PER_KWH),
          monthlyTempC: weather.monthlyAirC,
          seed: weather.seed,
        },
        site,
        grid,
        track,
        clearYear(),
      );
    case 'measured':
      return measuredOn(weather.series, weather.cloudsSeed, site, grid, track);
  }
}

/** Measured weather is made complete at its own resolution, then laid on the steps: coarse weather with clouds. */
function measuredOn(series: WeatherSeries, cloudsSeed: CloudsSeed, site: Site, grid: TimeGrid, sun: SunTrack): Weather {
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
  const { weather } = completeIrradiance(measured, ownSun);
  return cloudsSeed !== null && takesClouds(series.intervalS, grid.stepS)
    ? spreadClouds(intervals, weather, grid, sun, site, cloudsSeed)
    : spreadFlat(intervals, weather, grid, sun);
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

const arrayOf = (array: PvArray) => ({
  kWp: array.peakW / W_PER_KW,
  tiltDeg: array.tiltDeg,
  azimuthDeg: array.azimuthDeg,
  temperatureCoefficientPerK: array.temperatureCoefficientPerK,
  lossPercent: array.lossShare * 100,
  mounting: array.mounting,
  horizonDeg: array.horizonDeg,
  monthlyLossPercent: array.monthlyLossPercent,
});

function loadOn(household: Exclude<Household, { kind: 'synthetic' }>, grid: TimeGrid): PhaseLoads {
  switch (household.kind) {
    case 'profile':
      return split(standardProfileW(household.profile, household, grid), household.phaseSplit);
    case 'measured': {
      const { series, phaseSplit, spikesSeed } = household;
      return spikesSeed !== null && isCoarse(series, grid)
        ? spiky(series, 'loadW', phaseSplit, spikesSeed, grid)
        : split(onSteps(series, 'loadW', grid), phaseSplit);
    }
    case 'measured-phases': {
      const { series, spikesSeed } = household;
      const seed = isCoarse(series, grid) ? spikesSeed : null;
      return seed === null
        ? [onSteps(series, 'l1W', grid), onSteps(series, 'l2W', grid), onSteps(series, 'l3W', grid)]
        : [
            spiky(series, 'l1W', ON_1, seed, grid)[0],
            spiky(series, 'l2W', ON_2, seed + 1, grid)[1],
            spiky(series, 'l3W', ON_3, seed + 2, grid)[2],
          ];
    }
  }
}

const ON_1 = [1, 0, 0] as const;
const ON_2 = [0, 1, 0] as const;
const ON_3 = [0, 0, 1] as const;
/** Loads over longer intervals than this hide their spikes, s. */
const COARSE_S = 300;

/** Whether a load is to be broken up into minutes: its intervals are long, whole minutes, and longer than a step. */
const isCoarse = ({ intervalS }: { readonly intervalS: number }, { stepS }: TimeGrid): boolean =>
  intervalS > COARSE_S && intervalS % S_PER_MIN === 0 && intervalS > stepS;

function spiky<Name extends string>(
  series: MeasuredSeries<Name>,
  name: Name,
  shares: PhaseSplit,
  seed: number,
  grid: TimeGrid,
): PhaseLoads {
  const startMs = series.atMs[0]!;
  const minutes = withSpikes({ startMs, intervalS: series.intervalS, meanW: series.columns[name] }, shares, seed);
  const over = (values: Float64Array): Float64Array => meansOnSteps({ startMs, intervalS: S_PER_MIN, values }, grid);
  return [over(minutes[0]), over(minutes[1]), over(minutes[2])];
}

const onSteps = <Name extends string>(series: MeasuredSeries<Name>, name: Name, grid: TimeGrid): Float64Array =>
  onGrid(series.atMs, series.intervalS, series.columns[name], grid);

const split = (loadW: Float64Array, shares: PhaseSplit): PhaseLoads => [
  scaled(loadW, shares[0]),
  scaled(loadW, shares[1]),
  scaled(loadW, shares[2]),
];

/** A loop, not `map`: half a million values a year, at every touch of the page. */
function scaled(loadW: Float64Array, share: number): Float64Array {
  const partW = new Float64Array(loadW.length);
  for (let k = 0; k < partW.length; k++) partW[k] = loadW[k]! * share;
  return partW;
}
