import type { ChargerFacts, ControlSettings, VehicleFacts } from './facts.ts';

/** No charging current exists below this, A per phase. @see iec61851 (data/SOURCES.md; IEC 61851-1) */
export const LEAST_CURRENT_A = 6;

/** Two powers closer than this count as equal, W: the law's `F ≥ T` means `F ≥ T − 1e-6 W`. */
export const SAME_W = 1e-6;

/** `F ≥ T` of the law. */
export const reaches = (availableW: number, thresholdW: number): boolean => availableW >= thresholdW - SAME_W;

/** Delays are whole steps: the number of steps just before this one in which a condition must have stood. */
export const wholeSteps = (delayS: number, stepS: number): number => Math.floor(delayS / stepS + 0.5);

/** A current rounded down to what the charger can set, A; a hair below a step counts as the step. */
export const roundDownToStep = (currentA: number, stepA: number): number => Math.floor(currentA / stepA + 1e-9) * stepA;

/** Charging on one number of phases: what the law knows of it. */
export interface PhaseRules {
  /** Phases that the car draws on (1, 2 or 3), and phases that the contactor makes live (1 or 3). */
  readonly n: number;
  readonly live: number;
  /** Least current at which the car charges, and the highest of charger and vehicle, rounded down to a step, A per phase. */
  readonly minA: number;
  readonly maxA: number;
  /** Power of one ampere on each of the n phases, W. */
  readonly wPerA: number;
  /** Power at `minA`, W. */
  readonly minW: number;
  /** Surplus at which charging on n phases may begin, W. */
  readonly thresholdW: number;
}

/** All that stays the same for a charge point during a run. */
export interface PointRules {
  readonly least: PhaseRules;
  readonly most: PhaseRules;
  /** False where `least` and `most` are one: then the point never switches. */
  readonly switches: boolean;
  readonly currentStepA: number;
  /** Surplus share, 0 … 1, and whether the grid tops up in proportion to it. */
  readonly surplusShare: number;
  readonly proportional: boolean;
  readonly atOnce: boolean;
  /** Delays in whole steps. */
  readonly startSteps: number;
  readonly stopSteps: number;
  readonly upSteps: number;
  readonly downSteps: number;
  readonly pauseSteps: number;
  readonly restSteps: number;
  readonly lagSteps: number;
}

/** `Imin(n)`: the largest of 6 A, the charger's and the vehicle's minimum on n phases, A. */
export const minCurrentA = (charger: ChargerFacts, vehicle: VehicleFacts, n: 1 | 2 | 3): number =>
  Math.max(LEAST_CURRENT_A, charger.minCurrentA, vehicle.minCurrentA[n - 1] ?? LEAST_CURRENT_A);

/**
 * The numbers of phases on which charger and vehicle can charge together, fewest first; empty where there is none.
 *
 * A switchable charger with a two-phase car gives 1 (one live phase) and 2 (three live phases); one live phase is used where one
 * is enough.
 */
export function possiblePhases(charger: ChargerFacts, vehicle: VehicleFacts): { n: 1 | 2 | 3; live: 1 | 3 }[] {
  const maxA = highestCurrentA(charger, vehicle);
  const lives: (1 | 3)[] = charger.phases === 'switchable' ? [1, 3] : [charger.phases];
  const found: { n: 1 | 2 | 3; live: 1 | 3 }[] = [];
  for (const live of lives) {
    const n = Math.min(live, vehicle.phases) as 1 | 2 | 3;
    if (found.some((other) => other.n === n)) continue;
    if (maxA >= minCurrentA(charger, vehicle, n) - 1e-9) found.push({ n, live });
  }
  return found;
}

/** The highest current that charger and vehicle allow, rounded down to a step of the charger, A per phase. */
export const highestCurrentA = (charger: ChargerFacts, vehicle: VehicleFacts): number =>
  roundDownToStep(Math.min(charger.maxCurrentA, vehicle.maxCurrentA), charger.currentStepA);

/**
 * What stays the same for a charge point during a run.
 *
 * @param vehicle   the car as the controller believes it to be
 * @param voltageV  phase to neutral
 * @param stepS     length of a step, s
 * @param lagS      vehicle lag after a start, s
 * @returns null where charger and vehicle can not charge together on any number of phases
 * @throws RangeError  step or voltage not above 0
 */
export function pointRules(
  charger: ChargerFacts,
  vehicle: VehicleFacts,
  control: ControlSettings,
  voltageV: number,
  stepS: number,
  lagS: number,
): PointRules | null {
  if (!(stepS > 0)) throw new RangeError(`stepS = ${stepS}: must be above 0`);
  if (!(voltageV > 0)) throw new RangeError(`voltageV = ${voltageV}: must be above 0`);
  const possible = possiblePhases(charger, vehicle);
  const first = possible[0];
  const last = possible[possible.length - 1];
  if (first === undefined || last === undefined) return null;
  const switches = last.n > first.n;

  // Nobody goes to more phases to buy more from the grid: with the minimum top-up the share scales only the lower threshold.
  const shareOfMost = switches && control.topUp === 'minimum' ? 1 : control.surplusShare;
  const phaseRules = (n: 1 | 2 | 3, live: number, share: number): PhaseRules => {
    const minA = minCurrentA(charger, vehicle, n);
    const wPerA = n * voltageV;
    return {
      n,
      live,
      minA,
      maxA: highestCurrentA(charger, vehicle),
      wPerA,
      minW: wPerA * minA,
      thresholdW: share * wPerA * minA,
    };
  };
  const least = phaseRules(first.n, first.live, control.surplusShare);
  const steps = (delayS: number): number => wholeSteps(delayS, stepS);
  return {
    least,
    most: switches ? phaseRules(last.n, last.live, shareOfMost) : least,
    switches,
    currentStepA: charger.currentStepA,
    surplusShare: control.surplusShare,
    proportional: control.topUp === 'proportional',
    atOnce: control.strategy === 'at-once',
    startSteps: steps(control.startDelayS),
    stopSteps: steps(control.stopDelayS),
    upSteps: steps(control.switchUpDelayS),
    downSteps: steps(control.switchDownDelayS),
    pauseSteps: Math.max(1, steps(control.switchPauseS)),
    restSteps: steps(control.restartPauseS),
    lagSteps: steps(lagS),
  };
}
