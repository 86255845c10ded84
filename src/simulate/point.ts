import { S_PER_H } from '../base/index.ts';
import {
  Event,
  freshPoint,
  freshSight,
  type Headroom,
  lookForCeiling,
  type PointState,
  type Sight,
  State,
  type StateCode,
  stepPoint,
} from '../charging/index.ts';
import { dcPowerW, tripDemand } from '../vehicle/index.ts';
import { type Log, logEvent } from './log.ts';
import type { PointPlan } from './plan.ts';
import type { PointColumns } from './results.ts';

/** A step beyond any run. */
const NEVER = 2 ** 30;

/** What is left of the step's power for the charge points still to come. Numbers that change every step, kept in one place. */
export interface Left {
  /** Surplus that the law compares (F), less what earlier charge points draw, W. */
  availableW: number;
  /** PV that neither the house nor earlier charge points take, W. */
  pvW: number;
  /** What the grid gives so far, W. */
  gridW: number;
}

/** A charge point on its way through a run: the law's memory, the car's battery, its place among the stays. */
export interface PointRun {
  readonly plan: PointPlan;
  readonly index: number;
  readonly columns: PointColumns;
  readonly voltageV: number;
  readonly stepH: number;
  readonly log: Log;
  readonly law: PointState;
  readonly sight: Sight;
  /** Index of the stay that runs or comes next. */
  stay: number;
  /** Step at which the stays next have something to say. */
  changeStep: number;
  /** Energy in the car's battery, and the same as a share of its capacity. */
  storedWh: number;
  soc: number;
  /** Of this step: phases that carry power, mean current per phase, mean power. */
  phases: number;
  currentA: number;
  powerW: number;
  /** The part of it that is PV. */
  pvW: number;
}

/** A charge point before the first step. */
export function freshRun(plan: PointPlan, index: number, columns: PointColumns, voltageV: number, log: Log): PointRun {
  return {
    plan,
    index,
    columns,
    voltageV,
    stepH: log.stepS / S_PER_H,
    log,
    law: freshPoint(),
    sight: freshSight(),
    stay: 0,
    changeStep: 0,
    storedWh: plan.car.startWh,
    soc: plan.car.startWh / plan.car.capacityWh,
    phases: 0,
    currentA: 0,
    powerW: 0,
    pvW: 0,
  };
}

/** One step of a charge point: who is there, what the law says, what the car draws, where it comes from. */
export function runPoint(run: PointRun, k: number, left: Left, headroom: Headroom): void {
  const { law, sight, columns } = run;
  const before = law.state;
  const state = decide(run, k, left, headroom);
  if (state !== before || law.event !== Event.none || sight.arrives) tell(run, k, before, state, left.availableW);
  if (law.offeredA > 0) {
    draw(run);
    book(run, left);
    occupy(run, headroom);
  } else if (run.phases > 0) {
    rest(run);
  }

  columns.state[k] = state;
  columns.phases[k] = run.phases;
  columns.powerW[k] = run.powerW;
  columns.pvW[k] = run.pvW;
  columns.soc[k] = run.soc;
}

function decide(run: PointRun, k: number, left: Left, headroom: Headroom): StateCode {
  const { sight, law, plan } = run;
  if (k >= run.changeStep) lookForCar(run, k);
  else if (!sight.present) return law.state;
  sight.full = run.storedWh >= plan.car.targetWh;
  sight.must = plan.rules.atOnce;
  sight.availableLeastW = left.availableW;
  sight.availableMostW = left.availableW;
  lookForCeiling(sight, plan.rules, plan.wiring, headroom);
  return stepPoint(law, plan.rules, sight);
}

/**
 * Finds what the stays say of the step at which something changes: a car comes (then the way home is taken off its battery) or
 * goes. Between changes nothing needs to be looked up.
 */
function lookForCar(run: PointRun, k: number): void {
  const { stayStart, stayEnd } = run.plan.presence;
  const { sight } = run;
  sight.present = false;
  sight.arrives = false;
  run.changeStep = NEVER;
  for (; run.stay < stayStart.length; run.stay++) {
    const start = stayStart[run.stay]!;
    const end = stayEnd[run.stay]!;
    if (k < start) {
      run.changeStep = start;
      return;
    }
    if (k === start) {
      driveHome(run, k);
      sight.arrives = k < end;
    }
    if (k < end) {
      sight.present = true;
      // A plug-in is over after its step.
      run.changeStep = sight.arrives ? k + 1 : end;
      return;
    }
  }
}

function driveHome(run: PointRun, k: number): void {
  const km = run.plan.presence.km[run.stay]!;
  const { usedWh, missedKm } = tripDemand(run.storedWh, km, run.plan.car.whPerKm);
  run.storedWh -= usedWh;
  run.soc = run.storedWh / run.plan.car.capacityWh;
  if (km > 0) run.log.drives.push({ step: k, point: run.index, km, missedKm, usedWh });
}

/** The car draws what is offered; in the last step before its target only for the part of the step that it needs (rule 12). */
function draw(run: PointRun): void {
  const { law, plan, stepH } = run;
  const phases = law.onMost ? plan.rules.most.n : plan.rules.least.n;
  const fullW = phases * run.voltageV * law.offeredA;
  const storesWh = dcPowerW(fullW, plan.car.standbyW, plan.car.conversionShare) * stepH;
  const missingWh = plan.car.targetWh - run.storedWh;
  const part = storesWh > missingWh ? missingWh / storesWh : 1;
  run.storedWh = storesWh >= missingWh ? plan.car.targetWh : run.storedWh + storesWh;
  run.soc = run.storedWh / plan.car.capacityWh;
  run.phases = phases;
  run.currentA = law.offeredA * part;
  run.powerW = fullW * part;
}

/** PV first, the grid for the rest; later charge points see less of both sun and surplus. */
function book(run: PointRun, left: Left): void {
  run.pvW = Math.min(run.powerW, left.pvW);
  left.pvW -= run.pvW;
  left.gridW += run.powerW - run.pvW;
  left.availableW = Math.max(0, left.availableW - run.powerW);
}

function rest(run: PointRun): void {
  run.phases = 0;
  run.currentA = 0;
  run.powerW = 0;
  run.pvW = 0;
}

/** What the car draws is no longer there for later charge points. */
function occupy(run: PointRun, headroom: Headroom): void {
  const { fuseA, earlierA } = headroom;
  for (let terminal = 0; terminal < run.phases; terminal++) {
    const phase = run.plan.wiring[terminal]! - 1;
    fuseA[phase]! -= run.currentA;
    earlierA[phase]! += run.currentA;
  }
  headroom.roomyA -= run.currentA;
}

/** Writes down what happened between the last step and this one. `run.phases` still holds the last step's. */
function tell(run: PointRun, k: number, before: StateCode, state: StateCode, availableW: number): void {
  const { law, sight, log, index } = run;
  const seen = { phasesFrom: run.phases, phasesTo: 0, decidingW: availableW, thresholdW: 0, heldSteps: 0 };
  const left = before !== State.away && (state === State.away || (sight.arrives && k > 0));
  if (left) logEvent(log, k, index, Event.leave, seen, state);
  if (sight.arrives) logEvent(log, k, index, Event.plugIn, { ...seen, phasesFrom: 0 }, state);
  if (law.event !== Event.none) logEvent(log, k, index, law.event, law, state);
  if (state === State.full && before !== State.full) logEvent(log, k, index, Event.full, seen, state);
}
