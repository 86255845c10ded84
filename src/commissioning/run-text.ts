import type { PointRules } from '../charging/index.ts';
import type { Estimate, WhyNot } from './run-current.ts';
import type { Departure, DepartureCause, DepartureKind } from './run-departures.ts';
import type { RunFindings } from './run-estimates.ts';

/** One line of what a log says: what it is, the value with its interval or why there is none, and what the scenario sets. */
export interface FindingLine {
  readonly name: string;
  readonly found: string;
  readonly set: string;
  /** The log shows another value than the scenario sets. */
  readonly differs: boolean;
}

/** What is found, line by line, beside what a scenario sets (`rules`, where one is given). */
export function findingLines(findings: RunFindings, rules: PointRules | null, intervalS: number): FindingLine[] {
  const { current } = findings;
  const lag = findings.startIncludesLag ? ' and vehicle’s lag together' : '';
  const lagRows = findings.startIncludesLag ? (rules?.lagSteps ?? 0) : 0;
  const phases = current.phases.length === 0 ? WHY['no-currents'] : current.phases.join(' and ');
  const setPhases = rules === null ? '' : [...new Set([rules.least.n, rules.most.n])].join(' and ');
  const line = (name: string, estimate: Estimate, unit: Unit, set: number | null): FindingLine => ({
    name,
    found: estimateText(estimate, unit),
    set: set === null ? '' : unit.show(set),
    differs: set !== null && isOutside(set, estimate, unit.hair),
  });
  const delay = (name: string, estimate: Estimate, rows: number | null): FindingLine =>
    line(name, estimate, SECONDS, rows === null ? null : rows * intervalS);
  const minima = ([1, 2, 3] as const).flatMap((n) => {
    if (current.phases.length > 0 && !current.phases.includes(n)) return [];
    if (current.phases.length === 0 && n > 1) return [];
    const way = rules === null ? null : rules.least.n === n ? rules.least : rules.most.n === n ? rules.most : null;
    const on = current.phases.length === 0 ? '' : ` on ${n} phase${n > 1 ? 's' : ''}`;
    return [line(`Least current the car draws${on}`, current.minCurrentA[n - 1] ?? NOT_SEEN, AMPERES, way?.minA ?? null)];
  });
  return [
    {
      name: 'Phases the car draws on',
      found: phases,
      set: setPhases,
      differs: current.phases.some((n) => rules !== null && n !== rules.least.n && n !== rules.most.n),
    },
    ...minima,
    line('Step of the current', current.stepA, AMPERES, rules?.currentStepA ?? null),
    line('Surplus at which it starts (after the reserve)', findings.thresholdW, WATTS, rules?.least.thresholdW ?? null),
    line('Surplus share', findings.surplusShare, SHARE, rules?.surplusShare ?? null),
    {
      name: 'Grid tops up',
      found: findings.topUp === null ? WHY['too-few'] : TOP_UP[findings.topUp],
      set: rules === null ? '' : TOP_UP[rules.proportional ? 'proportional' : 'minimum'],
      differs: false,
    },
    delay(`Start delay${lag}`, findings.startDelayS, rules === null ? null : rules.startSteps + lagRows),
    delay('Stop delay', findings.stopDelayS, rules?.stopSteps ?? null),
    ...(rules === null || rules.switches || findings.switches > 0
      ? [
          delay('Delay before more phases', findings.switchUpDelayS, rules?.switches === true ? rules.upSteps : null),
          delay('Delay before fewer phases', findings.switchDownDelayS, rules?.switches === true ? rules.downSteps : null),
          delay(
            `Pause at a change of phases${lag}`,
            findings.switchPauseS,
            rules?.switches === true ? rules.pauseSteps + lagRows : null,
          ),
        ]
      : []),
    delay('Vehicle’s lag', findings.lagS, rules?.lagSteps ?? null),
  ];
}

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
        causes: (mine[0]?.causes ?? []).map((cause) => CAUSE_TEXT[cause]),
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
