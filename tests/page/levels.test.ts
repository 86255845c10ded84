import { expect, test } from 'vitest';
import { chance } from '../../src/base/index.ts';
import { LEVELS, levelOf } from '../../src/page/levels.ts';

test('the best day has the last colour, whatever it brought', () => {
  const draw = chance(1, 'levels');
  for (let i = 0; i < 1000; i++) {
    const topWh = 20_000 * Math.exp(draw.normal() / 2);
    expect(levelOf(topWh, topWh), `${topWh} Wh`).toBe(LEVELS);
  }
});

test('less than 50 Wh is nothing; everything else has a colour', () => {
  expect([0, 49.9, 50, 3333, 3334, 5000, 19_999].map((wh) => levelOf(wh, 20_000))).toEqual([0, 0, 1, 1, 2, 2, 6]);
});
