import { chance, MS_PER_S } from '../../src/base/index.ts';
import { State } from '../../src/charging/index.ts';
import type { RunLog } from '../../src/commissioning/index.ts';
import { carCurrentA, planOf, type Run, runPlan } from '../../src/simulate/index.ts';
import { type HandCase, scenarioOf } from '../simulate/hand.ts';
import { passingClouds, steppy } from './made-logs.ts';

/** A made log of a running system, and the system it is of. */
export interface MadeRun {
  readonly log: RunLog;
  readonly run: Run;
  readonly hand: HandCase;
}

/** A system by chance under passing clouds, as a logger would have it. */
export function randomRunLog(seed: number): MadeRun {
  const draw = chance(seed, 'run log');
  const pick = <T>(...choices: T[]): T => choices[Math.floor(draw.uniform() * choices.length)]!;
  const between = (low: number, high: number, step: number): number =>
    low + step * Math.floor(((high - low) / step + 1) * draw.uniform());
  const stepS = pick(10, 60, 60);
  const steps = Math.round((3600 * pick(10, 20, 40)) / stepS / (stepS === 10 ? 4 : 1));
  const minA = pick(6, 6, 7, 8, 10);
  const charger = pick<1 | 3 | 'switchable'>(1, 3, 'switchable', 'switchable');
  const startDelayS = between(60, 300, 30);
  const hand: HandCase = {
    stepS,
    pv: [[steps, 0]],
    smoothingS: pick(0, 10, 30, 60),
    charger: { phases: charger, maxCurrentA: pick(16, 32), currentStepA: pick(0.1, 0.5, 1, 1) },
    vehicle: {
      phases: pick<1 | 2 | 3>(1, 2, 3, 3),
      maxCurrentA: 16,
      minCurrentA: [minA, minA, pick(6, minA)],
      startLagS: between(0, 120, 10),
    },
    control: {
      surplusShare: between(0.3, 1, 0.05),
      topUp: pick('minimum', 'minimum', 'proportional'),
      startDelayS,
      stopDelayS: between(60, 600, 30),
      switchUpDelayS: between(60, 600, 60),
      switchDownDelayS: between(60, 300, 60),
      switchPauseS: between(10, 120, 10),
      restartPauseS: between(60, 400, 30),
    },
  };
  const scenario = scenarioOf(hand);
  const loads = [1, 2, 3].map(() => steppy(draw, steps, stepS, 1)) as [Float64Array, Float64Array, Float64Array];
  const profiles = {
    pvW: passingClouds(draw, steps, stepS, pick(3000, 6000, 9000)),
    loadByPhaseW: loads,
    loadW: loads[0].map((w, k) => w + loads[1][k]! + loads[2][k]!),
  };
  const run = runPlan(planOf(scenario), profiles);
  const kind = pick<LogKind>('all', 'all', 'no-offer', 'grid', 'power');
  return { log: loggedRun(run, kind, (sd) => sd * draw.normal()), run, hand };
}

/** Which columns a made log has. */
export type LogKind = 'all' | 'no-offer' | 'grid' | 'power';

/** What a logger writes of a run. */
export function loggedRun(run: Run, kind: LogKind, noise: (deviation: number) => number): RunLog {
  const { steps, stepS, startMs } = run.grid;
  const car = run.columns.points[0]!;
  const noisy = (values: Float64Array, deviation: number): Float64Array => values.map((value) => value + noise(deviation));
  const trueA = Float64Array.from({ length: steps }, (_, k) => carCurrentA(run.plan, car, k));
  const currentA = trueA.map((a) => (a === 0 ? 0 : a + noise(0.03)));
  const carW = noisy(car.powerW, 5);
  const offers = (k: number): boolean => car.powerW[k]! > 0 || car.state[k] === State.waking || car.state[k] === State.refusing;
  const offeredA = Float64Array.from({ length: steps }, (_, k) => (offers(k) ? Math.max(6, trueA[k]!) : 0));
  const gridW = noisy(
    Float64Array.from({ length: steps }, (_, k) => run.columns.gridImportW[k]! - run.columns.gridExportW[k]!),
    5,
  );
  const pvW = noisy(run.profiles.pvW, 5);
  const houseW = noisy(run.profiles.loadW, 5);
  const fromMeter = kind === 'grid' || kind === 'power';
  const atMs = Float64Array.from({ length: steps }, (_, k) => startMs + k * stepS * MS_PER_S);
  return {
    table: { file: 'made', rows: steps, intervalS: stepS, atMs, gapBefore: new Uint8Array(steps), columns: new Map() },
    pvW: fromMeter ? null : pvW,
    houseW: fromMeter ? null : houseW,
    gridW: fromMeter ? gridW : null,
    carW,
    phases: kind === 'power' ? null : car.phases,
    currentA: kind === 'power' ? null : currentA,
    offeredA: kind === 'all' ? offeredA : null,
    surplusW: fromMeter ? gridW.map((w, k) => carW[k]! - w) : pvW.map((w, k) => w - houseW[k]!),
    voltageV: 230,
  };
}
