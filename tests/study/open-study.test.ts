import { describe, expect, test } from 'vitest';
import { fixedZone } from '../../src/base/index.ts';
import { makeProfiles, simulate } from '../../src/simulate/index.ts';
import { longerSteps, monthsOf, openStudy, phasesOver, roofTimes } from '../../src/study/index.ts';
import { HOUSE } from './bed.ts';

let asked = 0;
const zoneOf = (name: string) => {
  asked++;
  return name === 'Nowhere/Else' ? null : fixedZone(name, 3600);
};
const opened = openStudy(HOUSE, 'house.yaml', zoneOf);
if (!opened.ok) throw new Error(JSON.stringify(opened.issues));
const house = opened.value;

describe('openStudy', () => {
  test('a household as written, and with a key changed; the zone is asked for once', async () => {
    expect(house.months).toEqual([4, 5]);
    expect(house.scenarioWith().grid.stepS).toBe(300);
    expect(house.scenarioWith({ 'period.stepS': 900 }).grid.stepS).toBe(900);
    const [result] = await house.ask([{ keys: {}, year: 0, people: 0 }], { outputs: ['pvKWh'], monthly: [] });
    const kWh = simulate(house.scenarioWith()).ledger.total.points[0]!.carPvWh / 1000;
    expect(result).toEqual({ index: 0, values: { pvKWh: kWh }, months: {} });
    expect(asked).toBe(1);
  });
  test('a mistake in the text, in a zone and in a key', () => {
    expect(openStudy('pv: [', 'x.yaml', zoneOf).ok).toBe(false);
    expect(openStudy(HOUSE.replace('kWp: 6', 'kWp: -6'), 'x.yaml', zoneOf).ok).toBe(false);
    expect(openStudy(HOUSE.replace('Europe/Vienna', 'Nowhere/Else'), 'x.yaml', zoneOf).ok).toBe(false);
    expect(() => house.scenarioWith({ 'household.annualKWh': -1 })).toThrow(/annualKWh/);
  });
  test('monthsOf: one for each of a calendar month', () => {
    expect(monthsOf({ grid: house.scenarioWith({ 'period.start': '2024-12-30', 'period.days': 40 }).grid })).toEqual([12, 1, 2]);
  });
});

describe('longerSteps', () => {
  const profiles = makeProfiles(house.scenarioWith());
  test('means: energy is kept, of air and sun too', () => {
    const hours = longerSteps(profiles, 12);
    const mean = (values: Float64Array): number => values.reduce((a, b) => a + b, 0) / values.length;
    expect(hours.pvW.length).toBe(40 * 24);
    expect(hours.pvW[12]).toBeCloseTo(mean(profiles.pvW.subarray(144, 156)), 9);
    for (const of of [(p: typeof hours) => p.pvW, (p: typeof hours) => p.loadByPhaseW[1], (p: typeof hours) => p.weather!.airC])
      expect(mean(of(hours))).toBeCloseTo(mean(of(profiles)), 9);
    expect(longerSteps({ ...profiles, weather: null }, 1).weather).toBeNull();
  });
  test('a number that does not divide the steps', () => {
    expect(() => longerSteps(profiles, 7)).toThrow(RangeError);
  });
});

test('phasesOver: each cell is what that house by itself would say', async () => {
  const { supply } = house.scenarioWith();
  const choice = { years: 1, point: 0 };
  const roofs = [0.5, 2].map((times) => roofTimes(house.input, times));
  const minima = [6, 13].map((amps) => ({ 'chargePoints[0].vehicle.minCurrentA': amps }));
  const map = await phasesOver(house.input, supply, choice, roofs, minima, house.ask);
  expect(map.map((row) => row.length)).toEqual([2, 2]);
  const [[alone] = []] = await phasesOver(house.input, supply, choice, roofs.slice(1), minima.slice(1), house.ask);
  expect(map[1]?.[1]).toEqual(alone);
  const pv = (cell: (typeof map)[number][number] | undefined): number => cell?.winner.means.pvKWh ?? 0;
  expect(pv(map[0]?.[1])).toBeGreaterThan(pv(map[0]?.[0]));
});
