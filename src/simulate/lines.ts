import { S_PER_H } from '../base/index.ts';
import { drawingSteps } from './columns.ts';
import type { Plan } from './plan.ts';
import type { Run } from './results.ts';

/** What the conductors at the meter and to the cars carried. */
export interface LineFigures {
  /** Hours in which a phase carried nine tenths of the main fuse or more, in either direction; and more than the fuse. */
  readonly nearFuseH: number;
  readonly overFuseH: number;
  /** Highest import current of each building phase, A. */
  readonly peakImportA: readonly number[];
  /** Largest difference between the building phases that the cars caused, as the conductors really are, A. */
  readonly imbalanceA: number;
}

/** Part of the main fuse from which on a phase counts as near it. */
const NEAR_FUSE = 0.9;
/** Currents closer than this are equal, A. */
const SAME_A = 1e-6;

/**
 * The figures of the currents that `lineCurrentA` gives for each phase, in one pass and without its columns. Most steps of a year
 * say nothing new: they are passed over after a glance at the house's watts, several times as quick as reckoning every current.
 */
export function lineFigures(run: Run): LineFigures {
  const { plan, columns, grid } = run;
  const lines = freshLines(plan);
  const drawing = drawingSteps(columns.points, grid.steps);
  for (let k = 0; k < grid.steps; ) {
    if (plan.diverter === null) k = passOver(lines, run, drawing, k);
    if (k < grid.steps) k = lookCloser(lines, run, drawing, k);
  }
  const stepH = grid.stepS / S_PER_H;
  return {
    nearFuseH: lines.nearSteps * stepH,
    overFuseH: lines.overSteps * stepH,
    peakImportA: [...lines.peakImportA.subarray(0, plan.buildingPhases)],
    imbalanceA: lines.imbalanceA,
  };
}

/** @returns the first step from `from` on in which a car draws, or a phase of the house carries more than known so far or nears the fuse */
function passOver({ peakW, nearW }: Lines, { plan, profiles, columns, grid }: Run, drawing: Uint8Array, from: number): number {
  const [house1W, house2W, house3W] = profiles.loadByPhaseW;
  const { pvW, curtailedW, batteryW } = columns;
  const [pv1, pv2, pv3] = plan.pvShare;
  const [battery1, battery2, battery3] = plan.battery?.share ?? [0, 0, 0];
  // Columns of zeros are left unread: the walk waits for memory, not for sums.
  const isLimited = plan.exportLimitW < Infinity;
  const hasBattery = plan.battery !== null;
  const most1W = Math.min(peakW[0]!, nearW);
  const most2W = Math.min(peakW[1]!, nearW);
  const most3W = Math.min(peakW[2]!, nearW);
  let k = from;
  for (; k < grid.steps; k++) {
    const solarW = isLimited ? pvW[k]! - curtailedW[k]! : pvW[k]!;
    const storedW = hasBattery ? batteryW[k]! : 0;
    const line1W = house1W[k]! - pv1 * solarW + battery1 * storedW;
    const line2W = house2W[k]! - pv2 * solarW + battery2 * storedW;
    const line3W = house3W[k]! - pv3 * solarW + battery3 * storedW;
    if (line1W > most1W || line2W > most2W || line3W > most3W) break;
    if (line1W <= -nearW || line2W <= -nearW || line3W <= -nearW || drawing[k] !== 0) break;
  }
  return k;
}

/** What is known of the conductors so far, and the currents of the cars in the step at hand. */
interface Lines {
  readonly nearA: number;
  readonly overA: number;
  /** Below these a phase without cars has nothing new to tell, W. */
  readonly nearW: number;
  readonly peakW: Float64Array;
  readonly peakImportA: Float64Array;
  readonly carsA: Float64Array;
  imbalanceA: number;
  nearSteps: number;
  overSteps: number;
}

function freshLines({ mainFuseA, voltageV }: Plan): Lines {
  const nearA = NEAR_FUSE * mainFuseA - SAME_A;
  return {
    nearA,
    overA: mainFuseA + SAME_A,
    nearW: nearA * voltageV,
    peakW: new Float64Array(3),
    peakImportA: new Float64Array(3),
    carsA: new Float64Array(3),
    imbalanceA: 0,
    nearSteps: 0,
    overSteps: 0,
  };
}

/**
 * The currents of every phase in a step, and in those after it in which a car draws, held against what is known so far.
 *
 * @returns the first step that was not looked at
 */
function lookCloser(lines: Lines, run: Run, drawing: Uint8Array, from: number): number {
  const { plan, profiles, columns, grid } = run;
  const { carsA, nearA, overA } = lines;
  const [house1W, house2W, house3W] = profiles.loadByPhaseW;
  const { pvW, curtailedW, batteryW, loadW } = columns;
  const [pv1, pv2, pv3] = plan.pvShare;
  const [battery1, battery2, battery3] = plan.battery?.share ?? [0, 0, 0];
  const { voltageV } = plan;
  let k = from;
  do {
    const solarW = pvW[k]! - curtailedW[k]!;
    const storedW = batteryW[k]!;
    // A hot-water rod is what the load holds beyond the house's own; it lies on all phases alike.
    const rodW = (loadW[k]! - profiles.loadW[k]!) / plan.buildingPhases;
    const rodBesideW = plan.buildingPhases > 1 ? rodW : 0;
    if (addCars(carsA, run, k)) lines.imbalanceA = Math.max(lines.imbalanceA, spreadOf(carsA, plan.buildingPhases));
    const line1A = (house1W[k]! + rodW - pv1 * solarW + battery1 * storedW) / voltageV + carsA[0]!;
    const line2A = (house2W[k]! + rodBesideW - pv2 * solarW + battery2 * storedW) / voltageV + carsA[1]!;
    const line3A = (house3W[k]! + rodBesideW - pv3 * solarW + battery3 * storedW) / voltageV + carsA[2]!;
    keepPeak(lines, 0, line1A, voltageV);
    keepPeak(lines, 1, line2A, voltageV);
    keepPeak(lines, 2, line3A, voltageV);
    const highestA = Math.max(Math.abs(line1A), Math.abs(line2A), Math.abs(line3A));
    if (highestA >= nearA) lines.nearSteps++;
    if (highestA > overA) lines.overSteps++;
    k++;
  } while (k < grid.steps && drawing[k] !== 0);
  return k;
}

function keepPeak({ peakImportA, peakW }: Lines, phase: number, lineA: number, voltageV: number): void {
  if (lineA <= peakImportA[phase]!) return;
  peakImportA[phase] = lineA;
  peakW[phase] = lineA * voltageV;
}

/** Currents of all cars in a step by building phase, as they are really wired. @returns whether any draws */
function addCars(carsA: Float64Array, { plan, columns }: Run, k: number): boolean {
  carsA[0] = carsA[1] = carsA[2] = 0;
  const { points, voltageV } = plan;
  let draws = false;
  for (let i = 0; i < points.length; i++) {
    const { phases, powerW } = columns.points[i]!;
    const count = phases[k]!;
    if (count === 0) continue;
    draws = true;
    const { wiringAsBuilt } = points[i]!;
    const eachA = powerW[k]! / (count * voltageV);
    for (let terminal = 0; terminal < count; terminal++) carsA[wiringAsBuilt[terminal]! - 1]! += eachA;
  }
  return draws;
}

function spreadOf(carsA: Float64Array, buildingPhases: number): number {
  if (buildingPhases === 1) return 0;
  return Math.max(carsA[0]!, carsA[1]!, carsA[2]!) - Math.min(carsA[0]!, carsA[1]!, carsA[2]!);
}
