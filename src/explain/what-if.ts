import { WH_PER_KWH } from '../base/index.ts';
import type { Scenario } from '../scenario/index.ts';
import {
  columnStore,
  moneyOf,
  type Plan,
  type Prices,
  type Profiles,
  type ProfilesWithWeather,
  planOf,
  pricesOf,
  type Run,
  runPlan,
} from '../simulate/index.ts';
import { storedWh } from './events.ts';
import { allDays, type DayRange, planOfDays, profilesOfDays, stepsOfDays } from './slice.ts';
import { type ChangedHousehold, type VariantName, variantsOf } from './variants.ts';

/** What a household, or a variant of it, came to: all charge points together. Energies in Wh. */
export interface WhatIfOutcome {
  readonly carWh: number;
  readonly carPvWh: number;
  readonly carBatteryWh: number;
  readonly carGridWh: number;
  readonly pvKm: number;
  readonly solarChargingH: number;
  readonly starts: number;
  readonly stalls: number;
  readonly switches: number;
  readonly missedKm: number;
  /** Energy in the cars at the end, Wh. */
  readonly leftWh: number;
  /** Cost of the whole household in the tariff's currency; null without a tariff. */
  readonly cost: number | null;
}

/**
 * What would have come of one change. Ranks count from 1; hours never rank, since they flatter slow charging. For the rank by cost, what
 * is left in the cars beyond the household as it is counts at the mean price of import: an emptier car is no saving.
 */
export interface WhatIf {
  readonly name: VariantName;
  readonly outcome: WhatIfOutcome;
  /** By PV energy, most first, and by cost, least first (null without a tariff). */
  readonly rankByPv: number;
  readonly rankByCost: number | null;
}

/** The household as it is, run over some days, and every change that applies to it, best first by PV energy. */
export interface WhatIfs {
  readonly days: DayRange;
  /** All days of the run, each variant living its own year. */
  readonly isWhole: boolean;
  readonly asItIs: WhatIfOutcome;
  readonly changes: readonly WhatIf[];
}

/**
 * Runs the same weather and house again with one thing changed at a time.
 *
 * Over all days of a run each variant lives its own year. Over a few days it begins with what was in the batteries on that morning;
 * so does the household as it is, and the two are compared.
 *
 * @param profiles  of the scenario, as the run had them
 */
export function whatIfs(scenario: Scenario, run: Run, profiles: ProfilesWithWeather, days: DayRange = allDays(run)): WhatIfs {
  const airC = profiles.weather?.airC ?? null;
  const prices = scenario.tariff === null ? null : pricesOf(scenario.tariff, scenario.grid);
  const isWhole = days.firstDay === 0 && days.endDay === run.grid.dayMs.length;
  const store = columnStore();
  const outcome = (plan: Plan, on: Profiles): WhatIfOutcome => {
    const done = isWhole
      ? runPlan(plan, on, store(plan, on))
      : runPlan(planOfDays(plan, run, days), profilesOfDays(on, run, days));
    return outcomeOf(done, scenario, prices === null ? null : pricesOfDays(prices, run, days));
  };
  const found = variantsOf(scenario).map((variant) => ({
    name: variant.name,
    outcome: outcome(variant.onPlan(planOf(variant.scenario, airC)), profilesFor(variant, profiles)),
  }));
  const asItIs = outcome(run.plan, profiles);
  const perKWh = prices === null ? 0 : mean(pricesOfDays(prices, run, days).importPerKWh);
  return { days, isWhole, asItIs, changes: ranked(found, asItIs, perKWh) };
}

const profilesFor = ({ pvFactor }: ChangedHousehold, profiles: Profiles): Profiles =>
  pvFactor === 1 ? profiles : { ...profiles, pvW: profiles.pvW.map((w) => w * pvFactor) };

function pricesOfDays({ importPerKWh, exportPerKWh }: Prices, run: Run, days: DayRange): Prices {
  const [from, to] = stepsOfDays(run, days);
  return { importPerKWh: importPerKWh.subarray(from, to), exportPerKWh: exportPerKWh.subarray(from, to) };
}

function outcomeOf(run: Run, { tariff }: Scenario, prices: Prices | null): WhatIfOutcome {
  const { points } = run.ledger.total;
  const sum = (key: Exclude<keyof WhatIfOutcome, 'cost' | 'leftWh'>): number =>
    points.reduce((total, point) => total + point[key], 0);
  return {
    carWh: sum('carWh'),
    carPvWh: sum('carPvWh'),
    carBatteryWh: sum('carBatteryWh'),
    carGridWh: sum('carGridWh'),
    pvKm: sum('pvKm'),
    solarChargingH: sum('solarChargingH'),
    starts: sum('starts'),
    stalls: sum('stalls'),
    switches: sum('switches'),
    missedKm: sum('missedKm'),
    leftWh: run.plan.points.reduce((total, _, i) => total + storedWh(run, i, run.grid.steps - 1), 0),
    cost: tariff === null || prices === null ? null : moneyOf(run, tariff, prices).totalCost,
  };
}

const mean = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);

/** Best first by PV energy; of equals, in the order of the variants. */
function ranked(
  found: readonly { name: VariantName; outcome: WhatIfOutcome }[],
  asItIs: WhatIfOutcome,
  perKWh: number,
): WhatIf[] {
  const rank = (of: (outcome: WhatIfOutcome) => number): Map<VariantName, number> => {
    const sorted = [...found].sort((a, b) => of(a.outcome) - of(b.outcome));
    return new Map(sorted.map(({ name }, i) => [name, i + 1]));
  };
  const byPv = rank(({ carPvWh }) => -carPvWh);
  const byCost = rank(({ cost, leftWh }) => (cost ?? 0) - ((leftWh - asItIs.leftWh) / WH_PER_KWH) * perKWh);
  return found
    .map(({ name, outcome }) => ({
      name,
      outcome,
      rankByPv: byPv.get(name) ?? 0,
      rankByCost: outcome.cost === null ? null : (byCost.get(name) ?? 0),
    }))
    .sort((a, b) => a.rankByPv - b.rankByPv);
}

/** What a change does: more (above 0) or less of something. Energies in Wh, distances in km, cost in the tariff's currency. */
export interface Difference {
  readonly of: 'pv' | 'battery' | 'grid' | 'starts' | 'switches' | 'missed' | 'cost' | 'left';
  readonly by: number;
}

/** Differences that say nothing: below these they are not told. */
const SLIGHT: Record<Difference['of'], number> = {
  pv: 50,
  battery: 50,
  grid: 50,
  starts: 1,
  switches: 1,
  missed: 0.5,
  cost: 0.005,
  left: 500,
};

/** What a change does, in the order in which it matters; empty where it does nothing that is worth a word. */
export function differencesOf({ outcome }: Pick<WhatIf, 'outcome'>, asItIs: WhatIfOutcome): Difference[] {
  const all: Difference[] = [
    { of: 'pv', by: outcome.carPvWh - asItIs.carPvWh },
    { of: 'grid', by: outcome.carGridWh - asItIs.carGridWh },
    { of: 'battery', by: outcome.carBatteryWh - asItIs.carBatteryWh },
    { of: 'starts', by: outcome.starts - asItIs.starts },
    { of: 'switches', by: outcome.switches - asItIs.switches },
    { of: 'missed', by: outcome.missedKm - asItIs.missedKm },
    { of: 'cost', by: (outcome.cost ?? 0) - (asItIs.cost ?? 0) },
    { of: 'left', by: outcome.leftWh - asItIs.leftWh },
  ];
  return all.filter(({ of, by }) => Math.abs(by) >= SLIGHT[of]);
}
