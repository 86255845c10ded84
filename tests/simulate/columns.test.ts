import { describe, expect, test } from 'vitest';
import {
  carGridW,
  columnStore,
  columnsOf,
  freshColumns,
  lineCurrentA,
  type Plan,
  type Profiles,
  planOf,
  runPlan,
} from '../../src/simulate/index.ts';
import { type HandCase, profilesOf, runHand, scenarioOf } from './hand.ts';

const HAND: HandCase = { pv: [[20, 3000]], house: [[20, 400]], charger: { phases: 1 } };
const made = (changes: Partial<HandCase>): [Plan, Profiles] => {
  const hand = { ...HAND, ...changes };
  const scenario = scenarioOf(hand);
  return [planOf(scenario), profilesOf(hand, scenario.grid.steps)];
};

describe('columns used again', () => {
  test('the same for a household of the same shape, with nothing left of the run before', () => {
    const store = columnStore();
    const [plan, profiles] = made({});
    const first = store(plan, profiles);
    // Someone looked at the meter and the cars of the run before.
    const { columns } = runPlan(plan, profiles, first);
    expect([columns.gridExportW.length, columns.points.length]).toEqual([20, 1]);
    const [other, clouds] = made({
      house: [[20, 300]],
      pv: [
        [10, 500],
        [10, 2500],
      ],
      control: { surplusShare: 0.5 },
    });
    const again = store(other, clouds);
    expect(again.work).toBe(first.work);
    expect([again.pvW, again.loadW]).toEqual([clouds.pvW, clouds.loadW]);
    const used = runPlan(other, clouds, again);
    const fresh = runPlan(other, clouds);
    expect(used.ledger).toEqual(fresh.ledger);
    for (const name of ['pvW', 'loadW', 'surplusW', 'gridImportW', 'gridExportW', 'curtailedW', 'batteryW'] as const) {
      expect(used.columns[name], name).toEqual(fresh.columns[name]);
    }
    expect(used.columns.points).toEqual(fresh.columns.points);
  });

  test.each<[string, Partial<HandCase>]>([
    ['a plain household', {}],
    ['a home battery that gives to cars', { battery: { dischargeToCar: true, startSoc: 1, priority: { kind: 'car' } } }],
  ])('of a car that charged in the run before and does not in this one, nothing is left: %s', (_, changes) => {
    const store = columnStore();
    // The roof gives less than the car takes: where a battery may, it adds to that.
    const [plan, profiles] = made({ pv: [[60, 1300]], control: { surplusShare: 0.5 }, ...changes });
    const bright = runPlan(plan, profiles, store(plan, profiles)).columns.points[0]!;
    expect([Math.max(...bright.phases), Math.max(...bright.batteryW) > 0]).toEqual([1, changes.battery !== undefined]);
    const [, dark] = made({ pv: [[60, 0]] });
    const used = runPlan(plan, dark, store(plan, dark));
    const fresh = runPlan(plan, dark);
    expect(used.ledger).toEqual(fresh.ledger);
    const [car] = used.columns.points;
    expect(car).toEqual(fresh.columns.points[0]);
    for (const values of [car!.phases, car!.powerW, car!.pvW, car!.batteryW]) expect(Math.max(...values)).toBe(0);
  });

  test.each<[string, Partial<HandCase>]>([
    ['a plain household', {}],
    ['a home battery', { battery: { priority: { kind: 'car' } } }],
    ['an export limit', { supply: { exportLimitW: 2000 } }],
  ])('what is in a car stands in every step, those in which nothing happens too: %s', (_, changes) => {
    const away = {
      stays: [
        [0, 20, 0],
        [50, 60, 20],
      ] as const,
      charger: { phases: 1 as const },
      ...changes,
    };
    const [plan, profiles] = made({
      pv: [
        [20, 3000],
        [40, 0],
      ],
      ...away,
    });
    const { columns, drives } = runPlan(plan, profiles);
    const [car] = columns.points;
    // It leaves at step 20 with what it has, and comes home at step 50 with less.
    const left = car!.soc[19]!;
    expect(left).toBeGreaterThan(0);
    expect([...car!.soc.subarray(20, 50)]).toEqual(new Array(30).fill(left));
    expect(car!.soc[50]).toBeCloseTo(left - drives[0]!.usedWh / plan.points[0]!.car.capacityWh, 12);
    expect([...car!.soc.subarray(51)]).toEqual(new Array(9).fill(car!.soc[50]));
  });

  test.each<[string, Partial<HandCase>]>([
    ['more steps', { pv: [[21, 3000]] }],
    ['one more charge point', { more: [{}] }],
    ['a battery', { battery: {} }],
    ['a rod', { diverter: { maxW: 1000, dailyWh: 1000, priority: 'car' } }],
    ['an export limit', { supply: { exportLimitW: 1000 } }],
    ['a meter that counts each phase', { supply: { metering: 'per-phase' } }],
  ])('fresh ones for %s, and for the way back', (_, changes) => {
    const store = columnStore();
    // Beside a household that is plain, and beside one that is not.
    const base: Partial<HandCase> = changes.supply?.metering === undefined ? { supply: { metering: 'per-phase' } } : {};
    const [plan, profiles] = made(base);
    const [other, others] = made({ ...base, ...changes, supply: { ...base.supply, ...changes.supply } });
    const before = store(plan, profiles);
    const grown = store(other, others);
    expect(grown.work).not.toBe(before.work);
    expect(runPlan(other, others, grown).ledger).toEqual(runPlan(other, others).ledger);
    const back = store(plan, profiles);
    expect(back.work).not.toBe(grown.work);
    expect(runPlan(plan, profiles, back).ledger).toEqual(runPlan(plan, profiles).ledger);
  });

  test('a rod writes a load of its own, which is kept; without one the load is the profile', () => {
    const store = columnStore();
    const [plan, profiles] = made({ diverter: { maxW: 1000, dailyWh: 1000, priority: 'car' } });
    const first = store(plan, profiles);
    expect(first.loadW).not.toBe(profiles.loadW);
    expect(store(plan, profiles).loadW).toBe(first.loadW);
  });
});

test('buffers of a plain household are no room for one with a battery', () => {
  const [plain, profiles] = made({});
  expect(() => columnsOf({ ...plain, isPlain: false }, freshColumns(plain, profiles))).toThrow(
    /^buffers = those of a plain household/,
  );
});

test('a profile of another length is refused', () => {
  const [plan, profiles] = made({});
  expect(() => runPlan(plan, { ...profiles, pvW: new Float64Array(19) })).toThrow('profile of 19 values: the grid has 20 steps');
  const short = [profiles.loadW, profiles.loadW, new Float64Array(21)] as const;
  expect(() => runPlan(plan, { ...profiles, loadByPhaseW: short })).toThrow('profile of 21 values');
});

test('what a car takes from the grid', () => {
  const run = runHand({
    ...HAND,
    pv: [[20, 1000]],
    house: [[20, 0]],
    control: { surplusShare: 0.5 },
    battery: { startSoc: 1, maxDischargeW: 200, dischargeToCar: true, priority: { kind: 'car' } },
  });
  // 1380 W: 1000 W of sun, 200 W of the battery.
  expect(carGridW(run.columns.points[0]!, 10)).toBeCloseTo(180, 9);
});

test('current on a line: house with its part of the rod, sun, battery, and the cars as they are wired', () => {
  const run = runHand({
    pv: [[10, 3000]],
    pvPhases: [1, 2],
    houseByPhase: [[[10, 230]], [[10, 460]], [[10, 0]]],
    diverter: { maxW: 690, dailyWh: 6000, priority: 'diverter' },
    stays: [],
  });
  const lines = ([1, 2, 3] as const).map((phase) => lineCurrentA(run.plan, run.profiles, run.columns, phase)[5]!);
  // 230 W of rod on each phase, 1500 W of sun on phases 1 and 2.
  expect(lines).toEqual([expect.closeTo(-1040 / 230, 9), expect.closeTo(-810 / 230, 9), 1]);
  const lone = runHand({
    pv: [[10, 690]],
    supply: { phases: 1 },
    wiring: [1],
    diverter: { maxW: 690, dailyWh: 6000, priority: 'diverter' },
    stays: [],
  });
  expect(([1, 2] as const).map((phase) => lineCurrentA(lone.plan, lone.profiles, lone.columns, phase)[5]! + 0)).toEqual([0, 0]);
  const onOne = runHand({ pv: [[10, 2000]], wiring: [2, 3, 1], vehicle: { startLagS: 0 } });
  // 1950 W: 8 A on the first terminal alone, 1840 W; the sun on all three.
  expect(
    ([1, 2, 3] as const).map((phase) => lineCurrentA(onOne.plan, onOne.profiles, onOne.columns, phase)[5]! + 2000 / 690),
  ).toEqual([expect.closeTo(0, 9), expect.closeTo(8, 9), expect.closeTo(0, 9)]);
  const cars = runHand({
    pv: [[10, 0]],
    control: { strategy: 'at-once' },
    charger: { phases: 1, wiringAsBuilt: [3] },
    vehicle: { phases: 1, startLagS: 0 },
  });
  expect(([1, 2, 3] as const).map((phase) => lineCurrentA(cars.plan, cars.profiles, cars.columns, phase)[5])).toEqual([0, 0, 16]);
});
