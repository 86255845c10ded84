import { describe, expect, test } from 'vitest';
import { timeGrid, UTC, type Zone } from '../../src/base/index.ts';
import { dynamicFactor, type StandardProfile, seasonOf, standardProfileW } from '../../src/house/index.ts';

const VIENNA: Zone = {
  name: 'Europe/Vienna',
  changes: [
    { fromMs: -Infinity, offsetS: 3600 },
    { fromMs: Date.UTC(2025, 2, 30, 1), offsetS: 7200 },
    { fromMs: Date.UTC(2025, 9, 26, 1), offsetS: 3600 },
  ],
};
const day = (level: number): Float64Array => Float64Array.from({ length: 24 }, (_, h) => level + h);
const kinds = (level: number) => ({ workday: day(level), saturday: day(level + 100), sunday: day(level + 200) });
const PROFILE: StandardProfile = { winter: kinds(1000), transition: kinds(2000), summer: kinds(3000) };
const OPTIONS = { annualWh: 4_000_000, dynamic: false, daysOff: [] };
const YEAR = timeGrid(Date.UTC(2025, 0, 1), 365, 900, VIENNA);

describe('standardProfileW', () => {
  test.each([true, false])('dynamic %s: the calendar year adds up, in a zone with changing clocks', (dynamic) => {
    const w = standardProfileW(PROFILE, { ...OPTIONS, dynamic }, YEAR);
    expect(w.reduce((a, b) => a + b, 0) / 4).toBeCloseTo(4_000_000, 5);
  });

  test('a part of the year is that part, at any step', () => {
    const year = standardProfileW(PROFILE, OPTIONS, YEAR);
    const grid = timeGrid(Date.UTC(2025, 9, 25), 3, 60, VIENNA);
    const part = standardProfileW(PROFILE, OPTIONS, grid);
    const from = YEAR.dayStart[297]!;
    expect(part.every((w, k) => Math.abs(w - year[from + Math.floor(k / 15)]!) < 1e-9)).toBe(true);
  });

  test('days are told apart: season, weekday, holiday, Christmas Eve', () => {
    const year = standardProfileW(PROFILE, { ...OPTIONS, daysOff: [Date.UTC(2025, 4, 29)] }, YEAR);
    const atNoon = (month: number, date: number): number => {
      const d = Math.round((Date.UTC(2025, month - 1, date) - Date.UTC(2025, 0, 1)) / 86_400_000);
      return Math.round(year[YEAR.dayStart[d]! + 48]! / (year[YEAR.dayStart[13]! + 48]! / 1012));
    };
    expect([atNoon(1, 14), atNoon(1, 18), atNoon(1, 19)]).toEqual([1012, 1112, 1212]);
    expect([atNoon(4, 22), atNoon(6, 24)]).toEqual([2012, 3012]);
    expect(atNoon(5, 29)).toBe(3212);
    expect([atNoon(12, 24), atNoon(12, 25), atNoon(12, 31)]).toEqual([1112, 1012, 1112]);
  });

  test('where the clocks change the wall decides: the spring hour is missing, the autumn hour comes twice', () => {
    const spring = timeGrid(Date.UTC(2025, 2, 30), 1, 3600, VIENNA);
    const w = standardProfileW(PROFILE, OPTIONS, spring);
    expect(w.length).toBe(23);
    expect(w[2]! / w[1]!).toBeCloseTo(2203 / 2201, 9);
    const autumn = standardProfileW(PROFILE, OPTIONS, timeGrid(Date.UTC(2025, 9, 26), 1, 3600, VIENNA));
    expect([autumn.length, autumn[2]]).toEqual([25, autumn[3]]);
  });

  test('refuses what cannot be scaled', () => {
    const none = { workday: new Float64Array(24), saturday: new Float64Array(24), sunday: new Float64Array(24) };
    const grid = timeGrid(0, 1, 900, UTC);
    expect(() => standardProfileW({ winter: none, transition: none, summer: none }, OPTIONS, grid)).toThrow(RangeError);
    expect(() => standardProfileW(PROFILE, { ...OPTIONS, annualWh: -1 }, grid)).toThrow(RangeError);
  });
});

test('dynamicFactor: leap day and ends of the year stay on the polynomial', () => {
  expect(dynamicFactor(366)).toBeGreaterThan(dynamicFactor(365));
});

test('seasonOf: the first and last days of each', () => {
  expect(
    ['3-20', '3-21', '5-14', '5-15', '9-14', '9-15', '10-31', '11-1'].map((d) =>
      seasonOf(Number(d.split('-')[0]), Number(d.split('-')[1])),
    ),
  ).toEqual(['winter', 'transition', 'transition', 'summer', 'summer', 'transition', 'transition', 'winter']);
});
