import { MS_PER_S, S_PER_MIN } from '../base/index.ts';
import { clearMinutes } from './clear-minutes.ts';
import { cloudMinutes } from './cloud-minutes.ts';
import { cloudNoise } from './cloud-noise.ts';
import { turbidityAt, turbidityOfDays } from './day-turbidity.ts';
import type { Site } from './place.ts';
import { linearOnto, spreadFlat } from './spread.ts';
import { type Steps, type SunTrack, sunTrack } from './sun.ts';
import type { Weather } from './weather.ts';

/** Weather in longer means than this hides starts and stalls, s. */
export const COARSE_S = 300;

/**
 * Whether clouds can be added to weather of that resolution: means over more than five and up to 60 whole minutes, onto shorter steps.
 *
 * @param intervalS  length of its intervals
 * @param stepS      length of the steps it is wanted on
 */
export const takesClouds = (intervalS: number, stepS: number): boolean =>
  intervalS > COARSE_S && intervalS <= MOST_INTERVAL_S && intervalS % S_PER_MIN === 0 && stepS < intervalS;

/** Longer means than this do not say what a day was like. */
const MOST_INTERVAL_S = 3600;

/**
 * Lays coarse weather onto the steps of a run with seeded clouds by the minute, `cloudMinutes`: the means of its intervals are kept.
 *
 * How clear the air was comes from the weather itself. Judged by what a charger does with the minutes, against real ones of months that were
 * left out of the fit in turn: PV energy into a car within 2.3 %, solar charging hours 3.1 %, starts 16 %, phase switches 16 %
 * (cloud-numbers.ts). Where only GHI is known, the split into beam and diffuse errs more.
 *
 * @param from     start, length and number of the intervals: `takesClouds`
 * @param weather  means over the intervals, made complete
 * @param onto     the steps of the run
 * @param sun      of the steps of the run
 * @param seed     0, 1, 2 …: other clouds, the same means
 * @throws RangeError  intervals that are not whole minutes, or weather of another length
 */
export function spreadClouds(from: Steps, weather: Weather, onto: Steps, sun: SunTrack, site: Site, seed: number): Weather {
  if (from.stepS % S_PER_MIN !== 0) throw new RangeError(`stepS = ${from.stepS}: intervals must be whole minutes`);
  const minutesEach = from.stepS / S_PER_MIN;
  const minutes = { startMs: from.startMs, stepS: S_PER_MIN, steps: from.steps * minutesEach };
  const fineSun = sunOverMinutes(minutes, onto, sun, site);
  const light = cloudMinutes(
    {
      minutesEach,
      beamWPerM2: weather.ghiWPerM2.map((ghi, i) => ghi - (weather.dhiWPerM2[i] ?? 0)),
      diffuseWPerM2: weather.dhiWPerM2,
    },
    clearMinutes(fineSun, site.elevationM, turbidityAt(turbidityOf(from, weather, site), minutes)),
    cloudNoise(seed, minutes.startMs, fineSun.cosZenith, site.longitudeDeg),
  );
  const air = { airC: linearOnto(from, weather.airC, onto), windMPerS: linearOnto(from, weather.windMPerS, onto) };
  return { ...lightOnto(minutes, light, onto, sun), ...air };
}

/** The sun over minutes; where the steps of the run are the same minutes it is there already. */
function sunOverMinutes(minutes: Steps, onto: Steps, sun: SunTrack, site: Site): SunTrack {
  const track = (steps: Steps): SunTrack => sunTrack(steps, site.latitudeDeg, site.longitudeDeg);
  const before = (onto.startMs - minutes.startMs) / (S_PER_MIN * MS_PER_S);
  const after = minutes.steps - before - onto.steps;
  if (onto.stepS !== S_PER_MIN || !Number.isInteger(before) || before < 0 || after < 0) return track(minutes);
  const head = track({ ...minutes, steps: before });
  const tail = track({ ...minutes, startMs: onto.startMs + onto.steps * S_PER_MIN * MS_PER_S, steps: after });
  const joined = (name: keyof SunTrack): Float64Array => {
    const all = new Float64Array(minutes.steps);
    all.set(head[name], 0);
    all.set(sun[name], before);
    all.set(tail[name], before + onto.steps);
    return all;
  };
  return {
    east: joined('east'),
    north: joined('north'),
    cosZenith: joined('cosZenith'),
    zenithDeg: joined('zenithDeg'),
    airMass: joined('airMass'),
    extraterrestrialWPerM2: joined('extraterrestrialWPerM2'),
  };
}

function turbidityOf(from: Steps, weather: Weather, site: Site): Float64Array {
  const perDay = (24 * 3600) / from.stepS;
  const coarseSun = sunTrack(from, site.latitudeDeg, site.longitudeDeg);
  const days = Math.ceil(from.steps / perDay);
  return turbidityOfDays(days, (i) => Math.floor(i / perDay), weather.dniWPerM2, coarseSun, site.elevationM);
}

type Light = Pick<Weather, 'ghiWPerM2' | 'dniWPerM2' | 'dhiWPerM2'>;

/** Minutes onto steps: where these are the same minutes, as they are. */
export function lightOnto(minutes: Steps, light: Light, onto: Steps, sun: SunTrack): Light {
  const first = (onto.startMs - minutes.startMs) / (S_PER_MIN * MS_PER_S);
  if (onto.stepS === S_PER_MIN && Number.isInteger(first) && first >= 0 && first + onto.steps <= minutes.steps) {
    const cut = (values: Float64Array): Float64Array => values.subarray(first, first + onto.steps);
    return { ghiWPerM2: cut(light.ghiWPerM2), dniWPerM2: cut(light.dniWPerM2), dhiWPerM2: cut(light.dhiWPerM2) };
  }
  const none = new Float64Array(minutes.steps);
  const { ghiWPerM2, dniWPerM2, dhiWPerM2 } = spreadFlat(minutes, { ...light, airC: none, windMPerS: none }, onto, sun);
  return { ghiWPerM2, dniWPerM2, dhiWPerM2 };
}
