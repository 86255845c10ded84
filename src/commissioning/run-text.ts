import type { PointRules } from '../charging/index.ts';
import type { Estimate, WhyNot } from './run-current.ts';
import type { Departure, DepartureCause, DepartureKind } from './run-departures.ts';
import type { Setting } from './run-enough.ts';
import type { RunFindings } from './run-estimates.ts';

/** One line of what a log says: what it is, the value with its interval or why there is none, and what the scenario sets. */
export interface FindingLine {
  readonly name: string;
  readonly found: string;
  readonly set: string;
  /** The log shows another value than the scenario sets. */
  readonly differs: boolean;
  /** What a log would have to hold to tell it; empty where it is told. */
  readonly reveals: string;
}

/** What is found, line by line, beside what a scenario sets (`rules`, where one is given). */
export function findingLines(findings: RunFindings, rules: PointRules | null, intervalS: number): FindingLine[] {
  const { current } = findings;
  const lag = findings.startIncludesLag ? ' and vehicle’s lag together' : '';
  const lagRows = findings.startIncludesLag ? (rules?.lagSteps ?? 0) : 0;
  const line = (name: string, estimate: Estimate, unit: Unit, set: number | null, setting: Setting): FindingLine => ({
    name,
    found: estimateText(estimate, unit),
    set: set === null ? '' : unit.show(set),
    differs: set !== null && isOutside(set, estimate, unit.hair),
    reveals: estimate.known || estimate.why === 'no-surplus' || estimate.why === 'no-currents' ? '' : REVEALS[setting],
  });
  const delay = (name: string, estimate: Estimate, rows: number | null, setting: Setting): FindingLine =>
    line(name, estimate, SECONDS, rows === null ? null : rows * intervalS, setting);
  const switching = rules?.switches === true;
  const [least, most] = findings.reserveRangeW;
  const reserve = least === most ? `a reserve of ${WATTS.show(least)}` : `a reserve of ${WATTS.range(least, most)}`;
  return [
    phasesLine(findings, rules),
    ...minimumLines(findings, rules, line),
    line('Step of the current', current.stepA, AMPERES, rules?.currentStepA ?? null, 'step'),
    line(
      `Surplus at which it starts (after ${WATTS.show(findings.assumed.reserveW)} of reserve)`,
      findings.thresholdW,
      WATTS,
      rules?.least.thresholdW ?? null,
      'share',
    ),
    line(`Surplus share (with ${reserve})`, findings.surplusShare, SHARE, rules?.surplusShare ?? null, 'share'),
    topUpLine(findings, rules),
    delay(`Start delay${lag}`, findings.startDelayS, rules === null ? null : rules.startSteps + lagRows, 'startDelay'),
    delay('Stop delay', findings.stopDelayS, rules?.stopSteps ?? null, 'stopDelay'),
    ...(rules === null || rules.switches || findings.switches > 0
      ? [
          delay('Delay before more phases', findings.switchUpDelayS, switching ? rules.upSteps : null, 'switchUp'),
          delay('Delay before fewer phases', findings.switchDownDelayS, switching ? rules.downSteps : null, 'switchDown'),
          delay(
            `Pause at a change of phases${lag}`,
            findings.switchPauseS,
            switching ? rules.pauseSteps + lagRows : null,
            'pause',
          ),
        ]
      : []),
    delay('Vehicle’s lag', findings.lagS, rules?.lagSteps ?? null, 'lag'),
  ];
}

function phasesLine({ current: { phases } }: RunFindings, rules: PointRules | null): FindingLine {
  const isKnown = phases.length > 0;
  return {
    name: 'Phases the car draws on',
    found: isKnown ? phases.join(' and ') : WHY['no-currents'],
    set: rules === null ? '' : [...new Set([rules.least.n, rules.most.n])].join(' and '),
    differs: rules !== null && phases.some((n) => n !== rules.least.n && n !== rules.most.n),
    reveals: isKnown ? '' : REVEALS.phases,
  };
}

function minimumLines(
  { current }: RunFindings,
  rules: PointRules | null,
  line: (name: string, estimate: Estimate, unit: Unit, set: number | null, setting: Setting) => FindingLine,
): FindingLine[] {
  return ([1, 2, 3] as const).flatMap((n) => {
    if (current.phases.length > 0 ? !current.phases.includes(n) : n > 1) return [];
    const way = rules === null ? null : rules.least.n === n ? rules.least : rules.most.n === n ? rules.most : null;
    const on = current.phases.length === 0 ? '' : ` on ${n} phase${n > 1 ? 's' : ''}`;
    const estimate = current.minCurrentA[n - 1] ?? NOT_SEEN;
    return [line(`Least current the car draws${on}`, estimate, AMPERES, way?.minA ?? null, 'leastCurrent')];
  });
}

function topUpLine({ topUp }: RunFindings, rules: PointRules | null): FindingLine {
  return {
    name: 'Grid tops up',
    found: topUp === null ? WHY['too-few'] : TOP_UP[topUp],
    set: rules === null ? '' : TOP_UP[rules.proportional ? 'proportional' : 'minimum'],
    differs: false,
    reveals: topUp === null ? REVEALS.step : '',
  };
}

/** The kind of day, or the column, that would show a setting. Nobody has to count: the numbers are those of the rule `enoughIn`. */
const REVEALS: Readonly<Record<Setting, string>> = {
  phases: 'Phases: log the current of each (car_l1_a, car_l2_a, car_l3_a).',
  leastCurrent:
    'Least current: let the sun fade while the car charges, so that it goes down to its least and stops, five times or more.',
  step: 'Step, and how the grid tops up: an hour or two of sun that changes slowly between the least and the highest current, with currents written to hundredths.',
  share:
    'Surplus share: days on which the surplus comes and goes slowly (thin cloud, early and late sun), eight starts and eight stops or more, the car plugged in all day; and name the reserve (a scenario, or --reserve).',
  startDelay:
    'Start delay: a changeable day with the car plugged in from before the sun, eight starts or more, not all of them right after a stop.',
  stopDelay: 'Stop delay: eight clouds or more that are long enough for charging to stop.',
  switchUp:
    'Delay before more phases: sun that becomes strong enough for them while the car charges on fewer, five times or more.',
  switchDown: 'Delay before fewer phases: sun that becomes too weak for all phases but not for fewer, five times or more.',
  pause: 'Pause at a change of phases: three changes or more.',
  lag: 'Vehicle’s lag: log what the charger offers (offered_a) as well.',
};

/** What the log would have to hold to tell what it does not, each once. */
export const revealsOf = (lines: readonly FindingLine[]): string[] => [
  ...new Set(lines.flatMap(({ reveals }) => (reveals === '' ? [] : [reveals]))),
];

/** An interval too wide for a value still tells what lies outside it; an upper bound what lies above it. */
const isOutside = (set: number, { low = -Infinity, high = Infinity }: Estimate, hair: number): boolean =>
  set < low - hair || set > high + hair;

const NOT_SEEN: Estimate = { known: false, why: 'never-happened' };
const TOP_UP = { minimum: 'to the least current only', proportional: 'in proportion to the surplus' } as const;

interface Unit {
  readonly show: (value: number) => string;
  readonly range: (low: number, high: number) => string;
  /** Differences below this are none. */
  readonly hair: number;
}

const fixed = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)));
const unit = (name: string, decimals: number, scale = 1, hair = 0): Unit => ({
  show: (value) => `${fixed(value * scale, decimals)} ${name}`,
  range: (low, high) => `${fixed(low * scale, decimals)} to ${fixed(high * scale, decimals)} ${name}`,
  hair,
});
const AMPERES = unit('A', 1, 1, 0.05);
const WATTS = unit('W', 0, 1, 5);
const SECONDS = unit('s', 0, 1, 0.5);
const SHARE: Unit = {
  show: (value) => fixed(value, 2),
  range: (low, high) => `${fixed(low, 2)} to ${fixed(high, 2)}`,
  hair: 0.01,
};

/** A value with its interval, or why the log cannot tell. */
function estimateText(estimate: Estimate, { show, range }: Unit): string {
  if (estimate.known) {
    const interval = estimate.low === estimate.high ? '' : ` (${range(estimate.low, estimate.high)})`;
    return `${show(estimate.value)}${interval}, seen ${estimate.from} times`;
  }
  const { low, high, why } = estimate;
  const bounds =
    low !== undefined && high !== undefined ? `${range(low, high)}; ` : high !== undefined ? `at most ${show(high)}; ` : '';
  return `${bounds}${WHY[why]}`;
}

const WHY: Readonly<Record<WhyNot, string>> = {
  'no-currents': 'cannot tell: the log has no currents per phase',
  'no-surplus': 'cannot tell: the log has neither pv_w and house_w nor grid_w',
  'no-charging': 'cannot tell: the car did not charge',
  'too-few': 'cannot tell: it happened too seldom',
  'only-at-most': 'the log does not show it held there for want of surplus',
  'too-noisy': 'cannot tell: finer than the noise',
  'too-wide': 'the log cannot tell it more closely',
  'never-happened': 'cannot tell: it did not happen',
  'needs-minimum': 'cannot tell while the least current is not known',
  'needs-offered': 'cannot tell from the start delay without a column offered_a',
  'does-not-fit': 'cannot tell: too few of the events fit one value',
};

/** A departure in one sentence, without its time. */
export function departureText(departure: Departure): string {
  const { kind, byS } = departure;
  const numbers = `the surplus was ${watts(departure.surplusW)}, the threshold ${watts(departure.thresholdW)}`;
  return `${KINDS[kind](seconds(byS))} (${numbers}).`;
}

const watts = (w: number): string => `${Math.round(w)} W`;
const seconds = (s: number): string => (s < 120 ? `${Math.round(s)} s` : `${fixed(s / 60, 1)} min`);

const KINDS: Readonly<Record<DepartureKind, (by: string) => string>> = {
  'started-late': (by) => `Should have started here; started ${by} later`,
  'did-not-start': (by) => `Should have started here; did not, though the surplus stood for ${by} more`,
  'started-early': () => 'Started, though the surplus had not stood long enough',
  'stalled-early': (by) => `Stopped ${by} before the stop delay had run out`,
  'ended-with-surplus': () => 'Stopped, though the surplus was there',
  'stalled-late': (by) => `Should have stalled here; went on for ${by}`,
  'no-switch-up': (by) => `Should have gone to more phases here; did not for ${by}`,
  'no-switch-down': (by) => `Should have gone to fewer phases here; did not for ${by}`,
  'other-phases': () => 'Drew on a number of phases that the scenario does not allow',
  oscillates: (by) => `Began charging four times within ${by}`,
};

/** What lies behind a departure, in words. */
export const CAUSE_TEXT: Readonly<Record<DepartureCause, string>> = {
  'minimum-higher': 'the car needs more than the scenario says to begin: its least current is higher',
  'threshold-higher': 'the surplus share or the reserve is set higher than in the scenario',
  'threshold-lower': 'the surplus share or the reserve is set lower than in the scenario',
  'start-delay-longer': 'the start delay is longer than in the scenario',
  'start-delay-shorter': 'the start delay is shorter than in the scenario',
  'stop-delay-shorter': 'the stop delay is shorter than in the scenario',
  'stop-delay-longer': 'the stop delay is longer than in the scenario',
  'up-delay-longer': 'the delay before more phases is longer than in the scenario',
  'down-delay-longer': 'the delay before fewer phases is longer than in the scenario',
  'car-sleeps': 'the car was asleep and took long to answer',
  'away-or-full': 'the car was away, unplugged or full: the log does not say',
  'by-hand-or-must': 'charging by hand, for a departure, or below the floor',
  limit: 'a limit held it: fuse, imbalance, contract or dimming',
  'gave-up': 'the car gave up after many interruptions; plug in anew',
  'phase-check': 'the charger saw current on a conductor where it expected none: check the order of conductors (sixamp wiring)',
  'fixed-phases': 'the charger does not change phases: set or wired to a fixed number',
  'vehicle-phases': 'the car draws on another number of phases than the scenario says',
  battery: 'a home battery took or gave what the meter showed',
};

/** Departures of one kind together: how many, and what they most likely come from. */
export interface DepartureGroup {
  readonly kind: DepartureKind;
  readonly count: number;
  readonly heading: string;
  readonly causes: readonly string[];
}

/** The causes of departures of one kind: first those that most of them may come from, of equals the one named earlier. */
function likeliest(departures: readonly Departure[]): DepartureCause[] {
  const counts = new Map<DepartureCause, { count: number; places: number }>();
  for (const { causes } of departures) {
    causes.forEach((cause, place) => {
      const { count, places } = counts.get(cause) ?? { count: 0, places: 0 };
      counts.set(cause, { count: count + 1, places: places + place });
    });
  }
  return [...counts].sort(([, a], [, b]) => b.count - a.count || a.places - b.places).map(([cause]) => cause);
}

/** The kinds that occur, the most frequent first. */
export function departureGroups(departures: readonly Departure[]): DepartureGroup[] {
  const kinds = [...new Set(departures.map(({ kind }) => kind))];
  return kinds
    .map((kind) => {
      const mine = departures.filter((one) => one.kind === kind);
      return {
        kind,
        count: mine.length,
        heading: HEADINGS[kind],
        causes: likeliest(mine).map((cause) => CAUSE_TEXT[cause]),
      };
    })
    .sort((a, b) => b.count - a.count);
}

const HEADINGS: Readonly<Record<DepartureKind, string>> = {
  'started-late': 'Started too late',
  'did-not-start': 'Did not start',
  'started-early': 'Started without the surplus that the scenario asks for',
  'stalled-early': 'Stalled too early',
  'ended-with-surplus': 'Stopped with surplus there',
  'stalled-late': 'Stalled too late',
  'no-switch-up': 'Did not go to more phases',
  'no-switch-down': 'Did not go to fewer phases',
  'other-phases': 'Drew on other phases',
  oscillates: 'On and off in short time',
};
