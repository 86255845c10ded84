/** One thing measured. */
export interface Figure {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  /** What it should stay under; left out where nothing was promised. Where more is better, `atLeast` says so. */
  readonly goal?: number;
  readonly atLeast?: boolean;
}

/** The middle one of some values; of an even number the upper one. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

/** A part of the benchmark prints its figures as one line of JSON, which run.mjs reads. */
export const print = (figures: readonly Figure[]): void => console.log(JSON.stringify(figures));
