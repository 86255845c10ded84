import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gridEndMs, isoLocal, MS_PER_DAY, MS_PER_MIN, timeGrid, UTC, type Zone } from '../../src/base/index.ts';
import { alwaysStays, type Exceptions, NO_EXCEPTIONS, type Stay, type WeeklyTrip, weeklyStays } from '../../src/vehicle/index.ts';

// IANA time zone database: central Europe 2025.
const VIENNA: Zone = {
  name: 'Europe/Vienna',
  changes: [
    { fromMs: -Infinity, offsetS: 3600 },
    { fromMs: Date.UTC(2025, 2, 30, 1), offsetS: 7200 },
    { fromMs: Date.UTC(2025, 9, 26, 1), offsetS: 3600 },
  ],
};
const H = 3600;
const DAILY = [0, 1, 2, 3, 4, 5, 6];
const trip = (change: Partial<WeeklyTrip>): WeeklyTrip => ({
  weekdays: [0, 1, 2, 3],
  leaveS: 7 * H + 1200,
  returnS: 16 * H + 2700,
  km: 46,
  jitterS: 0,
  ...change,
});
const days = (y: number, m: number, d: number, n: number) => timeGrid(Date.UTC(y, m - 1, d), n, 60, VIENNA);
const shown = (stays: readonly Stay[]): string[][] =>
  stays.map((s) => [s.arriveMs, s.departMs].map((ms) => (Number.isFinite(ms) ? isoLocal(VIENNA, ms).slice(5, 16) : '-')));
const sumKm = (stays: readonly Stay[]): number => stays.reduce((sum, s) => sum + s.km, 0);

describe('weeklyStays: the clock on the wall', () => {
  test('a week without jitter, by hand: 2025-06-02 is a Monday', () => {
    const stays = weeklyStays([trip({ weekdays: [0, 2] })], 1, days(2025, 6, 2, 3));
    expect(shown(stays)).toEqual([
      ['05-28T16:45', '06-02T07:20'],
      ['06-02T16:45', '06-04T07:20'],
      ['06-04T16:45', '06-09T07:20'],
    ]);
    expect(stays.map((s) => s.km)).toEqual([46, 46, 46]);
  });

  test('Sunday commuter over both changes of the clock: the wall keeps the time, UTC moves', () => {
    const utcHours = (y: number, m: number, d: number): number[] =>
      weeklyStays([trip({ weekdays: [6], leaveS: 6 * H, returnS: 20 * H })], 1, days(y, m, d, 8))
        .map((s) => s.departMs)
        .slice(0, 2)
        .map((ms) => new Date(ms).getUTCHours());
    expect(utcHours(2025, 3, 23)).toEqual([5, 4]);
    expect(utcHours(2025, 10, 19)).toEqual([4, 5]);
  });

  test('a night shift over the lost hour is an hour shorter, over the doubled one an hour longer', () => {
    const awayH = (y: number, m: number, d: number): number => {
      const [before, after] = weeklyStays([trip({ weekdays: [5], leaveS: 22 * H, returnS: 6 * H })], 1, days(y, m, d, 2));
      return ((after?.arriveMs ?? 0) - (before?.departMs ?? 0)) / 3_600_000;
    };
    expect([awayH(2025, 3, 22), awayH(2025, 3, 29), awayH(2025, 10, 25)]).toEqual([8, 7, 9]);
  });

  test('a return at or before the time of leaving is on the next day, however it is written', () => {
    const until = (returnS: number): string[][] =>
      shown(weeklyStays([trip({ weekdays: [0], leaveS: 18 * H, returnS })], 1, days(2025, 6, 2, 3)));
    expect(until(9 * H)[1]?.[0]).toBe('06-03T09:00');
    expect(until(33 * H)).toEqual(until(9 * H));
    expect(until(18 * H)[1]?.[0]).toBe('06-03T18:00');
  });

  test('a trip that spans the start of the period: the car comes home within it', () => {
    const stays = weeklyStays([trip({ weekdays: [6], leaveS: 18 * H, returnS: 9 * H })], 1, days(2025, 6, 2, 2));
    expect(shown(stays)).toEqual([['06-02T09:00', '06-08T18:00']]);
    expect(stays[0]?.km).toBe(46);
  });
});

describe('weeklyStays: jitter', () => {
  const jittery = [
    trip({ weekdays: DAILY, jitterS: 15 * 60 }),
    trip({ weekdays: [5], leaveS: 18 * H, returnS: 21 * H, km: 25, jitterS: 2700 }),
  ];

  test('whole minutes, within its bounds, every minute as likely, ends independent (common chance: 4 standard errors)', () => {
    const grid = timeGrid(Date.UTC(2025, 0, 1), 3650, 3600, UTC);
    const stays = weeklyStays([trip({ weekdays: DAILY, jitterS: 15 * 60 })], 3, grid).slice(1, -1);
    const offBy = (ms: number, s: number): number => ((ms - s * 1000 + MS_PER_DAY / 2) % MS_PER_DAY) / MS_PER_MIN - 720;
    const leave = stays.map((s) => offBy(s.departMs, 7 * H + 1200));
    const back = stays.map((s) => offBy(s.arriveMs, 16 * H + 2700));
    const n = leave.length;
    const variance = (31 ** 2 - 1) / 12;
    for (const off of [leave, back]) {
      expect([...new Set(off)].sort((a, b) => a - b)).toEqual(Array.from({ length: 31 }, (_, i) => i - 15));
      expect(Math.abs(off.reduce((sum, x) => sum + x, 0) / n)).toBeLessThan(4 * Math.sqrt(variance / n));
      expect(Math.abs(off.reduce((sum, x) => sum + x * x, 0) / n / variance - 1)).toBeLessThan(0.07);
    }
    const together = leave.reduce((sum, x, i) => sum + x * (back[i + 1] ?? 0), 0) / n / variance;
    expect(Math.abs(together)).toBeLessThan(4 / Math.sqrt(n));
  });

  test('same seed, same stays; another seed, others', () => {
    expect(weeklyStays(jittery, 1, days(2025, 6, 2, 14))).toEqual(weeklyStays(jittery, 1, days(2025, 6, 2, 14)));
    expect(weeklyStays(jittery, 2, days(2025, 6, 2, 14))).not.toEqual(weeklyStays(jittery, 1, days(2025, 6, 2, 14)));
  });

  test('does not hang on where the period begins or ends, or on trips further down the list', () => {
    const year = weeklyStays(jittery, 1, days(2025, 1, 1, 365));
    const june = days(2025, 6, 1, 30);
    const part = year.filter((s) => s.departMs > june.startMs && s.arriveMs < gridEndMs(june));
    expect(weeklyStays(jittery, 1, june)).toEqual(part);
    const more = [...jittery, trip({ weekdays: [6], leaveS: 22 * H, returnS: 22.5 * H })];
    const monday = days(2025, 6, 2, 1);
    expect(weeklyStays(more, 1, monday)[1]?.arriveMs).toBe(weeklyStays(jittery, 1, monday)[1]?.arriveMs);
  });

  test('trips that overlap follow each other: a departure meets an arrival, no kilometre is lost', () => {
    const late = [
      trip({ weekdays: [0], leaveS: 8 * H, returnS: 12 * H, km: 10 }),
      trip({ weekdays: [0], leaveS: 11 * H, returnS: 14 * H, km: 20 }),
      trip({ weekdays: [0], leaveS: 12 * H, returnS: 13 * H, km: 40 }),
    ];
    const stays = weeklyStays(late, 1, days(2025, 6, 2, 1));
    expect(shown(stays).slice(1)).toEqual([
      ['06-02T12:00', '06-02T12:00'],
      ['06-02T14:00', '06-02T14:00'],
      ['06-02T14:00', '06-09T08:00'],
    ]);
    expect(stays.slice(1).map((s) => s.km)).toEqual([10, 20, 40]);
  });
});

describe('weeklyStays: kilometres', () => {
  test('a year drives what the habits say: 2025 has 52 of each weekday and 53 Wednesdays', () => {
    const habits = [trip({ jitterS: 900 }), trip({ weekdays: [5], leaveS: 10 * H, returnS: 13 * H, km: 25, jitterS: 2700 })];
    const [first, ...rest] = weeklyStays(habits, 1, days(2025, 1, 1, 365));
    expect(first?.arriveMs).toBeLessThan(Date.UTC(2024, 11, 31, 23));
    expect(sumKm(rest)).toBe((52 * 4 + 1) * 46 + 52 * 25);
  });

  test('no trips: at home, no known arrival or departure', () => {
    expect(weeklyStays([], 1, days(2025, 6, 2, 3))).toEqual([{ arriveMs: -Infinity, departMs: Infinity, km: 0 }]);
    expect(alwaysStays()).toEqual(weeklyStays([], 1, days(2025, 6, 2, 3)));
  });
});

const anyTrip: fc.Arbitrary<WeeklyTrip> = fc.record({
  weekdays: fc.uniqueArray(fc.integer({ min: 0, max: 6 }), { minLength: 1 }),
  leaveS: fc.integer({ min: 0, max: 1439 }).map((min) => min * 60),
  returnS: fc.integer({ min: 0, max: 1439 }).map((min) => min * 60),
  km: fc.integer({ min: 0, max: 500 }),
  jitterS: fc.integer({ min: 0, max: 180 }).map((min) => min * 60),
});

test('weeklyStays: any habits give stays in order that do not overlap and touch the period', () => {
  fc.assert(
    fc.property(
      fc.array(anyTrip, { maxLength: 5 }),
      fc.nat(1000),
      fc.integer({ min: 0, max: 364 }),
      fc.integer({ min: 1, max: 20 }),
      (trips, seed, first, n) => {
        const grid = timeGrid(Date.UTC(2025, 0, 1) + first * MS_PER_DAY, n, 60, VIENNA);
        let freeMs = -Infinity;
        for (const stay of weeklyStays(trips, seed, grid)) {
          expect(stay.arriveMs).toBeGreaterThanOrEqual(freeMs);
          expect(stay.departMs).toBeGreaterThanOrEqual(stay.arriveMs);
          expect(stay.arriveMs).toBeLessThan(gridEndMs(grid));
          expect(stay.departMs).toBeGreaterThanOrEqual(grid.startMs);
          freeMs = stay.departMs;
        }
      },
    ),
    { seed: 6, numRuns: 300 },
  );
});

describe('weeklyStays: what breaks the week', () => {
  const year = timeGrid(Date.UTC(2025, 0, 1), 365, 3600, UTC);
  const workdays: WeeklyTrip[] = [{ weekdays: [0, 1, 2, 3, 4], leaveS: 8 * 3600, returnS: 17 * 3600, km: 40, jitterS: 900 }];
  const kmOf = (exceptions: Exceptions, seed = 1, grid = year): number =>
    weeklyStays(workdays, seed, grid, exceptions)
      .filter((stay) => stay.arriveMs >= grid.startMs && stay.arriveMs < gridEndMs(grid))
      .reduce((sum, stay) => sum + stay.km, 0);
  // 2025 has 261 days from Monday to Friday (365 days, 52 weekends).
  const weekKm = 261 * 40;

  test('without exceptions the year has the kilometres of its weeks', () => {
    expect(kmOf(NO_EXCEPTIONS)).toBe(weekKm);
  });

  test('days off on workdays take their trips out, those on Sundays nothing', () => {
    const daysOff = [Date.UTC(2025, 0, 1), Date.UTC(2025, 3, 21), Date.UTC(2025, 3, 20)];
    expect(kmOf({ ...NO_EXCEPTIONS, daysOff })).toBe(weekKm - 2 * 40);
  });

  test('holidays: at home without kilometres, gone for good with them', () => {
    const stretch = { firstMs: Date.UTC(2025, 6, 5), lastMs: Date.UTC(2025, 6, 20) };
    expect(kmOf({ ...NO_EXCEPTIONS, holidays: [{ ...stretch, km: 0 }] })).toBe(weekKm - 10 * 40);
    expect(kmOf({ ...NO_EXCEPTIONS, holidays: [{ ...stretch, km: 1400 }] })).toBe(weekKm - 10 * 40 + 1400);
    const away = weeklyStays(workdays, 1, year, { ...NO_EXCEPTIONS, holidays: [{ ...stretch, km: 1400 }] });
    const back = away.find((stay) => stay.km === 1400);
    expect(back?.arriveMs).toBe(Date.UTC(2025, 6, 20, 18));
    expect(away[away.indexOf(back!) - 1]?.departMs).toBe(Date.UTC(2025, 6, 5, 9));
  });

  test('longer trips: the rate of the year, on days that the week leaves free', () => {
    const longTrips = { perMonth: 1.5, km: 250 };
    let trips = 0;
    for (let seed = 0; seed < 40; seed++) {
      const km = kmOf({ ...NO_EXCEPTIONS, longTrips }, seed) - weekKm;
      expect(km % 250).toBe(0);
      trips += km / 250;
    }
    // A month has one trip or two: 18 a year, give or take 1.7; of 40 years the mean to within 0.8.
    expect(Math.abs(trips / 40 - 18)).toBeLessThan(0.8);
    const stays = weeklyStays(workdays, 1, year, { ...NO_EXCEPTIONS, longTrips });
    const days = stays.filter((stay) => stay.km === 250).map((stay) => new Date(stay.arriveMs).getUTCDay());
    expect(days.every((day) => day === 0 || day === 6)).toBe(true);
  });

  test('longer trips: a part of the year is that part', () => {
    const exceptions = { ...NO_EXCEPTIONS, longTrips: { perMonth: 3, km: 250 } };
    const grid = timeGrid(Date.UTC(2025, 4, 12), 30, 3600, UTC);
    const all = weeklyStays(workdays, 5, year, exceptions).filter(
      (s) => s.departMs > grid.startMs && s.arriveMs < gridEndMs(grid),
    );
    expect(weeklyStays(workdays, 5, grid, exceptions)).toEqual(all);
  });

  test('with a trip on every day the longer one replaces that day', () => {
    const daily: WeeklyTrip[] = [{ weekdays: [0, 1, 2, 3, 4, 5, 6], leaveS: 8 * 3600, returnS: 9 * 3600, km: 10, jitterS: 0 }];
    const stays = weeklyStays(daily, 1, year, { ...NO_EXCEPTIONS, longTrips: { perMonth: 1, km: 300 } });
    const inYear = stays.filter((stay) => stay.arriveMs >= year.startMs && stay.arriveMs < gridEndMs(year));
    expect(inYear.reduce((sum, stay) => sum + stay.km, 0)).toBe(353 * 10 + 12 * 300);
  });
});
