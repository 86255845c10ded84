import fc from 'fast-check';
import { expect, test } from 'vitest';
import { MS_PER_S, timeGrid, UTC } from '../../src/base/index.ts';
import { onGrid } from '../../src/scenario/index.ts';

const day = Date.UTC(2025, 5, 2);
const starts = (firstMs: number, count: number, intervalS: number) =>
  Float64Array.from({ length: count }, (_, i) => firstMs + i * intervalS * MS_PER_S);

test('onGrid: coarser values are held over their steps', () => {
  const out = onGrid(
    starts(day, 24, 3600),
    3600,
    Float64Array.from({ length: 24 }, (_, i) => i),
    timeGrid(day, 1, 900, UTC),
  );
  expect([...out.slice(0, 9)]).toEqual([0, 0, 0, 0, 1, 1, 1, 1, 2]);
});

test('onGrid: finer values are averaged', () => {
  const out = onGrid(
    starts(day, 1440, 60),
    60,
    Float64Array.from({ length: 1440 }, (_, i) => i),
    timeGrid(day, 1, 3600, UTC),
  );
  expect(out[0]).toBeCloseTo(29.5, 12);
  expect(out[23]).toBeCloseTo(1409.5, 12);
});

test('onGrid: a step across the edge of two intervals takes each for its part', () => {
  // Intervals of 40 min from midnight, steps of an hour: the first step has 40 min of 3 and 20 min of 6.
  const out = onGrid(
    starts(day, 36, 2400),
    2400,
    Float64Array.from({ length: 36 }, (_, i) => 3 * (i + 1)),
    timeGrid(day, 1, 3600, UTC),
  );
  expect(out[0]).toBeCloseTo((40 * 3 + 20 * 6) / 60, 12);
  expect(out[1]).toBeCloseTo((20 * 6 + 40 * 9) / 60, 12);
});

test('onGrid: energy is kept, whatever the intervals, 200 random series', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(60, 300, 420, 900, 1800, 3600, 7200),
      fc.constantFrom(10, 60, 300, 900, 3600),
      fc.array(fc.double({ min: -100, max: 10_000, noNaN: true }), { minLength: 1, maxLength: 7 }),
      (intervalS, stepS, cycle) => {
        const count = Math.ceil(86_400 / intervalS);
        const values = Float64Array.from({ length: count }, (_, i) => cycle[i % cycle.length] ?? 0);
        const out = onGrid(starts(day, count, intervalS), intervalS, values, timeGrid(day, 1, stepS, UTC));
        // The last interval may reach beyond the day: only its part counts.
        const inDay = values.reduce((sum, value, i) => sum + value * (Math.min(86_400, (i + 1) * intervalS) - i * intervalS), 0);
        expect(out.reduce((sum, value) => sum + value * stepS, 0)).toBeCloseTo(inDay, 3);
      },
    ),
    { numRuns: 200, seed: 6 },
  );
});

test('onGrid: refuses a series that does not cover the grid', () => {
  expect(() => onGrid(starts(day, 23, 3600), 3600, new Float64Array(23), timeGrid(day, 1, 60, UTC))).toThrow(RangeError);
});
