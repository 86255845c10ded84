import { EN, type Form } from '../explain/index.ts';
import type { Tariff } from '../scenario/index.ts';
import type { ExcludedOption, PhaseOption, PhasesAnswer } from './phases.ts';
import type { Expectation } from './quantiles.ts';
import type { Choice, RankedBy } from './rank.ts';
import type { Trial, TrialResult } from './robust.ts';
import { type BestShare, type ShareAim, type ShareAnswer, type SharePoint, type ShareSetting, settingOf } from './share.ts';
import type { Certainty, Dimension, SizeAnswer } from './size.ts';
import type { Want, WantedOutput } from './want.ts';
import type { YearsAnswer } from './years.ts';

/**
 * All words of the studies, in English. A language is a function of how it writes numbers; another one would be another such function.
 */
const f: Form = EN.form;

const money = (value: number, currency: string): string => `${currency} ${f.fixed(value, Math.abs(value) < 99.5 ? 2 : 0)}`;
const kWh = (value: number): string => `${f.brief(value)} kWh`;
const km = (value: number): string => `${f.fixed(value, 0)} km`;
const hours = (value: number): string => `${f.brief(value)} solar charging hours`;
const percent = (share: number): string => `${f.plain(100 * share, 1)} %`;

const TRIALS: Readonly<Record<Trial, string>> = {
  'as-written': 'the scenario as written',
  slow: 'delays at the slow end of what installations have',
  quick: 'delays at the quick end',
  'other-people': 'other people with other habits in the same house',
};

/** How a verdict stands in other circumstances. */
export function robustness(trials: readonly TrialResult[], answer: (text: string) => string): string {
  const holds = trials.filter(({ survives }) => survives).map(({ trial }) => TRIALS[trial]);
  const fails = trials.filter(({ survives }) => !survives);
  const survived = holds.length === 0 ? [] : [`It survives ${f.listed(holds)}.`];
  return [...survived, ...fails.map((one) => `It does not survive ${TRIALS[one.trial]}: there ${answer(one.answer)}.`)].join(' ');
}

/** What to expect over the years, in sentences; `currency` null without a tariff. */
export function yearsSentences(answer: YearsAnswer, currency: string | null): string[] {
  const { total, years } = answer;
  const what = answer.weatherVaries
    ? answer.habitsVary
      ? 'weather and habits differ'
      : 'the weather differs (the car comes and goes as recorded)'
    : answer.habitsVary
      ? 'habits differ on the same measured weather'
      : 'nothing differs: weather and habits are both measured';
  const of = (kind: 'usual' | 'inNineOfTen' | 'inOneOfTen'): string =>
    `${kWh(total.pvKWh[kind])} (${km(total.kmOnPv[kind])}, ${hours(total.solarChargingH[kind])})`;
  const sentences = [
    `${years} years in which ${what}: in a usual year the roof puts ${of('usual')} into the car, ${percent(answer.solarFraction.usual)} of all it charges.`,
    `Reached in nine years of ten: ${of('inNineOfTen')}. Reached in one of ten: ${of('inOneOfTen')}. Charged at once: ${kWh(answer.atOncePvKWh.usual)} in a usual year.`,
  ];
  if (answer.missedKm.usual >= 0.5)
    sentences.push(`In a usual year ${km(answer.missedKm.usual)} of ${km(answer.drivenKm.usual)} find the battery empty.`);
  return [...sentences, ...costSentences(answer, currency)];
}

function costSentences({ costPer100Km, atOncePer100Km }: YearsAnswer, currency: string | null): string[] {
  if (currency === null || costPer100Km === null || atOncePer100Km === null) return [];
  return [
    `100 km cost ${money(costPer100Km.usual, currency)} in a usual year, ${money(atOncePer100Km.usual, currency)} if charged at once; in nine years of ten ${money(costPer100Km.inNineOfTen, currency)} or less.`,
  ];
}

/** What a promise of hours and kilometres must not be taken for. */
export function notPromised({ total, years, each, weatherVaries }: YearsAnswer): string[] {
  const least = total.pvKWh.least;
  const below = each.filter(({ pvKWh }) => (pvKWh ?? 0) < total.pvKWh.usual).length;
  const weather = weatherVaries
    ? 'The weather is made up around one average climate: a run of poor years, or a change of climate, is not in it.'
    : 'The weather is one measured year: how far other years stray is not in it.';
  return [
    `Not the usual year in every year: ${below} of ${years} fell short of it, the poorest with ${kWh(least)}.`,
    'Not that the months add up: they are not all poor, nor all good, in the same year.',
    'Not that many hours mean much energy: an hour at half PV counts half, and slow charging takes more of them.',
    weather,
    ...(years < 10 ? [`Not what ${years} years cannot tell: with fewer than ten, nine years of ten is every one of them.`] : []),
    'Not that people keep to their habits: trips stray as the scenario says, and no further.',
  ];
}

/** What is not in the money where the tariff leaves a price out. */
export const unpricedSentences = (tariff: Tariff | null): string[] =>
  tariff === null || tariff.publicPerKWh !== null
    ? []
    : [
        'Kilometres that the battery could not cover are charged elsewhere and cost nothing in these figures: the tariff names no price for that (tariff.publicPerKWh).',
      ];

/** How an option is called. */
export const phaseName = ({ phases, maxCurrentA }: PhaseOption): string =>
  `${phases === 'switchable' ? 'switchable' : f.onPhases(phases)}, ${f.amps(maxCurrentA)}`;

const WHY_EXCLUDED: Readonly<Record<ExcludedOption['why'], (limitA: number) => string>> = {
  'one-phase-grid': () => 'the house has one phase',
  'main-fuse': (limitA) => `the main fuse is ${f.amps(limitA)}`,
  imbalance: (limitA) => `phases may differ by ${f.amps(limitA)} at most`,
  'car-takes-less': (limitA) => `the car takes ${f.amps(limitA)} at most`,
  'car-one-phase': () => 'the car draws on one phase only',
};

/** Options that were left out, and why. */
export const excludedSentence = (excluded: readonly ExcludedOption[]): string[] =>
  excluded.length === 0
    ? []
    : [`Left out: ${excluded.map((one) => `${phaseName(one)} (${WHY_EXCLUDED[one.why](one.limitA)})`).join('; ')}.`];

const ahead = (by: RankedBy, value: number, currency: string): string =>
  by === 'cost' ? `${money(value, currency)} a year cheaper` : `${kWh(value)} of PV a year more`;

/** The verdict on phases: what wins, why, whether it stands, and what would turn it. */
export function phasesSentences(answer: PhasesAnswer, currency: string | null, optionOf: (id: string) => PhaseOption): string[] {
  const { winner, rival, isTie, by, yearsAhead } = answer.ranking;
  const unit = currency ?? '';
  const name = phaseName(winner.option);
  const said: string[] = [];
  if (rival === null) said.push(`Nothing to choose: ${name} is the only way left.`);
  else if (isTie) {
    const gain = ahead(by, -answer.ranking.ahead, unit);
    said.push(
      `Verdict: ${name}. ${capital(phaseName(rival.option))} would be ${gain}, less than the ${tieText(answer, unit)} below which the simpler way stands.`,
    );
  } else {
    said.push(
      `Verdict: ${name}, ${ahead(by, answer.ranking.ahead, unit)} than ${phaseName(rival.option)} on average, and ahead in ${yearsAhead} of ${answer.years} years.`,
    );
  }
  if (rival !== null) said.push(reason(winner, rival));
  said.push(robustness(answer.trials, (id) => `${phaseName(optionOf(id))} comes out ahead`));
  return [...said, ...turningSentences(answer, optionOf)].filter((text) => text !== '');
}

const tieText = ({ ranking }: PhasesAnswer, currency: string): string =>
  ranking.by === 'cost' ? money(ranking.tieBelow, currency) : kWh(ranking.tieBelow);

function reason(winner: Choice<PhaseOption>, rival: Choice<PhaseOption>): string {
  const of = (choice: Choice<PhaseOption>, name: string): number => choice.means[name] ?? 0;
  const parts = [winner, rival].map(
    (choice) =>
      `${phaseName(choice.option)} brings ${kWh(of(choice, 'pvKWh'))} of PV into the car and loses ${kWh(of(choice, 'lossesKWh'))} on the way, with ${f.fixed(of(choice, 'startsPerDay'), 1)} starts and ${f.fixed(of(choice, 'switchesPerDay'), 1)} phase switches a day`,
  );
  const missed = of(winner, 'missedKm') - of(rival, 'missedKm');
  const short = Math.abs(missed) < 20 ? '' : `; it misses ${km(Math.abs(missed))} ${missed > 0 ? 'more' : 'less'}`;
  return `Because ${parts.join(', while ')}${short}.`;
}

function turningSentences({ roof, mileage }: PhasesAnswer, optionOf: (id: string) => PhaseOption): string[] {
  const said: string[] = [];
  const to = (id: string): string => phaseName(optionOf(id));
  if (roof !== null) {
    for (const side of ['below', 'above'] as const) {
      const flip = roof[side];
      if (flip === null) continue;
      const size =
        roof.todayKWp === null
          ? `${f.plain(flip.factor, 2)} times today's roof`
          : `${f.plain(flip.factor * roof.todayKWp, 1)} kWp`;
      said.push(
        `It turns to ${to(flip.answer)} with a roof of ${size} or ${side === 'below' ? 'less' : 'more'}, when the yearly surplus over the house is ${kWh(roof.surplusKWhAt[side] ?? 0)} (now ${kWh(roof.surplusKWhAt.today)}).`,
      );
    }
  }
  if (mileage !== null) {
    for (const side of ['below', 'above'] as const) {
      const flip = mileage[side];
      if (flip === null) continue;
      said.push(
        `It turns to ${to(flip.answer)} at ${km(flip.factor * mileage.todayKm)} a year or ${side === 'below' ? 'less' : 'more'} (now ${km(mileage.todayKm)}).`,
      );
    }
  }
  return said.length > 0 ? said : ["No roof and no mileage between a quarter and four times of today's would turn it."];
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const AIMS: Readonly<Record<ShareAim, string>> = {
  money: 'For the money',
  pv: 'For the PV fraction',
  km: 'Never to be short of kilometres',
};

const TOP_UPS: Readonly<Record<ShareSetting['topUp'], string>> = {
  minimum: 'topped up to the minimum',
  proportional: 'topped up in proportion',
};

/** A setting in words: `70 %, topped up to the minimum`. */
export const settingName = ({ share, topUp }: ShareSetting): string =>
  share === 1
    ? '100 % (surplus only)'
    : share === 0 && topUp === 'minimum'
      ? '0 % (never waits)'
      : `${percent(share)}, ${TOP_UPS[topUp]}`;

/** The best share for each aim, how flat it lies, and whether it stands. */
export function shareSentences(answer: ShareAnswer, currency: string | null): string[] {
  const said = answer.aims.map((aim) => {
    const sentence = aim.aim === 'km' ? kmSentence(aim, answer) : aimSentence(aim, currency ?? '');
    return `${sentence} ${robustness(aim.trials, (text) => `${settingName(settingOf(text))} is better`)}`;
  });
  return [...said, ...seasonSentence(answer, currency ?? '')];
}

function aimSentence(aim: BestShare, currency: string): string {
  const { best } = aim;
  const value = aimValue(aim, best.means[aim.output] ?? 0, currency);
  const { flatFrom, flatTo, topUp } = aim.flat;
  const flat =
    flatTo - flatFrom < 0.01
      ? 'No other share comes close.'
      : `Any share from ${percent(flatFrom)} to ${percent(flatTo)}, ${TOP_UPS[topUp]}, is as good to within ${aimValue(aim, aim.flat.within, currency)}.`;
  const matters = aim.hardlyMatters ? ' So the share hardly matters here.' : '';
  return `${AIMS[aim.aim]}: ${settingName(best)}, ${value} a year (${besideOf(best)}, ${km(best.means.missedKm ?? 0)} missed). ${halfStep(aim, currency)}${flat}${matters}`;
}

const besideOf = ({ means }: SharePoint): string =>
  `${percent(means.solarFraction ?? 0)} of what is charged from PV, ${kWh(means.gridKWh ?? 0)} from the grid`;

/** A few missed kilometres count as none, so it is said how many there are, and what none at all would take. */
function kmSentence({ aim, best }: BestShare, { surest }: ShareAnswer): string {
  const missed = (point: SharePoint): number => point.means.missedKm ?? 0;
  const driven = best.means.drivenKm ?? 0;
  const found = `${AIMS[aim]}: ${settingName(best)} (${besideOf(best)}).`;
  if (missed(best) <= missed(surest) + 0.5) return `${found} ${capital(missedWords(missed(best), driven))}.`;
  const counted = `${capital(missedWords(missed(best), driven))}, within half a percent of what charging at once misses;`;
  return `${found} ${counted} the fewest, ${km(missed(surest))}, are missed with ${settingName(surest)} (${besideOf(surest)}).`;
}

const missedWords = (missed: number, driven: number): string =>
  missed < 0.5 ? `none of ${km(driven)} a year is missed` : `${km(missed)} of ${km(driven)} a year are missed`;

const aimValue = ({ output }: Pick<BestShare, 'output'>, value: number, currency: string): string => {
  if (output === 'cost') return money(value, currency);
  return output === 'solarFraction' ? percent(value) : km(value);
};

function halfStep(aim: BestShare, currency: string): string {
  const parts = [
    ...(aim.halfStepBelow === null ? [] : [`5 points lower costs ${aimValue(aim, Math.max(0, aim.halfStepBelow), currency)}`]),
    ...(aim.halfStepAbove === null ? [] : [`5 points higher ${aimValue(aim, Math.max(0, aim.halfStepAbove), currency)}`]),
  ];
  return parts.length === 0 ? '' : `${capital(parts.join(', '))}. `;
}

function seasonSentence({ seasons }: ShareAnswer, currency: string): string[] {
  if (seasons === null) return [];
  const { summer, winter, saves, pays } = seasons;
  if (!pays)
    return [`Changing it with the season does not pay: it would save about ${money(Math.max(0, saves), currency)} a year.`];
  return [
    `By season it pays: ${settingName(summer)} from April to September, ${settingName(winter)} from October to March, saving about ${money(saves, currency)} a year.`,
  ];
}

const SIZED: Readonly<Record<Dimension, string>> = {
  roof: 'roof',
  battery: 'home battery',
  minimum: 'minimum starting current',
};
const OUTPUT_TEXT: Readonly<Record<WantedOutput, (value: number, currency: string) => string>> = {
  solarFraction: (value) => `a solar fraction of ${percent(value)}`,
  pvKWh: (value) => `${kWh(value)} of PV in the car`,
  kmOnPv: (value) => `${km(value)} on PV`,
  cost: (value, currency) => `a cost of ${money(value, currency)}`,
};
const IN: Readonly<Record<Certainty, string>> = { usual: 'in a usual year', 'nine-of-ten': 'in nine years of ten' };

/** The size found, with its proof; or that there is none, and what comes closest. */
export function sizeSentences(answer: SizeAnswer, want: Want, certainty: Certainty, currency: string | null): string[] {
  const text = (value: number): string => OUTPUT_TEXT[want.output](value, currency ?? '');
  const size = (value: number): string => `${f.plain(value, 1)} ${answer.unit}`;
  const wish = `${text(want.value)} or ${want.atLeast ? 'more' : 'less'} ${IN[certainty]}`;
  const { found, neighbour, closest, dimension } = answer;
  const name = SIZED[dimension];
  if (found === null)
    return [
      `No ${name} from ${size(answer.from)} to ${size(answer.to)} reaches ${wish}; ${size(closest.size)} comes closest, with ${text(closest.value)}.`,
    ];
  const most = dimension === 'minimum' ? 'highest' : 'smallest';
  const proof =
    neighbour === null
      ? `${size(found.size)} is the end of the range, and reaches it already with ${text(found.value)}`
      : `${size(neighbour.size)} gives ${text(neighbour.value)} and fails, ${size(found.size)} gives ${text(found.value)} and holds`;
  const stands = robustness(answer.trials, (value) => `it gives ${text(Number(value))}`);
  return [`The ${most} ${name} that reaches ${wish} is ${size(found.size)}: ${proof}. ${stands}`];
}

/** A value with what to expect around it. */
export const expectationText = ({ usual, inNineOfTen, inOneOfTen }: Expectation): string =>
  `${f.brief(usual)} usual, ${f.brief(inNineOfTen)} in nine years of ten, ${f.brief(inOneOfTen)} in one of ten`;

/** The card that stays with the customer: what the share means in watts and amperes. */
export interface CardLine {
  readonly season: string;
  readonly setting: string;
  readonly starts: readonly string[];
}

/** Starting powers of a setting on each number of phases that the charger and car can draw on. */
export function startLine(share: number, minCurrentA: number, phases: number, voltageV: number, reserveW: number): string {
  const thresholdW = share * phases * voltageV * minCurrentA;
  return `on ${f.onPhases(phases)} from ${f.kw(thresholdW)} of surplus (${f.kw(thresholdW + reserveW)} of export at the meter); the car then draws ${f.amps(minCurrentA)}, ${f.kw(phases * voltageV * minCurrentA)}, or more`;
}
