import { describe, expect, test } from 'vitest';
import type { Zone } from '../../src/base/index.ts';
import { conflictSentence, conflictsOf } from '../../src/explain/conflicts.ts';
import { planOf, runPlan } from '../../src/simulate/index.ts';
import { type HandCase, profilesOf, scenarioOf } from '../simulate/hand.ts';

const VIENNA: Zone = { name: 'Europe/Vienna', changes: [{ fromMs: -Infinity, offsetS: 3600 }] };
const PV: HandCase = { pv: [[120, 8000]] };

const conflicts = (hand: Partial<HandCase>) => conflictsOf(scenarioOf({ ...PV, ...hand }));
const codes = (hand: Partial<HandCase>): string[] => conflicts(hand).map(({ code }) => code);
const said = (hand: Partial<HandCase>): string[] =>
  conflicts(hand).map((conflict) => conflictSentence(conflict, ['garage', 'yard']));

/** Whether charging started in two hours of 8 kW sun. */
function starts(hand: Partial<HandCase>, point = 0): boolean {
  const whole = { ...PV, ...hand };
  const scenario = scenarioOf(whole);
  const run = runPlan(planOf(scenario), profilesOf(whole, scenario.grid.steps));
  return (run.ledger.total.points[point]?.starts ?? 0) > 0;
}

const ONE_PHASE: Partial<HandCase> = { charger: { phases: 1, maxCurrentA: 32 }, vehicle: { phases: 1, maxCurrentA: 32 } };

test('an ordinary household has no conflicts', () => {
  expect(conflicts({})).toEqual([]);
});

describe('limit of imbalance', () => {
  test('one-phase 32 A under 20 A ends at 20 A', () => {
    expect(said({ ...ONE_PHASE, supply: { imbalanceLimitA: 20 } })).toEqual([
      'At garage: charging on one phase ends at 20 A under the imbalance limit of 20 A; charger and car could take 32 A.',
    ]);
  });

  test('as high as what charger and car can do it holds nothing; on all phases neither', () => {
    expect(codes({ ...ONE_PHASE, supply: { imbalanceLimitA: 32 } })).toEqual([]);
    expect(codes({ charger: { phases: 3 }, supply: { imbalanceLimitA: 10 } })).toEqual([]);
    expect(codes({ ...ONE_PHASE, supply: { phases: 1, imbalanceLimitA: 10 }, wiring: [1] })).toEqual([]);
  });

  test('a two-phase car, rounded to the steps of the charger; a second car may lift it', () => {
    const two: Partial<HandCase> = {
      charger: { phases: 3, currentStepA: 3 },
      vehicle: { phases: 2 },
      supply: { imbalanceLimitA: 10 },
    };
    expect(said(two)).toEqual([
      'At garage: charging on two phases ends at 9 A under the imbalance limit of 10 A; charger and car could take 15 A.',
    ]);
    expect(said({ ...two, more: [{ charger: { phases: 3 } }] })).toEqual([
      'At garage: charging on two phases ends at 9 A under the imbalance limit of 10 A while no other car draws on the other phases; charger and car could take 15 A.',
    ]);
  });

  test('below the minimum of the car nothing is left on one phase, and the run agrees', () => {
    const hand: Partial<HandCase> = { charger: { phases: 1 }, vehicle: { phases: 1, minCurrentA: [10, 10, 10] } };
    expect(said({ ...hand, supply: { imbalanceLimitA: 9 } })).toEqual([
      'At garage: on one phase the car needs 10 A, and the imbalance limit of 9 A does not allow them.',
    ]);
    expect(starts({ ...hand, supply: { imbalanceLimitA: 9 } })).toBe(false);
    expect(codes({ ...hand, supply: { imbalanceLimitA: 10 } })).toEqual(['imbalance-holds']);
    expect(starts({ ...hand, supply: { imbalanceLimitA: 10 } })).toBe(true);
  });

  test('none given where the country of the time zone has one that would hold something back', () => {
    const at = (hand: Partial<HandCase>) => conflictsOf({ ...scenarioOf({ ...PV, ...hand }), zone: VIENNA });
    expect(at(ONE_PHASE).map((conflict) => conflictSentence(conflict, ['garage']))).toEqual([
      'No imbalance limit is given, and in Austria there is one, of 16 A as far as is known: write grid.country: AT, or imbalanceLimitA as the grid operator says.',
    ]);
    expect(at({ charger: { phases: 1 } })).toEqual([]);
    expect(at({ ...ONE_PHASE, supply: { imbalanceLimitA: 32 } })).toEqual([]);
    expect(at({ charger: { phases: 3 } })).toEqual([]);
    // Two one-phase cars of 16 A each can draw 32 A together.
    expect(at({ charger: { phases: 1 }, more: [{ charger: { phases: 1 } }] })).toHaveLength(1);
    expect(codes(ONE_PHASE)).toEqual([]);
  });
});

describe('a minimum above what the connection leaves', () => {
  test('above the main fuse', () => {
    const hand: Partial<HandCase> = { vehicle: { minCurrentA: [10, 10, 10] } };
    expect(said({ ...hand, mainFuseA: 8 })).toEqual([
      'At garage: the car needs 10 A on one phase, and the main fuse carries 8 A: it cannot charge.',
    ]);
    expect(starts({ ...hand, mainFuseA: 8 })).toBe(false);
    expect(codes({ ...hand, mainFuseA: 10 })).toEqual([]);
    expect(starts({ ...hand, mainFuseA: 10 })).toBe(true);
  });

  test('on three phases only', () => {
    expect(said({ vehicle: { minCurrentA: [6, 6, 10] }, mainFuseA: 8 })).toEqual([
      'At garage: the car needs 10 A on three phases, and the main fuse carries 8 A: it cannot charge on three phases.',
    ]);
    expect(said({ vehicle: { minCurrentA: [10, 10, 6] }, mainFuseA: 8 })).toEqual([
      'At garage: the car needs 10 A on one phase, and the main fuse carries 8 A: it cannot charge on one phase.',
    ]);
  });

  test('above contract and dimming', () => {
    const windows = [{ weekdays: [0], months: [1], fromS: 0, toS: 3600 }];
    const three: Partial<HandCase> = { charger: { phases: 3 } };
    expect(said({ ...three, supply: { contractW: 4000, dimming: { toW: 4000, windows } } })).toEqual([
      'At garage: the car needs 4.14 kW on three phases, and the contract allows 4.00 kW: it cannot charge.',
      'At garage: the car needs 4.14 kW on three phases, and the operator dims to 4.00 kW: in those hours it cannot charge.',
    ]);
    expect(codes({ ...three, supply: { contractW: 4140, dimming: { toW: 4140, windows } } })).toEqual([]);
  });
});

describe('departures', () => {
  const NEEDY: Partial<HandCase> = {
    pv: [[90, 0]],
    charger: { phases: 1 },
    vehicle: { phases: 1, startLagS: 0, standbyW: 0, conversionShare: 1, batteryWh: 50_000, startSoc: 0, targetSoc: 1 },
    needs: { departureKm: 20 },
  };

  test('more than can be charged while it is plugged in: 3400 Wh at 3680 W take 56 minutes', () => {
    expect(
      said({
        ...NEEDY,
        stays: [
          [0, 30, 0],
          [40, 90, 0],
        ],
      }),
    ).toEqual([
      'At garage: 1 of 2 departures cannot have 20 km in the battery, even at full current from the moment the car is plugged in; the first, on 1970-01-01 00:30, would have 11 km.',
    ]);
    expect(codes({ ...NEEDY, stays: [[0, 55, 0]] })).toEqual(['departure-out-of-reach']);
    expect(codes({ ...NEEDY, stays: [[0, 56, 0]] })).toEqual([]);
  });

  test('more than the battery holds where charging ends', () => {
    const vehicle = { ...NEEDY.vehicle, startSoc: 1, targetSoc: 0.5 };
    // 25 kWh are 147 km.
    expect(said({ ...NEEDY, vehicle, needs: { departureKm: 200 } })).toEqual([
      'At garage: 200 km are asked for at departure, and charging ends at 147 km: raise targetSoc or ask for less.',
    ]);
    expect(codes({ ...NEEDY, vehicle, needs: { departureKm: 147 } })).toEqual([]);
  });
});

describe('a share that asks for nothing', () => {
  test('share 0 starts in the dark, at the minimum or, proportional, at full current', () => {
    expect(said({ control: { surplusShare: 0 } })).toEqual([
      'At garage: a surplus share of 0 waits for no sun: charging starts day and night, at 1.38 kW.',
    ]);
    expect(said({ control: { surplusShare: 0, topUp: 'proportional' } })).toEqual([
      'At garage: a surplus share of 0 waits for no sun: charging starts day and night, at 11.04 kW, the full current.',
    ]);
    expect(starts({ pv: [[120, 0]], control: { surplusShare: 0 } })).toBe(true);
  });

  test('any share above it waits; at once is no share', () => {
    expect(codes({ control: { surplusShare: 0.01 } })).toEqual([]);
    expect(starts({ pv: [[120, 0]], control: { surplusShare: 0.01 } })).toBe(false);
    expect(codes({ control: { surplusShare: 0, strategy: 'at-once' } })).toEqual([]);
  });
});

describe('an export limit that hides the sun', () => {
  // One phase needs 1380 W and the reserve of 50 W.
  const behind = (exportLimitW: number, rest: Partial<HandCase> = {}): Partial<HandCase> => ({
    ...rest,
    supply: { exportLimitW, ...rest.supply },
  });

  test('below threshold and reserve it never starts; at them it does, and so with the knowledge of what the roof could give', () => {
    const hidden = behind(1429, { charger: { phases: 1 } });
    expect(said(hidden)).toEqual([
      'At garage: surplus charging can never start behind the export limit of 1.43 kW: the controller sees no more than that and needs 1.43 kW. Write seesCurtailedPv: true if it knows what the roof could give.',
    ]);
    expect(starts(hidden)).toBe(false);
    expect(codes(behind(1430, { charger: { phases: 1 } }))).toEqual([]);
    expect(starts(behind(1430, { charger: { phases: 1 } }))).toBe(true);
    const seeing: Partial<HandCase> = { ...hidden, control: { seesCurtailedPv: true } };
    expect(codes(seeing)).toEqual([]);
    expect(starts(seeing)).toBe(true);
  });

  test('a lower share needs less', () => {
    expect(codes(behind(740, { charger: { phases: 1 }, control: { surplusShare: 0.5 } }))).toEqual([]);
    expect(codes(behind(739, { charger: { phases: 1 }, control: { surplusShare: 0.5 } }))).toEqual(['export-limit-hides-start']);
  });

  test('a home battery that yields to the car makes it visible; one that comes first does not', () => {
    const yields = behind(0, { charger: { phases: 1 }, battery: { priority: { kind: 'car' } } });
    expect(said(yields)).toEqual([
      'At garage: surplus charging cannot start by itself behind the export limit of 0.00 kW: the controller sees no more than that and needs 1.43 kW, unless the home battery takes the rest. Write seesCurtailedPv: true if it knows what the roof could give.',
    ]);
    expect(starts(yields)).toBe(true);
    const first = behind(0, { charger: { phases: 1 }, battery: { priority: { kind: 'battery' } } });
    expect(conflicts(first)[0]).toMatchObject({ byBattery: false, byNeeds: false, byOtherCar: false });
    expect(starts(first)).toBe(false);
  });

  test('a need, or a car further down the list, gets it going', () => {
    const needy = behind(0, { charger: { phases: 1 }, needs: { floorKm: 10 } });
    expect(conflicts(needy)[0]).toMatchObject({ code: 'export-limit-hides-start', byNeeds: true });
    expect(starts(needy)).toBe(true);
    const pair = behind(0, { charger: { phases: 1 }, more: [{ charger: { phases: 1 }, needs: { floorKm: 10 } }] });
    expect(conflicts(pair).map((conflict) => ('byOtherCar' in conflict ? conflict.byOtherCar : null))).toEqual([true, false]);
    expect(starts(pair)).toBe(true);
    expect(said(pair)[0]).toContain('needs 1.43 kW, unless a car further down the list draws.');
  });

  test('more phases: seen is the limit and what the car draws on the fewer', () => {
    // 16 A on one phase are 3680 W; three phases need 4140 W and the reserve of 50 W.
    const hidden = behind(509, { charger: { phases: 'switchable' }, control: { surplusShare: 0.25 } });
    expect(said(hidden)).toEqual([
      'At garage: it can never go to three phases for surplus: behind the export limit of 0.51 kW the controller sees at most 4.19 kW while the car charges, and needs 4.19 kW. Write seesCurtailedPv: true if it knows what the roof could give.',
    ]);
    expect(codes(behind(510, { control: { surplusShare: 0.25 } }))).toEqual([]);
  });

  test('no limit, at once, and meters that count by phase hide nothing', () => {
    expect(codes(behind(0, { control: { strategy: 'at-once' } }))).toEqual([]);
    expect(codes(behind(0, { supply: { metering: 'per-phase' } }))).toEqual([]);
  });
});
