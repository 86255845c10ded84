import type { ScenarioInput, Supply } from '../scenario/index.ts';
import { type Flips, findFlips } from './flips.ts';
import { type Keys, mileageTimes, roofKWp, roofTimes } from './household.ts';
import { type Ranking, rank } from './rank.ts';
import { type TrialResult, type TrialSetting, trialsOf } from './robust.ts';
import type { Ask, TaskResult } from './task.ts';
import type { Variant } from './variant.ts';
import { sound, yearsOf } from './years.ts';

/** A way to connect the charger. */
export interface PhaseOption {
  /** Stable name: `one-16`, `three-32`, `switchable-16`. */
  readonly id: string;
  readonly phases: 1 | 3 | 'switchable';
  readonly maxCurrentA: number;
}

/** One that was left out, and why. */
export interface ExcludedOption extends PhaseOption {
  readonly why: 'one-phase-grid' | 'main-fuse' | 'imbalance' | 'car-takes-less' | 'car-one-phase';
  /** The limit that excludes it, A per phase. */
  readonly limitA: number;
}

/** One phase, three phases, or switchable. */
export interface PhasesAnswer {
  readonly years: number;
  readonly point: number;
  readonly excluded: readonly ExcludedOption[];
  readonly ranking: Ranking<PhaseOption>;
  readonly trials: readonly TrialResult[];
  /** What would turn it: roof and mileage by themselves; null where there is nothing to vary. */
  readonly roof: (Flips<string> & { readonly todayKWp: number | null; readonly surplusKWhAt: SurplusAt }) | null;
  readonly mileage: (Flips<string> & { readonly todayKm: number }) | null;
}

/** Yearly surplus of the roof over the house, today and at the flips of the roof, kWh. */
export interface SurplusAt {
  readonly today: number;
  readonly below: number | null;
  readonly above: number | null;
}

/** Currents that are on sale for homes, A per phase. */
const CURRENTS_A = [16, 32] as const;
const NAMES = { 1: 'one', 3: 'three', switchable: 'switchable' } as const;

/**
 * The ways to connect a charge point, simplest first, and those that the limits entered, the grid or the car exclude.
 *
 * @param point  index of the charge point
 */
export function phaseOptions(
  input: ScenarioInput,
  supply: Supply,
  point: number,
): { options: PhaseOption[]; excluded: ExcludedOption[] } {
  const vehicle = input.chargePoints[point]?.vehicle;
  if (vehicle === undefined)
    throw new RangeError(`point = ${point}: the scenario has ${input.chargePoints.length} charge points`);
  const options: PhaseOption[] = [];
  const excluded: ExcludedOption[] = [];
  for (const phases of [1, 3, 'switchable'] as const) {
    for (const maxCurrentA of CURRENTS_A) {
      const option = { id: `${NAMES[phases]}-${maxCurrentA}`, phases, maxCurrentA };
      const reason = exclusion(option, supply, vehicle);
      if (reason === null) options.push(option);
      else excluded.push({ ...option, ...reason });
    }
  }
  return { options, excluded };
}

function exclusion(
  { phases, maxCurrentA }: PhaseOption,
  { phases: gridPhases, mainFuseA, imbalanceLimitA }: Supply,
  vehicle: ScenarioInput['chargePoints'][number]['vehicle'],
): Pick<ExcludedOption, 'why' | 'limitA'> | null {
  if (phases !== 1 && gridPhases === 1) return { why: 'one-phase-grid', limitA: 0 };
  if (phases !== 1 && vehicle.phases === 1) return { why: 'car-one-phase', limitA: 0 };
  if (maxCurrentA > mainFuseA) return { why: 'main-fuse', limitA: mainFuseA };
  if (phases === 1 && gridPhases === 3 && imbalanceLimitA !== null && maxCurrentA > imbalanceLimitA)
    return { why: 'imbalance', limitA: imbalanceLimitA };
  if (maxCurrentA > CURRENTS_A[0] && vehicle.maxCurrentA <= CURRENTS_A[0])
    return { why: 'car-takes-less', limitA: vehicle.maxCurrentA };
  return null;
}

/** What is shown of every option; hours stand beside, and never rank. */
export const PHASE_OUTPUTS = [
  'pvKWh',
  'gridKWh',
  'batteryKWh',
  'solarFraction',
  'kmOnPv',
  'cost',
  'lossesKWh',
  'startsPerDay',
  'switchesPerDay',
  'missedKm',
  'missedDepartures',
  'peakImportL1A',
  'peakImportL2A',
  'peakImportL3A',
  'ratedKVA',
  'imbalanceA',
  'solarChargingH',
] as const;
/** What only the ranking needs. */
const RANKED = ['pvKWh', 'cost', 'atOnce.carCost'];

/**
 * One phase, three phases, or switchable, on the same years.
 *
 * @param years  years of chance; weather and habits differ
 */
export async function studyPhases(
  input: ScenarioInput,
  supply: Supply,
  { years, point }: { years: number; point: number },
  ask: Ask,
): Promise<PhasesAnswer> {
  const { options, excluded } = phaseOptions(input, supply, point);
  const compare = (keys: Keys, people: number): Variant[] =>
    options.flatMap((option) => yearsOf(years, { ...optionKeys(option, input, point), ...keys }, people));
  const grouped = (results: readonly TaskResult[], from: number): TaskResult[][] =>
    options.map((_, i) => results.slice(from + i * years, from + (i + 1) * years));
  const winners = async (settings: readonly { keys: Keys; people: number }[]): Promise<string[]> => {
    const results = await ask(
      settings.flatMap(({ keys, people }) => compare(keys, people)),
      { outputs: RANKED, monthly: [] },
    );
    return settings.map((_, s) => rank(options, grouped(results, s * options.length * years)).winner.option.id);
  };

  const first = await ask(compare({}, 0), { outputs: [...PHASE_OUTPUTS, 'roofKWh', 'atOnce.carCost'], monthly: [] });
  const ranking = rank(options, grouped(first, 0));
  const today = ranking.winner.option.id;
  const trials = await triedAgain(trialsOf(input).slice(1), today, winners);
  const flipsOf = (keysAt: (factor: number) => Keys): Promise<Flips<string>> =>
    findFlips((factors) => winners(factors.map((factor) => ({ keys: keysAt(factor), people: 0 }))), today);
  const roof = await flipsOf((factor) => roofTimes(input, factor));
  const surplusKWhAt = await surplusAt(input, years, roof, ask);
  const moved = mileageTimes(input, 1) === null ? null : await flipsOf((factor) => mileageTimes(input, factor) ?? {});
  return {
    years,
    point,
    excluded,
    ranking,
    trials,
    roof: { ...roof, todayKWp: roofKWp(input), surplusKWhAt },
    mileage: moved && { ...moved, todayKm: await drivenKm(years, ask) },
  };
}

/** Keys that connect a charge point in this way; what was entered of wiring and minimum stays. */
export function optionKeys({ phases, maxCurrentA }: PhaseOption, input: ScenarioInput, point: number): Keys {
  const charger = `chargePoints[${point}].charger`;
  const one = input.chargePoints[point]?.charger;
  const widened = phases !== 1 && one?.wiring !== undefined && one.wiring.length < 3;
  return {
    [`${charger}.phases`]: phases,
    [`${charger}.maxCurrentA`]: maxCurrentA,
    // A one-phase charger's wiring names one phase only.
    ...(widened ? { [`${charger}.wiring`]: rotated(one.wiring?.[0] ?? 1), [`${charger}.wiringAsBuilt`]: null } : {}),
  };
}

/** All three phases in rotating order from one of them. */
const rotated = (first: number): number[] => [0, 1, 2].map((i) => ((first - 1 + i) % 3) + 1);

async function triedAgain(
  settings: readonly TrialSetting[],
  today: string,
  winners: (settings: readonly TrialSetting[]) => Promise<string[]>,
): Promise<TrialResult[]> {
  const found = await winners(settings);
  return settings.map(({ trial }, i) => ({ trial, survives: found[i] === today, answer: found[i] ?? today }));
}

async function surplusAt(input: ScenarioInput, years: number, flips: Flips<string>, ask: Ask): Promise<SurplusAt> {
  const factors = [1, flips.below?.factor, flips.above?.factor].filter((factor) => factor !== undefined);
  const results = await ask(
    factors.flatMap((factor) => yearsOf(years, roofTimes(input, factor))),
    { outputs: ['exportKWh', 'curtailedKWh', 'pvKWh', 'batteryInKWh'], monthly: [] },
  );
  const surplus = factors.map((_, i) => {
    const rows = results.slice(i * years, (i + 1) * years).map((result) => Object.values(sound(result).values));
    return rows.flat().reduce((sum: number, value) => sum + (value ?? 0), 0) / years;
  });
  const [today = 0, ...rest] = surplus;
  const below = flips.below === null ? null : (rest.shift() ?? null);
  return { today, below, above: flips.above === null ? null : (rest.shift() ?? null) };
}

async function drivenKm(years: number, ask: Ask): Promise<number> {
  const results = await ask(yearsOf(years), { outputs: ['drivenKm'], monthly: [] });
  return results.reduce((sum, result) => sum + (sound(result).values.drivenKm ?? 0), 0) / years;
}
