import { describe, expect, test } from 'vitest';
import { VARIANTS, type VariantName, variantOf, variantsOf } from '../../src/explain/index.ts';
import type { Scenario } from '../../src/scenario/index.ts';
import { planOf, runPlan } from '../../src/simulate/index.ts';
import { type HandCase, profilesOf, scenarioOf } from '../simulate/hand.ts';

const HAND: HandCase = { pv: [[60, 3000]] };
const household = (hand: Partial<HandCase>): Scenario => scenarioOf({ ...HAND, ...hand });
const changed = (name: VariantName, hand: Partial<HandCase>): Scenario | undefined => variantOf(name, household(hand))?.scenario;
const chargersOf = (name: VariantName, hand: Partial<HandCase>) =>
  changed(name, hand)?.chargePoints.map(({ charger }) => charger);
const names = (scenario: Scenario): string[] => variantsOf(scenario).map(({ name }) => name);

test('an ordinary household: what applies, in the order of the list; nothing that it has already', () => {
  const found = names(household({}));
  expect(found).toEqual(VARIANTS.filter((name) => found.includes(name)));
  expect(found).toEqual([
    'at-once',
    'share-80',
    'share-50',
    'share-25',
    'one-phase',
    'three-phases',
    'plugged-in',
    'no-delays',
    'step-fine',
  ]);
});

test('a change leaves everything else as it is, sun and stays included', () => {
  const scenario = household({});
  for (const { name, scenario: other, pvFactor, onPlan } of variantsOf(scenario)) {
    const { control, chargePoints, ...rest } = other;
    expect({ ...rest, control: 0, chargePoints: 0 }, name).toEqual({ ...scenario, control: 0, chargePoints: 0 });
    expect(pvFactor).toBe(1);
    if (name !== 'plugged-in') expect(onPlan(planOf(scenario))).toEqual(planOf(scenario));
  }
});

describe('the law', () => {
  test('strategy and share, changed alone', () => {
    const { control } = household({});
    expect(changed('at-once', {})!.control).toEqual({ ...control, strategy: 'at-once' });
    expect(changed('share-80', {})!.control).toEqual({ ...control, surplusShare: 0.8 });
    expect(changed('share-50', {})!.control).toEqual({ ...control, surplusShare: 0.5 });
    expect(changed('share-25', {})!.control).toEqual({ ...control, surplusShare: 0.25 });
    expect(changed('share-50', { control: { surplusShare: 0.5 } })).toBeUndefined();
    const atOnce = { control: { strategy: 'at-once' } } as const;
    expect(changed('surplus', atOnce)!.control.strategy).toBe('surplus');
    expect(changed('share-50', atOnce)).toBeUndefined();
    expect(changed('at-once', atOnce)).toBeUndefined();
  });

  test('no delays and pauses, none of the six', () => {
    const none = {
      startDelayS: 0,
      stopDelayS: 0,
      switchUpDelayS: 0,
      switchDownDelayS: 0,
      switchPauseS: 0,
      restartPauseS: 0,
    };
    expect(changed('no-delays', {})!.control).toEqual({ ...household({}).control, ...none });
    expect(changed('no-delays', { control: none })).toBeUndefined();
    expect(changed('no-delays', { control: { ...none, restartPauseS: 60 } })!.control).toMatchObject(none);
  });
});

describe('the charger', () => {
  const one = { charger: { phases: 1 } } as const;

  test('other phases, where the building and the car have them', () => {
    expect(chargersOf('one-phase', {})).toMatchObject([{ phases: 1, wiring: [1, 2, 3] }]);
    expect(chargersOf('three-phases', {})).toMatchObject([{ phases: 3, wiring: [1, 2, 3] }]);
    expect(chargersOf('switchable', one)).toMatchObject([{ phases: 'switchable', wiring: [1, 2, 3] }]);
    expect(changed('one-phase', one)).toBeUndefined();
    expect(changed('switchable', {})).toBeUndefined();
    for (const name of ['one-phase', 'three-phases'] as const) expect(changed(name, { vehicle: { phases: 1 } })).toBeUndefined();
    expect(changed('three-phases', { ...one, supply: { phases: 1 }, wiring: [1] })).toBeUndefined();
    expect(chargersOf('one-phase', { vehicle: { phases: 2 } })).toMatchObject([{ phases: 1 }]);
    expect(changed('one-phase', { wiring: [] })).toBeUndefined();
  });

  test('a charger of one conductor gets the other two in turn; one of three keeps its own, as built', () => {
    const wired = (wiring: number[]) => {
      const [charger] = chargersOf('three-phases', { ...one, wiring })!;
      return [charger!.wiring, charger!.wiringAsBuilt];
    };
    expect(wired([1])).toEqual([
      [1, 2, 3],
      [1, 2, 3],
    ]);
    expect(wired([2])[0]).toEqual([2, 3, 1]);
    expect(wired([3])[1]).toEqual([3, 1, 2]);
    expect(wired([3, 1, 2])[0]).toEqual([3, 1, 2]);
    expect(chargersOf('three-phases', { charger: { phases: 1, wiringAsBuilt: [2, 1, 3] } })).toMatchObject([
      { wiring: [1, 2, 3], wiringAsBuilt: [2, 1, 3] },
    ]);
  });

  test('only the charge points that a change applies to', () => {
    const two: Partial<HandCase> = { more: [{ charger: { phases: 1 } }] };
    expect(chargersOf('one-phase', two)).toMatchObject([{ phases: 1 }, { phases: 1 }]);
    expect(chargersOf('three-phases', { more: [{ vehicle: { phases: 1 } }] })).toMatchObject([
      { phases: 3 },
      { phases: 'switchable' },
    ]);
  });

  test('steps of its current', () => {
    expect(chargersOf('step-fine', {})).toMatchObject([{ currentStepA: 0.1 }]);
    expect(changed('step-coarse', {})).toBeUndefined();
    expect(chargersOf('step-coarse', { charger: { currentStepA: 0.1 } })).toMatchObject([{ currentStepA: 1 }]);
  });

  test('what the door would refuse is not tried', () => {
    // On three phases the car needs 20 A, and charger and car end at 16 A.
    const vehicle = { minCurrentA: [6, 6, 20] as const };
    expect(changed('three-phases', { ...one, vehicle })).toBeUndefined();
    expect(changed('share-50', { ...one, vehicle })).toBeDefined();
    // What the controller believes decides.
    expect(changed('three-phases', { ...one, believes: { minCurrentA: [6, 6, 20] } })).toBeUndefined();
  });
});

test('six amperes: charger, car and what is believed of it; nothing to do where all can', () => {
  const six = (hand: Partial<HandCase>) => changed('six-amps', hand)?.chargePoints[0];
  const everywhere = {
    charger: { minCurrentA: 6 },
    vehicle: { minCurrentA: [6, 6, 6] },
    believes: { minCurrentA: [6, 6, 6] },
  };
  expect(six({})).toBeUndefined();
  expect(six({ charger: { minCurrentA: 8 } })).toMatchObject(everywhere);
  expect(six({ vehicle: { minCurrentA: [6, 6, 7] }, believes: { minCurrentA: [6, 6, 6] } })).toMatchObject(everywhere);
  expect(six({ believes: { minCurrentA: [6, 10, 6] } })).toMatchObject(everywhere);
});

test('the car before the home battery', () => {
  expect(changed('car-first', {})).toBeUndefined();
  const battery = { priority: { kind: 'until', untilSoc: 0.5 } } as const;
  const { scenario } = variantOf('car-first', household({ battery }))!;
  expect(scenario.battery).toEqual({ ...household({ battery }).battery, priority: { kind: 'car' } });
  expect(changed('car-first', { battery: { priority: { kind: 'car' } } })).toBeUndefined();
});

test('2 kWp more: every plane and the inverter grow alike, and so does the sun; not where the roof is measured', () => {
  const scenario = household({});
  expect(variantOf('more-roof', scenario)).toBeNull();
  const plane = { tiltDeg: 30, azimuthDeg: 180 };
  const pv = {
    kind: 'arrays',
    arrays: [
      { ...plane, peakW: 6000 },
      { ...plane, peakW: 2000 },
    ],
    inverter: { ratedW: 7000, efficiencyShare: 0.97 },
    phases: [1, 2, 3],
  } as unknown as Scenario['pv'];
  const roof = variantOf('more-roof', { ...scenario, pv })!;
  expect(roof.pvFactor).toBe(1.25);
  expect(roof.scenario.pv).toMatchObject({
    arrays: [
      { ...plane, peakW: 7500 },
      { ...plane, peakW: 2500 },
    ],
    inverter: { ratedW: 8750, efficiencyShare: 0.97 },
  });
  const plan = planOf(scenario);
  expect(roof.onPlan(plan)).toBe(plan);
});

describe('plugged in all day', () => {
  const stays = (hand: Partial<HandCase>) => {
    const scenario = household(hand);
    const { presence } = variantOf('plugged-in', scenario)!.onPlan(planOf(scenario)).points[0]!;
    const { stayStart, stayEnd, km, departS } = presence;
    return { from: [...stayStart], to: [...stayEnd], km: [...km], departS: [...departS] };
  };

  test('each stay lasts until the next, the first from the start and the last to the end; trips and departures stay', () => {
    const found = stays({
      stays: [
        [10, 20, 5],
        [30, 40, 6],
      ],
    });
    expect(found).toEqual({ from: [0, 10, 30], to: [10, 30, 60], km: [0, 5, 6], departS: [600, 1200, 2400] });
    expect(stays({ stays: [[0, 20, 5]] })).toEqual({ from: [0], to: [60], km: [5], departS: [1200] });
    expect(stays({ stays: [] })).toEqual({ from: [], to: [], km: [], departS: [] });
  });

  test('the run drives as far, and the car is never away', () => {
    const hand: HandCase = { ...HAND, stays: [[10, 20, 5]] };
    const scenario = scenarioOf(hand);
    const run = runPlan(variantOf('plugged-in', scenario)!.onPlan(planOf(scenario)), profilesOf(hand, 60));
    expect(run.columns.points[0]!.state.includes(0)).toBe(false);
    expect(run.ledger.total.points[0]!.drivenKm).toBe(5);
  });

  test('weekly habits: the cable is never left on its hook; a car that never drives is plugged in already', () => {
    const scenario = household({});
    const usage = {
      kind: 'weekly',
      seed: 1,
      trips: [],
      plugInBelowSoc: 0.5,
    } as unknown as Scenario['chargePoints'][number]['usage'];
    const withUsage = (...usages: (typeof usage)[]): Scenario => ({
      ...scenario,
      chargePoints: usages.map((one) => ({ ...scenario.chargePoints[0]!, usage: one })),
    });
    const always = { kind: 'always' } as const;
    expect(variantOf('plugged-in', withUsage(usage, always))!.scenario.chargePoints.map((point) => point.usage)).toEqual([
      { ...usage, plugInBelowSoc: 1 },
      always,
    ]);
    expect(variantOf('plugged-in', withUsage(always))).toBeNull();
  });
});
