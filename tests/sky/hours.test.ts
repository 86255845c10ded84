/** Hours of a day with the chance written by hand, so that each step of the processes can be followed. */
import { describe, expect, test } from 'vitest';
import { type Chance, chance } from '../../src/base/index.ts';
import { diffuseOfHour, diffuseWander, hoursOfDay } from '../../src/sky/index.ts';

/** A chance that gives these normal numbers, one after the other. */
function drawing(...normals: readonly number[]): Chance {
  let next = 0;
  return { uniform: () => 0.5, normal: () => normals[next++] ?? 0 };
}

describe('hoursOfDay', () => {
  const clear = [0, 100, 400, 600, 300, 0];
  const whole = 1400;
  /** The S-curve from 0.03 to 1.08, turned back. */
  const onCurve = (index: number): number => Math.log((index - 0.03) / (1.08 - index));

  test.each([
    [0.2, 0.52],
    [0.6, 0.96],
    [0.9, 1.05],
  ])('a day of %s: hours are apart by %s times a process that keeps 0.54', (day, spread) => {
    const hours = hoursOfDay(day, clear, drawing(1, 0, 0, 2, 0, 0));
    const fresh = Math.sqrt(1 - 0.54 ** 2);
    const normals = [1, 0.54, 0.54 ** 2, 0.54 ** 3 + 2 * fresh];
    normals.forEach((normal, h) => {
      expect(onCurve(hours[h]!) - onCurve(hours[0]!)).toBeCloseTo(spread * (normal - 1), 9);
    });
    expect(hours.reduce((sum, one, h) => sum + one * clear[h]!, 0) / whole).toBeCloseTo(day, 6);
  });
  test('hours of night weigh nothing', () => {
    const among = hoursOfDay(0.5, [0, 0, 300, 300], drawing(5, 0, 1, -1));
    expect((among[2]! + among[3]!) / 2).toBeCloseTo(0.5, 6);
  });
  test('a day that no hours can make is as near as they come', () => {
    expect(Math.max(...hoursOfDay(0.01, clear, chance(1, 'dark')))).toBeLessThan(0.032);
    expect(Math.min(...hoursOfDay(1.2, clear, chance(1, 'bright')))).toBeGreaterThan(1.078);
  });
});

test('diffuseWander: each hour 0.72 of the last and √(1 − 0.72²) of what is drawn', () => {
  const fresh = Math.sqrt(1 - 0.72 ** 2);
  const found = diffuseWander(4, drawing(1, 0, -2, 0.5));
  [1, 0.72, 0.72 ** 2 - 2 * fresh, 0.72 * (0.72 ** 2 - 2 * fresh) + 0.5 * fresh].forEach((wanted, h) => {
    expect(found[h]).toBeCloseTo(wanted, 12);
  });
  expect(found).toHaveLength(4);
});

describe('diffuseOfHour', () => {
  test.each([
    // Knots of the curve, and straight between them: 0.64 lies between 0.49 and 0.49, 0.8 between 0.455 and 0.405, 0.99 near 0.24.
    [0.28, 0.279],
    [0.14, 0.1395],
    [0.32, 0.317],
    [0.4, 0.383],
    [0.48, 0.4315],
    [0.6, 0.49],
    [0.64, 0.49],
    [0.8, 0.43],
    [0.99, 0.25125],
    [1, 0.24],
    [1.04, 0.23],
    [1.08, 0.22],
    [1.3, 0.22],
  ])('an hour of %s has %s diffuse on the median', (index, wanted) => expect(diffuseOfHour(index, 0)).toBeCloseTo(wanted, 9));
  test.each([
    // Spread of the logarithm 0.75 · (index − 0.3), at most 0.56.
    [0.6, -1, 0.49 * Math.exp(-0.225)],
    [0.6, -2, 0.49 * Math.exp(-0.45)],
    [0.6, -5, 0.49 * Math.exp(-0.45)],
    [0.8, 1, 0.43 * Math.exp(0.375)],
    [1, 2, 0.24 * Math.exp(2 * 0.525)],
    [1, 5, 0.24 * Math.exp(2 * 0.525)],
    [1.08, 1, 0.22 * Math.exp(0.56)],
    // Up to 0.3 hours do not differ.
    [0.28, -2, 0.279],
  ])('an hour of %s at %s standard deviations: %s', (index, normal, wanted) =>
    expect(diffuseOfHour(index, normal)).toBeCloseTo(wanted, 9),
  );
  test('never more than the hour brings, never less than 0.1, but where the hour brings less', () => {
    expect(diffuseOfHour(0.6, 2)).toBe(0.6);
    expect(diffuseOfHour(1.08, -2)).toBe(0.1);
    expect(diffuseOfHour(0.05, 0)).toBe(0.05);
    expect(diffuseOfHour(0, 0)).toBe(0);
  });
});
