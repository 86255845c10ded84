import {
  chance,
  gridEndMs,
  instantOfWall,
  MS_PER_DAY,
  S_PER_H,
  S_PER_MIN,
  type TimeGrid,
  UTC,
  wallClockAt,
} from '../base/index.ts';

/**
 * A time at the charger: plugged in from arrival to departure. `km` were driven since the departure before it.
 * `arriveMs` is -Infinity and `departMs` Infinity where no trip is known before or after.
 */
export interface Stay {
  readonly arriveMs: number;
  readonly departMs: number;
  readonly km: number;
}

/** A trip that comes back every week, by the clock on the wall. */
export interface WeeklyTrip {
  /** 0 = Monday … 6 = Sunday. */
  readonly weekdays: readonly number[];
  /** Seconds since local midnight. A return at or before the time of leaving is on the next day, as is one over 86,400. */
  readonly leaveS: number;
  readonly returnS: number;
  readonly km: number;
  /** Leaving and returning each fall up to so many seconds early or late, in whole minutes, every minute as likely. */
  readonly jitterS: number;
}

/** What breaks the week. */
export interface Exceptions {
  /** Longer trips: so many a month on average, each of so many kilometres; null: none. */
  readonly longTrips: { readonly perMonth: number; readonly km: number } | null;
  /** Days without the trips of the week: local dates as `Date.UTC`. */
  readonly daysOff: readonly number[];
  /** Days without the trips of the week, first and last local date as `Date.UTC`; with kilometres the car is gone for all of them. */
  readonly holidays: readonly { readonly firstMs: number; readonly lastMs: number; readonly km: number }[];
}

/** Weeks without exceptions. */
export const NO_EXCEPTIONS: Exceptions = { longTrips: null, daysOff: [], holidays: [] };

/** Days that are lived through before the run and after it, so that a trip near its ends does not depend on where they lie. */
const MARGIN_DAYS = 8;
const S_PER_DAY = 24 * S_PER_H;

/**
 * The stays that weekly habits make of a period.
 *
 * The car is at home but for its trips. A trip's jitter hangs on seed, place in the list and calendar date only, so a part of a
 * year is that part of the year. Where jitter makes trips overlap they follow each other: the later one leaves when the earlier
 * one is back, which is a stay of no length. In the hour that spring leaves out the clock counts as already jumped.
 *
 * Longer trips fall on days on which the week has no trip, by the seed; only where no such day is left in a month do they replace
 * one. They leave between 8 and 10 and are back between 17 and 20 o'clock. A month gets the whole part of its rate, and one more as
 * often as the rest of it says, so a year has its number of them to within a few.
 *
 * @param trips  habits; none means that the car never leaves
 * @param seed   of jitter and longer trips, whole number, 0 or more
 * @param grid   the period
 * @param exceptions  days off, holidays, longer trips
 * @returns      all stays that touch the period, in order, not overlapping, with their true ends (which may lie outside it)
 */
export function weeklyStays(
  trips: readonly WeeklyTrip[],
  seed: number,
  grid: TimeGrid,
  exceptions: Exceptions = NO_EXCEPTIONS,
): Stay[] {
  const stays: Stay[] = [];
  let arriveMs = -Infinity;
  let km = 0;
  for (const drive of drives(trips, seed, grid, exceptions)) {
    const leaveMs = Math.max(drive.leaveMs, arriveMs);
    stays.push({ arriveMs, departMs: leaveMs, km });
    arriveMs = Math.max(drive.returnMs, leaveMs);
    km = drive.km;
  }
  stays.push({ arriveMs, departMs: Infinity, km });
  return stays.filter((stay) => touches(stay, grid));
}

/** One stay without beginning or end: plugged in throughout, never driven. The same for every period. */
export const alwaysStays = (): Stay[] => [{ arriveMs: -Infinity, departMs: Infinity, km: 0 }];

/** Whether any of a stay lies in the period: also one without length, but not one that ends where the period begins. */
function touches(stay: Stay, grid: TimeGrid): boolean {
  return (stay.departMs > grid.startMs || stay.arriveMs >= grid.startMs) && stay.arriveMs < gridEndMs(grid);
}

interface Drive {
  readonly leaveMs: number;
  readonly returnMs: number;
  readonly km: number;
}

/** All drives of the period and the days around it, in the order of leaving; equal ones in the order of the list. */
function drives(trips: readonly WeeklyTrip[], seed: number, grid: TimeGrid, exceptions: Exceptions): Drive[] {
  const found: Drive[] = [];
  const firstMs = (grid.dayMs[0] ?? 0) - MARGIN_DAYS * MS_PER_DAY;
  const lastMs = firstMs + (grid.dayMs.length + 2 * MARGIN_DAYS - 1) * MS_PER_DAY;
  const long = longTripDays(trips, seed, exceptions, firstMs, lastMs);
  const free = new Set([...exceptions.daysOff, ...long]);
  for (let dayMs = firstMs; dayMs <= lastMs; dayMs += MS_PER_DAY) {
    if (long.has(dayMs)) found.push(longDrive(exceptions.longTrips?.km ?? 0, dayMs, seed, grid));
    if (free.has(dayMs) || onHoliday(exceptions, dayMs)) continue;
    const weekday = wallClockAt(UTC, dayMs).weekday;
    trips.forEach((trip, place) => {
      if (trip.weekdays.includes(weekday)) found.push(driveOn(trip, place, dayMs, seed, grid));
    });
  }
  const gone = exceptions.holidays.filter(({ km }) => km > 0).map((holiday) => holidayDrive(holiday, grid));
  return [...found, ...gone].sort((a, b) => a.leaveMs - b.leaveMs);
}

const onHoliday = ({ holidays }: Exceptions, dayMs: number): boolean =>
  holidays.some(({ firstMs, lastMs }) => firstMs <= dayMs && dayMs <= lastMs);

/** Holidays with the car: from nine in the morning of the first day to six in the evening of the last. */
function holidayDrive({ firstMs, lastMs, km }: Exceptions['holidays'][number], { zone }: TimeGrid): Drive {
  return { leaveMs: instantOfWall(zone, firstMs, 9 * S_PER_H), returnMs: instantOfWall(zone, lastMs, 18 * S_PER_H), km };
}

/** Local dates of the longer trips in all months that touch the days from first to last. */
function longTripDays(
  trips: readonly WeeklyTrip[],
  seed: number,
  exceptions: Exceptions,
  firstMs: number,
  lastMs: number,
): ReadonlySet<number> {
  const found = new Set<number>();
  if (exceptions.longTrips === null) return found;
  const first = wallClockAt(UTC, firstMs);
  for (let m = 0; Date.UTC(first.year, first.month - 1 + m, 1) <= lastMs; m++) {
    const monthMs = Date.UTC(first.year, first.month - 1 + m, 1);
    const luck = chance(seed, `long trips/${monthMs / MS_PER_DAY}`);
    const { perMonth } = exceptions.longTrips;
    const count = Math.floor(perMonth) + (luck.uniform() < perMonth % 1 ? 1 : 0);
    const days = daysForLongTrips(trips, exceptions, monthMs, Date.UTC(first.year, first.month + m, 1));
    for (let n = 0; n < count && days.length > 0; n++) {
      found.add(days.splice(Math.floor(luck.uniform() * days.length), 1)[0] ?? monthMs);
    }
  }
  return found;
}

/** Days of a month on which a longer trip may fall: those that the week leaves free, or if there are none, all outside holidays. */
function daysForLongTrips(trips: readonly WeeklyTrip[], exceptions: Exceptions, fromMs: number, endMs: number): number[] {
  const all: number[] = [];
  for (let dayMs = fromMs; dayMs < endMs; dayMs += MS_PER_DAY) if (!onHoliday(exceptions, dayMs)) all.push(dayMs);
  const busy = new Set(trips.flatMap(({ weekdays }) => weekdays));
  const free = all.filter((dayMs) => exceptions.daysOff.includes(dayMs) || !busy.has(wallClockAt(UTC, dayMs).weekday));
  return free.length > 0 ? free : all;
}

function longDrive(km: number, dayMs: number, seed: number, { zone }: TimeGrid): Drive {
  const luck = chance(seed, `long trip/${dayMs / MS_PER_DAY}`);
  const leaveS = 9 * S_PER_H + jitterS(luck.uniform(), S_PER_H);
  const returnS = 18.5 * S_PER_H + jitterS(luck.uniform(), 1.5 * S_PER_H);
  return { leaveMs: instantOfWall(zone, dayMs, leaveS), returnMs: instantOfWall(zone, dayMs, returnS), km };
}

function driveOn(trip: WeeklyTrip, place: number, dayMs: number, seed: number, grid: TimeGrid): Drive {
  const luck = chance(seed, `trip/${place}/${dayMs / MS_PER_DAY}`);
  const leaveS = trip.leaveS + jitterS(luck.uniform(), trip.jitterS);
  const nightS = trip.returnS <= trip.leaveS ? S_PER_DAY : 0;
  const returnS = trip.returnS + nightS + jitterS(luck.uniform(), trip.jitterS);
  return { leaveMs: instantOfWall(grid.zone, dayMs, leaveS), returnMs: instantOfWall(grid.zone, dayMs, returnS), km: trip.km };
}

/** Whole minutes, in seconds, from -mostS to mostS, each as likely; `uniform` in 0 … 1. */
function jitterS(uniform: number, mostS: number): number {
  const mostMin = Math.floor(mostS / S_PER_MIN);
  return (Math.floor(uniform * (2 * mostMin + 1)) - mostMin) * S_PER_MIN;
}
