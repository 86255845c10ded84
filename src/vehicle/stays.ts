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
 * @param trips  habits; none means that the car never leaves
 * @param seed   of the jitter, whole number, 0 or more
 * @param grid   the period
 * @returns      all stays that touch the period, in order, not overlapping, with their true ends (which may lie outside it)
 */
export function weeklyStays(trips: readonly WeeklyTrip[], seed: number, grid: TimeGrid): Stay[] {
  const stays: Stay[] = [];
  let arriveMs = -Infinity;
  let km = 0;
  for (const drive of drives(trips, seed, grid)) {
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
function drives(trips: readonly WeeklyTrip[], seed: number, grid: TimeGrid): Drive[] {
  const found: Drive[] = [];
  const firstMs = (grid.dayMs[0] ?? 0) - MARGIN_DAYS * MS_PER_DAY;
  const days = grid.dayMs.length + 2 * MARGIN_DAYS;
  for (let d = 0; d < days; d++) {
    const dayMs = firstMs + d * MS_PER_DAY;
    const weekday = wallClockAt(UTC, dayMs).weekday;
    trips.forEach((trip, place) => {
      if (trip.weekdays.includes(weekday)) found.push(driveOn(trip, place, dayMs, seed, grid));
    });
  }
  return found.sort((a, b) => a.leaveMs - b.leaveMs);
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
