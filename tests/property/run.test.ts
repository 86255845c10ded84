import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chance } from '../../src/base/index.ts';
import { State } from '../../src/charging/index.ts';
import { carCurrentA, carGridW, lineCurrentA, type Run } from '../../src/simulate/index.ts';
import { type HandCase, runHand } from '../simulate/hand.ts';

/** Random households with one charge point: chargers, cars, settings, clouds, kettles, comings and goings. */
const randomCase = fc
  .record({
    seed: fc.nat(),
    steps: fc.integer({ min: 30, max: 400 }),
    stepS: fc.constantFrom(10, 60, 300, 900),
    phases: fc.constantFrom<1 | 3 | 'switchable'>(1, 3, 'switchable'),
    vehiclePhases: fc.constantFrom<1 | 2 | 3>(1, 2, 3),
    minA: fc.constantFrom(6, 8, 10),
    maxA: fc.constantFrom(10, 16, 32),
    stepA: fc.constantFrom(0.1, 0.5, 1),
    fuseA: fc.constantFrom(10, 16, 25, 35),
    share: fc.constantFrom(0, 0.25, 0.5, 0.8, 1),
    topUp: fc.constantFrom<'minimum' | 'proportional'>('minimum', 'proportional'),
    strategy: fc.constantFrom<'surplus' | 'at-once'>('surplus', 'surplus', 'surplus', 'at-once'),
    delayS: fc.constantFrom(0, 60, 180, 700),
    lagS: fc.constantFrom(0, 60, 400),
    smoothingS: fc.constantFrom(0, 30, 120),
    batteryKWh: fc.constantFrom(3, 8, 60),
    pvPeakW: fc.constantFrom(0, 3000, 9000, 20000),
    wiring: fc.constantFrom([1, 2, 3], [2, 3, 1], [3, 1, 2]),
  })
  .map((r): HandCase => {
    const draw = chance(r.seed, 'random household');
    const stays: [number, number, number][] = [];
    for (let from = Math.floor(draw.uniform() * 10); from < r.steps; ) {
      const to = Math.min(r.steps, from + Math.floor(draw.uniform() * 150));
      stays.push([from, to, draw.uniform() * 60]);
      // A departure may meet an arrival.
      from = to + Math.floor(draw.uniform() * 20);
      if (to === from && to >= r.steps) break;
    }
    const cloudy = (peakW: number): [number, number][] => {
      const runs: [number, number][] = [];
      for (let k = 0; k < r.steps; ) {
        const count = Math.min(r.steps - k, 1 + Math.floor(draw.uniform() * 12));
        runs.push([count, peakW * draw.uniform()]);
        k += count;
      }
      return runs;
    };
    return {
      stepS: r.stepS,
      charger: { phases: r.phases, maxCurrentA: r.maxA, currentStepA: r.stepA },
      vehicle: {
        phases: r.vehiclePhases,
        minCurrentA: [r.minA, 6, 6],
        maxCurrentA: 32,
        batteryKWh: r.batteryKWh,
        startSoc: 0.3,
        startLagS: r.lagS,
      },
      control: {
        surplusShare: r.share,
        topUp: r.topUp,
        strategy: r.strategy,
        startDelayS: r.delayS,
        stopDelayS: r.delayS,
        switchUpDelayS: 2 * r.delayS,
        switchDownDelayS: r.delayS,
        restartPauseS: r.delayS,
      },
      smoothingS: r.smoothingS,
      reserveW: 50,
      mainFuseA: r.fuseA,
      wiring: r.wiring,
      pv: cloudy(r.pvPeakW),
      houseByPhase: [cloudy(3000), cloudy(2000), cloudy(1500)],
      stays,
    };
  });

const holds = (name: string, law: (run: Run, hand: HandCase) => void) =>
  test(name, () => {
    fc.assert(
      fc.property(randomCase, (hand) => law(runHand(hand), hand)),
      { numRuns: 400, seed: 61851 },
    );
  });

const DRAWING = new Set<number>([State.surplus, State.topped, State.ceiling, State.bridging, State.must, State.atOnce]);

describe('laws of any run', () => {
  holds('energy balance of every step: pv + import = house + car + export, to 1e-6 W', ({ columns, grid }) => {
    const car = columns.points[0]!;
    let gapW = 0;
    let leastW = 0;
    let bothWaysW = 0;
    for (let k = 0; k < grid.steps; k++) {
      const importW = columns.gridImportW[k]!;
      const exportW = columns.gridExportW[k]!;
      const inW = columns.pvW[k]! + importW;
      const outW = columns.loadW[k]! + car.powerW[k]! + exportW + columns.curtailedW[k]!;
      gapW = Math.max(gapW, Math.abs(inW - outW));
      leastW = Math.min(leastW, importW, exportW, car.pvW[k]!, carGridW(car, k));
      bothWaysW = Math.max(bothWaysW, Math.min(importW, exportW));
    }
    expect(gapW).toBeLessThan(1e-6);
    expect(leastW).toBeGreaterThanOrEqual(-1e-9);
    // Nothing is bought and sold in the same step.
    expect(bothWaysW).toBeLessThan(1e-6);
  });

  holds('no current between 0 and the minimum but in the last step before full', ({ columns, grid, plan }) => {
    const car = columns.points[0]!;
    const { rules } = plan.points[0]!;
    for (let k = 0; k < grid.steps; k++) {
      const currentA = carCurrentA(plan, car, k);
      const minA = car.phases[k] === rules.least.n ? rules.least.minA : rules.most.minA;
      if (currentA > 0 && currentA < minA - 1e-9) expect(car.soc[k]).toBe(0.8);
      if (currentA > 0) expect(currentA).toBeLessThanOrEqual(rules.most.maxA + 1e-9);
    }
  });

  holds('power flows in the charging states only, and never without a car', ({ columns, grid }) => {
    const car = columns.points[0]!;
    const wrong: number[] = [];
    for (let k = 0; k < grid.steps; k++) {
      const flows = car.powerW[k]! > 0;
      if (flows !== DRAWING.has(car.state[k]!) || flows !== car.phases[k]! > 0) wrong.push(k);
    }
    expect(wrong).toEqual([]);
  });

  holds('the car never takes a phase over its fuse; the house alone may', ({ columns, grid, plan, profiles }) => {
    const car = columns.points[0]!;
    for (const phase of [1, 2, 3] as const) {
      const lineA = lineCurrentA(plan, profiles, columns, phase);
      const terminal = plan.points[0]!.wiring.indexOf(phase);
      for (let k = 0; k < grid.steps; k++) {
        if (car.phases[k]! > terminal) expect(lineA[k]!).toBeLessThanOrEqual(plan.mainFuseA + 1e-6);
      }
    }
  });

  holds('at share 1, surplus that reaches the threshold is never exceeded', ({ columns, grid, plan }, hand) => {
    if (hand.control?.surplusShare !== 1 || hand.control.strategy === 'at-once') return;
    const { state } = columns.points[0]!;
    expect(state.slice(0, grid.steps).filter((code) => code === State.topped)).toHaveLength(0);
    expect(plan.points[0]!.rules.surplusShare).toBe(1);
  });

  holds('the state of charge stays in its bounds', ({ columns }) => {
    const { soc } = columns.points[0]!;
    expect(soc.filter((value) => !(value >= 0 && value <= 0.8 + 1e-12))).toHaveLength(0);
  });

  holds('the ledger adds up the columns, and what was stored', ({ columns, grid, ledger, plan, drives }) => {
    const car = columns.points[0]!;
    const sums = ledger.total.points[0]!;
    const stepH = grid.stepS / 3600;
    const sum = (values: Float64Array): number => values.reduce((a, b) => a + b, 0) * stepH;
    expect(sums.carWh).toBeCloseTo(sum(car.powerW), 6);
    expect(sums.carPvWh).toBeCloseTo(sum(car.pvW), 6);
    expect(sums.carPvWh + sums.carGridWh).toBeCloseTo(sums.carWh, 6);
    const { capacityWh, startWh } = plan.points[0]!.car;
    const usedWh = drives.reduce((total, drive) => total + drive.usedWh, 0);
    expect(startWh + sums.storedWh - usedWh).toBeCloseTo((car.soc.at(-1) ?? 0) * capacityWh, 5);
    expect(sums.solarChargingH).toBeLessThanOrEqual(sums.chargingH + 1e-9);
  });

  holds('events and states tell the same story', ({ columns, events, grid }) => {
    const { state, phases } = columns.points[0]!;
    for (const event of events) {
      expect(event.step).toBeLessThan(grid.steps);
      if (event.event === 'stall') expect([State.resting, State.short]).toContain(state[event.step]!);
      if (event.event === 'switch') expect(state[event.step]).toBe(State.switching);
      if (event.event === 'full') expect(state[event.step]).toBe(State.full);
      // A car that wakes up without sun stalls before it drew anything.
      if (event.event === 'stall' && phases[event.step - 1]! > 0) expect(event.phasesFrom).toBe(phases[event.step - 1]);
    }
  });
});
