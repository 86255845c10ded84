import { FRACTION_0 } from '../base/index.ts';
import { type PhaseRules, type PointRules, reaches, roundDownToStep } from './rules.ts';
import { Event, type EventCode, State, type StateCode } from './states.ts';

/** What a charge point is doing. Bridging, topped and the like are names within charging. */
export const Doing = { away: 0, waiting: 1, waking: 2, charging: 3, switching: 4 } as const;
type DoingCode = (typeof Doing)[keyof typeof Doing];

/**
 * What a charge point remembers from step to step, and what it decided in this one.
 *
 * The law writes it in place: a fresh object a step costs half as much again (tests/bench), and a year has half a million steps.
 * A step reads and writes nothing but its three arguments.
 */
export interface PointState {
  doing: DoingCode;
  /** Charging, waking or switching on the larger number of phases. */
  onMost: boolean;
  /** Steps that a running lag or pause still takes, and in which no start may come. */
  leftSteps: number;
  restSteps: number;
  /** In how many steps on end, this one included, the surplus reached each threshold, or did not. */
  stoodLeast: number;
  stoodMost: number;
  lackedLeast: number;
  lackedMost: number;
  /** Current offered to the car in this step, A per phase; 0 while nothing may flow. */
  offeredA: number;

  /** The last state, and what happened in this step with the numbers that decided it. */
  state: StateCode;
  event: EventCode;
  phasesFrom: number;
  phasesTo: number;
  decidingW: number;
  thresholdW: number;
  heldSteps: number;
}

/** A charge point with no car. */
export const freshPoint = (): PointState => ({
  doing: Doing.away,
  onMost: false,
  leftSteps: 0,
  restSteps: 0,
  stoodLeast: 0,
  stoodMost: 0,
  lackedLeast: 0,
  lackedMost: 0,
  offeredA: FRACTION_0,
  state: State.away,
  event: Event.none,
  phasesFrom: 0,
  phasesTo: 0,
  decidingW: FRACTION_0,
  thresholdW: FRACTION_0,
  heldSteps: 0,
});

/** What the law sees of one step. */
export interface Sight {
  /** A car is plugged in; it was plugged in anew at the start of this step; it has reached its target; it accepts no more. */
  present: boolean;
  arrives: boolean;
  full: boolean;
  gaveUp: boolean;
  /** In the step before, current showed on a phase where the charger expects none, and it looks for that. */
  strayCurrent: boolean;
  /** Rule 11 holds: charge now, whatever the sun does. */
  must: boolean;
  /** F of the law for each number of phases, W. They differ only where the meter reckons phase by phase. */
  availableLeastW: number;
  availableMostW: number;
  /** Imax of the law for each number of phases, A, and the state that names the limit which binds. */
  ceilingLeastA: number;
  ceilingMostA: number;
  limitLeast: StateCode;
  limitMost: StateCode;
}

/** Nothing to see yet. */
export const freshSight = (): Sight => ({
  present: false,
  arrives: false,
  full: false,
  gaveUp: false,
  strayCurrent: false,
  must: false,
  availableLeastW: FRACTION_0,
  availableMostW: FRACTION_0,
  ceilingLeastA: FRACTION_0,
  ceilingMostA: FRACTION_0,
  limitLeast: State.heldFuse,
  limitMost: State.heldFuse,
});

/**
 * One step of the control law for one charge point: rules 4 to 12 of the design.
 *
 * @returns the name of the step, from the branch that decided it; `point` holds the current offered and what happened
 */
export function stepPoint(point: PointState, rules: PointRules, sight: Sight): StateCode {
  point.event = Event.none;
  point.offeredA = 0;
  point.state = decide(point, rules, sight);
  return point.state;
}

function decide(point: PointState, rules: PointRules, sight: Sight): StateCode {
  if (!sight.present) return unplugged(point);
  if (sight.arrives || point.doing === Doing.away) pluggedIn(point);
  if (sight.full) return noMore(point, State.full);
  if (sight.gaveUp) return noMore(point, State.gaveUp);
  switch (point.doing) {
    case Doing.waiting:
      return waiting(point, rules, sight);
    case Doing.charging:
      return charging(point, rules, sight);
    case Doing.switching:
      return switching(point, rules, sight);
    default:
      return waking(point, rules, sight);
  }
}

/** Unplugging clears everything, rest included. */
function unplugged(point: PointState): StateCode {
  if (point.doing !== Doing.away) {
    begin(point, Doing.away);
    point.restSteps = 0;
  }
  return State.away;
}

function pluggedIn(point: PointState): void {
  begin(point, Doing.waiting);
  point.restSteps = 0;
}

/** Rule 12 after the last step, and a car that gave up: nothing more until the next plug-in. */
function noMore(point: PointState, state: StateCode): StateCode {
  if (point.doing !== Doing.waiting) begin(point, Doing.waiting);
  return state;
}

/** Rule 4. */
function waiting(point: PointState, rules: PointRules, sight: Sight): StateCode {
  count(point, rules, sight);
  const mayUseMost = rules.switches && sight.ceilingMostA >= rules.most.minA;
  const mayUseLeast = sight.ceilingLeastA >= rules.least.minA;
  if (sight.must) {
    // No start delay and no rest, but a rest that runs goes on running out.
    if (point.restSteps > 0) point.restSteps--;
    if (mayUseMost) return start(point, rules, sight, true);
    return mayUseLeast ? start(point, rules, sight, false) : heldBeforeStart(point, rules, sight);
  }
  if (point.restSteps > 0) {
    point.restSteps--;
    return State.resting;
  }
  if (point.stoodLeast <= rules.startSteps) return point.stoodLeast > 0 ? State.proving : State.short;
  if (mayUseMost && point.stoodMost > rules.startSteps) return start(point, rules, sight, true);
  return mayUseLeast ? start(point, rules, sight, false) : heldBeforeStart(point, rules, sight);
}

function start(point: PointState, rules: PointRules, sight: Sight, onMost: boolean): StateCode {
  const phases = onMost ? rules.most : rules.least;
  const stood = onMost ? point.stoodMost : point.stoodLeast;
  note(
    point,
    Event.start,
    0,
    phases.n,
    onMost ? sight.availableMostW : sight.availableLeastW,
    phases.thresholdW,
    Math.max(0, stood - 1),
  );
  point.onMost = onMost;
  return wake(point, rules, sight);
}

/** A hold while waiting begins no rest, and the count goes on. It is told once. */
function heldBeforeStart(point: PointState, rules: PointRules, sight: Sight): StateCode {
  const held = Math.max(0, point.stoodLeast - 1);
  if (point.state !== sight.limitLeast) {
    note(point, Event.hold, 0, 0, sight.availableLeastW, rules.least.wPerA * sight.ceilingLeastA, held);
  }
  return sight.limitLeast;
}

/** Rule 5: the car draws nothing while it wakes. */
function wake(point: PointState, rules: PointRules, sight: Sight): StateCode {
  begin(point, Doing.waking);
  point.leftSteps = rules.lagSteps;
  return waking(point, rules, sight);
}

function waking(point: PointState, rules: PointRules, sight: Sight): StateCode {
  if (point.leftSteps > 0) {
    point.leftSteps--;
    return State.waking;
  }
  begin(point, Doing.charging);
  return charging(point, rules, sight);
}

/** The pause before the other number of phases; rule 5 follows it. */
function switching(point: PointState, rules: PointRules, sight: Sight): StateCode {
  if (point.leftSteps > 0) {
    point.leftSteps--;
    return State.switching;
  }
  return wake(point, rules, sight);
}

/** Rules 6 to 11 for a car that charges. */
function charging(point: PointState, rules: PointRules, sight: Sight): StateCode {
  const { onMost } = point;
  const phases = onMost ? rules.most : rules.least;
  const ceilingA = onMost ? sight.ceilingMostA : sight.ceilingLeastA;
  const availableW = onMost ? sight.availableMostW : sight.availableLeastW;
  if (sight.strayCurrent) return breakOff(point, rules, sight, phases);
  if (ceilingA < phases.minA) return heldWhileCharging(point, rules, sight);
  const mayUseMost = rules.switches && !onMost && sight.ceilingMostA >= rules.most.minA;
  if (sight.must) {
    if (mayUseMost) return switchTo(point, rules, sight, true, 0);
    // Rules 7 to 9 rest while rule 11 holds; their counts start afresh when it ends.
    clearCounts(point);
    point.offeredA = ceilingA;
    return rules.atOnce ? State.atOnce : State.must;
  }
  count(point, rules, sight);
  if (point.lackedLeast > rules.stopSteps) return stall(point, rules, sight, phases);
  if (mayUseMost && point.stoodMost > rules.upSteps) {
    return switchTo(point, rules, sight, true, point.stoodMost - 1);
  }
  if (onMost && rules.switches && point.lackedMost > rules.downSteps && point.stoodLeast > 0) {
    if (sight.ceilingLeastA >= rules.least.minA) return switchTo(point, rules, sight, false, point.lackedMost - 1);
  }
  return offer(point, rules, phases, availableW, ceilingA);
}

/** Rule 6: nothing from this step on, which is the first of waiting and of the rest. */
function heldWhileCharging(point: PointState, rules: PointRules, sight: Sight): StateCode {
  const phases = point.onMost ? rules.most : rules.least;
  const availableW = point.onMost ? sight.availableMostW : sight.availableLeastW;
  const ceilingA = point.onMost ? sight.ceilingMostA : sight.ceilingLeastA;
  note(point, Event.hold, phases.n, 0, availableW, phases.wPerA * ceilingA, 0);
  const limit = point.onMost ? sight.limitMost : sight.limitLeast;
  begin(point, Doing.waiting);
  count(point, rules, sight);
  point.restSteps = Math.max(0, rules.restSteps - 1);
  return limit;
}

/** A charger that checks its phases stops when current shows where it expects none; this step is the first of the rest. */
function breakOff(point: PointState, rules: PointRules, sight: Sight, phases: PhaseRules): StateCode {
  note(point, Event.breakOff, phases.n, 0, point.onMost ? sight.availableMostW : sight.availableLeastW, 0, 0);
  begin(point, Doing.waiting);
  count(point, rules, sight);
  point.restSteps = Math.max(0, rules.restSteps - 1);
  return rules.restSteps > 0 ? State.resting : State.short;
}

/** Rule 7: nothing from this step on, which is the first of waiting and of the rest. */
function stall(point: PointState, rules: PointRules, sight: Sight, phases: PhaseRules): StateCode {
  note(point, Event.stall, phases.n, 0, sight.availableLeastW, rules.least.thresholdW, point.lackedLeast - 1);
  begin(point, Doing.waiting);
  point.restSteps = rules.restSteps;
  return waiting(point, rules, sight);
}

/** Rules 8 and 9: nothing for the pause, this step being its first. */
function switchTo(point: PointState, rules: PointRules, sight: Sight, onMost: boolean, heldSteps: number): StateCode {
  const from = point.onMost ? rules.most : rules.least;
  const to = onMost ? rules.most : rules.least;
  note(point, Event.switch, from.n, to.n, sight.availableMostW, rules.most.thresholdW, heldSteps);
  begin(point, Doing.switching);
  point.onMost = onMost;
  point.leftSteps = rules.pauseSteps - 1;
  return State.switching;
}

/** Rule 10: the current, and the name of the step. */
function offer(point: PointState, rules: PointRules, phases: PhaseRules, availableW: number, ceilingA: number): StateCode {
  const aimW = rules.proportional ? availableW / rules.surplusShare : Math.max(availableW, phases.minW);
  // A share of 0 asks for no sun at all: no bound (0 / 0 included).
  const aimA = rules.proportional && rules.surplusShare === 0 ? Infinity : aimW / phases.wPerA;
  const roundedA = aimA >= ceilingA ? ceilingA : roundDownToStep(aimA, rules.currentStepA);
  const currentA = Math.min(ceilingA, Math.max(phases.minA, roundedA));
  point.offeredA = currentA;
  if (!reaches(availableW, phases.thresholdW)) return State.bridging;
  if (!reaches(availableW, phases.wPerA * currentA)) return State.topped;
  return reaches(phases.wPerA * ceilingA, aimA * phases.wPerA) ? State.surplus : State.ceiling;
}

/** Another doing: counts start afresh. */
function begin(point: PointState, doing: DoingCode): void {
  point.doing = doing;
  point.leftSteps = 0;
  clearCounts(point);
}

function clearCounts(point: PointState): void {
  point.stoodLeast = 0;
  point.stoodMost = 0;
  point.lackedLeast = 0;
  point.lackedMost = 0;
}

function count(point: PointState, rules: PointRules, sight: Sight): void {
  if (reaches(sight.availableLeastW, rules.least.thresholdW)) {
    point.stoodLeast++;
    point.lackedLeast = 0;
  } else {
    point.stoodLeast = 0;
    point.lackedLeast++;
  }
  if (!rules.switches) return;
  if (reaches(sight.availableMostW, rules.most.thresholdW)) {
    point.stoodMost++;
    point.lackedMost = 0;
  } else {
    point.stoodMost = 0;
    point.lackedMost++;
  }
}

function note(
  point: PointState,
  event: EventCode,
  phasesFrom: number,
  phasesTo: number,
  decidingW: number,
  thresholdW: number,
  heldSteps: number,
): void {
  point.event = event;
  point.phasesFrom = phasesFrom;
  point.phasesTo = phasesTo;
  point.decidingW = decidingW;
  point.thresholdW = thresholdW;
  point.heldSteps = heldSteps;
}
