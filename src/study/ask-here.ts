import { lastOnes } from './last-ones.ts';
import { type HousePart, partKeys, type SkyPart } from './parts.ts';
import { issueText, VariantRunner } from './runner.ts';
import type { Ask, TaskResult } from './task.ts';
import { type StudyBase, variantInput, type ZoneOf } from './variant.ts';

/** An engine of one thread: the variants one after the other, where the caller is. */
export function askHere(base: StudyBase, zoneOf: ZoneOf): Ask {
  const runner = new VariantRunner(base, zoneOf);
  const skies = lastOnes<SkyPart>(4);
  const houses = lastOnes<HousePart>(4);
  return async (variants, wanted) =>
    variants.map((variant, index): TaskResult => {
      const input = variantInput(base, variant);
      if (!input.ok) return { index, problem: input.issues.map(issueText).join(' ') };
      const keys = partKeys(input.value);
      try {
        const sky = skies(keys.sky, () => runner.sky(variant));
        return runner.run(
          { index, variant, ...wanted },
          sky,
          houses(keys.house, () => runner.house(variant)),
        );
      } catch (error) {
        return { index, problem: error instanceof Error ? error.message : String(error) };
      }
    });
}
