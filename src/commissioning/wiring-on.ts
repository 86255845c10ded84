import type { Edge } from './wiring-edges.ts';
import { MAX_ERROR } from './wiring-orders.ts';
import { MISFIT_LIMIT, misfit, varianceOf } from './wiring-scores.ts';

/** What a log that says only "on" and "off" tells about a charger: the phase of its first terminal, since one phase is always the first. */
export interface OnOnly {
  /** Phases on which the first terminal may be, 1 … 3. */
  readonly phases: readonly number[];
  readonly error: number;
  /** Transformers as the switchings show them; null: not told. */
  readonly reversed: readonly (boolean | null)[];
  /** Switchings in which one phase alone changed. */
  readonly onePhase: number;
  readonly misfitShare: number;
}

/** Currents that a car may draw, A. */
const LEAST_A = 5.5;
const MOST_A = 34;
/** The current of each switching is not known but fitted, which flatters every guess: misfits count half. */
const FITTED = 0.5;

/**
 * Finds the phase of the first terminal from jumps at the meter alone. Each switching is read as a draw on one, two or three phases, the
 * first terminal's among them, of a current that fits best.
 *
 * @param edges      switchings of this charger alone; `direction` +1 where it goes on
 * @param householdA  usual change of the household on each phase
 * @param weight     misfits as odds
 */
export function onOnly(
  edges: readonly { readonly edge: Edge; readonly direction: number }[],
  householdA: readonly number[],
  weight: number,
): OnOnly {
  const guesses = [1, 2, 3].flatMap((phase) => SIGNS.map((signs) => ({ phase, signs })));
  const misfits = guesses.map(({ phase, signs }) =>
    edges.reduce((sum, { edge, direction }) => sum + bestReading(edge, direction, phase, signs, householdA).cost, 0),
  );
  const lowest = Math.min(...misfits);
  const odds = misfits.map((d) => Math.exp(-FITTED * weight * (d - lowest)));
  const left = guesses.filter((_, i) => (odds[i] ?? 0) * guesses.length > MAX_ERROR);
  const best = guesses[misfits.indexOf(lowest)] ?? { phase: 1, signs: [1, 1, 1] as const };
  const readings = edges.map(({ edge, direction }) => bestReading(edge, direction, best.phase, best.signs, householdA));
  const elsewhere = guesses.reduce((sum, { phase }, i) => (phase === best.phase ? sum : sum + (odds[i] ?? 0)), 0);
  return {
    phases: [1, 2, 3].filter((phase) => left.some((guess) => guess.phase === phase)),
    error: Math.min(1, elsewhere),
    reversed: [0, 1, 2].map((p) => {
      const kinds = new Set(left.map(({ signs }) => signs[p]));
      return kinds.size === 1 ? kinds.has(-1) : null;
    }),
    onePhase: readings.filter(({ phases, cost }) => phases.length === 1 && cost < MISFIT_LIMIT).length,
    misfitShare: readings.filter(({ cost }) => cost >= MISFIT_LIMIT).length / Math.max(1, readings.length),
  };
}

const SIGNS: readonly (readonly [number, number, number])[] = [1, -1].flatMap((a) =>
  [1, -1].flatMap((b) => [1, -1].map((c) => [a, b, c] as const)),
);

interface Reading {
  readonly phases: readonly number[];
  readonly cost: number;
}

function bestReading(
  edge: Edge,
  direction: number,
  first: number,
  signs: readonly number[],
  householdA: readonly number[],
): Reading {
  const jumpsA = edge.meterA.map((a, p) => a * (signs[p] ?? 1) * direction);
  const others = [1, 2, 3].filter((phase) => phase !== first);
  const sets = [[first], ...others.map((other) => [first, other]), [1, 2, 3]];
  let best: Reading = { phases: [first], cost: Infinity };
  for (const phases of sets) {
    const drawn = phases.map((phase) => jumpsA[phase - 1] ?? 0);
    for (const a of [...drawn, drawn.reduce((sum, jump) => sum + jump, 0) / drawn.length]) {
      const currentA = Math.min(MOST_A, Math.max(LEAST_A, a));
      const cost = jumpsA.reduce((sum, jump, p) => {
        const expected = phases.includes(p + 1) ? currentA : 0;
        return sum + misfit(jump - expected, varianceOf([currentA], householdA[p] ?? 1));
      }, 0);
      // On a draw of more phases hangs the price of one more guess.
      if (cost < best.cost - 1e-9) best = { phases, cost };
    }
  }
  return best;
}
