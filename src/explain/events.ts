import { stepStartMs, wallClockAt } from '../base/index.ts';
import { type PhaseRules, reaches } from '../charging/index.ts';
import type { ChargeEvent, PointPlan, Run } from '../simulate/index.ts';
import { at, type PointSurplus } from './available.ts';
import { causeOfStall } from './causes.ts';
import type { Clock, EventFacts, HeldName } from './facts.ts';

/** An event of a run with all that a sentence about it needs; null for one that says nothing. */
export function factsOfEvent(run: Run, event: ChargeEvent, surplus: readonly PointSurplus[]): EventFacts | null {
  const plan = run.plan.points[event.point];
  const own = surplus[event.point];
  if (plan === undefined || own === undefined || event.event === 'none') return null;
  const way = wayOf(plan, event);
  return {
    event: event.event,
    step: event.step,
    point: event.point,
    since: clockAt(run, event.step - Math.round(event.heldS / run.grid.stepS)),
    heldS: event.heldS,
    surplusW: event.surplusW,
    thresholdW: event.thresholdW,
    phasesFrom: event.phasesFrom,
    phasesTo: event.phasesTo,
    minA: way.minA,
    minW: way.minW,
    share: way.thresholdW / way.minW,
    drive: driveOf(plan, event, way, run.grid.stepS),
    limit: event.event === 'hold' ? (event.reason as HeldName) : null,
    leftA: Math.max(0, event.thresholdW / way.wPerA),
    ...carFacts(run, event, plan),
    cause: event.event === 'stall' ? causeOfStall(run, event, own) : null,
  };
}

/** What the clock on the wall shows when a step begins. */
export const clockAt = ({ grid }: Pick<Run, 'grid'>, step: number): Clock => wallClockAt(grid.zone, stepStartMs(grid, step));

/** The number of phases that an event is about: what it goes to, what it was on, or the fewest. */
function wayOf({ rules }: PointPlan, { event, phasesFrom, phasesTo }: ChargeEvent): PhaseRules {
  if (event === 'switch' || event === 'stall') return event === 'switch' ? rules.most : rules.least;
  return (phasesTo || phasesFrom) === rules.most.n ? rules.most : rules.least;
}

/** Whether surplus alone would have brought a start or a switch, or whether the car had to charge. */
function driveOf({ rules }: PointPlan, event: ChargeEvent, way: PhaseRules, stepS: number): EventFacts['drive'] {
  if (rules.atOnce) return 'at-once';
  const starts = event.event === 'start';
  if (!starts && !(event.event === 'switch' && event.phasesTo > event.phasesFrom)) return 'surplus';
  const stoodLong = event.heldS >= (starts ? rules.startSteps : rules.upSteps) * stepS;
  return stoodLong && reaches(event.surplusW, way.thresholdW) ? 'surplus' : 'must';
}

type CarFacts = Pick<EventFacts, 'soc' | 'targetSoc' | 'km' | 'missedKm' | 'need' | 'shortKm'>;

function carFacts(run: Run, { event, step, point }: ChargeEvent, { car, needs }: PointPlan): CarFacts {
  const drive = event === 'plug-in' ? run.drives.find((one) => one.step === step && one.point === point) : undefined;
  const endedWh = storedWh(run, point, step - 1);
  const hereWh = event === 'plug-in' ? endedWh - (drive?.usedWh ?? 0) : endedWh;
  return {
    soc: event === 'full' ? car.targetWh / car.capacityWh : hereWh / car.capacityWh,
    targetSoc: car.targetWh / car.capacityWh,
    km: drive?.km ?? 0,
    missedKm: drive?.missedKm ?? 0,
    need: event !== 'must' ? null : endedWh < needs.floorWh ? 'floor' : 'departure',
    shortKm: event === 'leave' ? Math.max(0, needs.departureWh - hereWh) / car.whPerKm : 0,
  };
}

/** Energy in the car's battery at the end of a step, Wh; before the first step what it began with. */
export function storedWh({ columns, plan }: Run, point: number, step: number): number {
  const car = plan.points[point]?.car;
  if (car === undefined) return 0;
  return step < 0 ? car.startWh : at(columns.points[point]?.soc, step) * car.capacityWh;
}
