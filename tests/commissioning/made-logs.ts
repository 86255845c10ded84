import { type Chance, chance, MS_PER_S } from '../../src/base/index.ts';
import type { WiringLog } from '../../src/commissioning/index.ts';
import { carCurrentA, planOf, type Run, runPlan } from '../../src/simulate/index.ts';
import { type HandCase, type HandPoint, scenarioOf } from '../simulate/hand.ts';

/** How a made log was wired: the building phase of each terminal by charger, and the sign of each of the meter's transformers. */
export interface Wired {
  readonly order: readonly (readonly number[])[];
  readonly signs: readonly number[];
}

/** A made log with the truth about it. */
export interface MadeLog {
  readonly log: WiringLog;
  readonly truth: Wired;
  readonly hand: HandCase;
}

const U = 230;

/** What a household with its own ways draws on one phase, W: a base, and appliances of up to 3 kW that come and go. */
export function steppy(draw: Chance, steps: number, stepS: number, perHour: number): Float64Array {
  const loadW = new Float64Array(steps).fill(60 + 200 * draw.uniform());
  const count = Math.round(((steps * stepS) / 3600) * perHour * (0.5 + draw.uniform()));
  for (let i = 0; i < count; i++) {
    const from = Math.floor(draw.uniform() * steps);
    const lasts = Math.max(1, Math.round((20 * 180 ** draw.uniform()) / stepS));
    const powerW = 30 * 100 ** draw.uniform();
    for (let k = from; k < Math.min(steps, from + lasts); k++) loadW[k]! += powerW;
  }
  return loadW.map((w) => w + 8 * draw.normal());
}

/** A roof under passing clouds, W. */
export function passingClouds(draw: Chance, steps: number, stepS: number, peakW: number): Float64Array {
  const out = new Float64Array(steps);
  let clear = draw.uniform() < 0.6;
  let left = 0;
  let now = clear ? 1 : 0.2;
  for (let k = 0; k < steps; k++) {
    if (left-- <= 0) {
      clear = !clear;
      left = Math.round((240 * 12 ** draw.uniform()) / stepS);
    }
    const aim = clear ? 1 : 0.1 + 0.2 * draw.uniform();
    now += (aim - now) * Math.min(1, stepS / 60);
    out[k] = peakW * now * (0.7 + 0.3 * Math.sin((Math.PI * k) / steps));
  }
  return out;
}

/** Cars by chance: what they can do, and when they are there. */
function randomPoint(draw: Chance, wiring: readonly number[]): HandPoint {
  const pick = <T>(...choices: T[]): T => choices[Math.floor(draw.uniform() * choices.length)]!;
  return {
    charger: {
      phases: pick<1 | 3 | 'switchable'>(3, 'switchable', 'switchable', 1),
      maxCurrentA: pick(16, 16, 32),
      currentStepA: pick(1, 0.1),
    },
    vehicle: { phases: pick<1 | 2 | 3>(1, 2, 3, 3), maxCurrentA: pick(16, 32), startLagS: pick(20, 60, 60) },
    wiring,
  };
}

/** All ways to join three terminals to three phases. */
export const ORDERS = [
  [1, 2, 3],
  [1, 3, 2],
  [2, 1, 3],
  [2, 3, 1],
  [3, 1, 2],
  [3, 2, 1],
];

/**
 * One to three chargers wired by chance behind a household with steps, as two loggers would have it.
 *
 * @param hostile  what a log should be spared: no delays (cars answer appliances in the same moment), PV and a battery that answers the
 *                 cars on single phases, clocks that differ by rows, a meter that logs amounts only
 */
export function randomWiringLog(seed: number, hostile = false): MadeLog {
  const draw = chance(seed, hostile ? 'hostile log' : 'wiring log');
  const pick = <T>(...choices: T[]): T => choices[Math.floor(draw.uniform() * choices.length)]!;
  const stepS = pick(10, 60);
  const steps = Math.round((3600 * pick(2, 4, 8)) / stepS);
  const count = pick(1, 1, 2, 3);
  const peakW = pick(4000, 7000, 12_000) * Math.sqrt(count);
  const delayS = hostile ? pick(0, 0, 30, 60) : pick(60, 60, 120, 180);
  const points = Array.from({ length: count }, () => randomPoint(draw, [1, 2, 3]));
  const hand: HandCase = {
    stepS,
    ...points[0],
    more: points.slice(1),
    pv: [[steps, 0]],
    ...(hostile ? { pvPhases: pick([1], [2], [3], [1, 2, 3]) } : {}),
    ...(hostile && draw.uniform() < 0.6
      ? {
          battery: {
            phases: pick([1], [2], [3], [1, 2, 3]),
            dischargeToCar: draw.uniform() < 0.7,
            priority: pick({ kind: 'battery' as const }, { kind: 'car' as const }),
            maxChargeW: pick(2500, 5000),
            maxDischargeW: pick(2500, 5000),
          },
        }
      : {}),
    smoothingS: pick(0, 30),
    control: {
      surplusShare: pick(1, 1, 0.6),
      startDelayS: delayS,
      stopDelayS: delayS,
      switchUpDelayS: 2 * delayS,
      switchDownDelayS: delayS,
      switchPauseS: pick(30, 60),
      restartPauseS: pick(60, 120),
    },
  };
  const scenario = scenarioOf(hand);
  const perHour = pick(1, 4, 12);
  const loads = [1, 2, 3].map(() => steppy(draw, steps, stepS, perHour / 3)) as [Float64Array, Float64Array, Float64Array];
  const profiles = {
    pvW: passingClouds(draw, steps, stepS, peakW),
    loadByPhaseW: loads,
    loadW: loads[0].map((w, k) => w + loads[1][k]! + loads[2][k]!),
  };
  const run = runPlan(planOf(scenario), profiles);
  // Mostly honest orders; some with two terminals on one phase; transformers mostly the right way round.
  const order = points.map(() => (draw.uniform() < 0.1 ? [pick(1, 2, 3), pick(1, 2, 3), pick(1, 2, 3)] : pick(...ORDERS)));
  const signs = [1, 2, 3].map(() => (draw.uniform() < 0.12 ? -1 : 1));
  const log = logged(run, { order, signs }, draw);
  return { log: hostile ? spoiled(log, draw) : log, truth: { order, signs }, hand };
}

/** What two loggers write of a run: noise, and transformers off by 0.5 to 5 %. */
export function logged(run: Run, { order, signs }: Wired, draw: Chance, onOnly = false): WiringLog {
  const { steps, stepS, startMs } = run.grid;
  const gain = (): number => 1 + (draw.uniform() < 0.5 ? -1 : 1) * (0.005 + 0.045 * draw.uniform());
  const noiseA = 0.02 + 0.13 * draw.uniform();
  const noisy = (currentA: Float64Array, factor: number): Float64Array =>
    currentA.map((a) => a * factor + noiseA * draw.normal());
  const { pvShare, battery } = run.plan;
  const netA = [0, 1, 2].map((p) => {
    const batteryShare = battery?.share[p] ?? 0;
    return run.profiles.loadByPhaseW[p]!.map(
      (w, k) => (w - pvShare[p]! * run.profiles.pvW[k]! + batteryShare * run.columns.batteryW[k]!) / U,
    );
  });
  const terminals = run.columns.points.map((car, i) =>
    [0, 1, 2].map((t) => {
      const currentA = new Float64Array(steps);
      for (let k = 0; k < steps; k++) if (car.phases[k]! > t) currentA[k] = carCurrentA(run.plan, car, k);
      const phase = order[i]![t]!;
      for (let k = 0; k < steps; k++) netA[phase - 1]![k]! += currentA[k]!;
      return currentA;
    }),
  );
  const meterA = netA.map((currentA, p) => noisy(currentA, signs[p]! * gain())) as [Float64Array, Float64Array, Float64Array];
  const chargers = terminals.map((currents) => {
    if (onOnly) return { kind: 'on' as const, on: currents[0]!.map((a) => (a > 1 ? 1 : 0)) };
    const terminalsA = currents.map((currentA) => noisy(currentA, gain())) as [Float64Array, Float64Array, Float64Array];
    return { kind: 'currents' as const, terminalsA };
  });
  const atMs = Float64Array.from({ length: steps }, (_, k) => startMs + k * stepS * MS_PER_S);
  const table = { file: 'made', rows: steps, intervalS: stepS, atMs, gapBefore: new Uint8Array(steps), columns: new Map() };
  return { table, meterA, chargers };
}

/** A log with the meter's clock off by up to two rows, and in a third of the cases amounts without sign. */
function spoiled(log: WiringLog, draw: Chance): WiringLog {
  const shift = Math.floor(draw.uniform() * 5) - 2;
  const amounts = draw.uniform() < 0.33;
  const meterA = log.meterA.map((currentA) =>
    currentA.map((_, k) => {
      const a = currentA[Math.min(currentA.length - 1, Math.max(0, k + shift))]!;
      return amounts ? Math.abs(a) : a;
    }),
  ) as unknown as WiringLog['meterA'];
  return { ...log, meterA };
}
