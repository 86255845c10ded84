import { type Chance, chance } from '../../src/base/index.ts';
import { State, wholeSteps } from '../../src/charging/index.ts';
import { carCurrentA, type Run, simulate } from '../../src/simulate/index.ts';
import { scenarioOf, throughDoor } from '../scenario/door.ts';
import { ORDERS } from './made-logs.ts';

/*
 * Logs of whole scenarios: sky, roof, household and drives as the product makes them, days long, written as a logger writes them
 * (its own gains, its own fineness, rows missing), to be read back from the text.
 */

const pickFrom =
  (draw: Chance) =>
  <T>(...choices: T[]): T =>
    choices[Math.floor(draw.uniform() * choices.length)]!;

const SKY =
  'monthlyGhiKWhM2: [30, 50, 90, 125, 155, 162, 166, 142, 100, 62, 33, 24], monthlyTempC: [0, 1, 5, 9, 14, 17, 19, 19, 15, 10, 4, 0]';

const simulated = (yaml: string): Run => simulate(scenarioOf(throughDoor(yaml, 'made.yaml', () => null).checked));
const startOf = (draw: Chance): string =>
  `2025-0${3 + Math.floor(7 * draw.uniform())}-${String(1 + Math.floor(27 * draw.uniform())).padStart(2, '0')}`;
const stamp = (run: Run, k: number): string =>
  new Date(run.grid.startMs + k * run.grid.stepS * 1000).toISOString().replace('.000', '');
/** A value as it is written, to so many parts of one. */
const written = (value: number, finest: number): string =>
  (Math.round(value / finest) * finest).toFixed(finest < 0.1 ? 2 : finest < 1 ? 1 : 0);

/** A log of a running system, and how the system is set. */
export interface WholeRun {
  readonly csv: string;
  readonly run: Run;
  readonly stepS: number;
  readonly reserveW: number;
  readonly surplusShare: number;
  readonly currentStepA: number;
  /** Whole steps, in s. */
  readonly startDelayS: number;
  readonly stopDelayS: number;
  readonly switchUpDelayS: number;
  readonly switchDownDelayS: number;
  readonly lagS: number;
}

/** A system by chance, for two to six days at 10, 30 or 60 s. */
export function wholeRunLog(seed: number): WholeRun {
  const draw = chance(seed, 'whole run log');
  const pick = pickFrom(draw);
  const stepS = pick(10, 60, 60, 30);
  const minA = pick(6, 6, 6, 7, 8, 9, 10);
  const currentStepA = pick(1, 1, 0.5, 0.1);
  const [surplusShare, topUp] = [pick(1, 1, 1, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.25), pick('minimum', 'minimum', 'proportional')];
  const [start, stop, lag] = [pick(30, 60, 120, 180, 180, 300), pick(60, 120, 180, 180, 300, 600), pick(5, 15, 30, 60, 120)];
  const [up, down, reserveW] = [pick(60, 180, 300, 600, 900), pick(60, 120, 180, 300), pick(0, 50, 50, 100, 200)];
  const always = draw.uniform() < 0.35;
  const run = simulated(`
name: made
site: { latitude: ${46 + 8 * draw.uniform()}, longitude: 11, timeZone: Europe/Vienna }
period: { start: ${startOf(draw)}, days: ${stepS === 10 ? pick(2, 3) : pick(3, 4, 6)}, stepS: ${stepS} }
weather: { source: synthetic, seed: ${seed}, ${SKY} }
pv: { source: arrays, arrays: [{ kWp: ${(4 + 11 * draw.uniform()).toFixed(1)}, tiltDeg: 30, azimuthDeg: ${pick(120, 180, 220)} }] }
household: { source: synthetic, annualKWh: ${2500 + 3000 * draw.uniform()}, people: ${pick(1, 2, 3, 4)}, seed: ${seed} }
chargePoints:
  - charger: { phases: ${pick<1 | 3 | 'switchable'>(1, 3, 'switchable', 'switchable')}, maxCurrentA: ${pick(16, 16, 20, 32)}, currentStepA: ${currentStepA} }
    vehicle: { batteryKWh: ${always ? 300 : pick(40, 60, 80)}, phases: ${pick(1, 2, 3, 3)}, maxCurrentA: ${pick(16, 32)},
      minCurrentA: { 1: ${minA}, 2: ${minA}, 3: ${pick(6, minA)} }, kWhPer100km: 18, startLagS: ${lag}, startSoc: ${always ? 0.01 : 0.3} }
    usage: ${always ? '{ source: always }' : `{ source: weekly, seed: ${seed}, trips: [{ days: [mon, tue, wed, thu, fri], leave: "07:20", return: "${pick('09:10', '12:30', '16:00')}", km: ${pick(20, 50, 90)}, jitterMin: 15 }] }`}
control: { surplusShare: ${surplusShare}, topUp: ${topUp}, smoothingS: ${pick(0, 10, 20, 30, 30, 45, 60)}, reserveW: ${reserveW}, startDelayS: ${start}, stopDelayS: ${stop},
  switchUpDelayS: ${up}, switchDownDelayS: ${down}, switchPauseS: ${pick(10, 30, 60, 120)}, restartPauseS: ${pick(60, 120, 300, 600)} }
`);
  const whole = (delayS: number): number => wholeSteps(delayS, stepS) * stepS;
  return {
    csv: runCsv(run, draw),
    run,
    stepS,
    reserveW,
    surplusShare,
    currentStepA,
    startDelayS: whole(start),
    stopDelayS: whole(stop),
    switchUpDelayS: whole(up),
    switchDownDelayS: whole(down),
    lagS: whole(lag),
  };
}

function runCsv(run: Run, draw: Chance): string {
  const pick = pickFrom(draw);
  const { points, gridImportW, gridExportW } = run.columns;
  const car = points[0]!;
  const kind = pick('full', 'full', 'no-offer', 'meter');
  const [finestW, finestA, noiseW, noiseA, ownW] = [
    pick(1, 1, 10),
    pick(0.01, 0.1),
    pick(2, 10),
    pick(0.02, 0.08),
    pick(0, 4, 12),
  ];
  const gainA = 1 + 0.04 * (draw.uniform() - 0.5);
  const gains = [1, 2, 3, 4].map(() => 1 + 0.01 * (draw.uniform() - 0.5));
  const power = (value: number, meter: number, noise: boolean): string =>
    written(gains[meter]! * value + (noise ? noiseW * draw.normal() : 0), finestW);
  const head = [
    ...['time', ...(kind === 'meter' ? [] : ['pv_w', 'house_w']), 'grid_w', 'car_w', 'car_l1_a', 'car_l2_a', 'car_l3_a'],
    ...(kind === 'full' ? ['offered_a'] : []),
  ];
  const lines = [head.join(',')];
  for (let k = 0; k < run.grid.steps; k++) {
    if (draw.uniform() < 0.0005) continue;
    const [a, n, carW, pvW] = [carCurrentA(run.plan, car, k), car.phases[k]!, car.powerW[k]!, run.profiles.pvW[k]!];
    const offers = carW > 0 || car.state[k] === State.waking;
    const terminals = [1, 2, 3].map((t) =>
      written(n >= t ? a * gainA + noiseA * draw.normal() : 0.02 * Math.abs(draw.normal()), finestA),
    );
    const meters = kind === 'meter' ? [] : [power(pvW, 0, pvW > 0), power(run.profiles.loadW[k]!, 1, true)];
    const grid = power(gridImportW[k]! - gridExportW[k]!, 2, true);
    const drawn = carW > 0 ? power(carW, 3, true) : String(ownW);
    const offered = kind === 'full' ? [written(offers ? Math.max(6, a) : 0, finestA)] : [];
    lines.push([stamp(run, k), ...meters, grid, drawn, ...terminals, ...offered].join(','));
  }
  return lines.join('\n');
}

/** A log of currents, and how it was wired. */
export interface WholeWiring {
  readonly csv: string;
  /** The building phase of each terminal, charger by charger. */
  readonly order: readonly (readonly number[])[];
  readonly signs: readonly number[];
}

/** One to three chargers on a day by chance; a sixth of the households have a battery that watches the meter. */
export function wholeWiringLog(seed: number): WholeWiring {
  const draw = chance(seed, 'whole wiring log');
  const pick = pickFrom(draw);
  const stepS = pick(10, 30, 60);
  const order = Array.from({ length: pick(1, 1, 2, 3) }, () =>
    draw.uniform() < 0.08 ? [pick(1, 2, 3), pick(1, 2, 3), pick(1, 2, 3)] : pick(...ORDERS),
  );
  const signs = [1, 2, 3].map(() => (draw.uniform() < 0.12 ? -1 : 1));
  const battery =
    draw.uniform() < 0.16
      ? `battery: { capacityKWh: 8, maxChargeW: 4000, maxDischargeW: 4000, phases: ${pick('[1, 2, 3]', '[1]')}, dischargeToCar: ${draw.uniform() < 0.5} }`
      : '';
  const points = order.map(
    () => `  - charger: { phases: ${pick<1 | 3 | 'switchable'>(1, 3, 'switchable', 'switchable')}, maxCurrentA: ${pick(16, 32)}, currentStepA: ${pick(1, 0.1)} }
    vehicle: { batteryKWh: 100, phases: ${pick(1, 2, 3, 3)}, maxCurrentA: 16, kWhPer100km: 18, startLagS: ${pick(10, 60)}, startSoc: 0.1 }
    usage: { source: always }`,
  );
  const run = simulated(`
name: made
site: { latitude: 48, longitude: 11, timeZone: Europe/Vienna }
period: { start: ${startOf(draw)}, days: 1, stepS: ${stepS} }
grid: { mainFuseA: ${pick(35, 63)} }
weather: { source: synthetic, seed: ${seed}, ${SKY} }
pv: { source: arrays, phases: ${pick('[1, 2, 3]', '[1, 2, 3]', '[1]', '[2]')}, arrays: [{ kWp: ${(6 + 14 * draw.uniform()).toFixed(1)}, tiltDeg: 30, azimuthDeg: 180 }] }
household: { source: synthetic, annualKWh: ${2000 + 5000 * draw.uniform()}, people: ${pick(1, 2, 4, 5)}, seed: ${seed}, phaseSplit: ${pick('[0.34, 0.33, 0.33]', '[0.6, 0.2, 0.2]')} }
${battery}
chargePoints:
${points.join('\n')}
control: { surplusShare: ${pick(1, 0.6)}, startDelayS: ${pick(60, 120)}, stopDelayS: ${pick(60, 120)}, switchUpDelayS: ${pick(120, 600)}, restartPauseS: ${pick(60, 300)} }
`);
  return { csv: wiringCsv(run, order, signs, draw), order, signs };
}

function wiringCsv(run: Run, order: readonly (readonly number[])[], signs: readonly number[], draw: Chance): string {
  const pick = pickFrom(draw);
  const [noiseA, finestA] = [pick(0.02, 0.1, 0.2), pick(0.01, 0.1, 0.5)];
  const gain = (within: number): number => 1 + within * (2 * draw.uniform() - 1);
  const meterGains = [1, 2, 3].map(() => gain(0.05));
  const carGains = order.map(() => [1, 2, 3].map(() => ({ logged: gain(0.05), drawn: gain(0.015) })));
  const { pvShare, battery } = run.plan;
  const name = (charger: number, terminal: number): string => `charger${charger === 0 ? '' : charger + 1}_l${terminal}_a`;
  const head = ['time', 'meter_l1_a', 'meter_l2_a', 'meter_l3_a', ...order.flatMap((_, i) => [1, 2, 3].map((t) => name(i, t)))];
  const lines = [head.join(',')];
  for (let k = 0; k < run.grid.steps; k++) {
    const netA = [0, 1, 2].map((p) => {
      const batteryW = (battery?.share[p] ?? 0) * run.columns.batteryW[k]!;
      return (run.profiles.loadByPhaseW[p]![k]! - pvShare[p]! * run.profiles.pvW[k]! + batteryW) / 230;
    });
    const terminals = order.flatMap((phases, i) =>
      phases.map((phase, t) => {
        const car = run.columns.points[i]!;
        const a = car.phases[k]! > t ? carCurrentA(run.plan, car, k) * carGains[i]![t]!.drawn : 0;
        netA[phase - 1]! += a;
        return written(Math.max(0, a * carGains[i]![t]!.logged + (a > 0 ? noiseA * draw.normal() : 0)), finestA);
      }),
    );
    const meters = netA.map((a, p) => written(signs[p]! * meterGains[p]! * a + noiseA * draw.normal(), finestA));
    lines.push([stamp(run, k), ...meters, ...terminals].join(','));
  }
  return lines.join('\n');
}
