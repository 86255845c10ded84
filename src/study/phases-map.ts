import type { ScenarioInput, Supply } from '../scenario/index.ts';
import type { Keys } from './household.ts';
import { optionKeys, type PhaseOption, phaseOptions } from './phases.ts';
import { type Ranking, rank } from './rank.ts';
import type { Ask } from './task.ts';
import { yearsOf } from './years.ts';

/**
 * The question of phases asked anew all over a map: how the ways to connect rank at each pair of circumstances, on the same years.
 *
 * @param xs  keys of each column
 * @param ys  keys of each row
 * @returns   `[y][x]`
 */
export async function phasesOver(
  input: ScenarioInput,
  supply: Supply,
  { years, point }: { years: number; point: number },
  xs: readonly Keys[],
  ys: readonly Keys[],
  ask: Ask,
): Promise<Ranking<PhaseOption>[][]> {
  const { options } = phaseOptions(input, supply, point);
  const variants = ys.flatMap((y) =>
    xs.flatMap((x) => options.flatMap((option) => yearsOf(years, { ...optionKeys(option, input, point), ...x, ...y }))),
  );
  const results = await ask(variants, { outputs: ['pvKWh', 'cost', 'atOnce.carCost'], monthly: [] });
  const perCell = options.length * years;
  const cell = (from: number): Ranking<PhaseOption> =>
    rank(
      options,
      options.map((_, o) => results.slice(from + o * years, from + (o + 1) * years)),
    );
  return ys.map((_, y) => xs.map((_, x) => cell((y * xs.length + x) * perCell)));
}
