import type { Variant } from './variant.ts';

/** What is wanted of each variant: names of outputs over the whole period, and names of those wanted month by month. */
export interface Wanted {
  readonly outputs: readonly string[];
  readonly monthly: readonly string[];
}

/** A piece of work: plain JSON in. */
export interface Task extends Wanted {
  /** Its place among the results. */
  readonly index: number;
  readonly variant: Variant;
}

/** What it came to: plain JSON out. Null where the scenario lacks what an output needs (a tariff, a battery). */
export type TaskResult =
  | {
      readonly index: number;
      readonly values: Readonly<Record<string, number | null>>;
      /** A value for each calendar month of the period, in order. */
      readonly months: Readonly<Record<string, readonly (number | null)[]>>;
    }
  | { readonly index: number; readonly problem: string };

/** Works through variants, here or elsewhere, and gives their results in the same order. */
export type Ask = (variants: readonly Variant[], wanted: Wanted) => Promise<readonly TaskResult[]>;

/** The values of a variant that must not fail: one that the command itself put together. */
export function valuesOf(result: TaskResult | undefined): Readonly<Record<string, number | null>> {
  if (result === undefined || 'problem' in result) throw new VariantRefused(result?.problem ?? 'it is missing');
  return result.values;
}

/** A variant that a verdict needs does not pass the door. */
export class VariantRefused extends Error {
  constructor(problem: string) {
    super(problem);
    this.name = 'VariantRefused';
  }
}
