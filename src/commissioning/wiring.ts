import { type Edge, type Evidence, evidenceIn, terminalsOf, withoutSign } from './wiring-edges.ts';
import type { WiringLog } from './wiring-log.ts';
import { type OnOnly, onOnly } from './wiring-on.ts';
import { MAX_ERROR, type Orders, ordersLeft, type Where } from './wiring-orders.ts';
import {
  LEAST_WATCHED,
  MISFIT_LIMIT,
  madeAlike,
  misfit,
  oddsWeight,
  type PhaseScores,
  phaseScores,
  varianceOf,
} from './wiring-scores.ts';

/** What is known of a terminal. */
export type TerminalFinding =
  /** It is on this building phase; the chance of an error is at most `error`. */
  | { readonly state: 'known'; readonly phase: number; readonly error: number }
  /** It is on one of these. */
  | { readonly state: 'one-of'; readonly phases: readonly number[] }
  /** It carried no current while the log ran. */
  | { readonly state: 'never-drew' }
  /** Its current does not show at this meter. */
  | { readonly state: 'not-seen' }
  /** The log says nothing that could be relied on. */
  | { readonly state: 'not-told' };

/** What is known of a charger. */
export interface ChargerFinding {
  /** Only on and off was logged. */
  readonly onOnly: boolean;
  readonly terminals: readonly TerminalFinding[];
  /** Whether two terminals share a building phase; null: not told. */
  readonly double: boolean | null;
  /** Switchings of this charger, and those in which one terminal changed alone, or all three alike. */
  readonly switchings: number;
  readonly ofOneTerminal: number;
  readonly ofThreeAlike: number;
}

/** Why a log tells nothing, or less than it might. */
export type Hindrance =
  | { readonly kind: 'no-switching' }
  | { readonly kind: 'household-unknown'; readonly watched: number }
  | { readonly kind: 'household-loud'; readonly usualA: number }
  | { readonly kind: 'does-not-follow'; readonly share: number }
  | { readonly kind: 'amount-off'; readonly phase: number; readonly share: number }
  | { readonly kind: 'backwards'; readonly phase: number }
  | { readonly kind: 'clocks-differ'; readonly rows: number }
  | { readonly kind: 'answered'; readonly phase: number; readonly share: number };

/** What a log says about the order of conductors. */
export interface WiringFinding {
  readonly chargers: readonly ChargerFinding[];
  /** The meter's transformers against the chargers: as they should be, reversed, or not told. */
  readonly transformers: readonly ('upright' | 'reversed' | 'not-told')[];
  readonly hindrances: readonly Hindrance[];
  readonly switchings: number;
  /** What the household usually changes by in the time of a switching, A, by phase. */
  readonly householdA: readonly number[];
  /** Rows by which the chargers' clock lags behind the meter's. */
  readonly lagRows: number;
  /** Columns of the meter hold no negative value: it may log amounts only, and a reversed transformer would not show. */
  readonly amountsOnly: boolean;
  /** The log holds enough to tell all that its draws can tell, by the rule of `holdsEnough`. */
  readonly enough: boolean;
  /** Switchings of a terminal that this household asks for at least; null: the household is too loud for any number. */
  readonly neededSwitchings: number | null;
  /** Whether an order of all terminals, charger by charger, is still possible. */
  isLeft(order: readonly (readonly number[])[]): boolean;
}

/** A terminal is told only where so many switchings agree. */
const LEAST_AGREEING = 3;
/** Part of the switchings that must follow the best order, and how much of the charger's change the meter must see. */
const LEAST_FOLLOWING = 0.6;
const SEEN = { min: 0.75, max: 1.33 };
/** A reversed transformer sees all of it and always; a roof or a battery on the phase that answers the car sees about as much, mostly. */
const EXACT = { min: 0.88, max: 1.14, following: 0.8 };
/** A misfit above this is no chance of a usual household; so many of all switchings may have one, beyond twice what the household does. */
const STRAY = 9;
const MOST_ANSWERED = 0.25;
/** Where only on and off is logged, fewer switchings may go unexplained: nothing else holds a guess to the truth. */
const ON_MISFITS = 0.2;
/** Changes below this are no switching of a terminal, A. */
const LEAST_CHANGE_A = 4;
/** For "enough": so many times the evidence that is needed at least. */
const SPARE = 2;

/**
 * Finds the building phase of each terminal: least squares over all orders of conductors and signs of transformers, each switching
 * held against what the household changes by itself.
 *
 * A log shows the order of the chargers relative to the meter, not which of the two is wrong. What draws alike can not be told apart.
 */
export function wiringOf(log: WiringLog): WiringFinding {
  const evidence = evidenceIn(log);
  const weight = oddsWeight(evidence);
  const chargers = log.chargers.map((charger, i) => ({ charger, i }));
  const byCurrents = chargers.filter(({ charger }) => charger.kind === 'currents').map(({ i }) => i);
  const currents = byCurrents.length === 0 ? null : currentsFinding(log, evidence, weight, byCurrents);
  const ons = chargers
    .filter(({ charger }) => charger.kind === 'on')
    .map(({ i }) => ({ i, on: onFinding(log, evidence, weight, i) }));
  const found = log.chargers.map((_, i) => currents?.chargers.get(i) ?? ons.find((one) => one.i === i)?.on.charger);
  const usual = phaseScores({ ...evidence, edges: [] }, []).map(({ householdA }) => householdA);
  return {
    chargers: found.flatMap((one) => (one === undefined ? [] : [one])),
    transformers: [0, 1, 2].map((p) => signOf([currents?.signs[p], ...ons.map(({ on }) => on.signs[p])])),
    hindrances: [
      ...generalHindrances(evidence, weight, usual),
      ...(currents?.hindrances ?? []),
      ...ons.flatMap(({ on }) => on.hindrances),
    ],
    switchings: evidence.edges.length,
    householdA: usual,
    lagRows: evidence.lagRows,
    amountsOnly: currents?.amountsOnly ?? withoutSign(log.meterA).includes(true),
    enough: currents?.enough === true && ons.length === 0,
    neededSwitchings: currents?.needed ?? null,
    isLeft: (order) => currents === null || currents.isLeft(order),
  };
}

type Sign = 'upright' | 'reversed' | 'not-told';

function signOf(said: readonly (Sign | undefined)[]): Sign {
  const told = new Set(said.filter((sign) => sign !== undefined && sign !== 'not-told'));
  return told.size === 1 ? ([...told][0] ?? 'not-told') : 'not-told';
}

function generalHindrances({ edges, householdA }: Evidence, weight: number, usual: readonly number[]): Hindrance[] {
  if (edges.length === 0) return [{ kind: 'no-switching' }];
  const watched = householdA[0].length;
  if (watched < LEAST_WATCHED) return [{ kind: 'household-unknown', watched }];
  return weight === 0 ? [{ kind: 'household-loud', usualA: Math.max(...usual) }] : [];
}

interface CurrentsFinding {
  readonly chargers: ReadonlyMap<number, ChargerFinding>;
  readonly signs: readonly Sign[];
  readonly hindrances: readonly Hindrance[];
  /** Columns of the meter without negative values: it may log amounts only, which show no sign. */
  readonly amountsOnly: boolean;
  readonly enough: boolean;
  readonly needed: number | null;
  isLeft(order: readonly (readonly number[])[]): boolean;
}

/** The switchings as the search sees them: terminals that ever drew, in columns, those that change alike made equal. */
interface Draws {
  readonly edges: readonly Edge[];
  readonly terminalA: readonly (readonly number[])[];
  /** Charger and number of each terminal in the columns. */
  readonly terminals: readonly { readonly charger: number; readonly terminal: number }[];
}

function drawsOf(log: WiringLog, evidence: Evidence, chargers: readonly number[]): Draws {
  const all = terminalsOf(log);
  const others = all.flatMap(({ charger }, i) => (chargers.includes(charger) ? [] : [i]));
  const edges = evidence.edges.filter(({ terminalA }) => others.every((i) => Math.abs(terminalA[i] ?? 0) < 0.25));
  const alike = edges.map(({ terminalA }) => madeAlike(terminalA.map((a, i) => (others.includes(i) ? 0 : a))));
  const drew = all.flatMap(({ charger }, i) =>
    chargers.includes(charger) && alike.some((changes) => Math.abs(changes[i] ?? 0) >= LEAST_CHANGE_A) ? [i] : [],
  );
  return {
    edges,
    terminalA: alike.map((changes) => drew.map((i) => changes[i] ?? 0)),
    terminals: drew.flatMap((i) => all.slice(i, i + 1)),
  };
}

function currentsFinding(log: WiringLog, evidence: Evidence, weight: number, chargers: readonly number[]): CurrentsFinding {
  const draws = drawsOf(log, evidence, chargers);
  const scores = phaseScores({ ...evidence, edges: draws.edges }, draws.terminalA);
  if (weight === 0 || draws.terminals.length === 0) {
    return { ...nothing(draws, chargers), needed: weight === 0 ? null : 1 };
  }
  const orders = ordersLeft(
    scores,
    draws.terminals.map(({ charger }) => charger),
    weight,
  );
  const fit = fitOf(draws, scores, orders, evidence.householdA);
  // With clocks apart, a roof that answers in another row can be taken for the car: then backwards means nothing.
  const backwards = evidence.lagRows === 0 ? -1 : orders.signs.findIndex((signs) => (signs & 2) !== 0);
  const hindrances = backwards < 0 ? hindrancesOf(fit) : [{ kind: 'clocks-differ' as const, rows: Math.abs(evidence.lagRows) }];
  const unsigned = withoutSign(log.meterA);
  const told = hindrances.length === 0;
  const signs = orders.signs.map((signs, phase): Sign => {
    if (!told || (signs !== 1 && signs !== 2)) return 'not-told';
    if (unsigned[phase]) return 'not-told';
    return signs === 1 ? 'upright' : isExact(fit, phase) ? 'reversed' : 'not-told';
  });
  return {
    chargers: new Map(chargers.map((i) => [i, chargerFinding(draws, orders, fit, told, i)])),
    signs,
    hindrances,
    amountsOnly: told && orders.signs.some((sign, phase) => sign !== 4 && unsigned[phase]),
    enough: holdsEnough(draws, scores, orders.limit),
    needed: Math.max(LEAST_AGREEING, Math.ceil(orders.limit / MISFIT_LIMIT)),
    isLeft: (order) =>
      !told ||
      orders.isLeft(draws.terminals.map(({ charger, terminal }) => (order[charger]?.[terminal - 1] ?? null) as Where | null)),
  };
}

/** Where the chargers' terminals never drew, or the household drowns everything. */
function nothing(draws: Draws, chargers: readonly number[]): Omit<CurrentsFinding, 'needed'> {
  const drew = (charger: number, terminal: number): boolean =>
    draws.terminals.some((one) => one.charger === charger && one.terminal === terminal);
  const finding = (charger: number): ChargerFinding => ({
    onOnly: false,
    terminals: [1, 2, 3].map((terminal) => ({ state: drew(charger, terminal) ? 'not-told' : 'never-drew' })),
    double: null,
    ...countsOf(draws, charger),
  });
  return {
    chargers: new Map(chargers.map((i) => [i, finding(i)])),
    signs: ['not-told', 'not-told', 'not-told'],
    hindrances: [],
    amountsOnly: false,
    enough: false,
    isLeft: () => true,
  };
}

/** How the meter follows the best order. */
interface Fit {
  /** Part of the changes that were expected somewhere and came. */
  readonly following: number;
  /** On each phase, how much of the expected change the meter sees; null: none was expected. */
  readonly seen: readonly (number | null)[];
  /** On each phase, the part of the expected changes that came. */
  readonly follows: readonly number[];
  /** On each phase, the part of all switchings at which the meter changes as no terminal does, and as the household seldom does. */
  readonly answered: readonly number[];
  /** Switchings that agree, by terminal. */
  readonly agreeing: readonly number[];
}

function fitOf(draws: Draws, scores: readonly PhaseScores[], { best }: Orders, householdA: Evidence['householdA']): Fit {
  /** How often the household by itself changes by as much. */
  const seldom = (phase: number): number => {
    const changes = householdA[phase] ?? new Float64Array(0);
    const variance = varianceOf([6], scores[phase]?.householdA ?? 1);
    return changes.filter((a) => misfit(a, variance) > STRAY).length / Math.max(1, changes.length);
  };
  let expected = 0;
  let came = 0;
  const agreeing = best.map(() => 0);
  const strays = [0, 0, 0];
  const follows = [0, 0, 0];
  const seen = scores.map(({ upright, reversed, householdA }, phase) => {
    const on = best.flatMap((where, i) => (where === phase + 1 ? [i] : []));
    const set = on.reduce((bits, i) => bits | (1 << i), 0);
    const sign = (upright[set] ?? 0) <= (reversed[set] ?? 0) ? 1 : -1;
    const shares: number[] = [];
    draws.edges.forEach(({ meterA }, e) => {
      const changes = draws.terminalA[e] ?? [];
      const drawn = on.reduce((sum, i) => sum + (changes[i] ?? 0), 0);
      const metered = sign * (meterA[phase] ?? 0);
      const off = misfit(metered - drawn, varianceOf(changes, householdA));
      if (off > STRAY) strays[phase] = (strays[phase] ?? 0) + 1;
      if (Math.abs(drawn) < LEAST_CHANGE_A) return;
      expected++;
      shares.push(metered / drawn);
      if (off < MISFIT_LIMIT) {
        came++;
        follows[phase] = (follows[phase] ?? 0) + 1;
      }
      if (off < MISFIT_LIMIT / 2)
        for (const i of on) if (Math.abs(changes[i] ?? 0) >= LEAST_CHANGE_A) agreeing[i] = (agreeing[i] ?? 0) + 1;
    });
    follows[phase] = (follows[phase] ?? 0) / Math.max(1, shares.length);
    return shares.length === 0 ? null : (shares.sort((a, b) => a - b)[Math.floor(shares.length / 2)] ?? null);
  });
  const answered = strays.map((count, phase) => (count < LEAST_AGREEING ? 0 : count / draws.edges.length - 2 * seldom(phase)));
  return { following: expected === 0 ? 1 : came / expected, seen, follows, answered, agreeing };
}

function isExact({ seen, follows }: Fit, phase: number): boolean {
  const share = seen[phase] ?? 0;
  return share >= EXACT.min && share <= EXACT.max && (follows[phase] ?? 0) >= EXACT.following;
}

function hindrancesOf({ following, seen, answered }: Fit): Hindrance[] {
  const off = seen.flatMap((share, phase) =>
    share === null || (share >= SEEN.min && share <= SEEN.max) ? [] : [{ kind: 'amount-off' as const, phase: phase + 1, share }],
  );
  if (off.length > 0) return off;
  if (following < LEAST_FOLLOWING) return [{ kind: 'does-not-follow', share: following }];
  const most = answered.indexOf(Math.max(...answered));
  const share = answered[most] ?? 0;
  return share > MOST_ANSWERED ? [{ kind: 'answered', phase: most + 1, share }] : [];
}

function chargerFinding(draws: Draws, orders: Orders, fit: Fit, told: boolean, charger: number): ChargerFinding {
  const terminals = [1, 2, 3].map((terminal): TerminalFinding => {
    const i = draws.terminals.findIndex((one) => one.charger === charger && one.terminal === terminal);
    if (i < 0) return { state: 'never-drew' };
    const tooFew = orders.best[i] !== 0 && (fit.agreeing[i] ?? 0) < LEAST_AGREEING;
    return !told || tooFew ? { state: 'not-told' } : placeFinding(orders, i);
  });
  const doubles =
    told && terminals.every(({ state }) => state === 'known' || state === 'one-of') ? orders.doubles[charger] : undefined;
  const double = doubles === undefined || doubles === 'some' ? null : doubles === 'all';
  return { onOnly: false, terminals, double, ...countsOf(draws, charger) };
}

function placeFinding(orders: Orders, i: number): TerminalFinding {
  const places = orders.places[i] ?? 0;
  const phases = [1, 2, 3].filter((phase) => (places & (1 << phase)) !== 0);
  if (places === 1) return { state: 'not-seen' };
  if ((places & 1) !== 0) return { state: 'not-told' };
  const [phase = 0] = phases;
  const error = orders.errors[i] ?? 1;
  return phases.length === 1 && error <= MAX_ERROR ? { state: 'known', phase, error } : { state: 'one-of', phases };
}

function countsOf(draws: Draws, charger: number): Pick<ChargerFinding, 'switchings' | 'ofOneTerminal' | 'ofThreeAlike'> {
  const mine = draws.terminals.flatMap((one, i) => (one.charger === charger ? [i] : []));
  const counts = { switchings: 0, ofOneTerminal: 0, ofThreeAlike: 0 };
  for (const changes of draws.terminalA) {
    const changed = mine.filter((i) => Math.abs(changes[i] ?? 0) >= LEAST_CHANGE_A);
    if (changed.length > 0) counts.switchings++;
    if (changed.length === 1) counts.ofOneTerminal++;
    if (changed.length === 3 && changed.every((i) => changes[i] === changes[changed[0] ?? 0])) counts.ofThreeAlike++;
  }
  return counts;
}

/**
 * The rule for "holds enough": every terminal that drew, and every two that did not always draw alike, switched often and strongly
 * enough against this household for twice the evidence that a verdict needs, and at least three times. It looks at the chargers and at
 * the household beside their switchings, not at how the meter followed.
 */
function holdsEnough(draws: Draws, scores: readonly PhaseScores[], limit: number): boolean {
  const loudestA = Math.max(...scores.map(({ householdA }) => householdA));
  const isEnough = (changeOf: (changes: readonly number[]) => number): boolean | null => {
    let evidence = 0;
    let times = 0;
    for (const changes of draws.terminalA) {
      const a = changeOf(changes);
      if (a === 0) continue;
      evidence += misfit(a, varianceOf(changes, loudestA));
      if (Math.abs(a) >= LEAST_CHANGE_A) times++;
    }
    return times === 0 && evidence === 0 ? null : times >= LEAST_AGREEING && evidence >= SPARE * limit;
  };
  const count = draws.terminals.length;
  for (let i = 0; i < count; i++) {
    if (isEnough((changes) => changes[i] ?? 0) !== true) return false;
    for (let j = 0; j < i; j++) if (isEnough((changes) => (changes[i] ?? 0) - (changes[j] ?? 0)) === false) return false;
  }
  return count > 0;
}

interface OnFinding {
  readonly charger: ChargerFinding;
  readonly signs: readonly Sign[];
  readonly hindrances: readonly Hindrance[];
}

/** A charger of which only on and off is logged: its switchings while no other charger switches. */
function onFinding(log: WiringLog, evidence: Evidence, weight: number, charger: number): OnFinding {
  const all = terminalsOf(log);
  const own = all.findIndex((one) => one.charger === charger);
  const edges = evidence.edges.flatMap((edge) => {
    const change = edge.terminalA[own] ?? 0;
    const alone = edge.terminalA.every((a, i) => i === own || Math.abs(a) < 0.5);
    return alone && Math.abs(change) > 0.9 ? [{ edge, direction: Math.sign(change) }] : [];
  });
  const usual = phaseScores({ ...evidence, edges: [] }, []).map(({ householdA }) => householdA);
  const unknown = (terminal: TerminalFinding, onePhase: number): ChargerFinding => ({
    onOnly: true,
    terminals: [terminal, { state: 'not-told' }, { state: 'not-told' }],
    double: null,
    switchings: edges.length,
    ofOneTerminal: onePhase,
    ofThreeAlike: 0,
  });
  const silent: readonly Sign[] = ['not-told', 'not-told', 'not-told'];
  if (weight === 0 || edges.length === 0) return { charger: unknown({ state: 'not-told' }, 0), signs: silent, hindrances: [] };
  const on = onOnly(edges, usual, weight);
  if (on.misfitShare > ON_MISFITS) {
    const hindrances: Hindrance[] = [{ kind: 'does-not-follow', share: 1 - on.misfitShare }];
    return { charger: unknown({ state: 'not-told' }, on.onePhase), signs: silent, hindrances };
  }
  const unsigned = withoutSign(log.meterA);
  // Without currents at the terminals, a battery that answers the car on another phase looks like a reversed transformer there.
  const backwards = on.reversed.indexOf(true);
  if (backwards >= 0) {
    const hindrances: Hindrance[] = [{ kind: 'backwards', phase: backwards + 1 }];
    return { charger: unknown({ state: 'not-told' }, on.onePhase), signs: silent, hindrances };
  }
  const signs = on.reversed.map((reversed, p): Sign => (reversed === null || unsigned[p] ? 'not-told' : 'upright'));
  return { charger: unknown(firstTerminal(on), on.onePhase), signs, hindrances: [] };
}

function firstTerminal({ phases, error, onePhase }: OnOnly): TerminalFinding {
  const [phase = 0] = phases;
  if (phases.length === 1 && onePhase >= LEAST_AGREEING) return { state: 'known', phase, error };
  return phases.length < 3 && phases.length > 0 && onePhase >= LEAST_AGREEING
    ? { state: 'one-of', phases }
    : { state: 'not-told' };
}

/** Whether the order is as it was meant to be. */
export type WiringVerdict = 'as-expected' | 'not-as-expected' | 'cannot-tell';

/**
 * Holds a finding against the order that was meant: building phases on the terminals, charger by charger; a terminal that is not listed
 * is not asked about. Without an order, any is fine that is known in full. A reversed transformer and two terminals on one phase are
 * never as expected.
 */
export function verdictOn(finding: WiringFinding, expected: readonly (readonly number[])[] | null): WiringVerdict {
  if (finding.transformers.includes('reversed') || finding.chargers.some(({ double }) => double === true))
    return 'not-as-expected';
  if (expected === null) return finding.chargers.every(isKnown) ? 'as-expected' : 'cannot-tell';
  const asked = finding.chargers.flatMap(({ terminals }, i) =>
    (expected[i] ?? []).map((phase, t) => ({ phase, terminal: terminals[t] ?? ({ state: 'not-told' } as const) })),
  );
  if (asked.some(({ phase, terminal }) => terminal.state === 'known' && terminal.phase !== phase)) return 'not-as-expected';
  if (asked.some(({ phase, terminal }) => terminal.state === 'one-of' && !terminal.phases.includes(phase)))
    return 'not-as-expected';
  if (!finding.isLeft(expected)) return 'not-as-expected';
  const all = asked.length > 0 && asked.every(({ terminal }) => terminal.state === 'known');
  return all ? 'as-expected' : 'cannot-tell';
}

const isKnown = ({ terminals }: ChargerFinding): boolean => terminals.every(({ state }) => state === 'known');
