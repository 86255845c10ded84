import { expect, test } from 'vitest';
import { kneeOf } from '../../src/page/knee.ts';

const curve = (...ys: readonly number[]) => ys.map((y, x) => ({ x, y }));

test('the knee stands where the curve is farthest from the line between its ends', () => {
  expect(kneeOf(curve(0, 8, 9, 9.5, 10))).toBe(1);
  expect(kneeOf(curve(0, 1, 2, 8, 10))).toBe(2);
  expect(kneeOf(curve(10, 2, 1, 0.5, 0))).toBe(1);
});

test('a flat curve, a straight one and a single point have none', () => {
  expect(kneeOf(curve(5, 5, 5))).toBeNull();
  expect(kneeOf(curve(0, 1, 2, 3))).toBeNull();
  expect(kneeOf(curve(1))).toBeNull();
});
