import type { Headroom } from '../charging/index.ts';
import { freshLog, type Log } from './log.ts';
import type { Plan, Profiles } from './plan.ts';
import { freshRun, type Left, runPoint } from './point.ts';
import type { Columns } from './results.ts';

/**
 * The only loop over time: walks the steps, asks the law, books the energy, writes the columns.
 *
 * Energy follows the meter: PV serves the house, then the cars in list order, then the grid. In every step
 * `pv + import = house + cars + export`.
 *
 * @param columns  buffers of `plan.grid.steps` values, overwritten
 * @returns        what happened, in order of time
 */
export function runLoop(plan: Plan, profiles: Profiles, columns: Columns): Log {
  const { grid, voltageV, mainFuseA, reserveW } = plan;
  const [pvShare1, pvShare2, pvShare3] = plan.pvShare;
  const { pvW, loadW } = profiles;
  const [load1W, load2W, load3W] = profiles.loadByPhaseW;
  const { surplusW, gridImportW, gridExportW } = columns;
  const log = freshLog(grid.stepS);
  const points = plan.points.map((point, i) => freshRun(point, i, columns.points[i]!, voltageV, log));
  const headroom = freshHeadroom(plan.buildingPhases);
  const { fuseA, earlierA } = headroom;
  // Where the fuse leaves this much on every phase, no car needs to look at it.
  const allCarsA = points.reduce((sum, point) => sum + point.plan.rules.most.maxA, 0);
  const left: Left = { availableW: 0, pvW: 0, gridW: 0 };
  const weight = smoothingWeight(grid.stepS, plan.smoothingS);
  let smoothedW = pvW[0]! - loadW[0]!;

  for (let k = 0; k < grid.steps; k++) {
    // read
    const pv = pvW[k]!;
    const netW = pv - loadW[k]!;

    // what the controller sees (rule 1), and what the fuse leaves (rule 2)
    smoothedW += weight * (netW - smoothedW);
    left.availableW = Math.max(0, smoothedW - reserveW);
    const house1W = Math.max(0, load1W[k]! - pv * pvShare1);
    const house2W = Math.max(0, load2W[k]! - pv * pvShare2);
    const house3W = Math.max(0, load3W[k]! - pv * pvShare3);
    headroom.roomyA = mainFuseA - Math.max(house1W, house2W, house3W) / voltageV;
    if (headroom.roomyA < allCarsA) {
      fuseA[0] = mainFuseA - house1W / voltageV;
      fuseA[1] = mainFuseA - house2W / voltageV;
      fuseA[2] = mainFuseA - house3W / voltageV;
      earlierA.fill(0);
    }

    // decide and book, charge point by charge point
    left.pvW = Math.max(0, netW);
    left.gridW = Math.max(0, -netW);
    for (const point of points) runPoint(point, k, left, headroom);

    // write
    surplusW[k] = netW;
    gridImportW[k] = left.gridW;
    gridExportW[k] = left.pvW;
  }
  return log;
}

/** Weight of the newest value in the smoothed surplus; 1 follows it at once. */
const smoothingWeight = (stepS: number, smoothingS: number): number => (smoothingS > 0 ? 1 - Math.exp(-stepS / smoothingS) : 1);

const freshHeadroom = (buildingPhases: number): Headroom => ({
  fuseA: new Float64Array(3),
  earlierA: new Float64Array(3),
  buildingPhases,
  imbalanceA: Infinity,
  roomyA: 0,
  contractW: Infinity,
  dimmedW: Infinity,
});
