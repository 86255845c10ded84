import type { Plan, Run } from '../simulate/index.ts';

/** F of the law, a value per step: what of the surplus a charge point may use on its fewer and on its more phases, W. */
export interface PointSurplus {
  readonly leastW: Float64Array;
  /** The same array where one meter counts the sum of the phases. */
  readonly mostW: Float64Array;
}

/**
 * What the controller compared with its thresholds in every step (rule 1 of the law), for each charge point, from the columns of a
 * finished run: smoothed, less the reserve, less what earlier charge points draw.
 */
export const surplusOfPoints = (run: Run): PointSurplus[] => (run.plan.perPhase ? byPhase(run) : inSum(run));

/** Weight of the newest value in the smoothed surplus; 1 without smoothing. */
export const smoothingWeight = ({ smoothingS, grid }: Plan): number => 1 - Math.exp(-grid.stepS / smoothingS);

/** What the house takes before the cars, W: a hot-water rod that comes first is a part of it, one that comes last is not. */
export const houseW = ({ plan, columns, profiles }: Pick<Run, 'plan' | 'columns' | 'profiles'>): Float64Array =>
  plan.diverter?.priority === 'diverter' ? columns.loadW : profiles.loadW;

/** The same on one building phase (from 0) in a step. A rod lies on all of them alike. */
export const houseOnPhaseW = (run: Run, p: number, k: number): number =>
  at(run.profiles.loadByPhaseW[p], k) + (at(houseW(run), k) - at(run.profiles.loadW, k)) / run.plan.buildingPhases;

/** What a home battery that comes first took of PV in a step, W. */
export const batteryFirstW = (run: Run, k: number): number =>
  run.plan.battery === null ? 0 : Math.max(0, at(run.columns.pvW, k) - at(houseW(run), k) - at(run.columns.surplusW, k));

/** Whether an export limit can keep surplus from the controller's sight. */
const canHide = ({ seesCurtailedPv, perPhase, exportLimitW }: Plan): boolean =>
  !seesCurtailedPv && !perPhase && exportLimitW < Infinity;

/** The part of the surplus in a step that an export limit kept from the controller's sight, W. */
export function hiddenW(run: Run, k: number): number {
  const { plan, columns } = run;
  if (!canHide(plan)) return 0;
  const carsW = columns.points.reduce((sum, point) => sum + at(point.powerW, k - 1), 0);
  const beyondW = Math.max(0, at(columns.batteryW, k - 1) - batteryFirstW(run, k - 1));
  return Math.max(0, at(columns.surplusW, k) - plan.exportLimitW - carsW - beyondW);
}

function inSum(run: Run): PointSurplus[] {
  const { points } = run.columns;
  let leftW = smoothedSpareW(run);
  return points.map(({ powerW }, i) => {
    const ownW = leftW;
    if (i < points.length - 1) leftW = ownW.map((w, k) => Math.max(0, w - at(powerW, k)));
    return { leastW: ownW, mostW: ownW };
  });
}

/** The smoothed surplus less the reserve, W: what the first charge point finds. */
function smoothedSpareW(run: Run): Float64Array {
  const { plan, columns, grid } = run;
  const { surplusW } = columns;
  const hides = canHide(plan);
  const weight = smoothingWeight(plan);
  const spareW = new Float64Array(grid.steps);
  let smoothedW = at(surplusW, 0) - hiddenW(run, 0);
  for (let k = 0; k < spareW.length; k++) {
    const seenW = (surplusW[k] ?? 0) - (hides ? hiddenW(run, k) : 0);
    smoothedW += weight * (seenW - smoothedW);
    spareW[k] = Math.max(0, smoothedW - plan.reserveW);
  }
  return spareW;
}

function byPhase(run: Run): PointSurplus[] {
  const { plan, columns, grid } = run;
  const weight = smoothingWeight(plan);
  const found = plan.points.map(() => ({ leastW: new Float64Array(grid.steps), mostW: new Float64Array(grid.steps) }));
  const smoothedW = new Float64Array(3);
  const earlierW = new Float64Array(3);
  for (let k = 0; k < grid.steps; k++) {
    for (let p = 0; p < 3; p++) {
      const before = at(smoothedW, p);
      smoothedW[p] = before + (k === 0 ? 1 : weight) * (seenOnPhaseW(run, p, k) - before);
    }
    earlierW.fill(0);
    for (const [i, point] of plan.points.entries()) {
      const values = found[i];
      if (values === undefined) continue;
      values.leastW[k] = onTerminalsW(smoothedW, earlierW, plan, point.wiring, point.rules.least.n);
      values.mostW[k] = onTerminalsW(smoothedW, earlierW, plan, point.wiring, point.rules.most.n);
      const car = columns.points[i];
      const phases = at(car?.phases, k);
      for (let t = 0; t < phases; t++) {
        const p = at(point.wiring, t) - 1;
        earlierW[p] = at(earlierW, p) + at(car?.powerW, k) / phases;
      }
    }
  }
  return found;
}

/** Surplus on a building phase in a step, W, where the meter counts each phase for itself. */
export const seenOnPhaseW = (run: Run, p: number, k: number): number =>
  (run.plan.pvShare[p] ?? 0) * at(run.columns.pvW, k) -
  houseOnPhaseW(run, p, k) -
  batteryFirstW(run, k) * (run.plan.battery?.share[p] ?? 0);

/** n times the least of the phases on the first n terminals. */
function onTerminalsW(smoothedW: Float64Array, earlierW: Float64Array, plan: Plan, wiring: Int8Array, n: number): number {
  let leastW = Infinity;
  for (let t = 0; t < n; t++) {
    const p = at(wiring, t) - 1;
    leastW = Math.min(leastW, Math.max(0, at(smoothedW, p) - plan.reserveW / 3) - at(earlierW, p));
  }
  return n * Math.max(0, leastW);
}

/** A value of a column; steps outside it are a mistake of the caller and count as 0. */
export const at = (values: ArrayLike<number> | undefined, k: number): number => values?.[k] ?? 0;
