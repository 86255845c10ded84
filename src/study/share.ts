import type { ScenarioInput } from '../scenario/index.ts';
import type { Keys } from './household.ts';
import { meanOf } from './quantiles.ts';
import { meansOf } from './rank.ts';
import { type TrialResult, type TrialSetting, trialsOf } from './robust.ts';
import type { Ask, TaskResult } from './task.ts';
import { sound, yearsOf } from './years.ts';

/** A setting of the share. */
export interface ShareSetting {
  readonly topUp: 'minimum' | 'proportional';
  readonly share: number;
}

/** A setting with its means over the years. */
export interface SharePoint extends ShareSetting {
  readonly means: Readonly<Record<string, number | null>>;
  /** Costs of the summer half (April to September) and the winter half; null without a tariff. */
  readonly summerCost: number | null;
  readonly winterCost: number | null;
}

/** What a share may be best for. */
export type ShareAim = 'money' | 'pv' | 'km';

/** The best setting for an aim, and how flat it lies. */
export interface BestShare {
  readonly aim: ShareAim;
  readonly best: SharePoint;
  /** The output that the aim looks at. */
  readonly output: 'cost' | 'solarFraction' | 'missedKm';
  /** How much worse the aim's output is half a step (0.05) below and above; null at the ends. */
  readonly halfStepBelow: number | null;
  readonly halfStepAbove: number | null;
  /** Shares around the best, with the same top-up, that are as good to within what hardly counts. */
  readonly flat: FlatStretch;
  /** The share hardly matters for this aim: the flat stretch holds half of all shares, or so. */
  readonly hardlyMatters: boolean;
  readonly trials: readonly TrialResult[];
}

/** How far the share may be moved without harm. */
export interface FlatStretch {
  readonly topUp: ShareSetting['topUp'];
  readonly flatFrom: number;
  readonly flatTo: number;
  /** What hardly counts, in the unit of the aim's output. */
  readonly within: number;
}

/** Which share to set. */
export interface ShareAnswer {
  readonly years: number;
  /** Every setting tried, by top-up, from 1 down to 0. */
  readonly points: readonly SharePoint[];
  readonly aims: readonly BestShare[];
  /** With the fewest missed kilometres of all, and among those the most PV: what "never" costs when it is meant to the letter. */
  readonly surest: SharePoint;
  /** The best share of each half of the year by itself, and what that saves a year against the best single one; null without a tariff. */
  readonly seasons: SeasonShares | null;
}

/** Shares by season; the saving is estimated by adding up halves of two runs, each with one share throughout. */
export interface SeasonShares {
  readonly summer: ShareSetting;
  readonly winter: ShareSetting;
  readonly saves: number;
  readonly pays: boolean;
}

const TOP_UPS = ['minimum', 'proportional'] as const;
/** Step of the first look, and of the second one around what was best in the first. */
const STEP = 0.1;
const FINE_STEP = 0.02;
/** Between never waiting and waiting for a tenth lies the knee. */
const KNEE = [0.02, 0.05];
const HALF_STEP = 0.05;
const OUTPUTS = [
  'cost',
  'solarFraction',
  'pvKWh',
  'gridKWh',
  'batteryKWh',
  'batteryCycles',
  'kmOnPv',
  'missedKm',
  'drivenKm',
  'starts',
  'solarChargingH',
  'atOnce.carCost',
  'atOnce.missedKm',
];

/** Missed kilometres up to this part of what is driven, above what charging at once misses, count as none. */
export const NEVER_SHORT_SHARE = 0.005;
/** Less than this part of the at-once cost, or so much solar fraction, is hardly worth a thought. */
const HARDLY_COST = 0.03;
const HARDLY_FRACTION = 0.02;

/**
 * Which surplus share is best for the money, for the PV fraction, and never to be short of kilometres.
 *
 * @param months  calendar month of each month of the period, 1 … 12
 */
export async function studyShare(
  input: ScenarioInput,
  { years, months }: { years: number; months: readonly number[] },
  ask: Ask,
): Promise<ShareAnswer> {
  const look = lookWith(years, months, ask);
  const coarse = await look(TOP_UPS.flatMap((topUp) => [...gridOf(0, 1, STEP), ...KNEE].map((share) => ({ topUp, share }))));
  const fine = await look(
    unseen(
      coarse,
      bests(coarse).flatMap(({ best }) => around(best)),
    ),
  );
  const seen = [...coarse, ...fine];
  // The ends of half a step on either side, where the grid does not hold them already.
  const flat = await look(
    unseen(
      seen,
      bests(seen).flatMap(({ best }) => halfSteps(best)),
    ),
  );
  const points = [...seen, ...flat].sort(byTopUpAndShare);
  const found = bests(points);
  const trials = await tryAgain(trialsOf(input).slice(1), points, found, years, months, ask);
  return {
    years,
    points,
    aims: found.map((one, i) => ({ ...one, ...flatness(one, points), trials: trials[i] ?? [] })),
    surest: surestOf(points),
    seasons: seasonsOf(points, found),
  };
}

type Look = (settings: readonly ShareSetting[], keys?: Keys, people?: number) => Promise<SharePoint[]>;

const lookWith =
  (years: number, months: readonly number[], ask: Ask): Look =>
  async (settings, keys = {}, people = 0) => {
    if (settings.length === 0) return [];
    const results = await ask(
      settings.flatMap((setting) => yearsOf(years, { ...keys, ...settingKeys(setting) }, people)),
      { outputs: OUTPUTS, monthly: ['cost'] },
    );
    return settings.map((setting, i) => pointOf(setting, results.slice(i * years, (i + 1) * years), months));
  };

/** Keys of a setting. */
export const settingKeys = ({ topUp, share }: ShareSetting): Keys => ({
  'control.surplusShare': share,
  'control.topUp': topUp,
});

function pointOf(setting: ShareSetting, results: readonly TaskResult[], months: readonly number[]): SharePoint {
  const rows = results.map(sound);
  const half = (isIn: (month: number) => boolean): number | null => {
    const sums = rows.map(({ months: values }) =>
      (values.cost ?? []).reduce<number | null>(
        (sum, cost, i) => (sum === null || cost === null ? null : sum + (isIn(months[i] ?? 1) ? cost : 0)),
        0,
      ),
    );
    return sums.every((sum) => sum !== null) ? meanOf(sums) : null;
  };
  return {
    ...setting,
    means: meansOf(rows.map(({ values }) => values)),
    summerCost: half(isSummer),
    winterCost: half((month) => !isSummer(month)),
  };
}

const isSummer = (month: number): boolean => month >= 4 && month <= 9;

/** Shares from one to another, without the dust of adding tenths. */
function gridOf(from: number, to: number, step: number): number[] {
  const count = Math.round((to - from) / step);
  return Array.from({ length: count + 1 }, (_, i) => tidy(from + i * step));
}

const tidy = (share: number): number => Math.min(1, Math.max(0, Math.round(share * 1000) / 1000));

const around = ({ topUp, share }: ShareSetting): ShareSetting[] =>
  gridOf(-4, 4, 1).map((i) => ({ topUp, share: tidy(share + i * FINE_STEP) }));

const halfSteps = ({ topUp, share }: ShareSetting): ShareSetting[] =>
  [share - HALF_STEP, share + HALF_STEP].filter((at) => at >= 0 && at <= 1).map((at) => ({ topUp, share: tidy(at) }));

const same = (a: ShareSetting, b: ShareSetting): boolean => a.topUp === b.topUp && Math.abs(a.share - b.share) < 1e-9;

function unseen(seen: readonly ShareSetting[], wanted: readonly ShareSetting[]): ShareSetting[] {
  const fresh: ShareSetting[] = [];
  for (const one of wanted) if (![...seen, ...fresh].some((other) => same(one, other))) fresh.push(one);
  return fresh;
}

const byTopUpAndShare = (a: ShareSetting, b: ShareSetting): number =>
  a.topUp === b.topUp ? b.share - a.share : TOP_UPS.indexOf(a.topUp) - TOP_UPS.indexOf(b.topUp);

type Found = Pick<BestShare, 'aim' | 'best' | 'output'>;

/** The best of some settings for each aim; money only with a tariff. */
function bests(points: readonly SharePoint[]): Found[] {
  const money: Found[] = points.every(({ means }) => means.cost !== null)
    ? [{ aim: 'money', output: 'cost', best: first(points, (point) => -of(point, 'cost')) }]
    : [];
  const short = (point: SharePoint): number =>
    Math.max(0, of(point, 'missedKm') - of(point, 'atOnce.missedKm') - NEVER_SHORT_SHARE * of(point, 'drivenKm'));
  const least = Math.min(...points.map(short));
  const ample = points.filter((point) => short(point) <= least + 1e-9);
  return [
    ...money,
    { aim: 'pv', output: 'solarFraction', best: first(points, (point) => of(point, 'solarFraction')) },
    // Among those that are never short, the one with most PV.
    { aim: 'km', output: 'missedKm', best: first(ample, (point) => of(point, 'solarFraction')) },
  ];
}

/** Fewer missed kilometres than this are as good as none. */
const SAME_KM = 0.5;

function surestOf(points: readonly SharePoint[]): SharePoint {
  const fewest = Math.min(...points.map((point) => of(point, 'missedKm')));
  return first(
    points.filter((point) => of(point, 'missedKm') < fewest + SAME_KM),
    (point) => of(point, 'solarFraction'),
  );
}

const of = (point: SharePoint, name: string): number => point.means[name] ?? 0;

/** The point with the greatest value; of equal ones the first. */
function first(points: readonly SharePoint[], value: (point: SharePoint) => number): SharePoint {
  return points.reduce((a, b) => (value(b) > value(a) + 1e-12 ? b : a));
}

/** What hardly counts for an aim, in the unit of its output. */
const hardly = ({ aim, best }: Pick<BestShare, 'aim' | 'best'>): number =>
  ({
    money: HARDLY_COST * Math.abs(of(best, 'atOnce.carCost')),
    pv: HARDLY_FRACTION,
    km: NEVER_SHORT_SHARE * of(best, 'drivenKm'),
  })[aim];

function flatness(
  found: Found,
  points: readonly SharePoint[],
): Pick<BestShare, 'halfStepBelow' | 'halfStepAbove' | 'flat' | 'hardlyMatters'> {
  const { best, output } = found;
  const sign = output === 'solarFraction' ? -1 : 1;
  const loss = (point: SharePoint): number => sign * (of(point, output) - of(best, output));
  const worse = (share: number): number | null => {
    const there = points.find((point) => same(point, { topUp: best.topUp, share: tidy(share) }));
    return share < -1e-9 || share > 1 + 1e-9 || there === undefined ? null : loss(there);
  };
  const within = hardly(found);
  const alike = points.filter(({ topUp }) => topUp === best.topUp).sort((a, b) => a.share - b.share);
  const at = alike.indexOf(best);
  let [low, high] = [at, at];
  while (low > 0 && loss(alike[low - 1] ?? best) <= within) low--;
  while (high < alike.length - 1 && loss(alike[high + 1] ?? best) <= within) high++;
  const [flatFrom, flatTo] = [alike[low]?.share ?? best.share, alike[high]?.share ?? best.share];
  return {
    halfStepBelow: worse(best.share - HALF_STEP),
    halfStepAbove: worse(best.share + HALF_STEP),
    flat: { topUp: best.topUp, flatFrom, flatTo, within },
    hardlyMatters: flatTo - flatFrom >= HARDLY_STRETCH,
  };
}

/** A flat stretch this long, of all shares from 0 to 1. */
const HARDLY_STRETCH = 0.45;

/** A setting as a short stable text. */
export const settingText = ({ topUp, share }: ShareSetting): string => `${share} ${topUp}`;

/** The setting of such a text. */
export const settingOf = (text: string): ShareSetting => {
  const [share, topUp] = text.split(' ');
  return { share: Number(share), topUp: topUp === 'proportional' ? 'proportional' : 'minimum' };
};

/** In each other circumstance, whether the best setting of an aim stays as good as the best there, to within what hardly matters. */
async function tryAgain(
  settings: readonly TrialSetting[],
  points: readonly SharePoint[],
  found: readonly Found[],
  years: number,
  months: readonly number[],
  ask: Ask,
): Promise<TrialResult[][]> {
  const look = lookWith(years, months, ask);
  const tried = points.filter(({ share }) => Math.abs(share / STEP - Math.round(share / STEP)) < 1e-9);
  const wanted = [
    ...tried,
    ...unseen(
      tried,
      found.map(({ best }) => best),
    ),
  ];
  const results: TrialResult[][] = found.map(() => []);
  for (const { trial, keys, people } of settings) {
    const there = await look(wanted, keys, people);
    bests(there).forEach(({ best, output, aim }, i) => {
      const mine = there.find((point) => same(point, found[i]?.best ?? best)) ?? best;
      const loss = Math.abs(of(mine, output) - of(best, output));
      const limit = hardly({ aim, best }) * (aim === 'km' ? 2 : 1);
      results[i]?.push({ trial, survives: loss <= limit, answer: settingText(best) });
    });
  }
  return results;
}

function seasonsOf(points: readonly SharePoint[], found: readonly Found[]): SeasonShares | null {
  const money = found.find(({ aim }) => aim === 'money')?.best;
  if (money === undefined || money.means.cost === null || money.means.cost === undefined) return null;
  const cheapest = (cost: (point: SharePoint) => number | null): SharePoint => first(points, (point) => -(cost(point) ?? 0));
  const summer = cheapest(({ summerCost }) => summerCost);
  const winter = cheapest(({ winterCost }) => winterCost);
  const saves = money.means.cost - (summer.summerCost ?? 0) - (winter.winterCost ?? 0);
  const pays = saves > HARDLY_COST * Math.abs(of(money, 'atOnce.carCost'));
  const bare = ({ topUp, share }: SharePoint): ShareSetting => ({ topUp, share });
  return { summer: bare(summer), winter: bare(winter), saves, pays };
}
