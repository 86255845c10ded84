import type { PhaseScores } from './wiring-scores.ts';

/** Chance of an error that is put up with in a whole verdict. */
export const MAX_ERROR = 1e-4;

/** Where a terminal may be: a building phase, or nowhere at this meter. */
export type Where = 0 | 1 | 2 | 3;

/** What is left of all orders of conductors and all signs of transformers once those that fit too badly are dropped. */
export interface Orders {
  /** The order that fits best: where each terminal is. */
  readonly best: readonly Where[];
  /** Where each terminal is in any order that is left, a bit each: 1 nowhere, 2, 4, 8 on phase 1, 2, 3. */
  readonly places: readonly number[];
  /** Whether two terminals of one charger share a phase: in every, in some, or in no order that is left. */
  readonly doubles: readonly ('all' | 'some' | 'none')[];
  /** Each phase's transformer in the orders that are left, a bit each: 1 as it should be, 2 reversed, 4 nothing on the phase. */
  readonly signs: readonly number[];
  /** Highest chance that a terminal is elsewhere than in the best order. */
  readonly errors: readonly number[];
  /** Whether an order is left, whatever the signs; `null` where it does not matter, and what shows nowhere may be anywhere. */
  isLeft(order: readonly (Where | null)[]): boolean;
  /** Orders without regard to signs that were looked at. */
  readonly looked: number;
  /** Misfit beyond the best one at which an order is dropped. */
  readonly limit: number;
}

/**
 * Looks at every order of conductors: each terminal on any of the three phases or nowhere, each of the meter's transformers as it
 * should be or reversed. An order is dropped when the chance that the household alone made it fit that much worse than the best one is
 * below the error put up with, shared among all orders.
 *
 * @param scores    of the three phases, for sets of the terminals
 * @param chargers  the charger of each terminal
 * @param weight    misfits as odds (`oddsWeight`), above 0
 */
export function ordersLeft(scores: readonly PhaseScores[], chargers: readonly number[], weight: number): Orders {
  const terminals = chargers.length;
  const looked = 4 ** terminals;
  const limit = Math.log((8 * looked) / MAX_ERROR) / weight;
  const least = scores.map(({ upright, reversed }) => upright.map((score, set) => Math.min(score, reversed[set] ?? Infinity)));
  const misfits = new Float64Array(looked);
  const sets = [0, 0, 0, 0];
  let best = 0;
  for (let order = 0; order < looked; order++) {
    setsOf(order, terminals, sets);
    misfits[order] = (least[0]?.[sets[1] ?? 0] ?? 0) + (least[1]?.[sets[2] ?? 0] ?? 0) + (least[2]?.[sets[3] ?? 0] ?? 0);
    if ((misfits[order] ?? 0) < (misfits[best] ?? 0)) best = order;
  }
  const lowest = misfits[best] ?? 0;
  const left = orderNumbers(misfits, lowest + limit);
  return {
    best: whereOf(best, terminals),
    ...summaryOf(left, chargers),
    signs: signsLeft(left, scores, misfits, lowest + limit, terminals),
    errors: errorsOf(misfits, lowest, best, weight, terminals),
    isLeft: (asked) =>
      left.some((order) => whereOf(order, terminals).every((where, i) => asked[i] == null || where === 0 || asked[i] === where)),
    looked,
    limit,
  };
}

/** The set of terminals at each place, a bit each, of an order: two bits a terminal. */
function setsOf(order: number, terminals: number, sets: number[]): void {
  sets.fill(0);
  for (let i = 0; i < terminals; i++) {
    const where = (order >> (2 * i)) & 3;
    sets[where] = (sets[where] ?? 0) | (1 << i);
  }
}

const whereOf = (order: number, terminals: number): Where[] =>
  Array.from({ length: terminals }, (_, i) => ((order >> (2 * i)) & 3) as Where);

function orderNumbers(misfits: Float64Array, limit: number): number[] {
  const left: number[] = [];
  for (let order = 0; order < misfits.length; order++) if ((misfits[order] ?? Infinity) <= limit) left.push(order);
  return left;
}

function summaryOf(left: readonly number[], chargers: readonly number[]): Pick<Orders, 'places' | 'doubles'> {
  const places = chargers.map(() => 0);
  const count = Math.max(...chargers) + 1;
  const withDouble = Array.from({ length: count }, () => 0);
  for (const order of left) {
    const used = Array.from({ length: count }, () => 0);
    const doubled = new Set<number>();
    chargers.forEach((charger, i) => {
      const where = (order >> (2 * i)) & 3;
      places[i] = (places[i] ?? 0) | (1 << where);
      if (where > 0 && ((used[charger] ?? 0) & (1 << where)) !== 0) doubled.add(charger);
      used[charger] = (used[charger] ?? 0) | (1 << where);
    });
    for (const charger of doubled) withDouble[charger] = (withDouble[charger] ?? 0) + 1;
  }
  const doubles = withDouble.map((n) => (n === 0 ? 'none' : n === left.length ? 'all' : 'some'));
  return { places, doubles };
}

function signsLeft(
  left: readonly number[],
  scores: readonly PhaseScores[],
  misfits: Float64Array,
  limit: number,
  terminals: number,
): number[] {
  const signs = [0, 0, 0];
  const sets = [0, 0, 0, 0];
  for (const order of left) {
    setsOf(order, terminals, sets);
    scores.forEach(({ upright, reversed }, phase) => {
      const set = sets[phase + 1] ?? 0;
      if (set === 0) {
        signs[phase] = (signs[phase] ?? 0) | 4;
        return;
      }
      // The order's misfit with the other sign on this phase alone.
      const [up, back] = [upright[set] ?? 0, reversed[set] ?? 0];
      const others = (misfits[order] ?? 0) - Math.min(up, back);
      if (others + up <= limit) signs[phase] = (signs[phase] ?? 0) | 1;
      if (others + back <= limit) signs[phase] = (signs[phase] ?? 0) | 2;
    });
  }
  return signs;
}

/** By the same bound: the odds of all orders in which a terminal is elsewhere, added up; eight signs each. */
function errorsOf(misfits: Float64Array, lowest: number, best: number, weight: number, terminals: number): number[] {
  const errors = new Float64Array(terminals);
  for (let order = 0; order < misfits.length; order++) {
    const odds = 8 * Math.exp(-weight * ((misfits[order] ?? 0) - lowest));
    if (odds < 1e-12) continue;
    const differs = order ^ best;
    for (let i = 0; i < terminals; i++) if (((differs >> (2 * i)) & 3) !== 0) errors[i] = (errors[i] ?? 0) + odds;
  }
  return Array.from(errors, (error) => Math.min(1, error));
}
