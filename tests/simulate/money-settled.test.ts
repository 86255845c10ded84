import { expect, test } from 'vitest';
import type { Tariff } from '../../src/scenario/index.ts';
import { moneyOf, type Prices } from '../../src/simulate/index.ts';
import { runHand } from './hand.ts';

test('settled in half-hours: each by its difference, at the mean price of the half-hour', () => {
  // Two half-hours and ten minutes. First 3000 W out for 10 and 1000 W in for 20 minutes; then 600 W in for 30; then 900 W out for 10.
  const run = runHand({
    stays: [],
    pv: [
      [10, 3000],
      [50, 0],
      [10, 900],
    ],
    house: [
      [10, 0],
      [20, 1000],
      [30, 600],
      [10, 0],
    ],
  });
  const tariff: Tariff = {
    currency: 'EUR',
    importPrice: { kind: 'flat', perKWh: 0 },
    exportPrice: { kind: 'flat', perKWh: 0 },
    publicPerKWh: null,
    settlementS: 1800,
  };
  const prices: Prices = {
    importPerKWh: Float64Array.from({ length: 70 }, (_, k) => (k < 45 ? 0.2 : 0.4)),
    exportPerKWh: Float64Array.from({ length: 70 }, (_, k) => (k < 10 ? 0.3 : 0.06)),
  };
  const { importCost, exportRevenue, totalCost } = moneyOf(run, tariff, prices);
  // 500 Wh out less 333.3 Wh in, at (10 · 0.30 + 20 · 0.06) / 30; 150 Wh out at 0.06. 300 Wh in at 0.30.
  expect(exportRevenue).toBeCloseTo((0.5 - 1 / 3) * 0.14 + 0.15 * 0.06, 12);
  expect(importCost).toBeCloseTo(0.3 * 0.3, 12);
  expect(totalCost).toBeCloseTo(importCost - exportRevenue, 12);
});
