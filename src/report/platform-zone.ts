import { MS_PER_DAY, MS_PER_S, type Zone } from '../base/index.ts';

/** Clocks are read this often; two changes that cancel out within one interval would go unseen (none is known since 1970). */
const SCAN_MS = 7 * MS_PER_DAY;
/** Read beyond the calendar years on both sides, so that habits of the week before and after find their offsets too. */
const MARGIN_MS = 14 * MS_PER_DAY;

/**
 * A zone's table of clock changes, read from the platform's copy of the IANA time zone database.
 *
 * The table covers the whole calendar years that the range touches, and two weeks more on each side; outside, the first and the
 * last offset go on. The zone of the machine plays no part. Good for any range since 1970; costs about a millisecond a year.
 *
 * @param name    IANA name, `Europe/Vienna`; kept as written
 * @param fromMs  first instant of interest
 * @param toMs    last instant of interest, `fromMs` or later
 * @returns       the table, or null for a name that the platform does not know
 * @throws RangeError  the range is not finite or runs backwards
 */
export function zoneOfPlatform(name: string, fromMs: number, toMs: number): Zone | null {
  if (!(Number.isFinite(fromMs) && Number.isFinite(toMs) && fromMs <= toMs)) {
    throw new RangeError(`fromMs = ${fromMs}, toMs = ${toMs}: must be finite and in order`);
  }
  const offsetS = offsetReader(name);
  if (offsetS === null) return null;
  const firstMs = Date.UTC(new Date(fromMs).getUTCFullYear(), 0, 1) - MARGIN_MS;
  const lastMs = Date.UTC(new Date(toMs).getUTCFullYear() + 1, 0, 1) + MARGIN_MS;
  const changes = [{ fromMs: -Infinity, offsetS: offsetS(firstMs) }];
  let before = offsetS(firstMs);
  for (let atMs = firstMs; atMs < lastMs; atMs += SCAN_MS) {
    const after = offsetS(atMs + SCAN_MS);
    if (after === before) continue;
    changes.push({ fromMs: firstChangeMs(offsetS, atMs, atMs + SCAN_MS), offsetS: after });
    before = after;
  }
  return { name, changes };
}

/** The first whole second in `(loMs, hiMs]` whose offset is not that of `loMs`; both ends are whole seconds. */
function firstChangeMs(offsetS: (atMs: number) => number, loMs: number, hiMs: number): number {
  const before = offsetS(loMs);
  let unchangedMs = loMs;
  let changedMs = hiMs;
  while (changedMs - unchangedMs > MS_PER_S) {
    const middleMs = unchangedMs + Math.floor((changedMs - unchangedMs) / (2 * MS_PER_S)) * MS_PER_S;
    if (offsetS(middleMs) === before) unchangedMs = middleMs;
    else changedMs = middleMs;
  }
  return changedMs;
}

/** Seconds ahead of UTC at a whole second, read off the platform's clock face. */
function offsetReader(name: string): ((atMs: number) => number) | null {
  // Some platforms take "+01:00" as a name and some do not; a scenario must mean the same everywhere.
  const format = /^[A-Za-z]/.test(name) ? clockFace(name) : null;
  if (format === null) return null;
  return (atMs) => {
    const [month = 0, day = 0, year = 0, hour = 0, minute = 0, second = 0] = (format.format(atMs).match(/\d+/g) ?? []).map(
      Number,
    );
    return Math.round((Date.UTC(year, month - 1, day, hour, minute, second) - atMs) / MS_PER_S);
  };
}

/** A clock that shows `10/26/2025, 02:00:00` in the zone, or null if there is no such zone. */
function clockFace(timeZone: string): Intl.DateTimeFormat | null {
  const two = '2-digit';
  try {
    return new Intl.DateTimeFormat('en-US', {
      timeZone,
      calendar: 'gregory',
      numberingSystem: 'latn',
      hourCycle: 'h23',
      year: 'numeric',
      month: two,
      day: two,
      hour: two,
      minute: two,
      second: two,
    });
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
