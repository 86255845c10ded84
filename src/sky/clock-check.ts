import { cosDeg, MS_PER_S, S_PER_MIN, sinDeg } from '../base/index.ts';
import { clearGhiHaurwitzWPerM2 } from './clear-sky.ts';
import { type Steps, sunTrack } from './sun.ts';

/** What the sun says about the clock of a series. */
export interface ClockFit {
  /**
   * `fits`: no shift of more than `TOLERATED_MIN` is better. `off`: one is, and by more than clouds explain. `cannot-tell`: too few
   * sunny days, or clouds explain it.
   */
  readonly verdict: 'fits' | 'off' | 'cannot-tell';
  /** Minutes to ADD to the times as read so that they fit the sun best, −180 … 180. */
  readonly bestShiftMin: number;
  /** How much the misfit of a usual day shrinks by that shift, 0 (not at all) … 1. */
  readonly gainShare: number;
  /** That gain over its scatter between days; 2 and more is hardly chance. */
  readonly certainty: number;
  /** Days that had enough light to say anything. */
  readonly days: number;
}

/** A file's clock may be off by this much before anyone is troubled, minutes. */
export const TOLERATED_MIN = 15;

const REACH_MIN = 180;
const SEARCH_MIN = 5;
const SURE = 2;
const LEAST_DAYS = 3;
// Misfit that even a clear day at the right time has, since Haurwitz' sky is not the real one: share of the day's power.
const CLEAR_DAY_MISFIT = 0.002;
/** Days with less than this of a clear day's light are left out: they have no shape. */
const LEAST_LIGHT = 0.15;
// Series finer than this are averaged first: it loses nothing and saves time.
const COARSEN_TO_S = 600;
const BASE_S = 300;

/**
 * Finds the shift of a series' clock at which its light fits the sun best.
 *
 * Each day is compared with the day of a clear sky (Haurwitz), scaled to it, shifted by −180 … 180 minutes. The misfits are
 * multiplied over the days, so that a clear day, which fits sharply at one shift only, counts for many cloudy ones, and mornings with
 * fog weigh little.
 * Own method; on real series right to 5 minutes in a year of hourly irradiance, to 10 in a month of minutes, to 15 in most weeks. The power
 * of a roof is some ten minutes less sure: shade and the plane pull at it.
 *
 * @param steps  intervals as the file's times say (start, length, number)
 * @param lightWPerM2  GHI over them, or the power of a roof; negative and missing (NaN) values count as dark
 * @param latitudeDeg   of the place
 * @param longitudeDeg  of the place
 * @param plane  of the roof, where the light is a roof's power
 * @throws RangeError  place out of range, or another number of values than intervals
 * @see haurwitz1945
 */
export function clockFit(
  steps: Steps,
  lightWPerM2: Float64Array,
  latitudeDeg: number,
  longitudeDeg: number,
  plane?: { readonly tiltDeg: number; readonly azimuthDeg: number },
): ClockFit {
  if (lightWPerM2.length !== steps.steps)
    throw new RangeError(`light has ${lightWPerM2.length} values: must have ${steps.steps}`);
  const series = coarsened(steps, lightWPerM2);
  const clear = clearSums(series.steps, latitudeDeg, longitudeDeg, plane);
  const days = daysWithLight(series.steps, series.light, clear, longitudeDeg);
  const misfits = days.map((day) => misfitByShift(day, series.steps, series.light, clear));
  if (misfits.length < LEAST_DAYS)
    return { verdict: 'cannot-tell', bestShiftMin: 0, gainShare: 0, certainty: 0, days: misfits.length };
  return verdictOf(misfits);
}

/** Shifts tried, minutes. */
const SHIFTS_MIN = Array.from({ length: (2 * REACH_MIN) / SEARCH_MIN + 1 }, (_, i) => i * SEARCH_MIN - REACH_MIN);
const UNSHIFTED = REACH_MIN / SEARCH_MIN;

/** @param misfits  logarithm of the misfit by day and shift */
function verdictOf(misfits: readonly (readonly number[])[]): ClockFit {
  const total = SHIFTS_MIN.map((_, s) => misfits.reduce((sum, day) => sum + (day[s] ?? 0), 0));
  const best = total.indexOf(Math.min(...total));
  const gains = misfits.map((day) => (day[UNSHIFTED] ?? 0) - (day[best] ?? 0));
  const mean = gains.reduce((sum, gain) => sum + gain, 0) / gains.length;
  const variance = gains.reduce((sum, gain) => sum + (gain - mean) ** 2, 0) / (gains.length - 1);
  const certainty = best === UNSHIFTED ? 0 : mean / Math.sqrt(variance / gains.length);
  const bestShiftMin = refined(total, best);
  const far = Math.abs(bestShiftMin) > TOLERATED_MIN;
  const verdict = !far ? 'fits' : certainty >= SURE ? 'off' : 'cannot-tell';
  return { verdict, bestShiftMin, gainShare: 1 - Math.exp(-mean), certainty, days: misfits.length };
}

/** Lowest point of the parabola through the best shift and its neighbours, to the minute. */
function refined(total: readonly number[], best: number): number {
  const here = total[best] ?? 0;
  const before = total[best - 1];
  const after = total[best + 1];
  const shift = SHIFTS_MIN[best] ?? 0;
  if (before === undefined || after === undefined) return shift;
  const bend = before - 2 * here + after;
  return bend > 0 ? Math.round(shift + (SEARCH_MIN * (before - after)) / (2 * bend)) : shift;
}

/** Means over at least ten minutes; a series that is coarser stays. */
function coarsened(steps: Steps, light: Float64Array): { readonly steps: Steps; readonly light: Float64Array } {
  const group = Math.max(1, Math.ceil(COARSEN_TO_S / steps.stepS));
  const count = Math.floor(steps.steps / group);
  const out = new Float64Array(count);
  for (let i = 0; i < count * group; i++) {
    const value = light[i] ?? 0;
    if (value > 0) out[Math.floor(i / group)] = (out[Math.floor(i / group)] ?? 0) + value / group;
  }
  return { steps: { startMs: steps.startMs, stepS: steps.stepS * group, steps: count }, light: out };
}

/** Running sum of a clear sky from `REACH_MIN` before the series, in steps of `BASE_S`: any interval's mean is a difference of two. */
function clearSums(
  steps: Steps,
  latitudeDeg: number,
  longitudeDeg: number,
  plane: { readonly tiltDeg: number; readonly azimuthDeg: number } | undefined,
): Float64Array {
  const count = Math.ceil((steps.steps * steps.stepS + 2 * REACH_MIN * S_PER_MIN) / BASE_S) + 1;
  const startMs = steps.startMs - REACH_MIN * S_PER_MIN * MS_PER_S;
  const sun = sunTrack({ startMs, stepS: BASE_S, steps: count }, latitudeDeg, longitudeDeg);
  const tilt = plane?.tiltDeg ?? 0;
  const azimuth = plane?.azimuthDeg ?? 180;
  const sums = new Float64Array(count + 1);
  for (let i = 0; i < count; i++) {
    const cosZenith = sun.cosZenith[i] ?? 0;
    const onPlane =
      sinDeg(tilt) * (sinDeg(azimuth) * (sun.east[i] ?? 0) + cosDeg(azimuth) * (sun.north[i] ?? 0)) + cosDeg(tilt) * cosZenith;
    sums[i + 1] = (sums[i] ?? 0) + clearOnPlane(cosZenith, onPlane);
  }
  return sums;
}

/** A clear sky on a plane, in shape only: a seventh of it diffuse. On the level it is Haurwitz' own. */
function clearOnPlane(cosZenith: number, cosIncidence: number): number {
  if (cosZenith <= 0) return 0;
  return clearGhiHaurwitzWPerM2(cosZenith) * (0.15 + (0.85 * Math.max(0, cosIncidence)) / cosZenith);
}

/** Clear sky over interval `i` when the clock is shifted, in units of a base step. */
function clearOver(clear: Float64Array, steps: Steps, i: number, shiftMin: number): number {
  const from = (i * steps.stepS + (REACH_MIN + shiftMin) * S_PER_MIN) / BASE_S;
  return sumAt(clear, from + steps.stepS / BASE_S) - sumAt(clear, from);
}

function sumAt(sums: Float64Array, at: number): number {
  const i = Math.floor(at);
  const here = sums[i] ?? 0;
  return here + ((sums[i + 1] ?? here) - here) * (at - i);
}

interface DayOfIntervals {
  readonly first: number;
  readonly end: number;
}

/** Solar days (midnight to midnight by the sun) with enough light to have a shape; days cut off by the file's ends are left out. */
function daysWithLight(steps: Steps, light: Float64Array, clear: Float64Array, longitudeDeg: number): DayOfIntervals[] {
  const solarDay = (i: number): number =>
    Math.floor((steps.startMs / MS_PER_S + (i + 0.5) * steps.stepS + longitudeDeg * 240) / 86_400);
  const days: DayOfIntervals[] = [];
  for (let first = 0, end = 0; first < steps.steps; first = end) {
    while (end < steps.steps && solarDay(end) === solarDay(first)) end++;
    let seen = 0;
    let possible = 0;
    for (let i = first; i < end; i++) {
      seen += light[i] ?? 0;
      possible += (clearOver(clear, steps, i, 0) * BASE_S) / steps.stepS;
    }
    const whole = (end - first) * steps.stepS > 23 * 3600;
    if (whole && seen > LEAST_LIGHT * possible * scaleOf(light) && possible > 0) days.push({ first, end });
  }
  return days;
}

/** Power series are in watts of any roof: the brightest interval stands for a clear noon. */
function scaleOf(light: Float64Array): number {
  let most = 0;
  for (const value of light) if (value > most) most = value;
  return most / 1000;
}

/** Logarithm of what the scaled clear day leaves of the day's power, by shift. */
function misfitByShift(day: DayOfIntervals, steps: Steps, light: Float64Array, clear: Float64Array): number[] {
  return SHIFTS_MIN.map((shiftMin) => {
    let power = 0;
    let common = 0;
    let model = 0;
    for (let i = day.first; i < day.end; i++) {
      const seen = light[i] ?? 0;
      const expected = clearOver(clear, steps, i, shiftMin);
      power += seen * seen;
      common += seen * expected;
      model += expected * expected;
    }
    const explained = model > 0 ? (common * common) / (model * power) : 0;
    return Math.log(1 - explained + CLEAR_DAY_MISFIT);
  });
}
