import { describe, expect, test } from 'vitest';
import { timeGrid, UTC } from '../../src/base/index.ts';
import {
  coldShare,
  consumptionFactor,
  plugsIn,
  presenceOf,
  taperedCurrentA,
  tripWhPerKm,
  weeklyStays,
} from '../../src/vehicle/index.ts';

const CAR = { whPerKm: 170, coldFactor: 1.5, preheatWh: 1000 };

describe('consumptionFactor', () => {
  test('1 in mild air, the cold factor at -6.7 °C, a straight line between, level below -25 °C', () => {
    expect([20, 22.5, 25].map((airC) => consumptionFactor(airC, 1.5))).toEqual([1, 1, 1]);
    expect(consumptionFactor(6.65, 1.5)).toBeCloseTo(1.25, 9);
    expect(consumptionFactor(-40, 1.5)).toBe(consumptionFactor(-25, 1.5));
  });

  test('colder never takes less, and a factor of 1 takes the cold out', () => {
    for (let airC = -30; airC < 25; airC++)
      expect(consumptionFactor(airC, 1.7)).toBeGreaterThanOrEqual(consumptionFactor(airC + 1, 1.7));
    expect(consumptionFactor(-15, 1)).toBe(1);
  });

  test('heating before departure counts once a trip, whatever its length', () => {
    const extraWh = (km: number): number => km * (tripWhPerKm(CAR, km, 0) - 170 * consumptionFactor(0, 1.5));
    expect(extraWh(5)).toBeCloseTo(1000 * coldShare(0), 9);
    expect(extraWh(200)).toBeCloseTo(extraWh(5), 9);
    expect(tripWhPerKm(CAR, 0, -10)).toBe(170 * consumptionFactor(-10, 1.5));
  });
});

describe('presenceOf: consumption by the air of the drive', () => {
  const grid = timeGrid(Date.UTC(2025, 0, 6), 2, 3600, UTC);
  const stays = weeklyStays([{ weekdays: [0, 1], leaveS: 8 * 3600, returnS: 12 * 3600, km: 40, jitterS: 0 }], 1, grid);

  test('without air every drive is mild; with air it is the mean over the time away', () => {
    expect([...presenceOf(stays, grid, CAR).whPerKm.slice(1)]).toEqual([170, 170]);
    // 1st day: -6.7 °C from 8 to 12 only; 2nd day: 20 °C throughout.
    const airC = Float64Array.from({ length: 48 }, (_, k) => (k >= 8 && k < 12 ? -6.7 : 20));
    const { whPerKm } = presenceOf(stays, grid, CAR, airC);
    expect(whPerKm[1]).toBeCloseTo(170 * 1.5 + 1000 / 40, 9);
    expect(whPerKm[2]).toBeCloseTo(170, 9);
  });
});

describe('taperedCurrentA', () => {
  test('all of it up to the taper, then less and less, never below the minimum, never more than offered', () => {
    const at = (soc: number, offeredA = 16): number => taperedCurrentA(offeredA, soc, 0.9, 16, 6);
    expect([0.2, 0.9].map((soc) => at(soc))).toEqual([16, 16]);
    expect(at(0.92)).toBeCloseTo(16 * (1 - 0.8 * 0.2), 9);
    expect([at(0.99), at(1)]).toEqual([6, 6]);
    expect(at(0.92, 8)).toBe(8);
    expect(taperedCurrentA(16, 1, 1, 16, 6)).toBe(16);
  });
});

test('plugsIn: below the limit only; at 1 always', () => {
  expect([plugsIn(0.59, 0.6), plugsIn(0.6, 0.6), plugsIn(0.99, 1), plugsIn(1, 1), plugsIn(0, 0)]).toEqual([
    true,
    false,
    true,
    true,
    false,
  ]);
});
