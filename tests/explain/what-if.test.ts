import { beforeAll, describe, expect, test } from 'vitest';
import {
  chainOf,
  differencesOf,
  explained,
  planOfDays,
  profilesOfDays,
  rowsOfChain,
  stepsOfDays,
  sumOfChains,
  VARIANTS,
  variantOf,
  variantsOf,
  whatIfs,
} from '../../src/explain/index.ts';
import type { Scenario } from '../../src/scenario/index.ts';
import {
  makeProfiles,
  moneyOf,
  type ProfilesWithWeather,
  pricesOf,
  type Run,
  runPlan,
  simulate,
} from '../../src/simulate/index.ts';
import { scenarioOf, throughDoor } from '../scenario/door.ts';

const FORTNIGHT = `
name: Fortnight
site: { latitude: 47.3, longitude: 13.2, timeZone: Europe/Vienna }
period: { start: 2025-03-24, days: 14, stepS: 60 }
tariff: { currency: EUR, importPerKWh: 0.3, exportPerKWh: 0.08 }
weather:
  source: synthetic
  monthlyGhiKWhM2: [34, 54, 95, 127, 157, 160, 166, 142, 103, 67, 37, 27]
  monthlyTempC: [-1, 1, 5, 9, 14, 17, 19, 19, 15, 10, 4, 0]
pv: { source: arrays, arrays: [{ kWp: 8, tiltDeg: 30, azimuthDeg: 180 }] }
household: { source: synthetic, annualKWh: 3500 }
battery: { capacityKWh: 6, maxChargeW: 3000, maxDischargeW: 3000, priority: battery, dischargeToCar: false }
chargePoints:
  - name: garage
    charger: { phases: switchable, maxCurrentA: 16 }
    vehicle: { batteryKWh: 58, phases: 3, maxCurrentA: 16, minCurrentA: 8, kWhPer100km: 17 }
    usage:
      source: weekly
      trips: [{ days: [mon, tue, wed, thu, fri], leave: "07:30", return: "15:00", km: 60 }]
`;

let scenario: Scenario;
let profiles: ProfilesWithWeather;
let run: Run;
beforeAll(() => {
  scenario = scenarioOf(throughDoor(FORTNIGHT, 'fortnight.yaml', () => null).checked);
  profiles = makeProfiles(scenario);
  run = simulate(scenario, profiles);
});

describe('what one change would have done', () => {
  test('every variant that applies is tried; charged at once is always among them', () => {
    const names = whatIfs(scenario, run, profiles).changes.map(({ name }) => name);
    expect(names).toContain('at-once');
    expect([...names].sort()).toEqual(VARIANTS.filter((name) => !['surplus', 'switchable', 'step-coarse'].includes(name)).sort());
    expect(variantOf('surplus', scenario)).toBeNull();
  });

  test('no claim without its re-run: each outcome is that of the changed scenario, run for itself', () => {
    const { changes } = whatIfs(scenario, run, profiles);
    for (const { name, outcome } of changes) {
      if (name === 'plugged-in') continue;
      const alone = simulate(variantOf(name, scenario)!.scenario);
      const sums = alone.ledger.total.points[0]!;
      expect(outcome.carPvWh, name).toBeCloseTo(sums.carPvWh, 3);
      expect(outcome.carGridWh, name).toBeCloseTo(sums.carGridWh, 3);
      expect([outcome.starts, outcome.stalls, outcome.switches], name).toEqual([sums.starts, sums.stalls, sums.switches]);
      const { totalCost } = moneyOf(alone, scenario.tariff!, pricesOf(scenario.tariff!, scenario.grid));
      expect(outcome.cost, name).toBeCloseTo(totalCost, 6);
    }
  });

  test('plugged in all day: the car is never away, and drives as far', () => {
    const variant = variantOf('plugged-in', scenario)!;
    const plan = variant.onPlan(run.plan);
    const home = runPlan(plan, profiles);
    expect(home.columns.points[0]!.state.some((code) => code === 0)).toBe(false);
    expect(home.ledger.total.points[0]!.drivenKm).toBe(run.ledger.total.points[0]!.drivenKm);
  });

  test('ranks by PV energy and by cost, never by hours', () => {
    const { changes } = whatIfs(scenario, run, profiles);
    const pv = changes.map(({ outcome }) => outcome.carPvWh);
    expect(pv).toEqual([...pv].sort((a, b) => b - a));
    expect(changes.map(({ rankByPv }) => rankByPv)).toEqual(changes.map((_, i) => i + 1));
    // A flat price of 0.30 for what is left in the car.
    const byCost = [...changes]
      .sort((a, b) => a.rankByCost! - b.rankByCost!)
      .map(({ outcome }) => outcome.cost! - 0.3 * (outcome.leftWh / 1000));
    expect(byCost).toEqual([...byCost].sort((a, b) => a - b));
  });

  test('without a tariff there is no cost and no rank by it', () => {
    const { asItIs, changes } = whatIfs({ ...scenario, tariff: null }, run, profiles);
    expect(asItIs.cost).toBeNull();
    expect(changes.every(({ rankByCost, outcome }) => rankByCost === null && outcome.cost === null)).toBe(true);
    expect(changes.flatMap((change) => differencesOf(change, asItIs)).some(({ of }) => of === 'cost')).toBe(false);
  });

  test('a household that charges at once is tried with waiting, and shares mean nothing to it', () => {
    const atOnce = { ...scenario, control: { ...scenario.control, strategy: 'at-once' as const } };
    const names = variantsOf(atOnce).map(({ name }) => name);
    expect(names).toContain('surplus');
    expect(names.filter((name) => name.startsWith('share-'))).toEqual([]);
  });
});

describe('a few days by themselves', () => {
  test('begin with the batteries of that morning, and go on as the run did', () => {
    let same = 0;
    for (let day = 0; day < 14; day++) {
      const days = { firstDay: day, endDay: day + 1 };
      const [from, to] = stepsOfDays(run, days);
      const alone = runPlan(planOfDays(run.plan, run, days), profilesOfDays(profiles, run, days));
      expect(alone.grid.steps).toBe(to - from);
      const worstW = alone.columns.points[0]!.powerW.reduce(
        (worst, w, k) => Math.max(worst, Math.abs(w - run.columns.points[0]!.powerW[from + k]!)),
        0,
      );
      if (worstW < 1e-6) same++;
    }
    // Nothing charges across midnight here, so nothing is forgotten.
    expect(same).toBe(14);
  });

  test('days together are the whole', () => {
    const { asItIs } = whatIfs(scenario, run, profiles);
    const each = Array.from(
      { length: 14 },
      (_, day) => whatIfs(scenario, run, profiles, { firstDay: day, endDay: day + 1 }).asItIs,
    );
    expect(each.reduce((sum, { carPvWh }) => sum + carPvWh, 0)).toBeCloseTo(asItIs.carPvWh, 3);
    expect(each.reduce((sum, { cost }) => sum + cost!, 0)).toBeCloseTo(asItIs.cost!, 6);
  });

  test('the chain of the days is the chain of the whole, to the last step', () => {
    const { surplus } = explained(run);
    const whole = chainOf(run, 0, surplus[0]!, 0, run.grid.steps);
    const each = Array.from({ length: 14 }, (_, day) =>
      chainOf(run, 0, surplus[0]!, ...stepsOfDays(run, { firstDay: day, endDay: day + 1 })),
    );
    expect(sumOfChains(each)).toEqual(whole);
    expect(rowsOfChain(whole).at(-1)!.energyWh).toBeCloseTo(run.ledger.total.points[0]!.carPvWh, 1);
  });
});
