import { FRACTION_0 } from '../base/index.ts';
import type { Sight } from './law.ts';
import { type PhaseRules, type PointRules, roundDownToStep } from './rules.ts';
import { State, type StateCode } from './states.ts';

/**
 * What the connection leaves for a charge point in one step (rule 2). Currents per building phase, in A.
 *
 * PV earns no credit beyond zero: a cloud is faster than a fuse. Later charge points yield to earlier ones.
 */
export interface Headroom {
  /** Main fuse less the house's own draw and what earlier charge points take, per building phase. */
  readonly fuseA: Float64Array;
  /** What earlier charge points draw per building phase. */
  readonly earlierA: Float64Array;
  /** Building phases there are: 1 or 3. */
  readonly buildingPhases: number;
  /** Allowed difference between the building phases; Infinity where there is no limit. */
  readonly imbalanceA: number;
  /** No limit of this step stands below this current, on any phase: up to it nobody needs to look closer. */
  roomyA: number;
  /** What contract and dimming leave for this charge point, W; Infinity where there is no limit. */
  contractW: number;
  dimmedW: number;
}

/** Finds `Imax(n)` and the name of the limit that binds for the two numbers of phases of a charge point, and tells them the sight. */
export function lookForCeiling(sight: Sight, rules: PointRules, wiring: Int8Array, headroom: Headroom): void {
  if (headroom.roomyA >= rules.most.maxA) {
    sight.ceilingLeastA = rules.least.maxA;
    sight.ceilingMostA = rules.most.maxA;
    return;
  }
  look(rules.least, rules.currentStepA, wiring, headroom);
  sight.ceilingLeastA = found.currentA;
  sight.limitLeast = found.limit;
  if (!rules.switches) return;
  look(rules.most, rules.currentStepA, wiring, headroom);
  sight.ceilingMostA = found.currentA;
  sight.limitMost = found.limit;
}

/** Written by `look`, read at once by its caller: an object a call would cost more than the whole search. */
const found: { currentA: number; limit: StateCode } = { currentA: FRACTION_0, limit: State.heldFuse };

function look(phases: PhaseRules, stepA: number, wiring: Int8Array, headroom: Headroom): void {
  // The limits in the order in which they are named when equal.
  let leastA = fuseHeadroomA(phases.n, wiring, headroom);
  let limit: StateCode = State.heldFuse;
  if (headroom.imbalanceA < Infinity) {
    const imbalanceA = imbalanceHeadroomA(phases.n, wiring, headroom);
    if (imbalanceA < leastA) {
      leastA = imbalanceA;
      limit = State.heldImbalance;
    }
  }
  const contractA = headroom.contractW / phases.wPerA;
  if (contractA < leastA) {
    leastA = contractA;
    limit = State.heldContract;
  }
  const dimmedA = headroom.dimmedW / phases.wPerA;
  if (dimmedA < leastA) {
    leastA = dimmedA;
    limit = State.heldDimmed;
  }
  found.currentA = leastA >= phases.maxA ? phases.maxA : roundDownToStep(leastA, stepA);
  found.limit = limit;
}

function fuseHeadroomA(n: number, wiring: Int8Array, headroom: Headroom): number {
  let leastA = Infinity;
  for (let terminal = 0; terminal < n; terminal++) {
    const freeA = headroom.fuseA[(wiring[terminal] ?? 1) - 1] ?? 0;
    if (freeA < leastA) leastA = freeA;
  }
  return leastA;
}

/**
 * The current at which the largest draw on a building phase stands `imbalanceA` above the smallest. On all building phases at
 * once a charge point changes no difference, and the limit does not bind.
 */
function imbalanceHeadroomA(n: number, wiring: Int8Array, headroom: Headroom): number {
  if (n >= headroom.buildingPhases) return Infinity;
  let largestUsedA = -Infinity;
  let smallestUnusedA = Infinity;
  for (let phase = 1; phase <= headroom.buildingPhases; phase++) {
    const drawnA = headroom.earlierA[phase - 1] ?? 0;
    if (isUsed(phase, n, wiring)) largestUsedA = Math.max(largestUsedA, drawnA);
    else smallestUnusedA = Math.min(smallestUnusedA, drawnA);
  }
  return headroom.imbalanceA + smallestUnusedA - largestUsedA;
}

function isUsed(phase: number, n: number, wiring: Int8Array): boolean {
  for (let terminal = 0; terminal < n; terminal++) if (wiring[terminal] === phase) return true;
  return false;
}
