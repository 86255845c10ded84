import { expect, test } from 'vitest';
import { STATES, stateName } from '../../src/charging/index.ts';
import { linkOf } from '../../src/explain/chain.ts';
import { type Chain, chainOf, LINKS, type LinkName, rowsOfChain, sumOfChains, surplusOfPoints } from '../../src/explain/index.ts';
import type { Run } from '../../src/simulate/index.ts';
import { runHand } from '../simulate/hand.ts';
import { randomRuns, runOf } from './random-runs.ts';

/** Where a state falls by day while no power flows and the surplus is enough. */
const WHERE: Record<string, LinkName> = { away: 'away', full: 'full', refusing: 'refused', 'gave-up': 'refused' };

/** What the chain says of a step: dark, charging, short, or by its state. */
function plainLink(run: Run, i: number, leastW: number, k: number): LinkName {
  const car = run.columns.points[i]!;
  if (run.columns.pvW[k]! === 0) return 'dark';
  if (car.powerW[k]! > 0) return 'charging';
  if (leastW < run.plan.points[i]!.rules.least.thresholdW - 1e-6) return 'short';
  const state = stateName(car.state[k]!);
  return state.startsWith('held-') ? 'held' : (WHERE[state] ?? 'delay');
}

/** PV that the house takes itself, W; a rod that comes first is a part of it, and lies on all phases. */
function houseTakesW(run: Run, k: number): number {
  const { plan, profiles, columns } = run;
  const rodW = plan.diverter?.priority === 'diverter' ? columns.loadW[k]! - profiles.loadW[k]! : 0;
  if (!plan.perPhase) return Math.min(columns.pvW[k]!, profiles.loadW[k]! + rodW);
  const on = (p: number): number => profiles.loadByPhaseW[p]![k]! + rodW / plan.buildingPhases;
  return [0, 1, 2].reduce((sum, p) => sum + Math.min(plan.pvShare[p]! * columns.pvW[k]!, on(p)), 0);
}

test('each step in its link, with its energies, on 20 random days', () => {
  for (const { hand } of randomRuns(20, 710_000)) {
    const { run } = runOf({ ...hand, diverter: { maxW: 1000, dailyWh: 3000, priority: 'diverter' } })!;
    surplusOfPoints(run).forEach((own, i) => {
      const car = run.columns.points[i]!;
      const want = Object.fromEntries(LINKS.map((name) => [name, { steps: 0, pv: 0, house: 0, car: 0, solar: 0, battery: 0 }]));
      for (let k = 0; k < run.grid.steps; k++) {
        const name = plainLink(run, i, own.leastW[k]!, k);
        expect(linkOf(run, i, own, k)).toBe(name);
        const sum = want[name]!;
        sum.steps++;
        sum.pv += run.columns.pvW[k]!;
        sum.house += houseTakesW(run, k);
        sum.car += car.pvW[k]!;
        if (car.powerW[k]! > 0) {
          sum.solar += car.pvW[k]! / car.powerW[k]!;
          sum.battery += car.batteryW[k]! / car.powerW[k]!;
        }
      }
      const { links } = chainOf(run, i, own, 0, run.grid.steps);
      for (const name of LINKS) {
        const got = links[name];
        const { steps, pv, house, car: carW, solar, battery } = want[name]!;
        expect(got.steps).toBe(steps);
        // Rounded to milliwatts in each step.
        expect(Math.abs(got.pvMw / 1000 - pv)).toBeLessThanOrEqual(0.0005 * steps + 1e-6);
        expect(Math.abs(got.houseMw / 1000 - house)).toBeLessThanOrEqual(0.0015 * steps + 1e-6);
        expect(Math.abs(got.carMw / 1000 - carW)).toBeLessThanOrEqual(0.0005 * steps + 1e-6);
        expect(Math.abs(got.pvParts / 1e6 - solar)).toBeLessThanOrEqual(1e-6 * steps);
        expect(Math.abs(got.batteryParts / 1e6 - battery)).toBeLessThanOrEqual(1e-6 * steps);
      }
    });
  }
});

/** A chain of half-hours with numbers that tell each other apart. */
const CHAIN: Chain = {
  stepS: 1800,
  links: {
    dark: { steps: 10, pvMw: 0, houseMw: 0, carMw: 0, pvParts: 7e6, batteryParts: 7e6 },
    charging: { steps: 8, pvMw: 40e6, houseMw: 4e6, carMw: 30e6, pvParts: 6e6, batteryParts: 0.5e6 },
    short: { steps: 4, pvMw: 2e6, houseMw: 1e6, carMw: 0, pvParts: 0, batteryParts: 0 },
    away: { steps: 3, pvMw: 9e6, houseMw: 3e6, carMw: 0, pvParts: 0, batteryParts: 0 },
    full: { steps: 2, pvMw: 8e6, houseMw: 1e6, carMw: 0, pvParts: 0, batteryParts: 0 },
    delay: { steps: 1, pvMw: 5e6, houseMw: 0.5e6, carMw: 0, pvParts: 0, batteryParts: 0 },
    held: { steps: 5, pvMw: 6e6, houseMw: 0.25e6, carMw: 0, pvParts: 0, batteryParts: 0 },
    refused: { steps: 6, pvMw: 7e6, houseMw: 0.75e6, carMw: 0, pvParts: 0, batteryParts: 0 },
  },
};

test('rows of a chain, by hand: half-hours, and Wh from milliwatts', () => {
  expect(rowsOfChain(CHAIN).map(({ name, less, hours, energyWh }) => [less ? '−' : '=', name, hours, energyWh])).toEqual([
    ['=', 'daylight', 14.5, 38_500],
    ['−', 'house', 0, 5250],
    ['−', 'short', 2, 500],
    ['−', 'away', 1.5, 3000],
    ['−', 'full', 1, 3500],
    ['−', 'delay', 0.5, 2250],
    ['−', 'held', 2.5, 2875],
    ['−', 'refused', 3, 3125],
    ['=', 'charging', 4, 18_000],
    ['−', 'grid-part', 0.75, 0],
    ['−', 'battery-part', 0.25, 0],
    ['−', 'left-over', 0, 3000],
    ['=', 'solar', 3, 15_000],
  ]);
});

test('chains together: key by key; of nothing, nothing', () => {
  expect(sumOfChains([])).toMatchObject({ stepS: 0, links: { charging: { steps: 0, pvMw: 0 } } });
  const twice = sumOfChains([CHAIN, CHAIN]);
  expect(twice.stepS).toBe(1800);
  for (const name of LINKS) {
    const doubled = Object.fromEntries(Object.entries(CHAIN.links[name]).map(([key, value]) => [key, 2 * value]));
    expect(twice.links[name]).toEqual(doubled);
  }
});

test('every state has its place, where no power flows by day and the surplus is enough', () => {
  const run = runHand({ pv: [[STATES.length, 9000]], stays: [] });
  run.columns.points[0]!.state.set([...STATES.keys()]);
  const enough = new Float64Array(STATES.length).fill(9000);
  const placed = STATES.map((name, k) => [name, linkOf(run, 0, { leastW: enough, mostW: enough }, k)]);
  const charging = ['surplus', 'topped', 'ceiling', 'bridging', 'must', 'at-once'];
  const waits = ['short', 'proving', 'resting', 'waking', 'switching'];
  expect(Object.fromEntries(placed)).toEqual({
    away: 'away',
    full: 'full',
    ...Object.fromEntries(waits.map((name) => [name, 'delay'])),
    ...Object.fromEntries(charging.map((name) => [name, 'charging'])),
    'held-fuse': 'held',
    'held-imbalance': 'held',
    'held-contract': 'held',
    'held-dimmed': 'held',
    refusing: 'refused',
    'gave-up': 'refused',
  });
});

test('a charge point that there is not', () => {
  const run = runHand({ pv: [[5, 3000]] });
  expect(() => linkOf(run, 1, surplusOfPoints(run)[0]!, 0)).toThrow('point = 1: no such charge point');
});
