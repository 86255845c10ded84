import { describe, expect, test } from 'vitest';
import { zoneOfPlatform } from '../../src/report/platform-zone.ts';

const FROM_MS = Date.UTC(2025, 2, 1);
const TO_MS = Date.UTC(2025, 4, 1);
const table = (name: string, fromMs = FROM_MS, toMs = TO_MS): (string | number)[][] | undefined =>
  zoneOfPlatform(name, fromMs, toMs)?.changes.map((c) => [
    Number.isFinite(c.fromMs) ? new Date(c.fromMs).toISOString() : 'ever',
    c.offsetS,
  ]);

// All from the IANA time zone database (europe, australasia, asia, africa), rules in force in 2025.
describe('zoneOfPlatform: changes of 2025', () => {
  test.each([
    ['Europe/Vienna', 3600, '2025-03-30T01:00:00.000Z', 7200, '2025-10-26T01:00:00.000Z'],
    ['Europe/London', 0, '2025-03-30T01:00:00.000Z', 3600, '2025-10-26T01:00:00.000Z'],
    ['America/New_York', -18_000, '2025-03-09T07:00:00.000Z', -14_400, '2025-11-02T06:00:00.000Z'],
    ['Australia/Sydney', 39_600, '2025-04-05T16:00:00.000Z', 36_000, '2025-10-04T16:00:00.000Z'],
    ['Australia/Adelaide', 37_800, '2025-04-05T16:30:00.000Z', 34_200, '2025-10-04T16:30:00.000Z'],
    ['Australia/Lord_Howe', 39_600, '2025-04-05T15:00:00.000Z', 37_800, '2025-10-04T15:30:00.000Z'],
  ])('%s', (name, outsideS, first, insideS, second) => {
    expect(table(name)).toEqual([
      ['ever', outsideS],
      [first, insideS],
      [second, outsideS],
    ]);
  });

  test.each([
    ['UTC', 0],
    ['Asia/Kolkata', 19_800],
    ['Asia/Kathmandu', 20_700],
    ['Etc/GMT+12', -43_200],
  ])('%s never changes', (name, offsetS) => {
    expect(table(name)).toEqual([['ever', offsetS]]);
  });

  test('Casablanca: two changes a month apart', () => {
    expect(table('Africa/Casablanca')).toEqual([
      ['ever', 3600],
      ['2025-02-23T02:00:00.000Z', 0],
      ['2025-04-06T02:00:00.000Z', 3600],
    ]);
  });
});

test('zoneOfPlatform: covers the calendar years of the range, all changes in order', () => {
  const changes = zoneOfPlatform('Europe/Vienna', Date.UTC(2024, 6, 1), Date.UTC(2026, 6, 1))?.changes ?? [];
  expect(changes).toHaveLength(7);
  expect(new Date(changes[6]?.fromMs ?? 0).toISOString()).toBe('2026-10-25T01:00:00.000Z');
});

test.each(['', 'Mars/Olympus', 'Vienna', '+01:00', 'Europe/Vienna '])('zoneOfPlatform: no zone is called "%s"', (name) => {
  expect(zoneOfPlatform(name, FROM_MS, TO_MS)).toBeNull();
});

test('zoneOfPlatform refuses a range that is not one', () => {
  expect(() => zoneOfPlatform('UTC', 1, 0)).toThrow(RangeError);
  expect(() => zoneOfPlatform('UTC', Number.NaN, 0)).toThrow(RangeError);
});

test('zoneOfPlatform: three years in under 5 ms once the platform has loaded its zones', () => {
  const onceMs = (): number => {
    const beganMs = performance.now();
    zoneOfPlatform('Europe/Vienna', Date.UTC(2024, 0, 1), Date.UTC(2026, 11, 31));
    return performance.now() - beganMs;
  };
  expect(Math.min(...Array.from({ length: 8 }, onceMs))).toBeLessThan(5);
});
