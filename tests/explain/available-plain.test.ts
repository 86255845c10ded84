import { expect, test } from 'vitest';
import { batteryFirstW, hiddenW, houseOnPhaseW, seenOnPhaseW } from '../../src/explain/available.ts';
import { surplusOfPoints } from '../../src/explain/index.ts';
import type { Diverter } from '../../src/scenario/index.ts';
import { type HandCase, runHand } from '../simulate/hand.ts';
import { type RandomRun, randomRuns, runOf } from './random-runs.ts';

const RODS: readonly (Diverter | null)[] = [
  null,
  { maxW: 1500, dailyWh: 4000, priority: 'diverter' },
  { maxW: 1500, dailyWh: 4000, priority: 'car' },
];

/** Random households, one in three with a rod that comes first and one in three with a rod that comes last. */
function* households(count: number): Generator<RandomRun> {
  let i = 0;
  for (const { hand } of randomRuns(count, 700_000)) {
    const rod = RODS[i++ % 3] ?? null;
    yield runOf(rod === null ? hand : { ...hand, diverter: rod })!;
  }
}

/** What a battery that comes first takes in each step: rule 1, from what was stored before. */
function firstOf({ scenario: { battery, grid }, run }: RandomRun, houseW: number[]): number[] {
  if (battery === null) return houseW.map(() => 0);
  const upTo = battery.priority.kind === 'until' ? battery.priority.untilSoc : battery.priority.kind === 'battery' ? 1 : 0;
  return houseW.map((house, k) => {
    const soc = k === 0 ? battery.startSoc : run.columns.batterySoc[k - 1]!;
    const roomW = (Math.max(0, upTo - soc) * battery.capacityWh) / Math.sqrt(battery.roundTripShare) / (grid.stepS / 3600);
    return Math.min(battery.maxChargeW, roomW, Math.max(0, run.profiles.pvW[k]! - house));
  });
}

/** Rule 1 by its text: F for so many phases at each charge point, from what was put in and what cars and battery drew. */
function plainSurplus(made: RandomRun): { leastW: number[]; mostW: number[] }[] {
  const { run, scenario } = made;
  const { columns, profiles, plan } = run;
  const { control, supply, battery, grid, pv, diverter } = scenario;
  const weight = control.smoothingS > 0 ? 1 - Math.exp(-grid.stepS / control.smoothingS) : 1;
  const steps = [...profiles.pvW.keys()];
  const rodW = steps.map((k) => (diverter?.priority === 'diverter' ? columns.loadW[k]! - profiles.loadW[k]! : 0));
  const houseW = steps.map((k) => profiles.loadW[k]! + rodW[k]!);
  const firstW = firstOf(made, houseW);
  const found = plan.points.map(() => ({ leastW: [] as number[], mostW: [] as number[] }));
  const smoothed = (before: number | undefined, seen: number): number =>
    before === undefined ? seen : before + weight * (seen - before);

  if (supply.metering === 'net') {
    let f: number | undefined;
    for (const k of steps) {
      let seen = profiles.pvW[k]! - houseW[k]! - firstW[k]!;
      if (supply.exportLimitW !== null && !control.seesCurtailedPv) {
        const carsW = k === 0 ? 0 : columns.points.reduce((sum, car) => sum + car.powerW[k - 1]!, 0);
        const beyondW = k === 0 ? 0 : Math.max(0, columns.batteryW[k - 1]! - firstW[k - 1]!);
        seen = Math.min(seen, supply.exportLimitW + carsW + beyondW);
      }
      f = smoothed(f, seen);
      let left = Math.max(0, f - control.reserveW);
      for (const [i, car] of columns.points.entries()) {
        found[i]!.leastW.push(left);
        found[i]!.mostW.push(left);
        left = Math.max(0, left - car.powerW[k]!);
      }
    }
    return found;
  }

  const share = (phases: readonly number[], p: number): number => (phases.includes(p) ? 1 / phases.length : 0);
  const f: (number | undefined)[] = [];
  for (const k of steps) {
    const earlierW = [0, 0, 0, 0];
    for (const p of [1, 2, 3]) {
      const rodPart = p <= supply.phases ? rodW[k]! / supply.phases : 0;
      const houseHereW = profiles.loadByPhaseW[p - 1]![k]! + rodPart;
      const batteryHereW = battery === null ? 0 : firstW[k]! * share(battery.phases, p);
      f[p] = smoothed(f[p], profiles.pvW[k]! * share(pv.phases, p) - houseHereW - batteryHereW);
    }
    for (const [i, { wiring, rules }] of plan.points.entries()) {
      const onPhases = (n: number): number => {
        const each = [...wiring].slice(0, n).map((p) => Math.max(0, f[p]! - control.reserveW / 3) - earlierW[p]!);
        return n * Math.max(0, Math.min(...each));
      };
      found[i]!.leastW.push(onPhases(rules.least.n));
      found[i]!.mostW.push(onPhases(rules.most.n));
      const car = columns.points[i]!;
      for (const p of [...wiring].slice(0, car.phases[k]!)) earlierW[p]! += car.powerW[k]! / car.phases[k]!;
    }
  }
  return found;
}

test('surplusOfPoints: rule 1 by its text, in every step of 24 random days, rods included, to 1e-6 W', () => {
  for (const made of households(24)) {
    const plain = plainSurplus(made);
    surplusOfPoints(made.run).forEach((own, i) => {
      const worst = (got: Float64Array, want: number[]): number =>
        got.reduce((most, w, k) => Math.max(most, Math.abs(w - want[k]!)), 0);
      expect(worst(own.leastW, plain[i]!.leastW), JSON.stringify(made.hand.control)).toBeLessThan(1e-6);
      expect(worst(own.mostW, plain[i]!.mostW)).toBeLessThan(1e-6);
      if (!made.run.plan.perPhase) expect(own.mostW).toBe(own.leastW);
    });
  }
});

test('by hand: smoothed over a minute, less the reserve, less what the first car draws', () => {
  const run = runHand({
    pv: [
      [20, 3000],
      [10, 5000],
    ],
    house: [[30, 600]],
    smoothingS: 60,
    reserveW: 100,
    charger: { phases: 1 },
    more: [{ charger: { phases: 1 } }],
  });
  const [first, second] = surplusOfPoints(run);
  // 3000 W of sun and 600 W of house; 10 A, 2300 W, from step 4 on.
  expect(first!.leastW[0]).toBe(2300);
  expect(second!.leastW[3]).toBe(2300);
  expect(run.columns.points[0]!.powerW[4]).toBe(2300);
  expect(second!.leastW[4]).toBe(0);
  // The cloud leaves: f goes 63.2 % of the way in the first minute.
  expect(first!.leastW[20]).toBeCloseTo(2300 + 2000 * (1 - Math.exp(-1)), 9);
});

test('by hand: what an export limit hides, and what cars and a battery bring to light', () => {
  const behind: HandCase = { pv: [[30, 5000]], charger: { phases: 1 }, supply: { exportLimitW: 1500 }, house: [[30, 500]] };
  const run = runHand(behind);
  // 4500 W to spare, 1500 W to be seen; the car starts at 6 A and then shows 1380 W more, 2880 W, of which it takes 12 A.
  expect(hiddenW(run, 0)).toBe(3000);
  expect(surplusOfPoints(run)[0]!.leastW.slice(0, 6)).toEqual(Float64Array.of(1450, 1450, 1450, 1450, 1450, 2830));
  expect(hiddenW(run, 5)).toBe(1620);
  expect(hiddenW(runHand({ ...behind, control: { seesCurtailedPv: true } }), 0)).toBe(0);
  expect(hiddenW(runHand({ ...behind, supply: { exportLimitW: 1500, metering: 'per-phase' } }), 0)).toBe(0);
  expect(hiddenW(runHand({ ...behind, supply: {} }), 0)).toBe(0);
  // The first step is seen at once, however slowly the controller follows.
  expect(surplusOfPoints(runHand({ ...behind, smoothingS: 600 }))[0]!.leastW[0]).toBe(1450);
  // More is allowed than there is.
  expect(hiddenW(runHand({ ...behind, supply: { exportLimitW: 4600 } }), 0)).toBe(0);
  // A battery that yields to the car takes 2000 W in the first step: they show in the second.
  const yields = runHand({ ...behind, battery: { priority: { kind: 'car' }, maxChargeW: 2000 } });
  expect([hiddenW(yields, 0), hiddenW(yields, 1)]).toEqual([3000, 1000]);
  // One that comes first takes its 2000 W off the surplus, and shows nothing beyond them.
  const first = runHand({ ...behind, battery: { priority: { kind: 'battery' }, maxChargeW: 2000 } });
  expect([batteryFirstW(first, 0), hiddenW(first, 0), hiddenW(first, 1)]).toEqual([2000, 1000, 1000]);
  expect(batteryFirstW(run, 0)).toBe(0);
});

test('by hand: one building phase, with its part of sun, rod and battery', () => {
  // 3000 W on phases 1 and 3; the rod's 900 W lie on all three, the battery's 600 W on phase 3.
  const run = runHand({
    pv: [[10, 3000]],
    pvPhases: [1, 3],
    houseByPhase: [[[10, 200]], [[10, 300]], [[10, 0]]],
    supply: { metering: 'per-phase' },
    diverter: { maxW: 900, dailyWh: 6000, priority: 'diverter' },
    battery: { maxChargeW: 600, phases: [3] },
    stays: [],
  });
  expect([0, 1, 2].map((p) => houseOnPhaseW(run, p, 0))).toEqual([500, 600, 300]);
  expect([0, 1, 2].map((p) => seenOnPhaseW(run, p, 0))).toEqual([1000, -600, 600]);
});

test('by hand: what a car on three phases leaves on each of them', () => {
  const run = runHand({
    pv: [[10, 20_000]],
    supply: { metering: 'per-phase' },
    reserveW: 30,
    charger: { phases: 3 },
    more: [{ charger: { phases: 1 }, wiring: [2, 3, 1] }],
  });
  // 20 kW are 6666.7 W a phase, 10 W of them in reserve; 16 A take 3680 W of each from step 4 on.
  const [first, second] = surplusOfPoints(run);
  expect(first!.leastW[4]).toBeCloseTo(20_000 - 30, 6);
  expect(second!.leastW[3]).toBeCloseTo(20_000 / 3 - 10, 6);
  expect(second!.leastW[4]).toBeCloseTo(20_000 / 3 - 10 - 3680, 6);
});
