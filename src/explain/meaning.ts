import { stepStartMs, wallClockAt } from '../base/index.ts';
import type { PointRules } from '../charging/index.ts';
import type { ChargePoint, Household, Scenario, Usage } from '../scenario/index.ts';
import { type Plan, planOf } from '../simulate/index.ts';
import { conflictSentence, conflictsOf } from './conflicts.ts';
import type { Catalogue, WeeklyUsage } from './lang/catalogue.ts';
import { EN } from './lang/en.ts';

/**
 * What a scenario means, in sentences: the household, the thresholds in kW, what can never happen in it, and what gets in the way of what.
 *
 * Every number is computed by the code that the run uses. Good for reading a scenario back to its author before anything is run.
 */
export function meaningOf(scenario: Scenario, words: Catalogue = EN): string[] {
  const plan = planOf(scenario);
  const names = scenario.chargePoints.map(({ name }) => name);
  return [
    ...householdMeaning(scenario, words),
    ...plan.points.flatMap(({ rules }, i) => pointMeaning(scenario.chargePoints[i], rules, scenario, words)),
    ...neverOf(scenario, plan, words),
    ...conflictsOf(scenario, plan).map((conflict) => conflictSentence(conflict, names, words)),
  ];
}

function householdMeaning(scenario: Scenario, { meaning }: Catalogue): string[] {
  const { grid, pv, battery, diverter } = scenario;
  return [
    meaning.place(scenario, wallClockAt(grid.zone, stepStartMs(grid, 0))),
    pv.kind === 'measured' ? meaning.roofMeasured(pv.series.file, pv.phases) : meaning.roof(pv),
    houseMeaning(scenario.household, meaning),
    ...(battery === null ? [] : [meaning.battery(battery)]),
    ...(diverter === null ? [] : [meaning.diverter(diverter)]),
    meaning.connection(scenario.supply),
  ];
}

/** Loads over longer intervals than this are broken up into minutes, s. */
const COARSE_S = 300;

function houseMeaning(household: Household, meaning: Catalogue['meaning']): string {
  if (household.kind === 'profile') return meaning.houseProfile(household);
  if (household.kind === 'synthetic') return meaning.houseSynthetic(household);
  const { file, intervalS } = household.series;
  const isMeter = household.kind === 'measured' && household.from === 'meter';
  return meaning.houseMeasured(file, isMeter, household.spikesSeed !== null && intervalS > COARSE_S ? intervalS : null);
}

function pointMeaning(
  point: ChargePoint | undefined,
  rules: PointRules,
  { control }: Scenario,
  { meaning }: Catalogue,
): string[] {
  if (point === undefined) return [];
  const hasGap = rules.switches && rules.least.wPerA * rules.least.maxA < rules.most.minW;
  const said = [
    meaning.takes(rules),
    ...(hasGap ? [meaning.gap(rules)] : []),
    rules.atOnce ? meaning.atOnce : meaning.follows(rules, control),
    habits(point.usage, meaning),
  ];
  return said.map((sentence) => meaning.at(point.name) + sentence);
}

function habits(usage: Usage, meaning: Catalogue['meaning']): string {
  switch (usage.kind) {
    case 'always':
      return meaning.always;
    case 'stays':
      return meaning.stays(usage);
    case 'weekly':
      return meaning.weekly(usage, kmPerWeek(usage), kmPerYear(usage));
  }
}

const WEEKS_PER_YEAR = 365.25 / 7;

const kmPerWeek = ({ trips }: WeeklyUsage): number => trips.reduce((sum, { km, weekdays }) => sum + km * weekdays.length, 0);

/** Days off and holidays are not taken off: they are few, and the sentence says "about". */
function kmPerYear(usage: WeeklyUsage): number {
  const { longTrips } = usage.exceptions;
  return kmPerWeek(usage) * WEEKS_PER_YEAR + (longTrips === null ? 0 : 12 * longTrips.perMonth * longTrips.km);
}

/** What can never happen in this household, whatever the weather. */
function neverOf(scenario: Scenario, plan: Plan, { meaning }: Catalogue): string[] {
  const highestW = highestPvW(scenario);
  return plan.points.flatMap(({ rules }, i) => {
    if (rules.atOnce) return [];
    const startW = rules.least.thresholdW + scenario.control.reserveW;
    const upW = rules.most.thresholdW + scenario.control.reserveW;
    const said: string[] = [];
    if (highestW < startW) said.push(meaning.neverStarts(highestW, startW));
    else if (rules.switches && highestW < upW) said.push(meaning.neverMorePhases(highestW, upW, rules.most.n));
    said.push(...fuseNever(rules, plan, meaning));
    return said.map((sentence) => meaning.at(scenario.chargePoints[i]?.name ?? '') + sentence);
  });
}

function fuseNever({ least, most, switches }: PointRules, { mainFuseA }: Plan, meaning: Catalogue['meaning']): string[] {
  // A fuse below the minimum is told among the conflicts.
  if (mainFuseA < least.minA) return [];
  const way = switches ? most : least;
  return mainFuseA >= way.maxA ? [] : [meaning.fuseHolds(mainFuseA, way.maxA)];
}

/** The most that the roof can ever give, W. */
function highestPvW({ pv }: Scenario): number {
  if (pv.kind === 'arrays') return pv.inverter.ratedW;
  return pv.series.columns.pvW.reduce((highest, w) => Math.max(highest, w), 0);
}
