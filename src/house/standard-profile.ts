import { MS_PER_DAY, S_PER_H, type TimeGrid, timeGrid, UTC, wallClockAt, type Zone } from '../base/index.ts';
import type { ByDay, DayKind } from './appliances.ts';
import { meansOnSteps } from './steps.ts';

/** Seasons of the published profiles: winter 1 November to 20 March, summer 15 May to 14 September, transition between. */
export type Season = 'winter' | 'transition' | 'summer';

/** A standard profile: for each season and kind of day the values of one day, evenly spaced from midnight on, in any unit. */
export type StandardProfile = Readonly<Record<Season, ByDay<Float64Array>>>;

/** How a standard profile becomes a load. */
export interface ProfileOptions {
  /** Consumption of a full calendar year, Wh, 0 or more. */
  readonly annualWh: number;
  /** Times the published factor of the day of the year. */
  readonly dynamic: boolean;
  /** Public holidays, which count as Sundays: local dates as `Date.UTC`. */
  readonly daysOff: readonly number[];
}

/**
 * Factor of the day of the year with which the German standard household profile is made to follow the season.
 *
 * Rounded to four decimals, as the industry's rules of 2025 say. Meant for central Europe; the same in leap years.
 *
 * @param dayOfYear  1 … 366
 * @example dynamicFactor(1) // 1.242
 * @example dynamicFactor(172) // 0.8096
 * @see vdew1999
 */
export function dynamicFactor(dayOfYear: number): number {
  const t = dayOfYear;
  const factor = -3.92e-10 * t ** 4 + 3.2e-7 * t ** 3 - 7.02e-5 * t ** 2 + 2.1e-3 * t + 1.24;
  return Math.round(factor * 10_000) / 10_000;
}

/**
 * The load that a standard profile says, W per step: a full calendar year adds up to `annualWh`, a part of it is that part.
 *
 * 24 and 31 December count as Saturdays unless they are Sundays. Good for a grid operator's sums. Not for one household's surplus:
 * it is the mean of hundreds of homes, so it has no spikes and no quiet minutes.
 *
 * The zone's table should cover the calendar years that the period touches.
 *
 * @throws RangeError  consumption below 0, days of different lengths, or a profile that is 0 throughout
 * @see vdew1999
 */
export function standardProfileW(profile: StandardProfile, options: ProfileOptions, grid: TimeGrid): Float64Array {
  if (!(Number.isFinite(options.annualWh) && options.annualWh >= 0))
    throw new RangeError(`annualWh = ${options.annualWh}: must be 0 or more`);
  const loadW = new Float64Array(grid.steps);
  const lastDayMs = grid.dayMs[grid.dayMs.length - 1] ?? 0;
  const lastYear = wallClockAt(UTC, lastDayMs).year;
  for (let year = wallClockAt(UTC, grid.dayMs[0] ?? 0).year; year <= lastYear; year++) {
    const part = meansOnSteps(profileYear(profile, options, year, grid.zone), grid);
    for (let k = 0; k < loadW.length; k++) loadW[k] = (loadW[k] ?? 0) + (part[k] ?? 0);
  }
  return loadW;
}

/** One calendar year at the profile's own spacing, scaled. */
function profileYear(profile: StandardProfile, options: ProfileOptions, year: number, zone: Zone) {
  const firstDayMs = Date.UTC(year, 0, 1);
  const days = Math.round((Date.UTC(year + 1, 0, 1) - firstDayMs) / MS_PER_DAY);
  const perDay = profile.winter.workday.length;
  const intervalS = (24 * S_PER_H) / perDay;
  const intervals = timeGrid(firstDayMs, days, intervalS, zone);
  const values = new Float64Array(intervals.steps);
  const daysOff = new Set(options.daysOff);
  for (let d = 0; d < days; d++) layDay(values, profile, options.dynamic, daysOff, intervals, d);
  const sum = values.reduce((a, b) => a + b, 0);
  if (!(sum > 0)) throw new RangeError('profile: 0 throughout');
  const scale = (options.annualWh * S_PER_H) / (sum * intervalS);
  return { startMs: intervals.startMs, intervalS, values: values.map((value) => value * scale) };
}

/** A day of the year; where the clocks change, each interval takes the value that the wall shows. */
function layDay(
  to: Float64Array,
  profile: StandardProfile,
  dynamic: boolean,
  daysOff: ReadonlySet<number>,
  intervals: TimeGrid,
  d: number,
): void {
  const dayMs = intervals.dayMs[d] ?? 0;
  const { month, day, weekday, dayOfYear } = wallClockAt(UTC, dayMs);
  const kind = daysOff.has(dayMs) ? 'sunday' : profileDay(month, day, weekday);
  const ofDay = profile[seasonOf(month, day)][kind];
  if (ofDay.length !== profile.winter.workday.length) throw new RangeError('profile: days of different lengths');
  const factor = dynamic ? dynamicFactor(dayOfYear) : 1;
  const first = intervals.dayStart[d] ?? 0;
  const end = intervals.dayStart[d + 1] ?? first;
  for (let k = first; k < end; k++) {
    const at = end - first === ofDay.length ? k - first : wallInterval(intervals, k);
    to[k] = factor * (ofDay[at] ?? 0);
  }
}

/** Which interval of its day the wall shows at interval `k` of the year. */
function wallInterval(intervals: TimeGrid, k: number): number {
  const { hour, minute, second } = wallClockAt(intervals.zone, intervals.startMs + k * intervals.stepS * 1000);
  return Math.floor((hour * S_PER_H + minute * 60 + second) / intervals.stepS);
}

/** Season of the published profiles. @see vdew1999 */
export function seasonOf(month: number, day: number): Season {
  const at = month * 100 + day;
  if (at >= 1101 || at <= 320) return 'winter';
  return at >= 515 && at <= 914 ? 'summer' : 'transition';
}

/** Kind of day by the rules of the published profiles, holidays apart. */
function profileDay(month: number, day: number, weekday: number): DayKind {
  if (weekday === 6) return 'sunday';
  return weekday === 5 || (month === 12 && (day === 24 || day === 31)) ? 'saturday' : 'workday';
}
