/**
 * One thing wrong, or worth knowing, in what a user gave us. The core makes records; the faces make text.
 * Each says what was wrong, where, what is allowed and what to do.
 */
export interface Issue {
  /** Stable name of the kind of mistake, in words joined by hyphens: `charger-current-too-low`. */
  readonly code: string;
  /** The key it is about, as a path into the scenario (`["chargePoints", 0, "charger", "minCurrentA"]`); empty for a whole file. */
  readonly path: readonly (string | number)[];
  /** What stood there, as the user wrote it; empty where nothing did. */
  readonly found: string;
  /** What is wrong with it, a sentence. */
  readonly problem: string;
  /** What is allowed, with its unit; empty where the problem says it. */
  readonly allowed: string;
  /** What to do. */
  readonly fix: string;
  /** Where in a data file (a CSV, an EPW) it stands; the place of a scenario key is found from `path`. Lines and columns count from 1. */
  readonly place?: Place;
}

/** A place in a text file, counted from 1. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/** A checked value with what is worth knowing about it, or everything that is wrong. */
export type Checked<T> =
  | { readonly ok: true; readonly value: T; readonly warnings: readonly Issue[] }
  | { readonly ok: false; readonly issues: readonly Issue[] };

/** A value that passed. */
export const passed = <T>(value: T, warnings: readonly Issue[] = []): Checked<T> => ({ ok: true, value, warnings });
/** All that is wrong. */
export const failed = <T>(issues: readonly Issue[]): Checked<T> => ({ ok: false, issues });
