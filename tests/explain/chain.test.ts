import { describe, expect, test } from 'vitest';
import { chance } from '../../src/base/index.ts';
import { type Chain, type ChainRow, chainOf, LINKS, rowsOfChain, sumOfChains, surplusOfPoints } from '../../src/explain/index.ts';
import { runHand } from '../simulate/hand.ts';
import { randomRuns } from './random-runs.ts';

/** Steps that a chain counts. */
const stepsIn = ({ links }: Chain): number => LINKS.reduce((sum, name) => sum + links[name].steps, 0);

/** What is left after each row that is taken off is the next row that is not. */
function expectRowsToLead(rows: readonly ChainRow[], key: 'hours' | 'energyWh'): void {
  let left = rows[0]![key];
  for (const row of rows.slice(1)) {
    expect(row[key]).toBeGreaterThanOrEqual(-1e-9);
    if (row.less) left -= row[key];
    else expect(Math.abs(left - row[key])).toBeLessThan(1e-6);
  }
}

describe('where the hours went, 500 random runs', () => {
  test('every step falls into one link; parts add up to the whole exactly, however they are cut', () => {
    const draw = chance(1, 'cuts');
    for (const { run } of randomRuns(500)) {
      surplusOfPoints(run).forEach((own, i) => {
        const whole = chainOf(run, i, own, 0, run.grid.steps);
        const cuts = [
          0,
          Math.floor(draw.uniform() * run.grid.steps),
          Math.floor(draw.uniform() * run.grid.steps),
          run.grid.steps,
        ].sort((a, b) => a - b);
        const parts = [0, 1, 2].map((part) => chainOf(run, i, own, cuts[part]!, cuts[part + 1]!));
        expect(stepsIn(whole)).toBe(run.grid.steps);
        expect(sumOfChains(parts)).toEqual(whole);
        for (const name of LINKS) {
          for (const value of Object.values(whole.links[name])) expect(Number.isSafeInteger(value)).toBe(true);
          const { pvMw, houseMw, carMw } = whole.links[name];
          expect(Math.min(houseMw, carMw, pvMw - houseMw - carMw)).toBeGreaterThanOrEqual(0);
        }
      });
    }
  });

  test('rows lead from one to the next, down to the solar charging hours and the PV energy of the ledger', () => {
    for (const { run } of randomRuns(500)) {
      surplusOfPoints(run).forEach((own, i) => {
        const chain = chainOf(run, i, own, 0, run.grid.steps);
        const rows = rowsOfChain(chain);
        expectRowsToLead(rows, 'hours');
        expectRowsToLead(rows, 'energyWh');
        const ledger = run.ledger.total.points[i]!;
        const solar = rows.find(({ name }) => name === 'solar')!;
        expect(Math.abs(solar.hours - ledger.solarChargingH)).toBeLessThan(1e-4);
        expect(Math.abs(solar.energyWh - ledger.carPvWh)).toBeLessThan(0.01);
        const charging = rows.find(({ name }) => name === 'charging')!;
        expect(charging.hours).toBeLessThanOrEqual(ledger.chargingH + 1e-9);
      });
    }
  });
});

test('a day by hand: dark, too little, proving, waking, charging, full', () => {
  // 10 min dark, 20 min of 800 W, then 2000 W; the car takes 0.36 kWh more. Reserve 50 W, a start delay and a lag of a minute each way.
  const run = runHand({
    pv: [
      [10, 0],
      [20, 800],
      [60, 2000],
    ],
    charger: { phases: 1 },
    vehicle: { phases: 1, batteryKWh: 1, startSoc: 0.44, targetSoc: 0.8, standbyW: 0, conversionShare: 1 },
  });
  const chain = chainOf(run, 0, surplusOfPoints(run)[0]!, 0, 90);
  const steps = Object.fromEntries(LINKS.map((name) => [name, chain.links[name].steps]));
  // 1840 W from step 34 on: 0.36 kWh take 11.74 minutes.
  expect(steps).toEqual({ dark: 10, short: 20, delay: 4, charging: 12, full: 44, away: 0, held: 0, refused: 0 });
  expect(rowsOfChain(chain).find(({ name }) => name === 'solar')!.energyWh).toBeCloseTo(360, 3);
});
