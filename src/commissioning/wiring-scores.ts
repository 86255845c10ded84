import type { Evidence } from './wiring-edges.ts';

/**
 * How well each guess fits one phase of the meter: the squared misfit of every switching in units of the household's own changes,
 * each counted up to a limit, so that an appliance that switches at the same moment decides nothing. A guess for a phase is a set of
 * terminals (a bit each) and a sign.
 */
export interface PhaseScores {
  /** By set of terminals, with the meter's transformer as it should be, and reversed. */
  readonly upright: Float64Array;
  readonly reversed: Float64Array;
  /** The household's own changes on this phase, A: what two thirds of them stay below. */
  readonly householdA: number;
}

/** A misfit counts up to the square of so many times the household's own change. */
export const MISFIT_LIMIT = 16;
/** No household is quieter than meters are exact, A. */
const LEAST_NOISE_A = 0.25;
/** Transformers of meter and charger together may be off by so much. */
const GAIN_ERROR = 0.06;
/** Terminals whose currents change alike, within this, can not be told apart by it. */
const ALIKE_A = 1;
const ALIKE_SHARE = 0.2;

/** The scores of every guess on each phase. */
export function phaseScores(evidence: Evidence, terminalA: readonly (readonly number[])[]): PhaseScores[] {
  return evidence.householdA.map((changes, phase) => {
    const householdA = Math.max(LEAST_NOISE_A, usualChangeA(changes));
    const meterA = evidence.edges.map((edge) => edge.meterA[phase] ?? 0);
    return { ...scoresOf(meterA, terminalA, householdA), householdA };
  });
}

function scoresOf(
  meterA: readonly number[],
  terminalA: readonly (readonly number[])[],
  householdA: number,
): { upright: Float64Array; reversed: Float64Array } {
  const terminals = terminalA[0]?.length ?? 0;
  const sets = 1 << terminals;
  const upright = new Float64Array(sets);
  const reversed = new Float64Array(sets);
  const sumA = new Float64Array(sets);
  terminalA.forEach((changes, e) => {
    const variance = varianceOf(changes, householdA);
    const metered = meterA[e] ?? 0;
    // The sum over a set is that over the set without its lowest terminal, and that terminal.
    for (let set = 0; set < sets; set++) {
      const low = set & -set;
      if (set > 0) sumA[set] = (sumA[set ^ low] ?? 0) + (changes[31 - Math.clz32(low)] ?? 0);
      const drawn = sumA[set] ?? 0;
      upright[set] = (upright[set] ?? 0) + misfit(metered - drawn, variance);
      reversed[set] = (reversed[set] ?? 0) + misfit(metered + drawn, variance);
    }
  });
  return { upright, reversed };
}

/** What to expect of a switching beside its own change, A²: the household, and the errors of the transformers. */
export function varianceOf(changes: readonly number[], householdA: number): number {
  const largest = changes.reduce((most, a) => Math.max(most, Math.abs(a)), 0);
  return householdA ** 2 + (GAIN_ERROR * largest) ** 2;
}

/** A squared misfit up to its limit. */
export const misfit = (offA: number, variance: number): number => Math.min(MISFIT_LIMIT, (offA * offA) / variance);

/** What two thirds of the changes stay below, A. */
export function usualChangeA(changes: Float64Array): number {
  const sizes = changes.map(Math.abs).sort();
  return sizes.length === 0 ? Infinity : (sizes[Math.floor(0.68 * (sizes.length - 1))] ?? 0);
}

/**
 * Changes of terminals with those that change alike made equal: a balanced car differs between its phases by less than transformers err,
 * and that error is the same every time, so that many switchings do not wash it out.
 */
export function madeAlike(changes: readonly number[]): number[] {
  const order = changes.map((_, i) => i).sort((a, b) => (changes[a] ?? 0) - (changes[b] ?? 0));
  const alike = [...changes];
  let group: number[] = [];
  const close = (): void => {
    const mean = group.reduce((sum, i) => sum + (changes[i] ?? 0), 0) / group.length;
    for (const i of group) alike[i] = Math.abs(mean) < ALIKE_A / 2 ? 0 : mean;
  };
  for (const i of order) {
    const last = group[group.length - 1];
    const value = changes[i] ?? 0;
    if (last !== undefined && value - (changes[last] ?? 0) > Math.max(ALIKE_A, ALIKE_SHARE * Math.abs(value))) {
      close();
      group = [];
    }
    group.push(i);
  }
  if (group.length > 0) close();
  return alike;
}

/** Steps of current that a wrong guess is off by, A. */
const STEPS_A = [4, 6, 10, 16];
/** Phases on which a wrong guess is off, and to which side: one phase, two, or all three. */
const PATTERNS: readonly (readonly [number, number, number])[] = [-1, 0, 1].flatMap((a) =>
  [-1, 0, 1].flatMap((b) => [-1, 0, 1].flatMap((c) => (a === 0 && b === 0 && c === 0 ? [] : [[a, b, c] as const]))),
);
/** Fewer changes of a household than this say nothing about it. */
export const LEAST_WATCHED = 20;
/** So many changes, evenly picked, are enough to know a household by. */
const MOST_WATCHED = 600;
/** Smaller weights are none. */
const LEAST_WEIGHT = 0.01;

/**
 * The weight with which misfits may be read as odds: the largest at which a wrong guess gains nothing on average from this household's
 * own changes (Chernoff's bound). With it, the chance that a wrong guess fits better by `d` is at most `exp(−weight · d)`.
 *
 * The household is what was watched beside the switchings on all three phases at once, with one change more that it did not make: the
 * one that would hide the step on one phase.
 *
 * @returns up to 0.5, the weight for normal noise; 0 where the household tells nothing
 * @see chernoff1952 (data/SOURCES.md)
 */
export function oddsWeight({ householdA }: Pick<Evidence, 'householdA'>): number {
  const watched = householdA[0].length;
  if (watched < LEAST_WATCHED) return 0;
  const stride = Math.ceil(watched / MOST_WATCHED);
  const picked = householdA.map((changes) => changes.filter((_, i) => i % stride === 0));
  let weight = 0.5;
  for (const stepA of STEPS_A) {
    const gains = picked.map((changes, phase) => {
      const usualA = Math.max(LEAST_NOISE_A, usualChangeA(householdA[phase] ?? new Float64Array(0)));
      const variance = varianceOf([stepA], usualA);
      const side = (sign: number): Float64Array => changes.map((a) => misfit(a + sign * stepA, variance) - misfit(a, variance));
      return { hidden: misfit(stepA, variance), sides: [side(-1), side(1)] as const };
    });
    for (const pattern of PATTERNS) while (weight > LEAST_WEIGHT && !isBounded(gains, pattern, weight)) weight *= 0.93;
  }
  return weight > LEAST_WEIGHT ? weight : 0;
}

type Gains = { readonly hidden: number; readonly sides: readonly [Float64Array, Float64Array] };

function isBounded(gains: readonly Gains[], pattern: readonly number[], weight: number): boolean {
  const used = gains.flatMap(({ sides }, phase) => (pattern[phase] === 0 ? [] : [sides[pattern[phase] === 1 ? 1 : 0]]));
  const hidden = gains.reduce((most, one, phase) => (pattern[phase] === 0 ? most : Math.max(most, one.hidden)), 0);
  const count = used[0]?.length ?? 0;
  let sum = Math.exp(weight * hidden);
  for (let i = 0; i < count; i++) {
    let d = 0;
    for (const side of used) d += side[i] ?? 0;
    sum += Math.exp(-weight * d);
  }
  return sum <= count + 1;
}
