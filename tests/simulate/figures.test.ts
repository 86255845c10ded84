import { describe, expect, test } from 'vitest';
import { figuresOf, lineCurrentA, perDay, type Run, reachOf, tally } from '../../src/simulate/index.ts';
import { type HandCase, runHand, summed } from './hand.ts';
import { randomDay } from './random-day.ts';

/** A one-phase car at 16 A for an hour, from minute 0 on; nothing else in the house. */
const ONE_PHASE: HandCase = {
  pv: [[60, 0]],
  charger: { phases: 1 },
  vehicle: { phases: 1, startLagS: 0 },
  control: { strategy: 'at-once' },
};

describe('figures: what the conductors carried', () => {
  test('peaks, imbalance and rated power of one car on phase 1', () => {
    const figures = figuresOf(runHand(ONE_PHASE));
    expect(figures).toMatchObject({ peakImportA: [16, 0, 0], imbalanceA: 16, ratedVA: 3680, nearFuseH: 0, overFuseH: 0 });
    expect(figures).toMatchObject({
      carWh: 3680,
      carPvWh: 0,
      carBatteryWh: 0,
      carGridWh: 3680,
      batteryCycles: null,
      missedKm: 0,
    });
  });

  test('a second one-phase car: on the same phase 32 A apart, rotated 16 A', () => {
    const both = (wiring: number[]) => figuresOf(runHand({ ...ONE_PHASE, more: [{ ...ONE_PHASE, wiring }] }));
    expect(both([1, 2, 3])).toMatchObject({ peakImportA: [32, 0, 0], imbalanceA: 32, ratedVA: 7360 });
    expect(both([2, 3, 1])).toMatchObject({ peakImportA: [16, 16, 0], imbalanceA: 16 });
  });

  test('currents flow as built: the law steers by phase 2 and loads phase 1 over the fuse', () => {
    // The house takes 20 A on phase 1, the fuse holds 35 A, the car 16 A: 36 A, a minute of each of the sixty.
    const wrong = {
      ...ONE_PHASE,
      house: [[60, 4600]] as const,
      wiring: [2, 3, 1],
      charger: { phases: 1 as const, wiringAsBuilt: [1, 2, 3] },
    };
    const figures = figuresOf(runHand(wrong));
    expect(figures.peakImportA).toEqual([36, 0, 0]);
    expect(figures.overFuseH).toBeCloseTo(1, 12);
    expect(figures.nearFuseH).toBeCloseTo(1, 12);
    expect(figuresOf(runHand({ ...wrong, charger: { phases: 1 } }))).toMatchObject({ overFuseH: 0, peakImportA: [20, 16, 0] });
  });

  test('near the fuse from nine tenths on, export included; above it only beyond', () => {
    const house = (currentA: number) =>
      figuresOf(runHand({ mainFuseA: 20, stays: [], pv: [[60, 0]], house: [[60, 230 * currentA]] }));
    expect(house(17.9)).toMatchObject({ nearFuseH: 0, overFuseH: 0 });
    expect(house(18)).toMatchObject({ nearFuseH: 1, overFuseH: 0 });
    expect(house(20)).toMatchObject({ nearFuseH: 1, overFuseH: 0 });
    expect(house(20.1)).toMatchObject({ nearFuseH: 1, overFuseH: 1 });
    const sunny = figuresOf(runHand({ mainFuseA: 20, stays: [], pv: [[60, 3 * 230 * 19]] }));
    expect(sunny).toMatchObject({ nearFuseH: 1, overFuseH: 0, peakImportA: [0, 0, 0] });
  });

  test('a hot-water rod lies on all phases alike', () => {
    // 3000 W of sun on phase 1 alone, 1500 W into the rod: 500 W on each phase.
    const rod = { maxW: 1500, dailyWh: 6000, priority: 'diverter' } as const;
    const { peakImportA } = figuresOf(runHand({ stays: [], pv: [[60, 3000]], pvPhases: [1], diverter: rod }));
    expect(peakImportA[0]).toBe(0);
    expect(peakImportA[1]).toBeCloseTo(500 / 230, 12);
    expect(peakImportA[2]).toBeCloseTo(500 / 230, 12);
  });

  test('in a house of one phase the rod lies on that one only', () => {
    // 3000 W of sun into the rod: nothing passes the meter, though the rod alone would be 13 A on a fuse of 13.
    const rod = { maxW: 3000, dailyWh: 6000, priority: 'diverter' } as const;
    const lone = { stays: [], pv: [[60, 3000]] as const, supply: { phases: 1 as const }, mainFuseA: 13, diverter: rod };
    expect(figuresOf(runHand(lone))).toMatchObject({ nearFuseH: 0, overFuseH: 0 });
  });

  test('a single phase has nothing to be out of balance with', () => {
    const figures = figuresOf(runHand({ ...ONE_PHASE, supply: { phases: 1 }, wiring: [1] }));
    expect(figures).toMatchObject({ imbalanceA: 0, peakImportA: [16] });
  });

  test('the same as lineCurrentA, phase by phase, on 60 random days of the whole law', () => {
    for (let seed = 1; seed <= 60; seed++) {
      const run = runHand(randomDay(seed));
      const { peakImportA, overFuseH } = figuresOf(run);
      const lines = ([1, 2, 3] as const)
        .slice(0, run.plan.buildingPhases)
        .map((p) => lineCurrentA(run.plan, run.profiles, run.columns, p));
      for (const [p, line] of lines.entries()) expect(peakImportA[p]).toBeCloseTo(Math.max(0, ...line), 9);
      const over = lines[0]?.filter((_, k) => lines.some((line) => Math.abs(line[k]!) > run.plan.mainFuseA + 1e-6)).length ?? 0;
      expect(overFuseH).toBeCloseTo((over * run.grid.stepS) / 3600, 9);
    }
  });
});

describe('figures: counts a day', () => {
  test('mean, nearest rank of 95 %, worst', () => {
    // Of 20 days the 19th in order is the 95th percentile, of 21 the 20th.
    const days = Array.from({ length: 20 }, (_, i) => i + 1);
    expect(perDay(days)).toEqual({ mean: 10.5, p95: 19, worst: 20 });
    expect(perDay([...days, 21])).toMatchObject({ p95: 20, worst: 21 });
    expect(perDay([3])).toEqual({ mean: 3, p95: 3, worst: 3 });
  });

  test('a start closes the contactor once, a phase switch once more', () => {
    // One phase at 1500 W, then three phases at 5000 W: one start, one switch.
    const run = runHand({
      pv: [
        [40, 1500],
        [40, 5000],
      ],
    });
    const { points } = figuresOf(run);
    expect(points[0]).toMatchObject({
      startsPerDay: { mean: 1, p95: 1, worst: 1 },
      closingsPerDay: { mean: 2, p95: 2, worst: 2 },
    });
  });

  test('two days: a day of one start and one of none', () => {
    const run = runHand({
      pv: [
        [40, 1500],
        [40, 0],
      ],
      control: { stopDelayS: 0 },
    });
    const grid = { ...run.grid, dayStart: Int32Array.of(0, 40, 80), dayMs: Float64Array.of(0, 86_400_000) };
    const plan = { ...run.plan, grid };
    const twoDays: Run = { ...run, grid, plan, ledger: tally(plan, summed(run.columns), run.events, run.drives) };
    expect(figuresOf(twoDays).points[0]?.startsPerDay).toEqual({ mean: 0.5, p95: 1, worst: 1 });
  });
});

describe('figures: batteries and departures', () => {
  test('full cycles: what left the cells, by the capacity', () => {
    // Round trip 0.81, so 0.9 each way: an hour of 1800 W takes 2000 Wh out of 8000 Wh.
    const run = runHand({ stays: [], pv: [[60, 0]], house: [[60, 1800]], battery: { roundTripShare: 0.81 } });
    expect(figuresOf(run).batteryCycles).toBeCloseTo(0.25, 12);
  });

  // 170 Wh a km, nothing lost: 16 A on one phase, 3680 Wh an hour.
  const NEEDY: HandCase = {
    ...ONE_PHASE,
    vehicle: { phases: 1, startLagS: 0, standbyW: 0, conversionShare: 1, batteryWh: 50_000, startSoc: 0, targetSoc: 1 },
    needs: { departureKm: 20 },
  };

  test('a departure with too little: how far it fell short', () => {
    const run = runHand({
      ...NEEDY,
      pv: [[90, 0]],
      stays: [
        [0, 30, 0],
        [40, 90, 1],
      ],
    });
    const { points } = figuresOf(run);
    // 3400 Wh wanted. 1840 Wh at minute 30; less 170, and 50 min more: 4736.7 Wh at minute 90.
    expect(points[0]?.departures).toBe(2);
    expect(points[0]?.missedDepartures).toHaveLength(1);
    expect(points[0]?.missedDepartures[0]).toMatchObject({ step: 30 });
    expect(points[0]?.missedDepartures[0]?.shortWh).toBeCloseTo(1560, 6);
    expect(points[0]?.missedDepartures[0]?.shortKm).toBeCloseTo(1560 / 170, 9);
  });

  test('nothing asked for, no departure is missed; one after the end of the run is not counted', () => {
    const stays = [[0, 30, 0]] as const;
    expect(figuresOf(runHand({ ...NEEDY, needs: {}, stays })).points[0]).toMatchObject({ departures: 0, missedDepartures: [] });
    expect(figuresOf(runHand({ ...NEEDY, stays: [[0, 90, 0]] })).points[0]).toMatchObject({ departures: 0 });
  });

  test('kilometres that the battery could not cover', () => {
    const run = runHand({ ...NEEDY, vehicle: { ...NEEDY.vehicle, startSoc: 0.068 }, stays: [[10, 60, 50]] });
    // 3400 Wh are 20 km of the 50.
    expect(figuresOf(run).missedKm).toBeCloseTo(30, 9);
  });

  test('reach: in the best case the same departure lacks the same, and one more minute each way', () => {
    const plan = runHand({
      ...NEEDY,
      pv: [[90, 0]],
      stays: [
        [0, 30, 0],
        [40, 90, 1],
      ],
    }).plan;
    const reach = reachOf(plan, 0);
    expect(reach.departures).toBe(2);
    expect(reach.outOfReach).toHaveLength(1);
    expect(reach.outOfReach[0]?.shortWh).toBeCloseTo(1560, 6);
    // 3400 Wh take 55.4 minutes: 56 are enough, 55 are not.
    const stay = (minutes: number) =>
      reachOf(runHand({ ...NEEDY, pv: [[90, 0]], stays: [[0, minutes, 0]] }).plan, 0).outOfReach.length;
    expect([stay(55), stay(56)]).toEqual([1, 0]);
  });

  test('reach: a smaller fuse or contract, or a limit of imbalance, puts it further off', () => {
    const short = (supply: HandCase['supply']) =>
      reachOf(runHand({ ...NEEDY, supply: { ...supply }, pv: [[90, 0]], stays: [[0, 56, 0]] }).plan, 0).outOfReach[0]?.shortWh ??
      0;
    // 10 A for 56 minutes: 2146.7 Wh.
    expect(short({ mainFuseA: 10 })).toBeCloseTo(3400 - (2300 * 56) / 60, 6);
    expect(short({ contractW: 2300 })).toBeCloseTo(3400 - (2300 * 56) / 60, 6);
    expect(short({ imbalanceLimitA: 10 })).toBeCloseTo(3400 - (2300 * 56) / 60, 6);
    expect(short({})).toBe(0);
  });
});
