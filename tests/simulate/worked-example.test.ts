import { expect, test } from 'vitest';
import { rowsOf, runHand } from './hand.ts';

// The worked example of the project's design page, step by step.
test('worked example: one switchable charger through a bright spell', () => {
  const run = runHand({
    pv: [
      [10, 0],
      [30, 1500],
      [40, 5000],
      [20, 2000],
      [20, 500],
    ],
  });
  expect(rowsOf(run)).toEqual([
    [0, 'short', 0, 0, 0, 0, 0],
    [10, 'proving', 0, 0, 0, 0, 1500],
    [13, 'waking', 0, 0, 0, 0, 1500],
    [14, 'surplus', 1, 6, 1380, 0, 120],
    [40, 'ceiling', 1, 16, 3680, 0, 1320],
    [50, 'switching', 0, 0, 0, 0, 5000],
    [51, 'waking', 0, 0, 0, 0, 5000],
    [52, 'surplus', 3, 7, 4830, 0, 170],
    [80, 'bridging', 3, 6, 4140, 2140, 0],
    [83, 'switching', 0, 0, 0, 0, 2000],
    [84, 'waking', 0, 0, 0, 0, 2000],
    [85, 'surplus', 1, 8, 1840, 0, 160],
    [100, 'bridging', 1, 6, 1380, 880, 0],
    [103, 'resting', 0, 0, 0, 0, 500],
    [108, 'short', 0, 0, 0, 0, 500],
  ]);
});
