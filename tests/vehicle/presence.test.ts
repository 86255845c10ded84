import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { timeGrid, UTC } from '../../src/base/index.ts';
import { alwaysStays, type Presence, presenceOf, type Stay, timeLeftS } from '../../src/vehicle/index.ts';

const GRID = timeGrid(Date.UTC(2025, 5, 2), 1, 900, UTC);
/** Minutes after the start of the run, which has 96 steps of 15 minutes. */
const at = (minutes: number): number => GRID.startMs + minutes * 60_000;
const stay = (from: number, to: number, km = 10): Stay => ({ arriveMs: at(from), departMs: at(to), km });
const rows = (p: Presence): number[][] => Array.from(p.stayStart, (start, i) => [start, p.stayEnd[i] ?? -1, p.km[i] ?? -1]);
const laid = (...stays: Stay[]): number[][] => rows(presenceOf(stays, GRID));

describe('presenceOf: rounding', () => {
  test.each([
    ['on the steps', 30, 60, [2, 4]],
    ['arrival rounded up', 31, 60, [3, 4]],
    ['departure rounded down', 30, 59, [2, 3]],
    ['both', 16, 74, [2, 4]],
  ])('%s', (_name, from, to, steps) => {
    expect(laid(stay(from, to))).toEqual([[...steps, 10]]);
  });

  test('too short for a step: no step, but its kilometres', () => {
    expect(laid(stay(31, 44))).toEqual([[3, 3, 10]]);
    expect(laid(stay(31, 59))).toEqual([[3, 3, 10]]);
    expect(laid(stay(30, 30), stay(60, 90, 5))).toEqual([
      [2, 2, 10],
      [4, 6, 5],
    ]);
  });

  test('two stays too short, then one, all arriving in the same step', () => {
    expect(laid(stay(31, 32, 1), stay(33, 34, 2), stay(40, 90, 4))).toEqual([
      [3, 3, 1],
      [3, 3, 2],
      [3, 6, 4],
    ]);
  });

  test('a departure that meets an arrival leaves presence unbroken', () => {
    expect(laid(stay(30, 60), stay(60, 90, 7))).toEqual([
      [2, 4, 10],
      [4, 6, 7],
    ]);
  });
});

describe('presenceOf: the ends of the run', () => {
  const last = 24 * 60;

  test('began before the start: from step 0 on, no kilometres taken', () => {
    expect(laid(stay(-1, 30))).toEqual([[0, 2, 0]]);
    expect(laid({ arriveMs: -Infinity, departMs: at(30), km: 10 })).toEqual([[0, 2, 0]]);
  });

  test('begins exactly at the start, or just after: kilometres taken', () => {
    expect(laid(stay(0, 30))).toEqual([[0, 2, 10]]);
    expect(laid(stay(1, 30))).toEqual([[1, 2, 10]]);
    expect(laid(stay(0, 0), stay(15, 30, 3))).toEqual([
      [0, 0, 10],
      [1, 2, 3],
    ]);
  });

  test('cut at the end, and nothing that lies outside', () => {
    expect(laid(stay(last - 30, last + 600))).toEqual([[94, 96, 10]]);
    expect(laid(stay(-60, -30), stay(-20, 0), stay(last, last + 30))).toEqual([]);
    expect(laid(stay(-60, 14))).toEqual([]);
    expect(laid(stay(last - 10, last + 600))).toEqual([]);
  });

  test('always: every step, one arrival, no kilometres', () => {
    expect(rows(presenceOf(alwaysStays(), GRID))).toEqual([[0, 96, 0]]);
  });
});

describe('timeLeftS', () => {
  test('to the true departure, also when it lies in mid-step or after the run', () => {
    const p = presenceOf([stay(30, 59), stay(1200, 1500)], GRID);
    expect(timeLeftS(p, 0, 2, 900)).toBe(29 * 60);
    expect(timeLeftS(p, 1, 80, 900)).toBe(300 * 60);
    expect(timeLeftS(p, 1, 95, 900)).toBe(75 * 60);
  });
  test('none known', () => {
    expect(timeLeftS(presenceOf(alwaysStays(), GRID), 0, 95, 900)).toBe(Infinity);
  });
});

describe('presenceOf refuses', () => {
  test.each([
    ['an end before its beginning', [stay(60, 30)]],
    ['an overlap', [stay(0, 60), stay(59, 90)]],
    ['disorder', [stay(60, 90), stay(0, 30)]],
    ['no number', [stay(Number.NaN, 30)]],
  ])('%s', (_name, stays) => {
    expect(() => presenceOf(stays, GRID)).toThrow(RangeError);
  });
});

/** Cuts of the day and of the days around it, in order, paired up into stays. */
const anyStays: fc.Arbitrary<Stay[]> = fc
  .array(fc.integer({ min: -120, max: 24 * 60 + 120 }), { maxLength: 30 })
  .map((cuts) => cuts.sort((a, b) => a - b))
  .map((cuts) => cuts.flatMap((from, i) => (i % 2 === 0 && cuts[i + 1] !== undefined ? [stay(from, cuts[i + 1] ?? 0, 1)] : [])));

test('presenceOf: sorted, not overlapping, within the grid; never there when the car is not; no kilometre lost but past the last step', () => {
  fc.assert(
    fc.property(anyStays, fc.constantFrom(60, 300, 900, 3600), (stays, stepS) => {
      const grid = timeGrid(Date.UTC(2025, 5, 2), 1, stepS, UTC);
      const p = presenceOf(stays, grid);
      let free = 0;
      p.stayStart.forEach((start, i) => {
        const end = p.stayEnd[i] ?? -1;
        expect(start).toBeGreaterThanOrEqual(free);
        expect(start).toBeLessThan(grid.steps);
        expect(end).toBeGreaterThanOrEqual(start);
        expect(end).toBeLessThanOrEqual(grid.steps);
        free = end;
        const startMs = grid.startMs + start * stepS * 1000;
        const endMs = grid.startMs + end * stepS * 1000;
        if (end > start) expect(stays.some((s) => s.arriveMs <= startMs && s.departMs >= endMs)).toBe(true);
      });
      const lastStepMs = grid.startMs + (grid.steps - 1) * stepS * 1000;
      const due = stays.filter((s) => s.arriveMs >= grid.startMs && s.arriveMs <= lastStepMs).length;
      expect(p.km.reduce((sum, km) => sum + km, 0)).toBe(due);
    }),
    { seed: 6, numRuns: 500 },
  );
});
