import { FRACTION_0, S_PER_H } from '../base/index.ts';
import {
  Event,
  freshPoint,
  freshSight,
  type Headroom,
  lookForCeiling,
  mustChargeForWh,
  mustStartS,
  type PointState,
  SAME_W,
  type Sight,
  State,
  type StateCode,
  stepPoint,
} from '../charging/index.ts';
import { dcPowerW, plugsIn, taperedCurrentA, tripDemand } from '../vehicle/index.ts';
import { type Deciding, type Log, logEvent } from './log.ts';
import type { Plan, PointPlan } from './plan.ts';
import { availableByPhaseW, type Site } from './site.ts';

/** A step beyond any run. */
const NEVER = 2 ** 30;

/** A charge point on its way through a run: the law's memory, the car's battery, its place among the stays. */
export interface PointRun {
  readonly plan: PointPlan;
  readonly house: Plan;
  readonly index: number;
  readonly stepH: number;
  readonly log: Log;
  readonly law: PointState;
  readonly sight: Sight;
  /** Whether rule 11 can ever ask for anything here. */
  readonly hasNeeds: boolean;
  /** No charge point comes after this one, and no rod, limit or phase looks at what it leaves. */
  readonly leavesNothing: boolean;
  /** Index of the stay that runs or comes next, and the step at which the stays next have something to say. */
  stay: number;
  changeStep: number;
  /** Before this step no departure presses: with what was in the battery when it was reckoned, so with more all the less. */
  pressStep: number;
  /** Up to before this step it can go on doing nothing, and the surplus below which it does; set while no power flows. */
  idleUntil: number;
  idleBelowW: number;
  /** Energy in the car's battery, the same as a share of its capacity, and what must be charged for (rule 11). */
  storedWh: number;
  soc: number;
  mustWh: number;
  interruptions: number;
  /** Of this step: its name, phases that carry power, mean power, and where that comes from; the grid gives the rest. */
  state: StateCode;
  phases: number;
  powerW: number;
  pvW: number;
  batteryW: number;
}

/** A charge point before the first step. */
export function freshRun(house: Plan, index: number, log: Log): PointRun {
  const plan = house.points[index]!;
  return {
    plan,
    house,
    index,
    stepH: log.stepS / S_PER_H,
    log,
    law: freshPoint(),
    sight: freshSight(),
    hasNeeds: plan.needs.floorWh > 0 || plan.needs.departureWh > 0,
    leavesNothing: house.isPlain && index === house.points.length - 1,
    stay: 0,
    changeStep: 0,
    pressStep: 0,
    idleUntil: 0,
    idleBelowW: -Infinity,
    storedWh: plan.car.startWh + FRACTION_0,
    soc: plan.car.startWh / plan.car.capacityWh + FRACTION_0,
    mustWh: FRACTION_0,
    interruptions: 0,
    state: State.away,
    phases: 0,
    powerW: FRACTION_0,
    pvW: FRACTION_0,
    batteryW: FRACTION_0,
  };
}

/** One step of a charge point: who is there, what the law says, what the car draws. Where it comes from is settled after all of them. */
export function runPoint(run: PointRun, k: number, site: Site, headroom: Headroom): void {
  const { law, sight } = run;
  const before = run.state;
  run.state = decide(run, k, site, headroom);
  if (run.state !== before || law.event !== Event.none || sight.arrives) tell(run, k, before, site);
  if (law.offeredA > 0) draw(run);
  else if (run.phases > 0) rest(run);
  if (run.powerW === 0) goIdle(run);
  // What the last car of a plain household leaves, nobody asks for.
  else if (!run.leavesNothing) occupy(run, site, headroom);
}

function decide(run: PointRun, k: number, site: Site, headroom: Headroom): StateCode {
  const { sight, law, plan } = run;
  if (k >= run.changeStep) lookForCar(run, k);
  else if (!sight.present) return law.state;
  sight.full = run.storedWh >= plan.car.targetWh;
  sight.gaveUp = run.interruptions >= plan.car.givesUpAfter;
  sight.must = plan.rules.atOnce || (run.hasNeeds && mustNow(run, k));
  sight.strayCurrent = run.powerW > 0 && !sight.arrives && (law.onMost ? plan.most.stray : plan.least.stray);
  lookAtShare(run, site);
  lookForCeiling(sight, plan.rules, plan.wiring, headroom);
  const state = stepPoint(law, plan.rules, sight);
  if (law.offeredA === 0) return state;
  return law.offeredA < (law.onMost ? plan.most.minA : plan.least.minA) - 1e-9 ? State.refusing : state;
}

/**
 * How long and below which surplus (F) a charge point goes on doing nothing: without a car, with a full one or one that gave up until its
 * stays change something, at any; waiting with nothing to rest from below its threshold (where one meter counts the sum), until the
 * next departure may press; not at all while anything is under way. (Counts of lacking surplus matter only while charging, and begin
 * afresh there.)
 */
function goIdle(run: PointRun): void {
  const { law, state, plan, house } = run;
  const isOut = state === State.away || state === State.full || state === State.gaveUp;
  const waits = state === State.short && run.mustWh === 0 && !plan.rules.atOnce && !house.perPhase;
  run.idleUntil = waits && run.hasNeeds ? Math.min(run.changeStep, run.pressStep) : run.changeStep;
  if (law.event !== Event.none || !(isOut || waits)) run.idleBelowW = -Infinity;
  else run.idleBelowW = isOut ? Infinity : plan.rules.least.thresholdW - SAME_W;
}

/** Rule 1 for this charge point: what earlier ones leave of the surplus. */
function lookAtShare({ sight, plan, house }: PointRun, site: Site): void {
  if (!house.perPhase) {
    sight.availableLeastW = site.availableW;
    sight.availableMostW = site.availableW;
    return;
  }
  sight.availableLeastW = availableByPhaseW(site, house, plan.wiring, plan.rules.least.n);
  sight.availableMostW = availableByPhaseW(site, house, plan.wiring, plan.rules.most.n);
  site.availableW = sight.availableLeastW;
}

/** Rule 11: whether the car must charge now, with what is in it and the time that is left. */
function mustNow(run: PointRun, k: number): boolean {
  if (!run.sight.present) return false;
  const { needs } = run.plan;
  if (run.mustWh === 0 && k < run.pressStep && run.storedWh >= needs.floorWh) return false;
  const timeLeftS = run.plan.presence.departS[run.stay]! - k * run.log.stepS;
  run.mustWh = mustChargeForWh(needs, run.mustWh, run.storedWh, timeLeftS);
  // What was charged since it was last reckoned puts it off.
  if (run.mustWh === 0) run.pressStep = pressStepOf(run);
  return run.mustWh > 0;
}

/** The step before the one in which the departure begins to press: one in hand, so that rounding never hides it. */
function pressStepOf({ plan, stay, storedWh, log }: PointRun): number {
  const pressS = plan.presence.departS[stay]! - mustStartS(plan.needs, storedWh);
  return Math.max(0, Math.min(NEVER, Math.floor(pressS / log.stepS) - 1));
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
      if (sight.arrives && !plugsIn(run.soc, run.plan.car.plugInBelowSoc)) {
        sight.arrives = false;
        run.changeStep = end;
        return;
      }
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
  const { presence } = run.plan;
  const km = presence.km[run.stay]!;
  const { usedWh, missedKm, publicWh } = tripDemand(run.storedWh, km, presence.whPerKm[run.stay]!);
  run.storedWh -= usedWh;
  run.soc = run.storedWh / run.plan.car.capacityWh;
  run.mustWh = 0;
  run.interruptions = 0;
  run.pressStep = pressStepOf(run);
  if (km > 0) run.log.drives.push({ step: k, point: run.index, km, missedKm, usedWh, publicWh });
}

/** The car draws what is offered; in the last step before its target only for the part of the step that it needs (rule 12). */
function draw(run: PointRun): void {
  const { law, plan, house, stepH } = run;
  if (run.state === State.refusing) {
    rest(run);
    return;
  }
  const { phases, minA } = law.onMost ? plan.most : plan.least;
  const { maxA, taperFromSoc } = plan.car;
  let currentA = Math.min(law.offeredA, maxA);
  if (run.soc > taperFromSoc) currentA = taperedCurrentA(currentA, run.soc, taperFromSoc, maxA, minA);
  const fullW = phases * house.voltageV * currentA;
  const storesWh = dcPowerW(fullW, plan.car.standbyW, plan.car.conversionShare) * stepH;
  const missingWh = plan.car.targetWh - run.storedWh;
  const part = storesWh > missingWh ? missingWh / storesWh : 1;
  run.storedWh = storesWh >= missingWh ? plan.car.targetWh : run.storedWh + storesWh;
  run.soc = run.storedWh / plan.car.capacityWh;
  run.phases = phases;
  run.powerW = fullW * part;
}

function rest(run: PointRun): void {
  // An interruption is power that ends while the car is there and wants more.
  const { present, arrives, full } = run.sight;
  if (run.powerW > 0 && present && !arrives && !full) run.interruptions++;
  run.phases = 0;
  run.powerW = 0;
  run.pvW = 0;
  run.batteryW = 0;
}

/** What the car draws is no longer there for later charge points. */
function occupy(run: PointRun, site: Site, headroom: Headroom): void {
  const { fuseA, earlierA } = headroom;
  const { wiring } = run.plan;
  const phaseW = run.powerW / run.phases;
  const phaseA = phaseW / run.house.voltageV;
  for (let terminal = 0; terminal < run.phases; terminal++) {
    const p = wiring[terminal]! - 1;
    fuseA[p]! -= phaseA;
    earlierA[p]! += phaseA;
    if (run.house.perPhase) site.earlierByPhaseW[p]! += phaseW;
  }
  headroom.roomyA -= phaseA;
  headroom.contractW -= run.powerW;
  headroom.dimmedW -= run.powerW;
  site.earlierW += run.powerW;
  site.availableW = Math.max(0, site.availableW - run.powerW);
}

/** Writes down what happened between the last step and this one. `run.phases` still holds the last step's. */
function tell(run: PointRun, k: number, before: StateCode, site: Site): void {
  const { law, sight, log, index, state } = run;
  const left = before !== State.away && (state === State.away || (sight.arrives && k > 0));
  if (left) logEvent(log, k, index, Event.leave, seen(run.phases, 0, site), state);
  if (sight.arrives) logEvent(log, k, index, Event.plugIn, seen(0, 0, site), state);
  if (law.event !== Event.none) logEvent(log, k, index, law.event, law, state);
  if (state === before) return;
  if (state === State.must) logEvent(log, k, index, Event.must, seen(run.phases, run.phases, site), state);
  if (state === State.full) logEvent(log, k, index, Event.full, seen(run.phases, 0, site), state);
  if (state === State.gaveUp) logEvent(log, k, index, Event.gaveUp, seen(run.phases, 0, site), state);
}

/** The numbers beside something that no threshold decided. */
const seen = (phasesFrom: number, phasesTo: number, { availableW }: Site): Deciding => ({
  phasesFrom,
  phasesTo,
  decidingW: availableW,
  thresholdW: 0,
  heldSteps: 0,
});
