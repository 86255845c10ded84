import { expect, test } from 'vitest';
import { planOf, type Run, runPlan } from '../../src/simulate/index.ts';
import { firstDifference, plainCase } from './compare-laws.ts';
import { type HandCase, profilesOf, type Runs, scenarioOf } from './hand.ts';
import { plainRun } from './plain-law.ts';

/** Sun of so many watts that comes and goes: 20 minutes of it after every 40 without. */
const gusts = (count: number, watts: number): Runs =>
  Array.from({ length: count }, () => [
    [40, 200],
    [20, watts],
  ]).flat() as [number, number][];

const HOUSE = ['surplusW', 'gridImportW', 'gridExportW', 'batteryW', 'batterySoc'] as const;
const HOUSE_WH = ['gridImportWh', 'gridExportWh', 'batteryInWh', 'batteryOutWh'] as const;

const ONE = { charger: { phases: 1 }, vehicle: { phases: 1 } } as const;
const QUICK = { startDelayS: 0, stopDelayS: 180, restartPauseS: 0 };
const NEEDY = { phases: 1, batteryKWh: 20, standbyW: 0, conversionShare: 1, startSoc: 0.1 } as const;

/** Long stretches in which nothing happens, and what may come out of them without a word before. */
const CASES: Record<string, HandCase> = {
  'from waiting straight into charging, and short of surplus while it charges': {
    ...ONE,
    vehicle: { phases: 1, startLagS: 0 },
    control: QUICK,
    pv: gusts(4, 3000),
  },
  'the same on two charge points, the second of which never has enough': {
    ...ONE,
    vehicle: { phases: 1, startLagS: 0 },
    control: QUICK,
    more: [ONE],
    pv: gusts(4, 2000),
  },
  'two charge points with thresholds of their own': {
    charger: { phases: 3 },
    more: [ONE],
    control: QUICK,
    pv: gusts(4, 3000),
  },
  'a departure that begins to press by night': {
    ...ONE,
    vehicle: NEEDY,
    needs: { departureKm: 40 },
    stays: [
      [10, 300, 0],
      [320, 600, 30],
    ],
    pv: [[660, 0]],
  },
  'a departure that presses again after clouds broke off what had been enough': {
    ...ONE,
    vehicle: NEEDY,
    control: QUICK,
    needs: { departureKm: 50, floorKm: 5 },
    stays: [
      [0, 280, 0],
      [300, 480, 60],
    ],
    pv: gusts(8, 2500),
  },
  'a floor after a drive, and waiting from then on': {
    ...ONE,
    vehicle: NEEDY,
    needs: { floorKm: 10 },
    stays: [
      [0, 100, 0],
      [110, 200, 5],
      [210, 400, 60],
    ],
    pv: gusts(7, 2500),
  },
  'needs at once: nothing waits for anything': {
    ...ONE,
    vehicle: NEEDY,
    control: { strategy: 'at-once' },
    needs: { departureKm: 20 },
    stays: [
      [10, 100, 0],
      [110, 200, 30],
    ],
    pv: gusts(4, 2500),
  },
  'full, gone, and back with room for more': {
    ...ONE,
    vehicle: { ...NEEDY, startSoc: 0.7 },
    stays: [
      [0, 200, 0],
      [260, 420, 40],
    ],
    pv: gusts(8, 3500),
  },
  'given up until the next plug-in': {
    ...ONE,
    vehicle: { ...NEEDY, givesUpAfter: 2 },
    stays: [
      [0, 400, 0],
      [410, 540, 5],
    ],
    pv: gusts(9, 3500),
  },
  'smoothed slowly: what is seen lags behind the sun on both ways': {
    ...ONE,
    smoothingS: 600,
    stays: [[700, 1300, 10]],
    pv: gusts(24, 2600),
  },
  'smoothed slowly while it waits: above the threshold for long before it shows': {
    ...ONE,
    smoothingS: 1800,
    pv: gusts(24, 2600),
    house: [
      [600, 700],
      [840, 100],
    ],
  },
  'no threshold at all: charging by night, and away in between': {
    ...ONE,
    control: { surplusShare: 0 },
    stays: [
      [10, 60, 0],
      [80, 200, 10],
    ],
    pv: gusts(4, 2600),
  },
  'a fuse smaller than the car, under a large sun: PV earns no credit': {
    ...ONE,
    mainFuseA: 10,
    pv: [[40, 20_000]],
  },
  'a house near its fuse, and two cars that want more than it leaves': {
    ...ONE,
    charger: { phases: 1, maxCurrentA: 32 },
    vehicle: { phases: 1, maxCurrentA: 32 },
    more: [{ charger: { phases: 3 } }],
    mainFuseA: 35,
    control: { strategy: 'at-once' },
    pv: gusts(4, 2600),
    house: [
      [60, 1000],
      [60, 5000],
      [60, 500],
      [60, 7600],
    ],
  },
};

test.each(Object.keys(CASES))('%s: the plain law says the same in every step', (name) => {
  const hand = CASES[name]!;
  for (const supply of [{}, { exportLimitW: 100_000 }, { metering: 'per-phase' }] as const) {
    const scenario = scenarioOf({ ...hand, supply });
    const profiles = profilesOf(hand, scenario.grid.steps);
    const run = runPlan(planOf(scenario), profiles);
    expect(firstDifference(run, plainRun(plainCase(scenario, profiles)))).toBeNull();
  }
});

/** Small ones, that are often full and often empty; the last is at its limits of power in most steps. */
const BATTERIES: Record<string, NonNullable<HandCase['battery']>> = {
  'that comes before the cars': { capacityWh: 1500, priority: { kind: 'battery' } },
  'that comes after them': { capacityWh: 1500, priority: { kind: 'car' } },
  'that comes first to a part, and gives to cars': {
    capacityWh: 2000,
    startSoc: 0.9,
    priority: { kind: 'until', untilSoc: 0.4 },
    dischargeToCar: true,
  },
  'of little power': { capacityWh: 5000, maxChargeW: 300, maxDischargeW: 150, priority: { kind: 'battery' } },
};

test.each(Object.keys(BATTERIES))('a home battery %s: the same as step by step, to the last bit', (kind) => {
  const all = Object.entries(CASES);
  for (const [name, hand] of all) {
    const scenario = scenarioOf({ ...hand, battery: BATTERIES[kind]! });
    const profiles = profilesOf(hand, scenario.grid.steps);
    const plan = planOf(scenario);
    const run = runPlan(plan, profiles);
    expect(firstDifference(run, plainRun(plainCase(scenario, profiles))), name).toBeNull();
    const stepByStep = runPlan({ ...plan, isPlain: false }, profiles);
    expect(run.events, name).toEqual(stepByStep.events);
    for (const column of HOUSE) expect(run.columns[column], `${name}: ${column}`).toEqual(stepByStep.columns[column]);
    expect(run.columns.points, name).toEqual(stepByStep.columns.points);
    const house = ({ ledger }: Run) => HOUSE_WH.map((sum) => ledger.total[sum]);
    house(run).forEach((wh, i) => {
      expect(wh, `${name}: ${HOUSE_WH[i]}`).toBeCloseTo(house(stepByStep)[i]!, 6);
    });
  }
});
