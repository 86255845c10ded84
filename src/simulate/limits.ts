import type { Headroom } from '../charging/index.ts';
import type { Plan, Profiles } from './plan.ts';
import type { Site } from './site.ts';

/** What of the connection's limits stays the same for all steps. */
export interface Limits {
  readonly plan: Plan;
  /** What all cars together can draw on a phase, A. */
  readonly allCarsA: number;
  /** Where no phase of the house draws more than this, the fuse leaves as much as all cars can draw, W; below 0 where that is never so. */
  readonly roomyW: number;
}

/** The limits of a plan. */
export function limitsOf(plan: Plan): Limits {
  const allCarsA = plan.points.reduce((sum, { rules, car }) => sum + Math.max(rules.most.maxA, car.maxA), 0);
  const onlyFuse = plan.imbalanceA === Infinity && plan.contractW === Infinity && plan.dimmedToW === null;
  const roomyW = (plan.mainFuseA - allCarsA) * plan.voltageV;
  return { plan, allCarsA, roomyW: onlyFuse && roomyW >= 0 ? roomyW : -Infinity };
}

/** What each phase of the building gives away before any car draws. */
export function lookAtPhases({ netByPhaseW }: Site, { pvShare }: Plan, { pvW, loadByPhaseW }: Profiles, k: number): void {
  const pv = pvW[k]!;
  netByPhaseW[0] = pv * pvShare[0] - loadByPhaseW[0][k]!;
  netByPhaseW[1] = pv * pvShare[1] - loadByPhaseW[1][k]!;
  netByPhaseW[2] = pv * pvShare[2] - loadByPhaseW[2][k]!;
}

/** Rule 2: what the connection leaves in this step before any car draws. */
export function lookAtLimits(headroom: Headroom, limits: Limits, { netByPhaseW, netW }: Site, k: number): void {
  const { plan, roomyW, allCarsA } = limits;
  headroom.roomyA = allCarsA;
  if (-Math.min(netByPhaseW[0]!, netByPhaseW[1]!, netByPhaseW[2]!) <= roomyW) return;
  const house1W = Math.max(0, -netByPhaseW[0]!);
  const house2W = Math.max(0, -netByPhaseW[1]!);
  const house3W = Math.max(0, -netByPhaseW[2]!);
  headroom.roomyA = -Infinity;
  headroom.fuseA[0] = plan.mainFuseA - house1W / plan.voltageV;
  headroom.fuseA[1] = plan.mainFuseA - house2W / plan.voltageV;
  headroom.fuseA[2] = plan.mainFuseA - house3W / plan.voltageV;
  headroom.earlierA.fill(0);
  headroom.contractW = plan.contractW - Math.max(0, -netW);
  headroom.dimmedW = plan.dimmedToW === null ? Infinity : plan.dimmedToW[k]!;
}
