/** Where the answer to a question changes along one quantity, searched from where it stands today. */
export interface Flip<Answer> {
  /** So many times today's value. */
  readonly factor: number;
  /** Today's answer still holds here, next to the flip. */
  readonly holdsAt: number;
  readonly answer: Answer;
}

/** Nearest flips on either side; null where there is none within reach. */
export interface Flips<Answer> {
  readonly below: Flip<Answer> | null;
  readonly above: Flip<Answer> | null;
}

/** Multiples of today's value at which the answer is asked for first. */
export const FACTORS = [0.25, 0.4, 0.6, 0.8, 1, 1.25, 1.6, 2, 2.5, 3.2, 4] as const;
/** A flip is found this closely. */
export const CLOSE = 1.02;

/**
 * Looks for the nearest flips on both sides of today's value: first at a dozen multiples, then halving the stretch in which it lies.
 * Answers that change and change back between two multiples go unseen.
 *
 * @param answers  to several multiples at once, in their order
 */
export async function findFlips<Answer>(
  answers: (factors: readonly number[]) => Promise<readonly Answer[]>,
  today: Answer,
  factors: readonly number[] = FACTORS,
): Promise<Flips<Answer>> {
  const found = await answers(factors);
  const rows = factors.map((factor, i) => ({ factor, answer: found[i] ?? today }));
  const walk = async (side: readonly { factor: number; answer: Answer }[]): Promise<Flip<Answer> | null> => {
    const at = side.findIndex(({ answer }) => answer !== today);
    const flipped = side[at];
    if (flipped === undefined) return null;
    return narrowed(answers, today, side[at - 1]?.factor ?? 1, flipped);
  };
  return {
    below: await walk(rows.filter(({ factor }) => factor < 1).reverse()),
    above: await walk(rows.filter(({ factor }) => factor > 1)),
  };
}

async function narrowed<Answer>(
  answers: (factors: readonly number[]) => Promise<readonly Answer[]>,
  today: Answer,
  holdsAt: number,
  flipped: { factor: number; answer: Answer },
): Promise<Flip<Answer>> {
  let holds = holdsAt;
  let flip = flipped;
  while (Math.max(holds / flip.factor, flip.factor / holds) > CLOSE) {
    const middle = Math.sqrt(holds * flip.factor);
    const [answer = today] = await answers([middle]);
    if (answer === today) holds = middle;
    else flip = { factor: middle, answer };
  }
  return { ...flip, holdsAt: holds };
}
