import { describe, expect, test } from 'vitest';
import { DE, meaningOf } from '../../src/explain/index.ts';
import type { ChargePoint, Scenario } from '../../src/scenario/index.ts';
import { type HandCase, scenarioOf } from '../simulate/hand.ts';

/** A hand-worked household whose roof gives so much at most. */
function household(hand: Partial<HandCase>, highestW = 9000): Scenario {
  const scenario = scenarioOf({ pv: [[1440, 0]], ...hand });
  const { pv } = scenario;
  if (pv.kind !== 'measured') throw new Error('measured by hand');
  const columns = { pvW: Float64Array.of(0, highestW, 100) };
  return { ...scenario, pv: { ...pv, series: { ...pv.series, file: 'pv.csv', columns } } };
}
const said = (hand: Partial<HandCase>, highestW?: number): string[] => meaningOf(household(hand, highestW));
/** What is said beyond place, roof, house, connection, and the three sentences of an ordinary charge point. */
const beyond = (hand: Partial<HandCase>, highestW?: number): string[] =>
  said(hand, highestW).filter(
    (text) => !/^(Place|Roof|House|Connection)|: (the car takes|starts|charging starts|\d+ stay)/.test(text),
  );

const BIG = { charger: { maxCurrentA: 32 }, vehicle: { maxCurrentA: 32 } };

test('a whole household, sentence by sentence', () => {
  expect(said({})).toEqual([
    'Place and time: 48° N, 16° E, UTC; 1 day from 1 January 1970 in steps of 60 s.',
    'Roof: measured in pv.csv, on building phases 1, 2 and 3.',
    'House: measured in by hand.',
    'Connection: three phases at 230 V, main fuse 35 A per phase.',
    'At point 1: the car takes 1.38 kW (6 A) to 3.68 kW (16 A) on one phase and 4.14 kW (6 A) to 11.04 kW (16 A) on three phases; below 6 A it takes nothing at all.',
    'At point 1: between 3.68 kW and 4.14 kW the rest of the surplus goes to the grid: one phase full, three phases out of reach.',
    'At point 1: starts on one phase when the surplus has stood at 1.38 kW (1.43 kW of export with the reserve) for 3 min, goes to three phases at 4.14 kW (4.19 kW of export with the reserve) for 10 min, and stalls when it has been missing for 3 min.',
    'At point 1: 1 stay from a file, 0 km.',
  ]);
  expect(meaningOf(household({}), DE)[2]).toBe('Haus: gemessen in by hand.');
});

test('battery and rod are told where there are any', () => {
  const rod = { maxW: 3000, dailyWh: 6000, priority: 'car' } as const;
  const texts = said({ battery: {}, diverter: rod });
  expect(texts[3]).toMatch(/^Home battery: 8 kWh/);
  expect(texts[4]).toBe('Hot-water rod: up to 3 kW of surplus, 6 kWh a day, after the car.');
});

describe('the house', () => {
  const house = (household_: object): string =>
    meaningOf({ ...household({}), household: household_ as Scenario['household'] })[2]!;
  const series = { file: 'load.csv', intervalS: 900, atMs: new Float64Array(), columns: {} };

  test('by profile, invented, measured; spikes only within intervals of more than five minutes', () => {
    expect(house({ kind: 'profile', file: 'h0.csv', annualWh: 4_000_000 })).toMatch(
      /^House: 4,000 kWh a year by the standard profile in h0.csv/,
    );
    expect(house({ kind: 'synthetic', annualWh: 4_000_000, people: 2, hotWaterWh: 0, heatPumpWh: 0 })).toMatch(
      /^House: 4,000 kWh a year without the car, 2 people;/,
    );
    const measured = (changes: object) => house({ kind: 'measured', from: 'csv', series, spikesSeed: null, ...changes });
    expect(measured({})).toBe('House: measured in load.csv.');
    expect(measured({ spikesSeed: 7 })).toBe('House: measured in load.csv, every 15 min; its spikes by the minute are invented.');
    expect(measured({ spikesSeed: 7, series: { ...series, intervalS: 300 } })).toBe('House: measured in load.csv.');
    expect(measured({ from: 'meter' })).toBe('House: what balances the meter in load.csv.');
    expect(house({ kind: 'measured-phases', series, spikesSeed: null })).toBe('House: measured in load.csv.');
  });
});

describe('the charge point', () => {
  test('no gap where one phase reaches as far as three begin, or where the charger does not switch', () => {
    expect(said(BIG).some((text) => text.includes('out of reach'))).toBe(false);
    expect(
      said({ charger: { maxCurrentA: 18 }, vehicle: { maxCurrentA: 18 } }).some((text) => text.includes('out of reach')),
    ).toBe(false);
    expect(
      said({ charger: { maxCurrentA: 17 }, vehicle: { maxCurrentA: 17 } }).some((text) => text.includes('out of reach')),
    ).toBe(true);
    expect(said({ charger: { phases: 1 } }).some((text) => text.includes('out of reach'))).toBe(false);
  });

  test('at once it waits for nothing', () => {
    const texts = said({ control: { strategy: 'at-once' } }, 100);
    expect(texts).toContain('At point 1: charging starts as soon as the car is plugged in, sun or not.');
    expect(texts.some((text) => text.includes('when the surplus') || text.includes('never'))).toBe(false);
  });

  test('habits: always there, a week with its kilometres', () => {
    const usage = (one: object): string => {
      const scenario = household({});
      const chargePoints = scenario.chargePoints.map((point) => ({ ...point, usage: one as ChargePoint['usage'] }));
      return meaningOf({ ...scenario, chargePoints }).find((text) => /plugged in/.test(text))!;
    };
    expect(usage({ kind: 'always' })).toBe('At point 1: the car is plugged in throughout and never driven.');
    const trips = [
      { weekdays: [0, 1, 2], leaveS: 27_000, returnS: 54_000, km: 50 },
      { weekdays: [5], leaveS: 36_000, returnS: 39_600, km: 20 },
    ];
    const week = (longTrips: object | null) =>
      usage({
        kind: 'weekly',
        seed: 1,
        trips,
        exceptions: { seed: 1, longTrips, daysOff: [], holidays: [] },
        plugInBelowSoc: 1,
      });
    // 170 km a week for 52.18 weeks; two trips of 300 km a month are 7200 km more.
    expect(week(null)).toContain('; 170 km a week, about 8,870 km a year.');
    expect(week({ km: 300, perMonth: 2 })).toContain('; 170 km a week, about 16,070 km a year, with longer trips');
  });
});

describe('what can never happen', () => {
  test('a start, where the roof gives less than threshold and reserve', () => {
    const never =
      'At point 1: surplus charging can never start: the roof gives at most 1.43 kW, and 1.43 kW are needed even with an idle house.';
    expect(beyond({ charger: { phases: 1 } }, 1429)).toEqual([never]);
    expect(beyond({ charger: { phases: 1 } }, 1430)).toEqual([]);
    expect(beyond({ charger: { phases: 1 }, reserveW: 0 }, 1380)).toEqual([]);
  });

  test('more phases, where it gives less than those need', () => {
    const more = (highestW: number) => beyond(BIG, highestW);
    expect(more(4189)).toEqual([
      'At point 1: it can never go to three phases for surplus: the roof gives at most 4.19 kW, and 4.19 kW are needed even with an idle house.',
    ]);
    expect(more(4190)).toEqual([]);
    expect(more(1000)).toHaveLength(1);
  });

  test('the roof of modules gives what its inverter gives', () => {
    const pv = {
      kind: 'arrays',
      arrays: [{ peakW: 9000, tiltDeg: 30, azimuthDeg: 180 }],
      inverter: { ratedW: 1200, efficiencyShare: 0.97 },
      phases: [1],
    } as unknown as Scenario['pv'];
    expect(meaningOf({ ...household({}), pv })).toContain(
      'At point 1: surplus charging can never start: the roof gives at most 1.20 kW, and 1.43 kW are needed even with an idle house.',
    );
  });

  test('the full current, where the fuse is smaller; below the minimum that is told as a conflict', () => {
    const fuse = (mainFuseA: number, hand: Partial<HandCase> = {}) => beyond({ ...BIG, ...hand, mainFuseA });
    expect(fuse(20)).toEqual(['At point 1: the main fuse of 20 A holds it to 20 A at best; the car could take 32 A.']);
    expect(fuse(32)).toEqual([]);
    expect(fuse(6, { charger: { phases: 1, maxCurrentA: 32 } })).toEqual([
      'At point 1: the main fuse of 6 A holds it to 6 A at best; the car could take 32 A.',
    ]);
    expect(fuse(5)).toEqual(['At point 1: the car needs 6 A on one phase, and the main fuse carries 5 A: it cannot charge.']);
  });

  test('each charge point under its own name', () => {
    const texts = said({ more: [{ charger: { phases: 1 } }] }, 1000).filter((text) => text.includes('never start'));
    expect(texts.map((text) => text.slice(0, 11))).toEqual(['At point 1:', 'At point 2:']);
  });
});
