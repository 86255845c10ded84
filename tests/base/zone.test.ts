import { afterEach, describe, expect, test } from 'vitest';
import {
  fixedZone,
  instantOfWall,
  isoLocal,
  isoWithOffset,
  offsetSAt,
  UTC,
  wallClockAt,
  type Zone,
} from '../../src/base/index.ts';

// Clock changes of 2025 from the IANA time zone database: central Europe changes at 01:00 UTC on the last Sundays of March and
// October; Lord Howe Island at 02:00 local time by half an hour; Santiago at midnight (04:00 UTC in September, 03:00 in April).
const VIENNA: Zone = {
  name: 'Europe/Vienna',
  changes: [
    { fromMs: -Infinity, offsetS: 3600 },
    { fromMs: Date.UTC(2025, 2, 30, 1), offsetS: 7200 },
    { fromMs: Date.UTC(2025, 9, 26, 1), offsetS: 3600 },
  ],
};
const LORD_HOWE: Zone = {
  name: 'Australia/Lord_Howe',
  changes: [
    { fromMs: -Infinity, offsetS: 39_600 },
    { fromMs: Date.UTC(2025, 3, 5, 15), offsetS: 37_800 },
    { fromMs: Date.UTC(2025, 9, 4, 15, 30), offsetS: 39_600 },
  ],
};
const SANTIAGO: Zone = {
  name: 'America/Santiago',
  changes: [
    { fromMs: -Infinity, offsetS: -10_800 },
    { fromMs: Date.UTC(2025, 3, 6, 3), offsetS: -14_400 },
    { fromMs: Date.UTC(2025, 8, 7, 4), offsetS: -10_800 },
  ],
};

const H = 3600;
const iso = (zone: Zone, dayMs: number, secondOfDay: number): string => isoLocal(zone, instantOfWall(zone, dayMs, secondOfDay));
const hoursOf = (zone: Zone, y: number, m: number, d: number): number =>
  (instantOfWall(zone, Date.UTC(y, m - 1, d + 1), 0) - instantOfWall(zone, Date.UTC(y, m - 1, d), 0)) / 3_600_000;

const OWN_TZ = process.env.TZ;
afterEach(() => {
  if (OWN_TZ === undefined) delete process.env.TZ;
  else process.env.TZ = OWN_TZ;
});

describe.each(['', 'Pacific/Chatham', 'America/St_Johns'])(
  'zone, whatever the machine stands in ("%s": its own)',
  (machineZone) => {
    const prepare = (): void => {
      if (machineZone !== '') process.env.TZ = machineZone;
    };

    test('the offset changes with the second of the change', () => {
      prepare();
      expect(offsetSAt(VIENNA, Date.UTC(2025, 2, 30, 1) - 1)).toBe(3600);
      expect(offsetSAt(VIENNA, Date.UTC(2025, 2, 30, 1))).toBe(7200);
      expect(offsetSAt(VIENNA, Date.UTC(2025, 9, 26, 1))).toBe(3600);
      expect(offsetSAt(UTC, 0)).toBe(0);
    });

    test('days have 23, 24 and 25 hours; on Lord Howe 23.5 and 24.5; in Santiago the change is at midnight', () => {
      prepare();
      expect([hoursOf(VIENNA, 2025, 3, 30), hoursOf(VIENNA, 2025, 3, 31), hoursOf(VIENNA, 2025, 10, 26)]).toEqual([23, 24, 25]);
      expect([hoursOf(LORD_HOWE, 2025, 10, 5), hoursOf(LORD_HOWE, 2025, 4, 6)]).toEqual([23.5, 24.5]);
      expect([hoursOf(SANTIAGO, 2025, 9, 7), hoursOf(SANTIAGO, 2025, 4, 5), hoursOf(SANTIAGO, 2025, 4, 6)]).toEqual([23, 25, 24]);
    });

    test('the hour that spring leaves out: the clock has already jumped', () => {
      prepare();
      const day = Date.UTC(2025, 2, 30);
      expect(iso(VIENNA, day, 1.5 * H)).toBe('2025-03-30T01:30:00+01:00');
      expect(iso(VIENNA, day, 2 * H)).toBe('2025-03-30T03:00:00+02:00');
      expect(iso(VIENNA, day, 2.5 * H)).toBe('2025-03-30T03:30:00+02:00');
      expect(iso(VIENNA, day, 3 * H)).toBe('2025-03-30T03:00:00+02:00');
      expect(iso(SANTIAGO, Date.UTC(2025, 8, 7), 0)).toBe('2025-09-07T01:00:00-03:00');
    });

    test('the hour that autumn repeats: the first one is meant', () => {
      prepare();
      const day = Date.UTC(2025, 9, 26);
      expect(iso(VIENNA, day, 2.5 * H)).toBe('2025-10-26T02:30:00+02:00');
      expect(isoLocal(VIENNA, instantOfWall(VIENNA, day, 2.5 * H) + 3_600_000)).toBe('2025-10-26T02:30:00+01:00');
      expect(iso(VIENNA, day, 3 * H)).toBe('2025-10-26T03:00:00+01:00');
      expect(iso(LORD_HOWE, Date.UTC(2025, 3, 6), 1.75 * H)).toBe('2025-04-06T01:45:00+11:00');
    });

    test('seconds of the day may run past midnight, and before it', () => {
      prepare();
      expect(iso(VIENNA, Date.UTC(2025, 2, 29), 24 * H + 4 * H)).toBe('2025-03-30T04:00:00+02:00');
      expect(iso(VIENNA, Date.UTC(2025, 2, 31), -H)).toBe('2025-03-30T23:00:00+02:00');
    });

    test('there and back: every quarter of an hour of the year that the wall shows once', () => {
      prepare();
      const lost: string[] = [];
      for (const zone of [VIENNA, LORD_HOWE, SANTIAGO]) {
        const repeated = zone.changes.flatMap((c, i) =>
          c.offsetS < (zone.changes[i - 1]?.offsetS ?? c.offsetS) ? [c.fromMs] : [],
        );
        for (let atMs = Date.UTC(2025, 0, 2); atMs < Date.UTC(2025, 11, 30); atMs += 900_000) {
          if (repeated.some((changeMs) => atMs >= changeMs && atMs < changeMs + 3_600_000)) continue;
          const w = wallClockAt(zone, atMs);
          const back = instantOfWall(zone, Date.UTC(w.year, w.month - 1, w.day), w.hour * H + w.minute * 60 + w.second);
          if (back !== atMs) lost.push(isoLocal(zone, atMs));
        }
      }
      expect(lost).toEqual([]);
    });

    test('the clock on the wall: weekday from Monday, day of the year from 1', () => {
      prepare();
      const newYear = wallClockAt(VIENNA, Date.UTC(2024, 11, 31, 23));
      expect(newYear).toMatchObject({
        year: 2025,
        month: 1,
        day: 1,
        hour: 0,
        minute: 0,
        weekday: 2,
        dayOfYear: 1,
        offsetS: 3600,
      });
      expect(wallClockAt(UTC, Date.UTC(2024, 11, 31))).toMatchObject({ weekday: 1, dayOfYear: 366 });
      expect(wallClockAt(UTC, Date.UTC(1969, 11, 31))).toMatchObject({ year: 1969, weekday: 2, dayOfYear: 365 });
    });

    test('instants as text: offset with its sign, half and three-quarter hours', () => {
      prepare();
      const at = Date.UTC(2025, 3, 12, 8, 42);
      expect(isoLocal(VIENNA, at)).toBe('2025-04-12T10:42:00+02:00');
      expect(isoLocal(UTC, at)).toBe('2025-04-12T08:42:00+00:00');
      expect(isoLocal(fixedZone('Asia/Kathmandu', 20_700), at)).toBe('2025-04-12T14:27:00+05:45');
      expect(isoWithOffset(at, -12_600)).toBe('2025-04-12T05:12:00-03:30');
      expect(isoWithOffset(at, -1800)).toBe('2025-04-12T08:12:00-00:30');
    });
  },
);

test('the machine zone really changes in these tests', () => {
  process.env.TZ = 'Pacific/Chatham';
  expect(new Date(Date.UTC(2025, 5, 1)).getTimezoneOffset()).toBe(-765);
});
