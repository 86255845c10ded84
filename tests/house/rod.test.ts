import { describe, expect, test } from 'vitest';
import { beginRodDay, type Rod, rodStepW } from '../../src/house/index.ts';

const ROD: Rod = { maxW: 3000, dailyWh: 2000 };
const MINUTE = 1 / 60;

describe('rodStepW', () => {
  test('takes the surplus, no more than its power, nothing below 0', () => {
    const state = { leftWh: 2000 };
    expect([1200, 5000, 0, -400].map((surplusW) => rodStepW(state, ROD, surplusW, MINUTE))).toEqual([1200, 3000, 0, 0]);
    expect(state.leftWh).toBeCloseTo(2000 - (1200 + 3000) / 60, 9);
  });

  test('stops when the tank has its day: the last step takes what is left', () => {
    const state = { leftWh: 30 };
    expect(rodStepW(state, ROD, 3000, MINUTE)).toBeCloseTo(1800, 9);
    expect(state.leftWh).toBe(0);
    expect(rodStepW(state, ROD, 3000, MINUTE)).toBe(0);
  });

  test('a day of plenty takes exactly the day, and midnight wants it anew', () => {
    const state = { leftWh: 0 };
    let takenWh = 0;
    for (let day = 0; day < 3; day++) {
      beginRodDay(state, ROD);
      for (let m = 0; m < 1440; m++) takenWh += rodStepW(state, ROD, m % 3 === 0 ? 2500 : 100, MINUTE) * MINUTE;
    }
    expect(takenWh).toBeCloseTo(3 * 2000, 6);
  });

  test('before the car it lowers the surplus, after the car it lowers the export: the sum is the same', () => {
    const surplusW = 4000;
    const carW = 2300;
    const first = rodStepW({ leftWh: 9000 }, ROD, surplusW, MINUTE);
    const after = rodStepW({ leftWh: 9000 }, ROD, surplusW - carW, MINUTE);
    expect([first, surplusW - first]).toEqual([3000, 1000]);
    expect([after, surplusW - carW - after]).toEqual([1700, 0]);
  });
});
