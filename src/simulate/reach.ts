import { S_PER_H } from '../base/index.ts';
import { type PhaseRules, roundDownToStep } from '../charging/index.ts';
import { dcPowerW } from '../vehicle/index.ts';
import type { MissedDeparture } from './figures.ts';
import type { CarWay, Plan } from './plan.ts';

/** Departures that something is asked of, and those of them that would lack some of it even in the best case. */
export interface Reach {
  readonly departures: number;
  readonly outOfReach: readonly MissedDeparture[];
}

/**
 * Which departures cannot have what they are meant to have, however the car is charged: it takes all that charger, car and connection
 * ever allow from the moment it is plugged in, with an idle house and no other car. What really happens can only be worse.
 *
 * @param i  charge point, from 0
 */
export function reachOf(plan: Plan, i: number): Reach {
  const { presence, needs, car, rules } = plan.points[i]!;
  const { stepS, steps } = plan.grid;
  const outOfReach: MissedDeparture[] = [];
  let departures = 0;
  if (needs.departureWh === 0) return { departures, outOfReach };
  const storedW = highestStoredW(plan, i);
  let storedWh = car.startWh;
  for (let stay = 0; stay < presence.stayStart.length; stay++) {
    const start = presence.stayStart[stay]!;
    const step = presence.stayEnd[stay]!;
    storedWh = Math.max(0, storedWh - presence.km[stay]! * presence.whPerKm[stay]!);
    const chargingS = Math.max(0, step - start - rules.lagSteps) * stepS;
    storedWh = Math.max(storedWh, Math.min(car.targetWh, storedWh + (storedW * chargingS) / S_PER_H));
    if (step <= start || presence.departS[stay]! > steps * stepS) continue;
    departures++;
    const shortWh = needs.departureWh - storedWh;
    if (shortWh > 0.01) outOfReach.push({ step, shortWh, shortKm: shortWh / car.whPerKm });
  }
  return { departures, outOfReach };
}

/** Most power that ever reaches the car's battery, W: on the number of phases that gives more. */
function highestStoredW(plan: Plan, i: number): number {
  const { rules, car, least, most } = plan.points[i]!;
  const on = (phases: PhaseRules, way: CarWay): number => {
    const offeredA = roundDownToStep(Math.min(phases.maxA, connectionA(plan, phases)), rules.currentStepA);
    const drawnA = offeredA < Math.max(phases.minA, way.minA) ? 0 : Math.min(offeredA, car.maxA);
    return dcPowerW(way.phases * plan.voltageV * drawnA, car.standbyW, car.conversionShare);
  };
  return Math.max(on(rules.least, least), on(rules.most, most));
}

/**
 * The most current that the connection ever leaves on some phases, A: fuse, contract and imbalance with an idle house and no other
 * car. (With other cars on the other phases the limit of imbalance allows more.)
 */
export function connectionA(plan: Plan, { n, wPerA }: PhaseRules): number {
  const imbalanceA = n < plan.buildingPhases && plan.points.length === 1 ? plan.imbalanceA : Infinity;
  return Math.min(plan.mainFuseA, plan.contractW / wPerA, imbalanceA);
}
