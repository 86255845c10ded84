import { isoLocal, stepStartMs } from '../base/index.ts';
import { type PhaseRules, roundDownToStep, SAME_W } from '../charging/index.ts';
import { countryOfZone, GRID_RULES, gridRule, type Scenario } from '../scenario/index.ts';
import { type Plan, type PointPlan, planOf, reachOf } from '../simulate/index.ts';
import type { Catalogue } from './lang/catalogue.ts';
import { EN } from './lang/en.ts';

/** Something in a scenario that gets in the way of something else in it, with the numbers that meet. `point` counts from 0. */
export type Conflict =
  /** The limit of imbalance ends charging on n phases below what charger and car could do. */
  | { code: 'imbalance-holds'; point: number; n: number; limitA: number; endsAtA: number; couldA: number; alone: boolean }
  /** The limit of imbalance is below the car's minimum on n phases. */
  | { code: 'imbalance-forbids'; point: number; n: number; limitA: number; minA: number; alone: boolean }
  /** No limit of imbalance is written, and the country that the time zone points to has one that would hold something back. */
  | { code: 'imbalance-not-given'; country: string; countryCode: string; limitA: number }
  /** The minimum on n phases is above what the connection ever leaves. `never`: on no number of phases can it charge. */
  | { code: 'minimum-above-fuse'; point: number; n: number; minA: number; fuseA: number; never: boolean }
  | { code: 'minimum-above-contract'; point: number; n: number; minW: number; contractW: number; never: boolean }
  | { code: 'minimum-above-dimming'; point: number; n: number; minW: number; toW: number; never: boolean }
  /** More range is asked for at departure than the battery holds where charging ends. */
  | { code: 'departure-above-target'; point: number; askedKm: number; targetKm: number }
  /** Departures that lack some of it even at the highest current from the moment the car is plugged in; of the first, when and what it has. */
  | {
      code: 'departure-out-of-reach';
      point: number;
      missed: number;
      departures: number;
      firstAt: string;
      askedKm: number;
      firstHasKm: number;
    }
  /** The share asks for no surplus: charging starts whatever the sun does, at the minimum or (proportional) at the full current. */
  | { code: 'share-starts-always'; point: number; powerW: number; atFull: boolean }
  /** Behind the export limit the controller never sees what it needs to start, but by what is named. */
  | {
      code: 'export-limit-hides-start';
      point: number;
      exportLimitW: number;
      neededW: number;
      byBattery: boolean;
      byNeeds: boolean;
      byOtherCar: boolean;
    }
  /** The same for the change to more phases, seen while charging on the fewer at full current. */
  | { code: 'export-limit-hides-phases'; point: number; n: number; exportLimitW: number; seenW: number; neededW: number };

/**
 * What in a scenario gets in the way of something else in it, whatever the weather: the connection first, then charge point by charge
 * point. Nothing is run; every number is what the law would compare.
 */
export function conflictsOf(scenario: Scenario, plan: Plan = planOf(scenario)): Conflict[] {
  return [
    ...imbalanceNotGiven(scenario, plan),
    ...plan.points.flatMap((point, i) => [
      ...imbalanceConflicts(point, plan, i),
      ...minimumConflicts(point, plan, scenario, i),
      ...departureConflicts(point, plan, scenario, i),
      ...shareConflicts(point, i),
      ...exportConflicts(point, plan, i),
    ]),
  ];
}

const waysOf = ({ rules }: PointPlan): readonly PhaseRules[] => (rules.switches ? [rules.least, rules.most] : [rules.least]);

/** On all building phases at once a car changes no difference between them. */
const unbalances = ({ n }: PhaseRules, { buildingPhases }: Plan): boolean => n < buildingPhases;

function imbalanceNotGiven({ supply, zone }: Scenario, plan: Plan): Conflict[] {
  const country = supply.country === null ? countryOfZone(zone.name) : null;
  const rule = country === null ? null : gridRule(country, 'imbalanceLimitA');
  if (country === null || rule === null || supply.imbalanceLimitA !== null) return [];
  const drawsA = plan.points.map((point) => Math.max(0, ...waysOf(point).map((way) => (unbalances(way, plan) ? way.maxA : 0))));
  if (drawsA.reduce((sum, currentA) => sum + currentA, 0) <= rule.value) return [];
  return [{ code: 'imbalance-not-given', country: GRID_RULES[country].name, countryCode: country, limitA: rule.value }];
}

function imbalanceConflicts(point: PointPlan, plan: Plan, i: number): Conflict[] {
  const limitA = plan.imbalanceA;
  const alone = plan.points.length === 1;
  return waysOf(point).flatMap((way): Conflict[] => {
    const { n, minA, maxA } = way;
    const couldA = Math.min(maxA, plan.mainFuseA);
    if (!unbalances(way, plan) || limitA >= couldA) return [];
    if (limitA < minA) return [{ code: 'imbalance-forbids', point: i, n, limitA, minA, alone }];
    const endsAtA = roundDownToStep(limitA, point.rules.currentStepA);
    return [{ code: 'imbalance-holds', point: i, n, limitA, endsAtA, couldA, alone }];
  });
}

function minimumConflicts(point: PointPlan, plan: Plan, { supply }: Scenario, i: number): Conflict[] {
  const { mainFuseA: fuseA, contractW } = plan;
  const toW = supply.dimming?.toW ?? Infinity;
  return [
    ...blocked(point, ({ minA }) => minA > fuseA).map(({ n, minA, never }): Conflict => {
      return { code: 'minimum-above-fuse', point: i, n, minA, fuseA, never };
    }),
    ...blocked(point, ({ minW }) => minW > contractW).map(({ n, minW, never }): Conflict => {
      return { code: 'minimum-above-contract', point: i, n, minW, contractW, never };
    }),
    ...blocked(point, ({ minW }) => minW > toW).map(({ n, minW, never }): Conflict => {
      return { code: 'minimum-above-dimming', point: i, n, minW, toW, never };
    }),
  ];
}

/** The numbers of phases that something forbids; where it forbids all, only the fewest, since that says it all. */
function blocked(point: PointPlan, forbids: (way: PhaseRules) => boolean): (PhaseRules & { never: boolean })[] {
  const ways = waysOf(point);
  const found = ways.filter(forbids);
  const never = found.length === ways.length;
  return (never ? found.slice(0, 1) : found).map((way) => ({ ...way, never }));
}

function departureConflicts({ car }: PointPlan, plan: Plan, scenario: Scenario, i: number): Conflict[] {
  const askedKm = scenario.chargePoints[i]?.needs.departureKm ?? 0;
  const targetKm = car.targetWh / car.whPerKm;
  const found: Conflict[] = [];
  if (askedKm > targetKm + 1e-9) found.push({ code: 'departure-above-target', point: i, askedKm, targetKm });
  const { departures, outOfReach } = reachOf(plan, i);
  const first = outOfReach[0];
  if (first === undefined) return found;
  const meantKm = Math.min(askedKm, targetKm);
  const firstAt = isoLocal(scenario.zone, stepStartMs(plan.grid, first.step)).slice(0, 16).replace('T', ' ');
  const missed = outOfReach.length;
  const firstHasKm = meantKm - first.shortKm;
  return [...found, { code: 'departure-out-of-reach', point: i, missed, departures, firstAt, askedKm: meantKm, firstHasKm }];
}

function shareConflicts({ rules }: PointPlan, i: number): Conflict[] {
  const { least, most, atOnce, proportional } = rules;
  if (atOnce || least.thresholdW > SAME_W) return [];
  // Proportional, any surplus over a share of nothing is without bound: F ≥ T holds on the most phases too.
  return [
    { code: 'share-starts-always', point: i, powerW: proportional ? most.wPerA * most.maxA : least.minW, atFull: proportional },
  ];
}

/**
 * Rule 1 lets the controller see at most the export limit and, of the step before, what all cars drew and what the battery took beyond
 * its own part. So while no car draws, F is at most the limit less the reserve; only a battery that yields to the car, a need that charges
 * whatever the sun does, or a car further down the list can lift it.
 */
function exportConflicts({ rules, needs }: PointPlan, plan: Plan, i: number): Conflict[] {
  const { exportLimitW, reserveW, battery } = plan;
  const { least, most, atOnce, switches } = rules;
  if (exportLimitW === Infinity || plan.seesCurtailedPv || plan.perPhase || atOnce) return [];
  const batteryW = battery !== null && battery.firstToWh < battery.capacityWh ? battery.maxChargeW : 0;
  const laterW = plan.points.slice(i + 1).reduce((sum, later) => sum + later.rules.most.wPerA * later.rules.most.maxA, 0);
  const startW = least.thresholdW + reserveW;
  if (exportLimitW < startW - SAME_W && least.thresholdW > SAME_W) {
    const byBattery = exportLimitW + batteryW >= startW - SAME_W;
    const byNeeds = needs.floorWh > 0 || needs.departureWh > 0;
    const byOtherCar = exportLimitW + laterW >= startW - SAME_W;
    return [{ code: 'export-limit-hides-start', point: i, exportLimitW, neededW: startW, byBattery, byNeeds, byOtherCar }];
  }
  const seenW = exportLimitW + least.wPerA * least.maxA;
  const neededW = most.thresholdW + reserveW;
  if (!switches || seenW + batteryW + laterW >= neededW - SAME_W) return [];
  return [{ code: 'export-limit-hides-phases', point: i, n: most.n, exportLimitW, seenW, neededW }];
}

/** A conflict as a sentence. `pointNames`: one a charge point. */
export function conflictSentence(conflict: Conflict, pointNames: readonly string[], words: Catalogue = EN): string {
  const say = words.conflicts[conflict.code] as (numbers: Conflict) => string;
  const sentence = say(conflict);
  return 'point' in conflict ? words.meaning.at(pointNames[conflict.point] ?? '') + sentence : sentence;
}

/** A sentence for every kind of conflict. */
export type ConflictWords = { readonly [C in Conflict['code']]: (numbers: Extract<Conflict, { code: C }>) => string };
