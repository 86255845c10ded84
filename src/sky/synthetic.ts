import { chance, finished, S_PER_MIN, type Stages, type TimeGrid } from '../base/index.ts';
import { airOver, windOver } from './air.ts';
import { type ClearMinutes, clearMinutes } from './clear-minutes.ts';
import { type ClearSkyPlace, clearSkyOf } from './clear-sky.ts';
import { ClearYear, type Climate, checkClimate, turbidityOfClimate } from './climate-sky.ts';
import { type CloudTargets, cloudMinutesInStages } from './cloud-minutes.ts';
import { cloudNoiseInStages } from './cloud-noise.ts';
import { daysOfMonth } from './days.ts';
import { diffuseOfHour, diffuseWander, hoursOfDay } from './hours.ts';
import type { Site } from './place.ts';
import { lightOnto } from './spread-clouds.ts';
import { type Steps, type SunTrack, sunTrack } from './sun.ts';
import type { Weather } from './weather.ts';

/**
 * A year of weather by the minute from twelve monthly sums.
 *
 * - Months: each as lucky as its seed says, evenly over the seeds, so that years differ by 4 to 5 % in central Europe (`luckOfMonth`).
 * - Days: exponential family around the month's mean (Bendt, Collares-Pereira and Rabl 1981), persistence from day to day (Graham and others 1988).
 * - Hours: a first-order process within the day (Graham and Hollands 1990), a diffuse part for each that lasts as skies do.
 * - Minutes: the same clouds that break up coarse weather from files (`cloudMinutes`), below a clear sky of Ineichen and Perez.
 * - Air: the month's mean, a swing with the sun and the day's clearness, fronts that last days. Wind: Rayleigh, hour by hour. Our own numbers.
 *
 * The seed alone decides: other steps, and other periods that hold the same day, see the same weather.
 *
 * @param climate  twelve sums and temperatures; seed 0, 1, 2 …
 * @param sun      of the steps of the grid, `sunTrack`
 * @param year     clear months of the site; whoever makes several years makes them once
 * @throws RangeError  not twelve values, a sum below 0, or a month beyond the clearest sky
 * @see bendt1981
 * @see graham1988
 * @see grahamHollands1990
 * @see ineichenPerez2002
 */
export const syntheticWeather = (
  climate: Climate,
  site: Site,
  grid: TimeGrid,
  sun: SunTrack,
  year: ClearYear = new ClearYear(site),
): Weather => finished(syntheticWeatherInStages(climate, site, grid, sun, year));

/** The same in stages. */
export function* syntheticWeatherInStages(
  climate: Climate,
  site: Site,
  grid: TimeGrid,
  sun: SunTrack,
  year: ClearYear,
): Stages<Weather> {
  checkClimate(climate);
  const turbidity = turbidityOfClimate(climate, year, site.elevationM);
  const place = clearSkyOf(site.elevationM, turbidity);
  const days = daysOver(climate, year, place, grid);
  const minutes = minutesOf(grid);
  const isGrid = grid.stepS === S_PER_MIN && minutes.steps === grid.steps;
  const fineSun = isGrid ? sun : sunTrack(minutes, site.latitudeDeg, site.longitudeDeg);
  const clear = clearMinutes(fineSun, site.elevationM, () => turbidity);
  yield;
  const hours = hoursOver(climate.seed, clear, grid, days.index);
  yield;
  const noise = yield* cloudNoiseInStages(climate.seed, minutes.startMs, fineSun.cosZenith, site.longitudeDeg);
  const light = yield* cloudMinutesInStages(hours, clear, noise);
  yield;
  return {
    ...lightOnto(minutes, light, grid, sun),
    airC: airOver(climate.monthlyTempC, climate.seed, grid, sun, days.index, days.usual),
    windMPerS: windOver(climate.seed, grid),
  };
}

const MIN_PER_H = 60;

/** The minutes of whole hours that hold a grid. */
function minutesOf(grid: TimeGrid): Steps {
  const minutes = Math.ceil((grid.steps * grid.stepS) / S_PER_MIN / MIN_PER_H) * MIN_PER_H;
  return { startMs: grid.startMs, stepS: S_PER_MIN, steps: minutes };
}

/** Of each local day: its irradiation over a clear day's, and what that is in an average year of its month. */
function daysOver(climate: Climate, year: ClearYear, place: ClearSkyPlace, grid: TimeGrid) {
  const index = new Float64Array(grid.dayMs.length);
  const usual = new Float64Array(grid.dayMs.length);
  let known: { firstMs: number; days: Float64Array; meanIndex: number } = { firstMs: Number.NaN, days: index, meanIndex: 0 };
  for (let d = 0; d < index.length; d++) {
    const date = new Date(grid.dayMs[d] ?? 0);
    const [fullYear, month] = [date.getUTCFullYear(), date.getUTCMonth()];
    const firstMs = Date.UTC(fullYear, month, 1);
    if (firstMs !== known.firstMs) {
      const clear = year.daysKWhPerM2(month, new Date(Date.UTC(fullYear, month + 1, 0)).getUTCDate(), place);
      const whole = clear.reduce((a, b) => a + b, 0);
      const meanIndex = whole > 0 ? (climate.monthlyGhiKWhM2[month] ?? 0) / whole : 0.5;
      known = { firstMs, days: daysOfMonth({ year: fullYear, month, clear, meanIndex, seed: climate.seed }), meanIndex };
    }
    index[d] = known.days[date.getUTCDate() - 1] ?? 0;
    usual[d] = known.meanIndex;
  }
  return { index, usual };
}

/** What every hour brings: beam and diffuse, hours counted from the start of the grid. */
function hoursOver(seed: number, clear: ClearMinutes, grid: TimeGrid, days: Float64Array): CloudTargets {
  const hours = clear.cosZenith.length / MIN_PER_H;
  const beamWPerM2 = new Float64Array(hours);
  const diffuseWPerM2 = new Float64Array(hours);
  const stepsPerH = 3600 / grid.stepS;
  let first = 0;
  for (let d = 0; d < days.length; d++) {
    // An hour belongs to the day in which it begins.
    const end = d === days.length - 1 ? hours : Math.ceil((grid.dayStart[d + 1] ?? 0) / stepsPerH);
    const draw = chance(seed, `hours ${grid.dayMs[d]}`);
    const clearHours = Array.from({ length: end - first }, (_, h) => clearMeanWPerM2(clear, first + h));
    const indexes = hoursOfDay(days[d] ?? 0, clearHours, draw);
    const wander = diffuseWander(clearHours.length, draw);
    for (let h = 0; h < clearHours.length; h++) {
      const clearGlobal = clearHours[h] ?? 0;
      const index = indexes[h] ?? 0;
      const diffuse = diffuseOfHour(index, wander[h] ?? 0);
      beamWPerM2[first + h] = (index - diffuse) * clearGlobal;
      diffuseWPerM2[first + h] = diffuse * clearGlobal;
    }
    first = end;
  }
  return { minutesEach: MIN_PER_H, beamWPerM2, diffuseWPerM2 };
}

function clearMeanWPerM2(clear: ClearMinutes, hour: number): number {
  let sum = 0;
  for (let k = hour * MIN_PER_H; k < (hour + 1) * MIN_PER_H; k++) sum += clear.globalWPerM2[k] ?? 0;
  return sum / MIN_PER_H;
}
