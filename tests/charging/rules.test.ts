import { describe, expect, test } from 'vitest';
import {
  type ChargerFacts,
  type ControlSettings,
  freshSight,
  type Headroom,
  lookForCeiling,
  mustChargeForWh,
  mustStartS,
  type PointRules,
  pointRules,
  possiblePhases,
  reaches,
  SAME_W,
  State,
  stateName,
  type VehicleFacts,
} from '../../src/charging/index.ts';

const CHARGER: ChargerFacts = { phases: 'switchable', minCurrentA: 6, maxCurrentA: 32, currentStepA: 1 };
const CAR: VehicleFacts = { phases: 3, maxCurrentA: 16, minCurrentA: [6, 7, 8] };
const CONTROL: ControlSettings = {
  strategy: 'surplus',
  surplusShare: 0.5,
  topUp: 'minimum',
  startDelayS: 180,
  stopDelayS: 120,
  switchUpDelayS: 600,
  switchDownDelayS: 240,
  switchPauseS: 45,
  restartPauseS: 300,
};
const rulesFor = (
  charger: Partial<ChargerFacts>,
  car: Partial<VehicleFacts>,
  control: Partial<ControlSettings> = {},
  stepS = 60,
) => pointRules({ ...CHARGER, ...charger }, { ...CAR, ...car }, { ...CONTROL, ...control }, 230, stepS, 90);

describe('numbers of phases on which charger and car can charge', () => {
  test.each([
    ['switchable', 3, [1, 3]],
    ['switchable', 2, [1, 2]],
    ['switchable', 1, [1]],
    [3, 2, [2]],
    [1, 3, [1]],
  ] as const)('a charger on %s phases and a car on %s', (phases, carPhases, expected) => {
    expect(possiblePhases({ ...CHARGER, phases }, { ...CAR, phases: carPhases }).map(({ n }) => n)).toEqual(expected);
  });

  test('a minimum above what car or charger ever allow leaves that number out; both alike, and nothing is left', () => {
    expect(possiblePhases(CHARGER, { ...CAR, minCurrentA: [6, 6, 17] }).map(({ n }) => n)).toEqual([1]);
    expect(possiblePhases(CHARGER, { ...CAR, minCurrentA: [6, 6, 16] }).map(({ n }) => n)).toEqual([1, 3]);
    expect(rulesFor({}, { minCurrentA: [17, 17, 17] })).toBeNull();
    expect(rulesFor({ phases: 3, minCurrentA: 18 }, {})).toBeNull();
  });
});

describe('what stays the same for a charge point', () => {
  test('currents, powers and thresholds of each number of phases', () => {
    const rules = rulesFor({}, {});
    expect(rules?.least).toEqual({ n: 1, live: 1, minA: 6, maxA: 16, wPerA: 230, minW: 1380, thresholdW: 690 });
    // The share scales only the lower threshold: nobody goes to more phases to buy more.
    expect(rules?.most).toEqual({ n: 3, live: 3, minA: 8, maxA: 16, wPerA: 690, minW: 5520, thresholdW: 5520 });
    expect(rulesFor({}, {}, { topUp: 'proportional' })?.most.thresholdW).toBe(2760);
    expect(rulesFor({ phases: 3 }, {})?.most.thresholdW).toBe(2760);
  });

  test('delays are whole steps, half a step counts as one; a pause takes at least one', () => {
    expect(rulesFor({}, {})).toMatchObject({ startSteps: 3, stopSteps: 2, upSteps: 10, downSteps: 4, restSteps: 5, lagSteps: 2 });
    expect(rulesFor({}, {})?.pauseSteps).toBe(1);
    expect(rulesFor({}, {}, {}, 10)?.pauseSteps).toBe(5);
    expect(rulesFor({}, {}, { switchPauseS: 0 }, 10)?.pauseSteps).toBe(1);
  });

  test('a step or a voltage that is not above 0 is refused', () => {
    expect(() => rulesFor({}, {}, {}, 0)).toThrow(/^stepS = 0: must be above 0$/);
    expect(() => pointRules(CHARGER, CAR, CONTROL, 0, 60, 0)).toThrow(/^voltageV = 0: must be above 0$/);
  });

  test('a threshold is reached up to a millionth of a watt below it', () => {
    expect([reaches(1380 - SAME_W, 1380), reaches(1380 - 2 * SAME_W, 1380)]).toEqual([true, false]);
  });
});

describe('what must be charged for', () => {
  const needs = { floorWh: 5000, departureWh: 13290, highestStoredW: 3290, delayS: 120 };

  test('below the floor, up to the floor, and no more from there on', () => {
    expect(mustChargeForWh(needs, 0, 4999, Infinity)).toBe(5000);
    expect(mustChargeForWh(needs, 5000, 4999, Infinity)).toBe(5000);
    expect(mustChargeForWh(needs, 5000, 5000, Infinity)).toBe(0);
    expect(mustChargeForWh(needs, 0, 5000, Infinity)).toBe(0);
  });

  test('a departure that presses outdoes the floor, and neither is given up for the lesser of them', () => {
    // 3290 Wh are missing: an hour, a tenth more, and the delay.
    expect(mustStartS(needs, 10_000)).toBeCloseTo(3600 * 1.1 + 120, 9);
    expect(mustChargeForWh(needs, 0, 10_000, 4080)).toBe(13_290);
    expect(mustChargeForWh(needs, 0, 10_000, 4081)).toBe(0);
    expect(mustChargeForWh(needs, 13_290, 10_000, 99_999)).toBe(13_290);
    expect(mustChargeForWh(needs, 13_290, 4000, 99_999)).toBe(13_290);
    expect(mustChargeForWh(needs, 0, 4000, 100)).toBe(13_290);
  });

  test('with enough in the battery nothing presses, however late it is', () => {
    expect(mustStartS(needs, 13_290)).toBe(-Infinity);
    expect(mustChargeForWh(needs, 0, 13_290, -5000)).toBe(0);
    expect(mustChargeForWh({ ...needs, floorWh: 20_000 }, 0, 15_000, -5000)).toBe(20_000);
  });
});

describe('what the connection leaves', () => {
  const rules = rulesFor({}, { minCurrentA: [6, 6, 6] }) as PointRules;
  const headroom = (more: Partial<Headroom> = {}): Headroom => ({
    fuseA: Float64Array.of(35, 35, 35),
    earlierA: new Float64Array(3),
    buildingPhases: 3,
    imbalanceA: Infinity,
    roomyA: -Infinity,
    contractW: Infinity,
    dimmedW: Infinity,
    ...more,
  });
  const seen = (room: Headroom, wiring = Int8Array.of(1, 2, 3)) => {
    const sight = freshSight();
    lookForCeiling(sight, rules, wiring, room);
    return [sight.ceilingLeastA, stateName(sight.limitLeast), sight.ceilingMostA, stateName(sight.limitMost)];
  };

  test('the fuse of the phases that are used, rounded down to a step', () => {
    expect(seen(headroom({ fuseA: Float64Array.of(12.7, 9.9, 20) }))).toEqual([12, 'held-fuse', 9, 'held-fuse']);
    expect(seen(headroom({ fuseA: Float64Array.of(12.7, 9.9, 20) }), Int8Array.of(2, 3, 1))[0]).toBe(9);
  });

  test('an imbalance limit binds on some phases only, counts from the smallest of the others, and yields to the fuse when equal', () => {
    expect(seen(headroom({ imbalanceA: 10 }))).toEqual([10, 'held-imbalance', 16, 'held-fuse']);
    // Another point draws 4 A on phases 2 and 3 and 1 A on phase 1: 10 A above the smallest unused, less what phase 1 carries.
    expect(seen(headroom({ imbalanceA: 10, earlierA: Float64Array.of(1, 4, 5) }))[0]).toBe(13);
    expect(seen(headroom({ imbalanceA: 12, fuseA: Float64Array.of(12, 35, 35) }))[1]).toBe('held-fuse');
    expect(seen(headroom({ imbalanceA: 10, buildingPhases: 1 }))[0]).toBe(16);
  });

  test('contract and dimming are shared by the phases; of equal limits the first in order is named', () => {
    expect(seen(headroom({ contractW: 8 * 690 }))).toEqual([16, 'held-contract', 8, 'held-contract']);
    expect(seen(headroom({ dimmedW: 7 * 690 }))[3]).toBe('held-dimmed');
    expect(seen(headroom({ dimmedW: 7 * 690, contractW: 7 * 690 }))[3]).toBe('held-contract');
    expect(seen(headroom({ contractW: 12 * 690, fuseA: Float64Array.of(12, 12, 12) }))[3]).toBe('held-fuse');
  });

  test('where there is room for all, nobody looks closer', () => {
    expect(seen(headroom({ roomyA: 16, fuseA: new Float64Array(3) }))).toEqual([16, 'held-fuse', 16, 'held-fuse']);
    expect(seen(headroom({ roomyA: 15, fuseA: new Float64Array(3) }))[0]).toBe(0);
    expect(freshSight().limitLeast).toBe(State.heldFuse);
  });
});
