/** Seconds since midnight of a checked `HH:MM`. */
export const secondOfDay = (text: string): number => Number(text.slice(0, 2)) * 3600 + Number(text.slice(3, 5)) * 60;

/** A day written `YYYY-MM-DD` as `Date.UTC`, or null if the calendar has no such day. */
export function dayMsOf(text: string): number | null {
  const year = Number(text.slice(0, 4));
  const month = Number(text.slice(5, 7));
  const day = Number(text.slice(8, 10));
  return dayMsFrom(year, month, day);
}

/** A day as `Date.UTC`, or null if the calendar has no such day. `month` 1 … 12. */
export function dayMsFrom(year: number, month: number, day: number): number | null {
  const ms = Date.UTC(year, month - 1, day);
  const date = new Date(ms);
  return date.getUTCFullYear() === year && date.getUTCMonth() === month - 1 && date.getUTCDate() === day ? ms : null;
}

/** A day as `YYYY-MM-DD`. */
export const dayText = (dayMs: number): string => new Date(dayMs).toISOString().slice(0, 10);
