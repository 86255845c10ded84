import { EVENTS, type EventCode, type StateCode, stateName } from '../charging/index.ts';
import type { ChargeEvent, Drive } from './results.ts';

/** What happened during a run, in order of time. */
export interface Log {
  readonly stepS: number;
  readonly events: ChargeEvent[];
  readonly drives: Drive[];
}

/** An empty log. */
export const freshLog = (stepS: number): Log => ({ stepS, events: [], drives: [] });

/** The numbers that decided an event; phases are those that carry power. */
export interface Deciding {
  readonly phasesFrom: number;
  readonly phasesTo: number;
  readonly decidingW: number;
  readonly thresholdW: number;
  readonly heldSteps: number;
}

/** Writes an event down. */
export function logEvent(log: Log, step: number, point: number, event: EventCode, why: Deciding, state: StateCode): void {
  log.events.push({
    step,
    point,
    event: EVENTS[event] ?? 'none',
    phasesFrom: why.phasesFrom,
    phasesTo: why.phasesTo,
    surplusW: why.decidingW,
    thresholdW: why.thresholdW,
    heldS: why.heldSteps * log.stepS,
    reason: stateName(state),
  });
}
