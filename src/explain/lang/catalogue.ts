import type { PointRules, StateName } from '../../charging/index.ts';
import type { ChargePoint, Control, Diverter, Household, Scenario, Usage } from '../../scenario/index.ts';
import type { MoneyBeside, PointTally } from '../../simulate/index.ts';
import type { FlurryFacts } from '../account.ts';
import type { RowName } from '../chain.ts';
import type { ConflictWords } from '../conflicts.ts';
import type { EventFacts, Happening, StretchFacts } from '../facts.ts';
import type { VariantName } from '../variants.ts';
import type { Difference } from '../what-if.ts';
import type { CivilDate, Form } from './form.ts';

/** Languages that there are words in. */
export const LANGUAGES = ['en', 'de'] as const;
/** One of them. */
export type Language = (typeof LANGUAGES)[number];

/** All words of one language. What is missing in one does not compile. */
export interface Catalogue {
  readonly language: Language;
  readonly form: Form;
  /** Names of the states for people; CSV and JSON keep the stable codes. */
  readonly states: Readonly<Record<StateName, string>>;
  readonly events: Readonly<Record<Happening, (facts: EventFacts) => string>>;
  readonly stretches: Readonly<Record<StateName, (facts: StretchFacts) => string>>;
  readonly flurry: (facts: FlurryFacts) => string;
  readonly chain: ChainWords;
  readonly variants: Readonly<Record<VariantName, string>>;
  readonly whatIf: WhatIfWords;
  readonly answer: AnswerWords;
  readonly money: MoneyWords;
  readonly meaning: MeaningWords;
  readonly conflicts: ConflictWords;
  readonly assumptions: AssumptionWords;
  readonly charts: ChartWords;
  readonly table: TableWords;
  readonly account: AccountWords;
  readonly report: ReportWords;
}

/** Where the hours went. */
export interface ChainWords {
  readonly rows: Readonly<Record<RowName, string>>;
  readonly link: string;
  readonly hours: string;
  readonly energy: string;
  /** Charging while the roof gives nothing, which no row counts. */
  readonly dark: (hours: number) => string;
}

/** What would have changed it. */
export interface WhatIfWords {
  readonly change: string;
  readonly asItIs: string;
  readonly does: string;
  /** What a change does, from the household as it is; empty differences mean nothing. */
  readonly differences: (differences: readonly Difference[], currency: string) => string;
  /** Said once, above the list. */
  readonly note: (isWhole: boolean) => string;
}

/** The answer to the main question. */
export interface AnswerWords {
  readonly nothing: (period: string) => string;
  readonly roof: (period: string, sums: PointTally, solarShare: number) => string;
  readonly interruptions: (sums: PointTally) => string;
  readonly atOnce: (sums: PointTally) => string;
  readonly missed: (sums: PointTally) => string;
  readonly period: (from: CivilDate, to: CivilDate) => string;
}

/** What it costs. */
export interface MoneyWords {
  readonly total: (money: MoneyBeside) => string;
  readonly per100Km: (cost: number, atOnce: number, currency: string) => string;
  readonly publicUnknown: (energyWh: number) => string;
  readonly publicKnown: (cost: number, energyWh: number, currency: string) => string;
  /** Energy in the car at the end less than charged at once, Wh; below 0: more. */
  readonly stored: (behindWh: number) => string;
}

type HouseholdOf<K> = Extract<Household, { kind: K }>;
type Arrays = Extract<Scenario['pv'], { kind: 'arrays' }>;
/** Habits of a week. */
export type WeeklyUsage = Extract<Usage, { kind: 'weekly' }>;

/** What a scenario means. */
export interface MeaningWords {
  readonly place: (scenario: Scenario, first: CivilDate) => string;
  readonly roof: (pv: Arrays) => string;
  readonly roofMeasured: (file: string, phases: readonly number[]) => string;
  readonly houseProfile: (household: HouseholdOf<'profile'>) => string;
  readonly houseSynthetic: (household: HouseholdOf<'synthetic'>) => string;
  readonly houseMeasured: (file: string, isMeter: boolean, spikesEveryS: number | null) => string;
  readonly battery: (battery: NonNullable<Scenario['battery']>) => string;
  readonly diverter: (diverter: Diverter) => string;
  readonly connection: (supply: Scenario['supply']) => string;
  readonly at: (name: string) => string;
  readonly takes: (rules: PointRules) => string;
  readonly gap: (rules: PointRules) => string;
  readonly atOnce: string;
  readonly follows: (rules: PointRules, control: Control) => string;
  readonly always: string;
  readonly stays: (usage: Extract<Usage, { kind: 'stays' }>) => string;
  readonly weekly: (usage: WeeklyUsage, kmPerWeek: number, kmPerYear: number) => string;
  readonly neverStarts: (highestW: number, neededW: number) => string;
  readonly neverMorePhases: (highestW: number, neededW: number, n: number) => string;
  readonly fuseHolds: (fuseA: number, maxA: number) => string;
}

/** What every run takes for granted. */
export interface AssumptionWords {
  readonly steps: (stepS: number) => string;
  readonly pvMeasured: string;
  readonly weatherInvented: (seed: number) => string;
  readonly weatherMeasured: (everyMin: number | null, cloudsSeed: number | null) => string;
  readonly noWeather: string;
  readonly houseInvented: (seed: number, hasHeatPump: boolean) => string;
  readonly houseProfile: string;
  readonly houseMeasured: (everyMin: number | null, spikesSeed: number | null) => string;
  readonly always: (point: ChargePoint) => string;
  readonly weekly: (point: ChargePoint) => string;
  readonly km: string;
  readonly notModelled: string;
  readonly estimates: string;
}

/** Words on charts. */
export interface ChartWords {
  readonly pv: string;
  readonly house: string;
  readonly carFrom: Readonly<Record<'pv' | 'battery' | 'grid', string>>;
  readonly from: Readonly<Record<'pv' | 'battery' | 'grid', string>>;
  readonly ifAtOnce: (source: string) => string;
  readonly power: string;
  readonly localTime: (zone: string) => string;
  readonly state: string;
  readonly threshold: (thresholdW: number, phases: number) => string;
  readonly daySums: (sums: PointTally) => string;
  readonly monthSums: (label: string, sums: PointTally, solarShare: number) => string;
  readonly monthAxis: string;
  readonly energyAxis: string;
  readonly atOnceDays: string;
  readonly car: (number: number) => string;
}

/** The table of months in a terminal. */
export interface TableWords {
  readonly month: string;
  readonly sum: string;
  readonly own: string;
  readonly beside: string;
  readonly pv: string;
  readonly grid: string;
  readonly battery: string;
  readonly km: string;
  readonly hours: string;
  readonly starts: string;
  readonly stalls: string;
}

/** The frame of an account of days. */
export interface AccountWords {
  readonly day: (date: CivilDate, weekday: number) => string;
  readonly sums: (sums: PointTally, solarShare: number) => string;
  readonly nothing: string;
  readonly roof: string;
  readonly signs: string;
  readonly chainHeading: string;
  readonly whatIfHeading: string;
  readonly dayHeading: Readonly<Record<'best' | 'worst' | 'median' | 'most-stalls', string>>;
  readonly files: (count: number, folder: string) => string;
}

/** The report. */
export interface ReportWords {
  readonly cautionsHeading: string;
  readonly cautions: readonly string[];
  readonly title: (name: string, period: string) => string;
  readonly household: string;
  readonly answer: string;
  readonly figures: Readonly<Record<'kwh' | 'km' | 'hours', string>>;
  readonly months: string;
  readonly monthsChart: string;
  readonly monthsCaption: string;
  readonly atOncePv: string;
  readonly atOnceGrid: string;
  readonly chain: string;
  readonly chainIntro: string;
  readonly chainCaption: (point: string | null) => string;
  readonly days: string;
  readonly daysIntro: string;
  readonly dayKinds: Readonly<Record<'good' | 'usual' | 'poor', string>>;
  readonly dayChart: (day: string) => string;
  readonly dayTable: (day: string) => string;
  readonly hour: string;
  readonly timeHead: string;
  readonly happened: string;
  readonly whatIf: string;
  readonly whatIfCaption: (period: string) => string;
  readonly assumptions: string;
  readonly sources: string;
  readonly showTable: string;
  readonly rank: string;
  readonly cost: (currency: string) => string;
  readonly costRank: string;
  readonly madeBy: (version: string) => string;
}
