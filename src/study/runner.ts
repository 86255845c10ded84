import { type Issue, once } from '../base/index.ts';
import type { Scenario, ScenarioInput } from '../scenario/index.ts';
import {
  chargedAtOnce,
  columnStore,
  type DatedTally,
  figuresOf,
  type Money,
  moneyOf,
  type Prices,
  type Profiles,
  planOf,
  pricesOf,
  type Run,
  roofW,
  runPlan,
  type Sky,
  type SunOver,
  skyOver,
  sunOver,
  withoutCars,
} from '../simulate/index.ts';
import { lastOnes } from './last-ones.ts';
import { AT_ONCE, type Outcome, outputNamed } from './outputs.ts';
import { type HousePart, housePart, type PartKeys, partKeys, type SkyPart, skyPart, sunKey, weatherKey } from './parts.ts';
import type { Task, TaskResult } from './task.ts';
import { completeVariant, type StudyBase, type Variant, variantInput, type ZoneOf } from './variant.ts';

/**
 * Runs one variant of a scenario after the other and keeps what the next one may share; one to a thread. Its results do not depend on
 * what it ran before.
 */
export class VariantRunner {
  private readonly base: StudyBase;
  private readonly zoneOf: ZoneOf;
  private readonly suns = lastOnes<SunOver>(1);
  private readonly skies = lastOnes<Sky | null>(1);
  private readonly roofs = lastOnes<Float64Array>(1);
  private readonly prices = lastOnes<Prices>(1);
  private readonly bare = lastOnes<Money | null>(1);
  private readonly atOnce = lastOnes<Values>(1);
  private readonly columns = columnStore();
  private readonly bareColumns = columnStore();

  constructor(base: StudyBase, zoneOf: ZoneOf) {
    this.base = base;
    this.zoneOf = zoneOf;
  }

  /** Light and air of a variant, for all that share them. @throws Refusal  it does not pass the door */
  sky(variant: Variant): SkyPart {
    const { input, scenario } = this.entered(variant);
    const sunOf = (): SunOver => this.suns(sunKey(input), () => sunOver(scenario));
    return skyPart(
      scenario,
      this.skies(weatherKey(input), () => skyOver(scenario, sunOf)),
    );
  }

  /** Load of a variant's house. @throws Refusal  it does not pass the door */
  house(variant: Variant): HousePart {
    return housePart(this.entered(variant).scenario);
  }

  /** A task, with the parts that are its variant's. */
  run(task: Task, sky: SkyPart, house: HousePart): TaskResult {
    try {
      return { index: task.index, ...this.values(task, sky, house) };
    } catch (error) {
      return { index: task.index, problem: error instanceof Error ? error.message : String(error) };
    }
  }

  private entered(variant: Variant): { input: ScenarioInput; scenario: Scenario } {
    const input = variantInput(this.base, variant);
    if (!input.ok) throw new Refusal(input.issues);
    const scenario = completeVariant(this.base, input.value, this.zoneOf);
    if (!scenario.ok) throw new Refusal(scenario.issues);
    return { input: input.value, scenario: scenario.value };
  }

  private values({ variant, outputs, monthly }: Task, sky: SkyPart, house: HousePart): Values {
    const { input, scenario } = this.entered(variant);
    const keys = partKeys(input);
    const pvW = this.roofs(keys.sky + keys.roof, () => roofW(scenario, sky.yields));
    const shared: Shared = { profiles: { ...house, pvW }, airC: sky.airC, keys, input, scenario };
    const [besideOutputs, ownOutputs] = parted(outputs);
    const [besideMonthly, ownMonthly] = parted(monthly);
    const own = this.outcome(scenario, ownOutputs, ownMonthly, shared);
    if (besideOutputs.length + besideMonthly.length === 0) return own;
    const key = JSON.stringify([keys.sky, keys.house, keys.roof, keys.family, besideOutputs, besideMonthly]);
    const beside = this.atOnce(key, () => this.outcome(chargedAtOnce(scenario), besideOutputs, besideMonthly, shared));
    return { values: { ...own.values, ...marked(beside.values) }, months: { ...own.months, ...marked(beside.months) } };
  }

  /** Runs a scenario and reads off what is wanted, before the next run takes its columns. */
  private outcome(scenario: Scenario, outputs: readonly string[], monthly: readonly string[], shared: Shared): Values {
    const run = runWith(scenario, shared, this.columns);
    const prices = this.pricesOf(shared);
    const money = (part: Priced): Money | null => scenario.tariff && prices && moneyOf(part, scenario.tariff, part.prices);
    const outcome: Outcome = {
      total: run.ledger.total,
      days: run.grid.dayMs.length,
      figures: once(() => figuresOf(run)),
      money: once(() => prices && money({ ...run, prices })),
      bareMoney: () => this.bareMoney(shared),
    };
    const months = monthly.length === 0 || prices === null ? [] : pricedMonths(run, prices);
    const rows = (monthly.length === 0 ? [] : run.ledger.months).map(({ tally }, i) =>
      valuesFor(monthly, { ...outcome, total: tally, money: () => (months[i] ? money(months[i]) : null) }),
    );
    return { values: valuesFor(outputs, outcome), months: columnsOf(monthly, rows) };
  }

  private pricesOf({ scenario, input }: Shared): Prices | null {
    const { tariff, grid } = scenario;
    return tariff && this.prices(JSON.stringify([input.site, input.period, input.tariff]), () => pricesOf(tariff, grid));
  }

  private bareMoney(shared: Shared): Money | null {
    const { keys, input, scenario } = shared;
    const { battery, tariff, grid, household } = input;
    const key = JSON.stringify([keys.sky, keys.house, keys.roof, battery, tariff, grid, household.diverter]);
    const prices = this.pricesOf(shared);
    return this.bare(key, () => {
      if (scenario.tariff === null || prices === null) return null;
      return moneyOf(runWith(withoutCars(scenario), shared, this.bareColumns), scenario.tariff, prices);
    });
  }
}

/** What the runs of one task have in common. */
interface Shared {
  readonly profiles: Profiles;
  readonly airC: Float64Array | null;
  readonly keys: PartKeys;
  readonly input: ScenarioInput;
  readonly scenario: Scenario;
}

function runWith(scenario: Scenario, { profiles, airC }: Shared, columns: ReturnType<typeof columnStore>): Run {
  const plan = planOf(scenario, airC);
  return runPlan(plan, profiles, columns(plan, profiles));
}

/** As much of a run as money needs, with its prices. */
type Priced = Pick<Run, 'plan' | 'columns' | 'ledger'> & { readonly prices: Prices };

type Values = Pick<Extract<TaskResult, { values: unknown }>, 'values' | 'months'>;

/** A variant that does not pass the door. */
export class Refusal extends Error {
  readonly issues: readonly Issue[];
  constructor(issues: readonly Issue[]) {
    super(issues.map(issueText).join(' '));
    this.name = 'Refusal';
    this.issues = issues;
  }
}

/** What is wrong with a variant, in a line. */
export const issueText = ({ path, found, problem, allowed }: Issue): string =>
  `${[path.join('.'), found].filter((part) => part !== '').join(' = ')}: ${problem}${allowed === '' ? '' : ` Allowed: ${allowed}.`}`;

function valuesFor(names: readonly string[], outcome: Outcome): Record<string, number | null> {
  const values: Record<string, number | null> = {};
  for (const name of names) values[name] = outputNamed(name)?.of(outcome) ?? null;
  return values;
}

/** Rows turned into columns. */
const columnsOf = (names: readonly string[], rows: readonly Record<string, number | null>[]) =>
  Object.fromEntries(names.map((name) => [name, rows.map((row) => row[name] ?? null)]));

const marked = <T>(values: Readonly<Record<string, T>>): Record<string, T> =>
  Object.fromEntries(Object.entries(values).map(([name, value]) => [AT_ONCE + name, value]));

/** Names asked of the days charged at once, without their mark, and names asked of the variant itself. */
function parted(names: readonly string[]): [string[], string[]] {
  const beside = names.filter((name) => name.startsWith(AT_ONCE)).map((name) => name.slice(AT_ONCE.length));
  return [beside, names.filter((name) => !name.startsWith(AT_ONCE))];
}

/** The months of a run, as far as money is concerned. */
function pricedMonths({ grid, columns, plan, ledger }: Run, prices: Prices): Priced[] {
  let day = 0;
  return ledger.months.map(({ year, month, tally }) => {
    const from = grid.dayStart[day] ?? 0;
    while (isIn(ledger.days[day], year, month)) day++;
    const to = grid.dayStart[day] ?? grid.steps;
    const part = (values: Float64Array): Float64Array => values.subarray(from, to);
    return {
      plan,
      columns: { ...columns, gridImportW: part(columns.gridImportW), gridExportW: part(columns.gridExportW) },
      ledger: { total: tally, months: [], days: [] },
      prices: { importPerKWh: part(prices.importPerKWh), exportPerKWh: part(prices.exportPerKWh) },
    };
  });
}

const isIn = (dated: DatedTally | undefined, year: number, month: number): boolean =>
  dated?.year === year && dated.month === month;
