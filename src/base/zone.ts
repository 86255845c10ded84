import { MS_PER_DAY, MS_PER_S } from './units.ts';

/**
 * A time zone as a table: from each instant on, so many seconds are added to UTC. The core asks no machine for its zones;
 * a face reads the table from its platform and hands it in. The first change starts at -Infinity.
 */
export interface Zone {
  /** IANA name, `Europe/Vienna`. */
  readonly name: string;
  readonly changes: readonly { readonly fromMs: number; readonly offsetS: number }[];
}

/** A zone that never changes its clock. */
export const fixedZone = (name: string, offsetS: number): Zone => ({ name, changes: [{ fromMs: -Infinity, offsetS }] });
/** Universal time. */
export const UTC = fixedZone('UTC', 0);

/** Seconds that local time is ahead of UTC at an instant. */
export function offsetSAt(zone: Zone, atMs: number): number {
  let offsetS = 0;
  for (const change of zone.changes) {
    if (change.fromMs > atMs) break;
    offsetS = change.offsetS;
  }
  return offsetS;
}

/** What the clock on the wall shows. `month` 1 … 12; `weekday` 0 = Monday … 6 = Sunday; `dayOfYear` from 1. */
export interface WallClock {
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
  readonly second: number;
  readonly weekday: number;
  readonly dayOfYear: number;
  readonly offsetS: number;
}

/** The clock on the wall at an instant. */
export function wallClockAt(zone: Zone, atMs: number): WallClock {
  const offsetS = offsetSAt(zone, atMs);
  const d = new Date(atMs + offsetS * MS_PER_S);
  const year = d.getUTCFullYear();
  const dayStartMs = Date.UTC(year, d.getUTCMonth(), d.getUTCDate());
  return {
    year,
    month: d.getUTCMonth() + 1,
    day: d.getUTCDate(),
    hour: d.getUTCHours(),
    minute: d.getUTCMinutes(),
    second: d.getUTCSeconds(),
    weekday: (d.getUTCDay() + 6) % 7,
    dayOfYear: Math.round((dayStartMs - Date.UTC(year, 0, 1)) / MS_PER_DAY) + 1,
    offsetS,
  };
}

/**
 * The instant at which the wall shows a local date and time of day.
 *
 * In the hour that spring leaves out, the clock has already jumped: 02:30 is the instant that would have been 02:30 by the old
 * offset (shown as 03:30). In the hour that autumn repeats, the first of the two is meant.
 *
 * @param dayMs     the local date as `Date.UTC(year, month - 1, day)`
 * @param secondOfDay  seconds on the wall since midnight; may exceed a day
 */
export function instantOfWall(zone: Zone, dayMs: number, secondOfDay: number): number {
  const wallMs = dayMs + secondOfDay * MS_PER_S;
  const before = offsetSAt(zone, wallMs - MS_PER_DAY);
  const first = wallMs - before * MS_PER_S;
  if (offsetSAt(zone, first) === before) return first;
  const after = offsetSAt(zone, first);
  const second = wallMs - after * MS_PER_S;
  return offsetSAt(zone, second) === after ? second : first;
}

/** An instant as ISO 8601 in local time with its offset: `2025-04-12T10:42:00+02:00`. */
export function isoLocal(zone: Zone, atMs: number): string {
  return isoWithOffset(atMs, offsetSAt(zone, atMs));
}

/** An instant as ISO 8601 with an offset in seconds (whole minutes are shown). */
export function isoWithOffset(atMs: number, offsetS: number): string {
  const local = new Date(atMs + offsetS * MS_PER_S).toISOString().slice(0, 19);
  const minutes = Math.abs(Math.round(offsetS / 60));
  const sign = offsetS < 0 ? '-' : '+';
  return `${local}${sign}${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}

const two = (n: number): string => (n < 10 ? `0${n}` : `${n}`);
