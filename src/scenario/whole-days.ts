import { instantOfWall, MS_PER_DAY, MS_PER_S, offsetSAt, type Zone } from '../base/index.ts';
import { dayText } from './time-text.ts';

/** What period a file can serve: advice with the whole local days between two instants. */
export function wholeDaysText(zone: Zone, fromMs: number, toMs: number): string {
  const days = wholeDays(zone, fromMs, toMs);
  if (days === null) return 'use a file that holds at least one whole local day.';
  return `write in the period \`start: ${dayText(days.firstMs)}\` and \`days: ${days.count}\`, which the file covers, or use a longer file.`;
}

/** The whole local days between two instants: the first as `Date.UTC`, and their number; null where there is none. */
export function wholeDays(zone: Zone, fromMs: number, toMs: number): { firstMs: number; count: number } | null {
  const localFromMs = fromMs + offsetSAt(zone, fromMs) * MS_PER_S;
  let firstMs = Math.floor(localFromMs / MS_PER_DAY) * MS_PER_DAY;
  if (instantOfWall(zone, firstMs, 0) < fromMs) firstMs += MS_PER_DAY;
  const lastMs = Math.floor((toMs + offsetSAt(zone, toMs) * MS_PER_S) / MS_PER_DAY) * MS_PER_DAY;
  const count = Math.round((lastMs - firstMs) / MS_PER_DAY);
  return count >= 1 ? { firstMs, count } : null;
}
