import { chance, gridEndMs, MS_PER_MIN, roomFor, type TimeGrid, wallClockAt } from '../base/index.ts';
import { APPLIANCES, COLD_APPLIANCES, coldMeanW, energyPerUseWh, usesPerYear } from './appliances.ts';
import { LAMP_LATITUDE_DEG } from './defaults.ts';
import type { KeepSheet, Sheet } from './sheet.ts';
import { meansOnSteps } from './steps.ts';
import { type Holiday, type HouseYear, houseYear, type YearPlan } from './year.ts';

const MINUTES_PER_H = 60;

/** A household that is to be made up. */
export interface HouseholdOptions {
  /** Consumption of a full calendar year, Wh, 0 or more. */
  readonly annualWh: number;
  readonly people: number;
  readonly seed: number;
  /** Shares of the year's energy on building phases 1, 2, 3; they add up to 1. A one-phase house has [1, 0, 0]. */
  readonly phaseSplit: readonly [number, number, number];
  /** Where lamps go on; degrees north. Left out: the middle of Europe. */
  readonly latitudeDeg?: number;
  /** Electricity for hot water and of a heat pump in a calendar year, on top of `annualWh`, Wh. Left out: none. */
  readonly hotWaterWh?: number;
  readonly heatPumpWh?: number;
  /** Public holidays, lived like Sundays: local dates as `Date.UTC`. Left out: none. */
  readonly daysOff?: readonly number[];
  /** Stretches with nobody in. Left out: none. */
  readonly holidays?: readonly Holiday[];
}

/** Watts per building phase and step. */
export type PhaseLoads = [Float64Array, Float64Array, Float64Array];

type Phase = 0 | 1 | 2;

/** Above so many times the typical consumption people do not cook more often: the rest is load that is spread over the day. */
const MOST_ACTIVITY = 3;

/**
 * The load of a made-up household, bottom-up: appliances with their own habits on one phase each, and standing load, screens and
 * lamps spread over the house.
 *
 * The model lives in calendar years of minutes. A full calendar year adds up to `annualWh`, each phase to its share; a part of
 * it is that part, value for value, whatever the period. Spikes keep the power of real appliances: consumption changes how
 * often they run, and the spread load, in shares of its own on each phase, makes both sums exact. Steps over a minute are means,
 * finer ones hold the minute's value. Hot water and heat pump come on top, each with its own exact sum: the storage heater on the
 * phase with the largest share, the pump on all by their shares. Good for surplus on typical days; the weather of the run plays no part.
 *
 * The zone's table should cover the calendar years that the period touches, else the year's sum is off by an hour of the night.
 *
 * @param room  loads of phases 1, 2, 3 that nobody needs any more, used where they fit
 * @param keep  hands out the spread load of a calendar year as it was made before; left out: it is made each time
 * @returns     W, 0 or more
 * @throws RangeError  consumption, people or split out of range
 * @see bdew-household-size
 */
export function syntheticHousehold(
  options: HouseholdOptions,
  grid: TimeGrid,
  room: readonly Float64Array[] = [],
  keep?: KeepSheet,
): PhaseLoads {
  return syntheticLoads(options, grid, { byPhaseW: room }, keep).byPhaseW;
}

/** Loads by phase, and their sum in every step; W. */
export interface Loads {
  readonly byPhaseW: PhaseLoads;
  readonly sumW: Float64Array;
}

/** The same with its sum, which is added up where its parts are written: to read them all again takes as long as half of the model. */
export function syntheticLoads(
  options: HouseholdOptions,
  grid: TimeGrid,
  room: { readonly byPhaseW?: readonly Float64Array[] | undefined; readonly sumW?: Float64Array | undefined } = {},
  keep?: KeepSheet,
): Loads {
  refuseNonsense(options);
  const plan = planOf(options);
  const startMs = grid.startMs;
  const endMs = gridEndMs(grid);
  const minutes = Math.ceil((endMs - startMs) / MS_PER_MIN);
  let loads: PhaseLoads | null = null;
  let sumW: Float64Array = new Float64Array(0);
  const lastYear = wallClockAt(grid.zone, endMs - 1).year;
  for (let year = wallClockAt(grid.zone, startMs).year; year <= lastYear; year++) {
    const house = houseYear(plan, year, grid.zone, loads === null ? room.byPhaseW : [], keep);
    const offset = Math.round((house.minutes.startMs - startMs) / MS_PER_MIN);
    // A run of just this year takes over its sheets: fresh memory costs more than the sums that fill it.
    const isWhole = offset === 0 && house.minutes.steps === minutes;
    const [one, two, three] = house.appliances;
    if (loads === null) {
      loads = isWhole
        ? [one.valuesW, two.valuesW, three.valuesW]
        : [new Float64Array(minutes), new Float64Array(minutes), new Float64Array(minutes)];
      sumW = isWhole ? roomFor(minutes, room.sumW) : new Float64Array(minutes);
    }
    layYear(loads, sumW, offset, house, options);
    layHeat(loads, offset, house, options);
  }
  if (loads === null) throw new RangeError(`grid of ${grid.steps} steps: must touch a calendar year`);
  const hasHeat = plan.hotWaterWh > 0 || plan.heatPumpWh > 0;
  if (grid.stepS === 60) return { byPhaseW: loads, sumW: hasHeat ? sumOf(loads, sumW) : sumW };
  const onSteps = (values: Float64Array): Float64Array => meansOnSteps({ startMs, intervalS: 60, values }, grid);
  const byPhaseW: PhaseLoads = [onSteps(loads[0]), onSteps(loads[1]), onSteps(loads[2])];
  return { byPhaseW, sumW: sumOf(byPhaseW, room.sumW) };
}

/** Three phases added up; `room` is a sum that nobody needs any more, used if it fits. */
export function sumOf([one, two, three]: PhaseLoads, room?: Float64Array): Float64Array {
  const sumW = roomFor(one.length, room);
  for (let k = 0; k < sumW.length; k++) sumW[k] = (one[k] ?? 0) + (two[k] ?? 0) + (three[k] ?? 0);
  return sumW;
}

/**
 * Consumption of a typical household, Wh a year: the German industry's means for one to four people, and for each further one
 * as much as the fourth adds.
 *
 * @param people  1 or more
 * @example typicalAnnualWh(2) // 2890000
 * @see bdew-household-size
 */
export function typicalAnnualWh(people: number): number {
  const [three, four] = [3_720_000, 4_085_000];
  return [1_900_000, 2_890_000, three][people - 1] ?? four + (people - 4) * (four - three);
}

function planOf(options: HouseholdOptions): YearPlan {
  const { annualWh, people, seed, phaseSplit, latitudeDeg = LAMP_LATITUDE_DEG } = options;
  const { hotWaterWh = 0, heatPumpWh = 0, daysOff = [], holidays = [] } = options;
  const activity = Math.min(MOST_ACTIVITY, annualWh / typicalAnnualWh(people));
  const phaseOf = circuits(annualWh, people, activity, seed, phaseSplit);
  return { people, seed, latitudeDeg, activity, phaseOf, daysOff: new Set(daysOff), holidays, hotWaterWh, heatPumpWh };
}

/**
 * Which phase each appliance hangs on: the largest first, each to the phase that still lacks most of its share. Equal ones are
 * told apart by the seed. What the spread load then has to even out is never negative but for shares near 0.
 */
function circuits(
  annualWh: number,
  people: number,
  activity: number,
  seed: number,
  split: readonly number[],
): Map<string, Phase> {
  const luck = chance(seed, 'house/circuits');
  const lackingWh = split.map((share) => annualWh * share * (1 + 1e-6 * luck.uniform()));
  const phaseOf = new Map<string, Phase>();
  for (const { name, yearWh } of applianceYears(people, activity)) {
    const phase = lackingWh.indexOf(Math.max(...lackingWh)) as Phase;
    phaseOf.set(name, phase);
    lackingWh[phase] = (lackingWh[phase] ?? 0) - yearWh;
  }
  return phaseOf;
}

/** What each appliance takes in an average year, the largest first. */
function applianceYears(people: number, activity: number): { name: string; yearWh: number }[] {
  const used = APPLIANCES.map((a) => ({ name: a.name, yearWh: energyPerUseWh(a) * usesPerYear(a, people) * activity }));
  const cold = COLD_APPLIANCES.map((c) => ({ name: c.name, yearWh: coldMeanW(c) * 8760 * activity }));
  return [...used, ...cold].sort((a, b) => b.yearWh - a.yearWh);
}

/** A year, each phase scaled to its energy, laid into the run's minutes, with its sum; minute 0 of the year is minute `offset` of the run. */
function layYear(
  [load1W, load2W, load3W]: PhaseLoads,
  sumW: Float64Array,
  offset: number,
  house: HouseYear,
  options: HouseholdOptions,
): void {
  const [one, two, three] = [house.appliances[0].valuesW, house.appliances[1].valuesW, house.appliances[2].valuesW];
  const spreadW = house.spread.valuesW;
  const [part1, spread1] = sharesOf(house, 0, options);
  const [part2, spread2] = sharesOf(house, 1, options);
  const [part3, spread3] = sharesOf(house, 2, options);
  const end = Math.min(spreadW.length, load1W.length - offset);
  // All phases in one walk: what is spread is read once.
  for (let m = Math.max(0, -offset); m < end; m++) {
    const spread = spreadW[m] ?? 0;
    const on1W = part1 * (one[m] ?? 0) + spread1 * spread;
    const on2W = part2 * (two[m] ?? 0) + spread2 * spread;
    const on3W = part3 * (three[m] ?? 0) + spread3 * spread;
    load1W[m + offset] = on1W;
    load2W[m + offset] = on2W;
    load3W[m + offset] = on3W;
    sumW[m + offset] = on1W + on2W + on3W;
  }
}

/** Which part of its appliances and of the spread load a phase has. */
function sharesOf({ appliances, spread }: HouseYear, phase: Phase, options: HouseholdOptions): readonly [number, number] {
  const yearWh = options.annualWh * options.phaseSplit[phase];
  const applianceWh = energyWh(appliances[phase]);
  // 1, unless the appliances alone take more than the phase may have in the year.
  return [applianceWh > yearWh ? yearWh / applianceWh : 1, Math.max(0, yearWh - applianceWh) / energyWh(spread)];
}

/** Hot water and heat pump of a year, each scaled to its energy, onto the run's minutes. */
function layHeat(loads: PhaseLoads, offset: number, { hotWater, heatPump }: HouseYear, options: HouseholdOptions): void {
  const { phaseSplit, hotWaterWh = 0, heatPumpWh = 0 } = options;
  if (hotWater !== null) {
    const phase = phaseSplit.indexOf(Math.max(...phaseSplit));
    addScaled(loads[phase] ?? loads[0], offset, hotWater, hotWaterWh / energyWh(hotWater));
  }
  if (heatPump === null) return;
  const ratedW = heatPumpWh / energyWh(heatPump);
  for (const [phase, toW] of loads.entries()) addScaled(toW, offset, heatPump, ratedW * (phaseSplit[phase] ?? 0));
}

function addScaled(toW: Float64Array, offset: number, { valuesW }: Sheet, factor: number): void {
  if (!Number.isFinite(factor)) return;
  const end = Math.min(valuesW.length, toW.length - offset);
  for (let m = Math.max(0, -offset); m < end; m++) toW[m + offset] = (toW[m + offset] ?? 0) + factor * (valuesW[m] ?? 0);
}

const energyWh = ({ sumW }: Sheet): number => sumW / MINUTES_PER_H;

function refuseNonsense({ annualWh, people, phaseSplit, hotWaterWh = 0, heatPumpWh = 0 }: HouseholdOptions): void {
  for (const [name, wh] of Object.entries({ annualWh, hotWaterWh, heatPumpWh }))
    if (!(Number.isFinite(wh) && wh >= 0)) throw new RangeError(`${name} = ${wh}: must be 0 or more`);
  if (!(Number.isInteger(people) && people >= 1)) throw new RangeError(`people = ${people}: must be a whole number, 1 or more`);
  const sum = phaseSplit[0] + phaseSplit[1] + phaseSplit[2];
  if (!(phaseSplit.every((share) => share >= 0) && Math.abs(sum - 1) < 1e-6)) {
    throw new RangeError(`phaseSplit = ${phaseSplit.join(', ')}: must be shares, 0 or more, that add up to 1`);
  }
}
