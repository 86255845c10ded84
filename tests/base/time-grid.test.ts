import { describe, expect, test } from 'vitest';
import { gridEndMs, isoLocal, stepMiddleMs, stepStartMs, timeGrid, UTC, type Zone } from '../../src/base/index.ts';

// IANA time zone database: central Europe 2025.
const VIENNA: Zone = {
  name: 'Europe/Vienna',
  changes: [
    { fromMs: -Infinity, offsetS: 3600 },
    { fromMs: Date.UTC(2025, 2, 30, 1), offsetS: 7200 },
    { fromMs: Date.UTC(2025, 9, 26, 1), offsetS: 3600 },
  ],
};
// Lord Howe Island changes by half an hour.
const LORD_HOWE: Zone = {
  name: 'Australia/Lord_Howe',
  changes: [
    { fromMs: -Infinity, offsetS: 39_600 },
    { fromMs: Date.UTC(2025, 3, 5, 15), offsetS: 37_800 },
  ],
};

const stepsPerDay = (days: Int32Array): number[] => Array.from(days.subarray(1), (end, d) => end - (days[d] ?? 0));

describe('timeGrid: whole local days', () => {
  test('a year is the real one: 365 or 366 days, the lost and the doubled hour even out', () => {
    expect(timeGrid(Date.UTC(2025, 0, 1), 365, 60, VIENNA).steps).toBe(525_600);
    expect(timeGrid(Date.UTC(2024, 0, 1), 366, 60, UTC).steps).toBe(527_040);
  });

  test('days of 23 and 25 hours have steps to match', () => {
    expect(stepsPerDay(timeGrid(Date.UTC(2025, 2, 29), 3, 3600, VIENNA).dayStart)).toEqual([24, 23, 24]);
    expect(stepsPerDay(timeGrid(Date.UTC(2025, 9, 25), 3, 900, VIENNA).dayStart)).toEqual([96, 100, 96]);
    expect(stepsPerDay(timeGrid(Date.UTC(2025, 3, 5), 2, 1800, LORD_HOWE).dayStart)).toEqual([48, 49]);
  });

  test('every day begins at local midnight and carries its date', () => {
    const grid = timeGrid(Date.UTC(2025, 2, 29), 3, 60, VIENNA);
    const starts = Array.from(grid.dayStart, (k) => isoLocal(VIENNA, stepStartMs(grid, k)));
    expect(starts).toEqual([
      '2025-03-29T00:00:00+01:00',
      '2025-03-30T00:00:00+01:00',
      '2025-03-31T00:00:00+02:00',
      '2025-04-01T00:00:00+02:00',
    ]);
    expect(Array.from(grid.dayMs)).toEqual([Date.UTC(2025, 2, 29), Date.UTC(2025, 2, 30), Date.UTC(2025, 2, 31)]);
  });

  test.each([5, 6, 10, 60, 90, 900, 3600])('steps of %d s: step k covers [t_k, t_k + stepS)', (stepS) => {
    const grid = timeGrid(Date.UTC(2025, 5, 1), 2, stepS, VIENNA);
    expect(grid.steps).toBe((2 * 86_400) / stepS);
    expect(stepStartMs(grid, 0)).toBe(Date.UTC(2025, 4, 31, 22));
    expect(stepStartMs(grid, 7) - stepStartMs(grid, 6)).toBe(stepS * 1000);
    expect(stepMiddleMs(grid, 6)).toBe(stepStartMs(grid, 6) + stepS * 500);
    expect(gridEndMs(grid)).toBe(Date.UTC(2025, 5, 2, 22));
  });
});

describe('timeGrid refuses', () => {
  test.each([0, -1, 1.5, Number.NaN])('%d days', (days) => {
    expect(() => timeGrid(0, days, 60, UTC)).toThrow(RangeError);
  });
  test.each([0, -60, 7, 7200, Number.NaN])('steps of %d s', (stepS) => {
    expect(() => timeGrid(0, 1, stepS, UTC)).toThrow(RangeError);
  });
  test('an hour as step where a day has half hours', () => {
    expect(() => timeGrid(Date.UTC(2025, 3, 6), 1, 3600, LORD_HOWE)).toThrow(/midnight/);
  });
});
