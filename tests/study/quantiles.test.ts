import { expect, test } from 'vitest';
import { chance } from '../../src/base/index.ts';
import { expectationOf } from '../../src/study/index.ts';

test('expectationOf: the words are literally true of the years looked at', () => {
  const { normal } = chance(3, 'quantiles');
  for (let years = 1; years <= 60; years++) {
    const values = Array.from({ length: years }, () => normal());
    const more = expectationOf(values);
    const reached = (level: number): number => values.filter((value) => value >= level).length / years;
    expect(reached(more.inNineOfTen)).toBeGreaterThanOrEqual(0.9);
    expect(reached(more.inOneOfTen)).toBeGreaterThanOrEqual(0.1);
    expect(reached(more.usual)).toBeGreaterThanOrEqual(0.5 - 1e-9);
    const less = expectationOf(values, 'less');
    expect(values.filter((value) => value <= less.inNineOfTen).length / years).toBeGreaterThanOrEqual(0.9);
    expect(values.filter((value) => value <= less.inOneOfTen).length / years).toBeGreaterThanOrEqual(0.1);
  }
});

test('expectationOf: no higher level would do', () => {
  const values = Array.from({ length: 20 }, (_, i) => i + 1);
  expect(expectationOf(values)).toEqual({ usual: 10.5, inNineOfTen: 3, inOneOfTen: 19, least: 1, most: 20 });
  expect(() => expectationOf([])).toThrow(RangeError);
});
