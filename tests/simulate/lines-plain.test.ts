import { expect, test } from 'vitest';
import { figuresOf, lineCurrentA, type Run } from '../../src/simulate/index.ts';
import { randomRuns, runOf } from '../explain/random-runs.ts';
import { type HandCase, runHand } from './hand.ts';

/** The figures of the conductors, from the currents of every step and phase. */
function plainFigures(run: Run) {
  const { plan, columns, grid } = run;
  const phases = ([1, 2, 3] as const).slice(0, plan.buildingPhases);
  const lines = phases.map((phase) => lineCurrentA(plan, run.profiles, columns, phase));
  const stepH = grid.stepS / 3600;
  const found = { nearFuseH: 0, overFuseH: 0, imbalanceA: 0, peakImportA: lines.map((line) => Math.max(0, ...line)) };
  for (let k = 0; k < grid.steps; k++) {
    const highestA = Math.max(...lines.map((line) => Math.abs(line[k]!)));
    if (highestA >= 0.9 * plan.mainFuseA - 1e-6) found.nearFuseH += stepH;
    if (highestA > plan.mainFuseA + 1e-6) found.overFuseH += stepH;
    const carsA = phases.map((phase) =>
      columns.points.reduce((sum, car, i) => {
        const terminal = plan.points[i]!.wiringAsBuilt.indexOf(phase);
        const draws = terminal >= 0 && terminal < car.phases[k]!;
        return draws ? sum + car.powerW[k]! / car.phases[k]! / plan.voltageV : sum;
      }, 0),
    );
    found.imbalanceA = Math.max(found.imbalanceA, Math.max(...carsA) - Math.min(...carsA));
  }
  return found;
}

test('peaks, hours near and over the fuse, imbalance: step by step, on 36 random days with and without cars and rods', () => {
  let i = 0;
  let near = 0;
  for (const { hand } of randomRuns(36, 730_000)) {
    const kind = i++ % 3;
    // Long absences, and a house that is often near its fuse.
    const quiet: HandCase = { ...hand, stays: [], more: [], mainFuseA: 8 + (i % 5) };
    const rod = { maxW: 2000, dailyWh: 5000, priority: 'car' } as const;
    const made = runOf(kind === 0 ? hand : kind === 1 ? quiet : { ...quiet, diverter: rod });
    if (made === null) continue;
    const { nearFuseH, overFuseH, imbalanceA, peakImportA } = figuresOf(made.run);
    const plain = plainFigures(made.run);
    expect(nearFuseH).toBeCloseTo(plain.nearFuseH, 9);
    expect(overFuseH).toBeCloseTo(plain.overFuseH, 9);
    expect(imbalanceA).toBeCloseTo(plain.imbalanceA, 9);
    expect(peakImportA.map((a) => a.toFixed(6))).toEqual(plain.peakImportA.map((a) => a.toFixed(6)));
    if (nearFuseH > 0 && overFuseH < nearFuseH) near++;
  }
  expect(near).toBeGreaterThan(10);
});

test('what a battery, or the sun behind an export limit, adds to a line', () => {
  const empty: HandCase = { pv: [[30, 0]], stays: [], mainFuseA: 20 };
  // The battery takes 4000 W of sun, all on phase 1, where 600 W of house lie: 20 A out of the sun on phases 2 and 3 alone.
  const charging = runHand({ ...empty, pv: [[30, 4600]], pvPhases: [2], house: [[30, 600]], battery: { phases: [1] } });
  expect(figuresOf(charging)).toMatchObject({ peakImportA: [4600 / 230, 0, 0], nearFuseH: 0.5, overFuseH: 0 });
  // It gives 4000 W back on phase 1 to a house on phase 2.
  const giving = runHand({ ...empty, houseByPhase: [[[30, 0]], [[30, 4000]], [[30, 0]]], battery: { phases: [1] } });
  expect(figuresOf(giving).peakImportA).toEqual([0, expect.closeTo(4000 / 230, 9), 0]);
  // 5000 W of sun on one phase, of which 1000 W may leave: 4.3 A, far from the fuse.
  const limited = runHand({ ...empty, pv: [[30, 5000]], pvPhases: [1], supply: { exportLimitW: 1000 } });
  expect(figuresOf(limited)).toMatchObject({ nearFuseH: 0, overFuseH: 0 });
  expect(figuresOf(runHand({ ...empty, pv: [[30, 5000]], pvPhases: [1] })).overFuseH).toBe(0.5);
});
