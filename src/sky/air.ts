import { chance, MS_PER_DAY, type TimeGrid } from '../base/index.ts';
import type { SunTrack } from './sun.ts';

// Air: fronts of some kelvin that last days; a swing from dawn to afternoon that a clear sky widens; sunny days are warm in summer
// and cold in winter. Numbers of our own, plausible for the middle latitudes, not fitted.
const FRONT_SPREAD_K = 3;
const FRONT_KEEPS = 0.75;
const FRONT_DAYS = 14;
const SWING_LEAST_K = 3;
const SWING_CLEAR_K = 9;
const SUNNY_SUMMER_K = 6;
const WARMEST_H_AFTER_NOON = 3;

/**
 * Air temperature over a run: the month's mean, fronts, the swing of the day, warmer or colder with the sun by season.
 *
 * @param monthlyTempC  twelve means
 * @param days   each local day's irradiation over a clear day's
 * @param usual  the same in the mean of its month
 */
export function airOver(
  monthlyTempC: readonly number[],
  seed: number,
  grid: TimeGrid,
  sun: SunTrack,
  days: Float64Array,
  usual: Float64Array,
): Float64Array {
  const airC = new Float64Array(grid.steps);
  const stepsPerH = 3600 / grid.stepS;
  let lastEndC = Number.NaN;
  for (let d = 0; d < days.length; d++) {
    const first = grid.dayStart[d] ?? 0;
    const end = grid.dayStart[d + 1] ?? 0;
    const dayMs = grid.dayMs[d] ?? 0;
    const sunnier = (days[d] ?? 0) - (usual[d] ?? 0);
    const meanC =
      seasonalC(monthlyTempC, dayMs) + frontK(seed, dayMs) + SUNNY_SUMMER_K * sunnier * summerShare(monthlyTempC, dayMs);
    const swingK = SWING_LEAST_K + (SWING_CLEAR_K - SWING_LEAST_K) * (days[d] ?? 0);
    const warmest = noonStep(sun, first, end) + WARMEST_H_AFTER_NOON * stepsPerH;
    writeDayC(airC, first, end, { meanC, swingK, warmest, stepsPerH, lastEndC });
    lastEndC = airC[end - 1] ?? 0;
  }
  return airC;
}

/** A day's course: its mean, how far it swings, its warmest step, and where the day before ended (not a number: there was none). */
interface Course {
  readonly meanC: number;
  readonly swingK: number;
  readonly warmest: number;
  readonly stepsPerH: number;
  readonly lastEndC: number;
}

/** A day between two steps. Its first hours lead over from where yesterday ended. */
function writeDayC(airC: Float64Array, first: number, end: number, course: Course): void {
  const { meanC, swingK, warmest, stepsPerH, lastEndC } = course;
  const plainC = (k: number): number => meanC + (swingK / 2) * Math.cos((2 * Math.PI * (k - warmest)) / (24 * stepsPerH));
  const gapK = Number.isNaN(lastEndC) ? 0 : lastEndC - plainC(first);
  for (let k = first; k < end; k++) airC[k] = plainC(k) + gapK * Math.max(0, 1 - (k - first) / (6 * stepsPerH));
}

/** A process of first order that depends on the day alone, whatever day a run begins with: what the last two weeks brought, fading. */
function frontK(seed: number, dayMs: number): number {
  let sum = 0;
  for (let back = FRONT_DAYS; back >= 0; back--)
    sum = FRONT_KEEPS * sum + chance(seed, `front ${dayMs - back * MS_PER_DAY}`).normal();
  return FRONT_SPREAD_K * Math.sqrt(1 - FRONT_KEEPS ** 2) * sum;
}

/** From −1 in the coldest month to 1 in the warmest. */
function summerShare(monthlyTempC: readonly number[], dayMs: number): number {
  const [least, most] = [Math.min(...monthlyTempC), Math.max(...monthlyTempC)];
  return most > least ? (2 * (seasonalC(monthlyTempC, dayMs) - least)) / (most - least) - 1 : 0;
}

/** Step of the day in which the sun stands highest; the middle of the day where it does not rise. */
function noonStep(sun: SunTrack, first: number, end: number): number {
  let best = 0;
  let at = (first + end) / 2;
  for (let k = first; k < end; k++) {
    const cosZenith = sun.cosZenith[k] ?? 0;
    if (cosZenith > best) {
      best = cosZenith;
      at = k;
    }
  }
  return at;
}

/** Temperature of the season on a day: linear between the middles of the months. */
function seasonalC(monthlyTempC: readonly number[], dayMs: number): number {
  const date = new Date(dayMs);
  const year = date.getUTCFullYear();
  const month = date.getUTCMonth();
  const lengthDays = (Date.UTC(year, month + 1, 1) - Date.UTC(year, month, 1)) / MS_PER_DAY;
  const at = month + (date.getUTCDate() - 0.5) / lengthDays - 0.5;
  const before = Math.floor(at);
  const here = monthlyTempC[(before + 12) % 12] ?? 0;
  return here + ((monthlyTempC[(before + 13) % 12] ?? 0) - here) * (at - before);
}

const WIND_MEAN_M_PER_S = 2;
const WIND_KEEPS_PER_H = 0.85;
const HOURS = 24;

/** Wind: the length of two normal components (Rayleigh) that wander hour by hour, linear between. Every day has a stream of its own. */
export function windOver(seed: number, grid: TimeGrid): Float64Array {
  const out = new Float64Array(grid.steps);
  for (let d = 0; d < grid.dayMs.length; d++) {
    const first = grid.dayStart[d] ?? 0;
    const end = grid.dayStart[d + 1] ?? 0;
    const dayMs = grid.dayMs[d] ?? 0;
    const hours = [...windHours(seed, dayMs), windHours(seed, dayMs + MS_PER_DAY)[0] ?? 0];
    for (let k = first; k < end; k++) {
      const at = ((k - first) * HOURS) / (end - first);
      const h = Math.floor(at);
      const here = hours[h] ?? 0;
      out[k] = here + ((hours[h + 1] ?? here) - here) * (at - h);
    }
  }
  return out;
}

function windHours(seed: number, dayMs: number): number[] {
  const draw = chance(seed, `wind ${dayMs}`);
  const scale = WIND_MEAN_M_PER_S / Math.sqrt(Math.PI / 2);
  const fresh = Math.sqrt(1 - WIND_KEEPS_PER_H ** 2);
  let [along, across] = [draw.normal(), draw.normal()];
  return Array.from({ length: HOURS }, () => {
    const wind = scale * Math.hypot(along, across);
    along = WIND_KEEPS_PER_H * along + fresh * draw.normal();
    across = WIND_KEEPS_PER_H * across + fresh * draw.normal();
    return wind;
  });
}
