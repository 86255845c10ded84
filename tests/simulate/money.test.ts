import { describe, expect, test } from 'vitest';
import type { Tariff } from '../../src/scenario/index.ts';
import {
  chargedAtOnce,
  moneyBeside,
  moneyOf,
  type Prices,
  planOf,
  type Run,
  runPlan,
  tally,
  withoutCars,
} from '../../src/simulate/index.ts';
import { type HandCase, profilesOf, runHand, scenarioOf, summed } from './hand.ts';

const TARIFF: Tariff = {
  currency: 'EUR',
  importPrice: { kind: 'flat', perKWh: 0.3 },
  exportPrice: { kind: 'flat', perKWh: 0.1 },
  publicPerKWh: 0.5,
  settlementS: 0,
};

const flat = (steps: number, importPerKWh = 0.3, exportPerKWh = 0.1): Prices => ({
  importPerKWh: new Float64Array(steps).fill(importPerKWh),
  exportPerKWh: new Float64Array(steps).fill(exportPerKWh),
});

/** A run of which only the meter matters. */
function metered(importW: number[], exportW: number[], stepS: number): Pick<Run, 'plan' | 'columns' | 'ledger'> {
  const run = runHand({ stepS, pv: [[importW.length, 0]], stays: [] });
  const columns = { ...run.columns, gridImportW: Float64Array.from(importW), gridExportW: Float64Array.from(exportW) };
  return { plan: run.plan, columns, ledger: tally(run.plan, summed(columns), [], []) };
}

/** Prices that change from step to step: what they are stands beside the tariff. */
const CHANGING: Tariff = { ...TARIFF, importPrice: { kind: 'bands', bands: [] }, exportPrice: { kind: 'bands', bands: [] } };

describe('money: import and export', () => {
  test('each step at its own price', () => {
    // Half-hours: 2 kW at 0.30 and 1 kW at 0.10 in, 4 kW at 0.05 out: 1 kWh · 0.30 + 0.5 kWh · 0.10 and 2 kWh · 0.05.
    const prices = { importPerKWh: Float64Array.of(0.3, 0.1, 9), exportPerKWh: Float64Array.of(9, 9, 0.05) };
    const money = moneyOf(metered([2000, 1000, 0], [0, 0, 4000], 1800), CHANGING, prices);
    expect(money.importCost).toBeCloseTo(0.35, 12);
    expect(money.exportRevenue).toBeCloseTo(0.1, 12);
    expect(money.totalCost).toBeCloseTo(0.25, 12);
    expect(money).toMatchObject({ publicWh: 0, publicCost: 0 });
  });

  test('a negative export price costs, a negative import price earns', () => {
    const odd: Tariff = { ...TARIFF, importPrice: { kind: 'flat', perKWh: -0.02 }, exportPrice: { kind: 'flat', perKWh: -0.04 } };
    const money = moneyOf(metered([1000, 0], [0, 1000], 3600), odd, flat(2, -0.02, -0.04));
    expect(money.importCost).toBeCloseTo(-0.02, 12);
    expect(money.exportRevenue).toBeCloseTo(-0.04, 12);
    expect(money.totalCost).toBeCloseTo(0.02, 12);
  });

  test('settled over 15 minutes only the difference is priced; counted as it flows both are', () => {
    // Five-minute steps: 6 kW in, 3 kW out, 0; then 0, 9 kW out, 3 kW in. Net 0.25 kWh in, 0.5 kWh out.
    const run = metered([6000, 0, 0, 0, 0, 3000], [0, 3000, 0, 0, 9000, 0], 300);
    const asItFlows = moneyOf(run, TARIFF, flat(6));
    expect(asItFlows.importCost).toBeCloseTo(0.75 * 0.3, 12);
    expect(asItFlows.exportRevenue).toBeCloseTo(1 * 0.1, 12);
    const settled = moneyOf(run, { ...TARIFF, settlementS: 900 }, flat(6));
    expect(settled.importCost).toBeCloseTo(0.25 * 0.3, 12);
    expect(settled.exportRevenue).toBeCloseTo(0.5 * 0.1, 12);
  });

  test('a price that never changes is paid on the sum: as much as step by step', () => {
    const run = metered([2000, 1000, 0], [0, 500, 4000], 1800);
    const [summed, walked] = [moneyOf(run, TARIFF, flat(3)), moneyOf(run, CHANGING, flat(3))];
    expect(summed.importCost).toBeCloseTo(walked.importCost, 12);
    expect(summed.exportRevenue).toBeCloseTo(walked.exportRevenue, 12);
    expect(summed.importCost).toBeCloseTo(1.5 * 0.3, 12);
  });

  test('a settlement no longer than a step changes nothing', () => {
    const run = metered([6000, 0], [0, 3000], 3600);
    expect(moneyOf(run, { ...TARIFF, settlementS: 900 }, flat(2))).toEqual(moneyOf(run, TARIFF, flat(2)));
  });

  test('where the price changes within a settlement its mean counts', () => {
    const prices = { importPerKWh: Float64Array.of(0.2, 0.2, 0.5), exportPerKWh: Float64Array.of(0, 0, 0) };
    const money = moneyOf(metered([6000, 0, 0], [0, 3000, 0], 300), { ...TARIFF, settlementS: 900 }, prices);
    expect(money.importCost).toBeCloseTo(0.25 * 0.3, 12);
  });
});

describe('money: beside at once and beside no car', () => {
  // An hour of 5 kW sun and an hour of none; the house draws 500 W. The car: 1.7 kWh at the start, comes home from 20 km (3.4 kWh) at
  // minute 0, one-phase, minutes 0 to 120. 10 km of those 20 were not in the battery: 1.7 kWh from elsewhere.
  const HAND: HandCase = {
    pv: [
      [60, 5000],
      [60, 0],
    ],
    house: [[120, 500]],
    charger: { phases: 1 },
    vehicle: { phases: 1, batteryWh: 17_000, startSoc: 0.1, targetSoc: 0.8, standbyW: 0, conversionShare: 1, startLagS: 0 },
    control: { startDelayS: 0, stopDelayS: 0, reserveW: 0 },
    reserveW: 0,
    stays: [[0, 120, 20]],
  };
  const scenario = scenarioOf(HAND);
  const profiles = profilesOf(HAND, 120);
  const [run, atOnce, none] = [scenario, chargedAtOnce(scenario), withoutCars(scenario)].map((one) =>
    runPlan(planOf(one), profiles),
  ) as [Run, Run, Run];
  const beside = moneyBeside(run, atOnce, none, TARIFF, flat(120));

  test('without a car: a run of no charge point at all', () => {
    expect(none.plan.points).toEqual([]);
    // 0.5 kWh in the second hour, 4.5 kWh out in the first.
    expect(beside.withoutCars.importCost).toBeCloseTo(0.15, 12);
    expect(beside.withoutCars.exportRevenue).toBeCloseTo(0.45, 12);
    expect(beside.withoutCars.totalCost).toBeCloseTo(-0.3, 12);
  });

  test('on surplus: 16 A for an hour, and what was charged elsewhere as the road took it', () => {
    expect(run.ledger.total.points[0]?.carWh).toBeCloseTo(3680, 6);
    expect(beside.run.importCost).toBeCloseTo(0.15, 12);
    expect(beside.run.exportRevenue).toBeCloseTo(0.82 * 0.1, 12);
    expect(beside.run.publicWh).toBeCloseTo(1700, 9);
    expect(beside.run.publicCost).toBeCloseTo(0.85, 12);
    expect(beside.run.totalCost).toBeCloseTo(0.15 - 0.082 + 0.85, 12);
    // 0.918 less -0.30 for 20 km.
    expect(beside.per100Km).toBeCloseTo(5 * 1.218, 10);
    // 1.7 kWh at the start, 3.68 kWh at the end.
    expect(beside.storedChangeWh).toBeCloseTo(1980, 6);
  });

  test('at once: the second hour comes from the grid', () => {
    expect(beside.atOnce.importCost).toBeCloseTo((0.5 + 3.68) * 0.3, 10);
    expect(beside.atOncePer100Km).toBeCloseTo(5 * (4.18 * 0.3 - 0.082 + 0.85 + 0.3), 9);
    expect(beside.atOnceStoredChangeWh).toBeCloseTo(2 * 3680 - 1700, 6);
  });

  test('kWh from elsewhere without a price: said, not counted as nothing', () => {
    const unknown = moneyBeside(run, atOnce, none, { ...TARIFF, publicPerKWh: null }, flat(120));
    expect(unknown.run.publicCost).toBeNull();
    expect(unknown.run.totalCost).toBeCloseTo(0.15 - 0.082, 12);
    expect(unknown.per100Km).toBeNull();
  });

  test('nothing driven: no cost of a distance', () => {
    const still = runHand({ ...HAND, stays: [[0, 120, 0]] });
    expect(moneyBeside(still, still, none, TARIFF, flat(120)).per100Km).toBeNull();
  });
});
