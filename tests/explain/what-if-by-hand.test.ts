import { describe, expect, test } from 'vitest';
import { type Difference, differencesOf, type WhatIfOutcome, whatIfs } from '../../src/explain/index.ts';
import type { PriceBand, Scenario } from '../../src/scenario/index.ts';
import { planOf, type Run, runPlan } from '../../src/simulate/index.ts';
import { type HandCase, profilesOf, scenarioOf } from '../simulate/hand.ts';

const AS_IT_IS: WhatIfOutcome = {
  carWh: 9000,
  carPvWh: 5000,
  carBatteryWh: 1000,
  carGridWh: 3000,
  pvKm: 30,
  solarChargingH: 2,
  starts: 4,
  stalls: 3,
  switches: 2,
  missedKm: 10,
  leftWh: 20_000,
  cost: 7,
};
const differs = (changes: Partial<WhatIfOutcome>): Difference[] =>
  differencesOf({ outcome: { ...AS_IT_IS, ...changes } }, AS_IT_IS);

describe('what a change does', () => {
  test('all that it does, in the order in which it matters', () => {
    const all = differs({
      carPvWh: 6000,
      carGridWh: 2000,
      carBatteryWh: 1250,
      starts: 5,
      switches: 0,
      missedKm: 12,
      cost: 6.5,
      leftWh: 21_000,
    });
    expect(all).toEqual([
      { of: 'pv', by: 1000 },
      { of: 'grid', by: -1000 },
      { of: 'battery', by: 250 },
      { of: 'starts', by: 1 },
      { of: 'switches', by: -2 },
      { of: 'missed', by: 2 },
      { of: 'cost', by: -0.5 },
      { of: 'left', by: 1000 },
    ]);
  });

  test.each([
    ['pv', 'carPvWh', 50, 49],
    ['battery', 'carBatteryWh', 50, 49],
    ['grid', 'carGridWh', -50, -49],
    ['starts', 'starts', 1, 0],
    ['switches', 'switches', -1, 0],
    ['missed', 'missedKm', 0.5, 0.4],
    ['cost', 'cost', 0.0078125, 0.004],
    ['left', 'leftWh', -500, -499],
  ] as const)('%s: what is slight is not told', (of, key, told, slight) => {
    expect(differs({ [key]: AS_IT_IS[key]! + told })).toEqual([{ of, by: told }]);
    expect(differs({ [key]: AS_IT_IS[key]! + slight })).toEqual([]);
  });

  test('without a tariff nothing is said of cost', () => {
    const free = { ...AS_IT_IS, cost: null };
    expect(differencesOf({ outcome: free }, free)).toEqual([]);
  });
});

/** Three "days" of 40 minutes of 3 kW sun; a one-phase car without losses, and one that is not there. */
const HAND: HandCase = {
  pv: [[120, 3000]],
  charger: { phases: 1 },
  vehicle: { phases: 1, batteryKWh: 20, standbyW: 0, conversionShare: 1 },
  more: [
    {
      charger: { phases: 1 },
      vehicle: { phases: 1, batteryKWh: 10, startSoc: 0.5, standbyW: 0, conversionShare: 1 },
      stays: [[100, 119, 30]],
    },
  ],
};
const band = (weekdays: number[], perKWh: number): PriceBand => ({ fromS: 0, toS: 0, perKWh, weekdays, months: [1] });

function household(changes: Partial<Scenario> = {}): { scenario: Scenario; run: Run } {
  const scenario = scenarioOf(HAND);
  const grid = { ...scenario.grid, dayStart: Int32Array.of(0, 40, 80, 120), dayMs: Float64Array.of(0, 86_400_000, 172_800_000) };
  // 0.10 on Thursday and Friday, 0.50 on Saturday.
  const bands = [band([0, 1, 2, 3, 4], 0.1), band([5, 6], 0.5)];
  const whole: Scenario = {
    ...scenario,
    grid,
    tariff: {
      currency: 'EUR',
      importPrice: { kind: 'bands', bands },
      exportPrice: { kind: 'flat', perKWh: 0.2 },
      publicPerKWh: null,
      settlementS: 0,
    },
    ...changes,
  };
  return { scenario: whole, run: runPlan(planOf(whole), profilesOf(HAND, 120)) };
}

test('the whole run: the sums of all charge points, as the ledger has them', () => {
  const { scenario, run } = household();
  const { asItIs, isWhole, days } = whatIfs(scenario, run, { ...run.profiles, weather: null });
  expect([isWhole, days]).toEqual([true, { firstDay: 0, endDay: 3 }]);
  const [first, second] = run.ledger.total.points;
  for (const key of [
    'carWh',
    'carPvWh',
    'carBatteryWh',
    'carGridWh',
    'pvKm',
    'solarChargingH',
    'starts',
    'stalls',
    'switches',
    'missedKm',
  ] as const) {
    expect(asItIs[key], key).toBe(first![key] + second![key]);
  }
  expect(asItIs.carWh).toBeGreaterThan(4000);
  expect(asItIs.missedKm).toBeCloseTo(30 - 5000 / 170, 9);
  // 116 minutes of 2760 W in the first car; the second came home with nothing and got nothing.
  expect(asItIs.leftWh).toBeCloseTo((2760 * 116) / 60, 6);
});

test('one day: from that morning on, at the prices of that day', () => {
  const { scenario, run } = household();
  const { asItIs, isWhole, changes } = whatIfs(scenario, run, { ...run.profiles, weather: null }, { firstDay: 2, endDay: 3 });
  expect(isWhole).toBe(false);
  const morningWh = (2760 * 76) / 60;
  // A start after three minutes and a minute of lag; 36 minutes of 2760 W.
  expect(asItIs.carWh).toBeCloseTo(1656, 9);
  expect(asItIs.leftWh).toBeCloseTo(morningWh + 1656 + 0, 6);
  expect(asItIs.cost).toBeCloseTo(-0.2 * ((4 * 3 + 36 * 0.24) / 60), 9);
  const atOnce = changes.find(({ name }) => name === 'at-once')!.outcome;
  // 39 minutes of 3680 W, 680 W of them bought at 0.50; the second car takes 18 minutes of 3680 W too.
  expect(atOnce.carWh).toBeCloseTo((57 * 3680) / 60, 6);
  expect(atOnce.cost).toBeCloseTo((0.5 * (39 * 0.68 + 18 * 3.68)) / 60 - 0.2 * (3 / 60), 9);
  expect(whatIfs(scenario, run, { ...run.profiles, weather: null }, { firstDay: 0, endDay: 2 }).isWhole).toBe(false);
  expect(whatIfs(scenario, run, { ...run.profiles, weather: null }, { firstDay: 1, endDay: 3 }).isWhole).toBe(false);
});

test('ranks: most PV first, of equals in the order of the variants; by cost with the car as full at the end', () => {
  const { scenario, run } = household();
  const { changes } = whatIfs(scenario, run, { ...run.profiles, weather: null }, { firstDay: 2, endDay: 3 });
  const names = changes.map(({ name }) => name);
  // Plugged in from the morning on, the second car wakes too, and has 240 W of sun for three minutes before it stalls.
  expect(names).toEqual(['at-once', 'no-delays', 'step-fine', 'plugged-in', 'share-80', 'share-50', 'share-25']);
  expect(changes.map(({ rankByPv }) => rankByPv)).toEqual([1, 2, 3, 4, 5, 6, 7]);
  expect([...changes].map(({ rankByCost }) => rankByCost).sort()).toEqual([1, 2, 3, 4, 5, 6, 7]);
  // At 0.50 a kWh what is left in the cars is worth more than it cost; at 0.10 what was exported would have brought more.
  const atOnceRank = (firstDay: number) =>
    whatIfs(scenario, run, { ...run.profiles, weather: null }, { firstDay, endDay: firstDay + 1 }).changes.find(
      ({ name }) => name === 'at-once',
    )!.rankByCost;
  expect([atOnceRank(2), atOnceRank(1)]).toEqual([1, 7]);
});

test('without a tariff there is no cost, and no rank by it', () => {
  const { scenario, run } = household({ tariff: null });
  const { asItIs, changes } = whatIfs(scenario, run, { ...run.profiles, weather: null });
  expect(asItIs.cost).toBeNull();
  expect(changes.every(({ rankByCost, outcome }) => rankByCost === null && outcome.cost === null)).toBe(true);
});

test('a larger roof gives as much more in every step', () => {
  const { scenario, run } = household();
  const plane = { peakW: 8000, tiltDeg: 30, azimuthDeg: 180 };
  const pv = { kind: 'arrays', arrays: [plane], inverter: { ratedW: 8000 }, phases: [1, 2, 3] } as unknown as Scenario['pv'];
  const roof = whatIfs({ ...scenario, pv }, run, { ...run.profiles, weather: null }).changes.find(
    ({ name }) => name === 'more-roof',
  )!;
  // 3750 W: 16 A, 3680 W, for 116 minutes.
  expect(roof.outcome.carPvWh).toBeCloseTo((3680 * 116) / 60, 6);
});

test('variants live in the air of the run', () => {
  const { scenario, run } = household();
  const chargePoints = scenario.chargePoints.map((point) => ({ ...point, vehicle: { ...point.vehicle, coldFactor: 2 } }));
  const airC = new Float64Array(120).fill(-6.7);
  const profiles = { ...run.profiles, weather: { airC } } as unknown as Parameters<typeof whatIfs>[2];
  const [change] = whatIfs({ ...scenario, chargePoints }, run, profiles).changes;
  // 5000 Wh for 340 Wh a km.
  expect(change!.outcome.missedKm).toBeCloseTo(30 - 5000 / 340, 9);
});
