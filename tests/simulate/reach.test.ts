import { describe, expect, test } from 'vitest';
import { reachOf } from '../../src/simulate/index.ts';
import { type HandCase, runHand } from './hand.ts';

/** 20 km at departure, 3400 Wh; a one-phase car without losses that takes 16 A, 3680 W; two hours. */
const NEEDY: HandCase = {
  pv: [[120, 0]],
  charger: { phases: 1 },
  vehicle: { phases: 1, startLagS: 0, standbyW: 0, conversionShare: 1, batteryWh: 50_000, startSoc: 0, targetSoc: 1 },
  needs: { departureKm: 20 },
};
const reach = (changes: Partial<HandCase>) => reachOf(runHand({ ...NEEDY, ...changes }).plan, 0);
/** Wh that a single stay of half an hour falls short. */
const shortIn30 = (changes: Partial<HandCase>): number => reach({ stays: [[0, 30, 0]], ...changes }).outOfReach[0]?.shortWh ?? 0;
const wantsThree = { charger: {}, vehicle: { ...NEEDY.vehicle, phases: 3 }, needs: { departureKm: 60 } } as const;

test('stay by stay: what is charged, less what is driven, never below nothing', () => {
  const { departures, outOfReach } = reach({
    stays: [
      [0, 60, 0],
      [70, 80, 10],
      [90, 100, 50],
    ],
  });
  expect(departures).toBe(3);
  // 3680 Wh are enough; less 1700 Wh, and ten minutes more; then nothing, and ten minutes.
  const second = 3680 - 1700 + 3680 / 6;
  expect(outOfReach).toEqual([
    { step: 80, shortWh: expect.closeTo(3400 - second, 6), shortKm: expect.closeTo((3400 - second) / 170, 6) },
    { step: 100, shortWh: expect.closeTo(3400 - 3680 / 6, 6), shortKm: expect.closeTo((3400 - 3680 / 6) / 170, 6) },
  ]);
});

test('nothing asked for: nothing is out of reach', () => {
  expect(reach({ needs: {} })).toEqual({ departures: 0, outOfReach: [] });
});

test('departures after the run, and stays in which nothing can be charged, are not counted', () => {
  expect(reach({ stays: [[0, 30, 0]] }).departures).toBe(1);
  expect(reach({ stays: [[0, 120, 0]] }).departures).toBe(1);
  expect(reach({ stays: [[0, 121, 0]] }).departures).toBe(0);
  expect(reach({ stays: [[30, 30, 0]] })).toEqual({ departures: 0, outOfReach: [] });
});

test('the lag is lost; what was in the battery is not', () => {
  expect(shortIn30({})).toBeCloseTo(3400 - 1840, 6);
  expect(shortIn30({ vehicle: { ...NEEDY.vehicle, startLagS: 300 } })).toBeCloseTo(3400 - (3680 * 25) / 60, 6);
  expect(shortIn30({ vehicle: { ...NEEDY.vehicle, startLagS: 3600 } })).toBeCloseTo(3400, 6);
  expect(shortIn30({ vehicle: { ...NEEDY.vehicle, startSoc: 0.02 } })).toBeCloseTo(3400 - 1000 - 1840, 6);
  // It stands above the target, and what is asked for with it.
  const above = { ...NEEDY.vehicle, startSoc: 0.5, targetSoc: 0.3 };
  expect(reach({ stays: [[0, 30, 0]], vehicle: above })).toEqual({ departures: 1, outOfReach: [] });
});

describe('the most that ever reaches the battery', () => {
  test('on the number of phases that gives more', () => {
    expect(shortIn30(wantsThree)).toBeCloseTo(60 * 170 - 5520, 6);
    // 4000 W are 5 A on three phases, below the minimum; on one they are 16 A.
    expect(shortIn30({ ...wantsThree, supply: { contractW: 4000 } })).toBeCloseTo(60 * 170 - 1840, 6);
  });

  test('fuse and contract, in steps of the charger, from the minimum on', () => {
    expect(shortIn30({ mainFuseA: 10 })).toBeCloseTo(3400 - 1150, 6);
    expect(shortIn30({ supply: { contractW: 2400 } })).toBeCloseTo(3400 - 1150, 6);
    expect(shortIn30({ mainFuseA: 6 })).toBeCloseTo(3400 - 690, 6);
    expect(shortIn30({ mainFuseA: 5 })).toBeCloseTo(3400, 6);
  });

  test('what the car takes, not what the controller believes of it', () => {
    const picky = {
      vehicle: { ...NEEDY.vehicle, minCurrentA: [10, 10, 10] as const },
      believes: { minCurrentA: [6, 6, 6] as const },
    };
    expect(shortIn30({ ...picky, mainFuseA: 8 })).toBeCloseTo(3400, 6);
    expect(shortIn30({ ...picky, mainFuseA: 10 })).toBeCloseTo(3400 - 1150, 6);
    expect(shortIn30({ charger: { phases: 1, maxCurrentA: 32 }, vehicle: { ...NEEDY.vehicle, maxCurrentA: 20 } })).toBeCloseTo(
      3400 - 2300,
      6,
    );
  });

  test('imbalance, where a lone car is on fewer phases than the building has', () => {
    expect(shortIn30({ supply: { imbalanceLimitA: 10 } })).toBeCloseTo(3400 - 1150, 6);
    expect(shortIn30({ supply: { imbalanceLimitA: 10 }, more: [{}] })).toBeCloseTo(3400 - 1840, 6);
    expect(shortIn30({ supply: { imbalanceLimitA: 10, phases: 1 }, wiring: [1] })).toBeCloseTo(3400 - 1840, 6);
    expect(shortIn30({ ...wantsThree, supply: { imbalanceLimitA: 10 } })).toBeCloseTo(60 * 170 - 5520, 6);
  });
});
