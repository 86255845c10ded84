import type { Issue, Language, Money } from '../../index.ts';
import type { Draft } from '../draft.ts';
import type { Sums, YearAnswer } from './answer.ts';
import type { DayAnswer } from './day.ts';

/** A file that was dropped on the page or came with it: its name as the scenario writes it, and its text. */
export interface DataFile {
  readonly name: string;
  readonly text: string;
}

/** Kinds of charger that the choice view sets side by side. */
export const CHARGER_KINDS = [1, 3, 'switchable'] as const;
export type ChargerKind = (typeof CHARGER_KINDS)[number];

/** Files that the page offers, named like those of the command. */
export const OUTPUT_FILES = ['months.csv', 'events.csv', 'steps.csv', 'summary.json'] as const;
export type OutputName = (typeof OUTPUT_FILES)[number];

/** What the page asks of its worker. A later ask of a kind makes earlier ones of that kind void. */
export type Ask =
  | { readonly kind: 'files'; readonly files: readonly DataFile[] }
  | { readonly kind: 'answer'; readonly id: number; readonly draft: Draft }
  | {
      readonly kind: 'day';
      readonly id: number;
      readonly draft: Draft;
      readonly before: Draft | null;
      readonly day: number;
      readonly language: Language;
    }
  | { readonly kind: 'choice'; readonly id: number; readonly draft: Draft }
  | { readonly kind: 'output'; readonly id: number; readonly draft: Draft; readonly name: OutputName; readonly version: string }
  | { readonly kind: 'beside' | 'years' | 'curve' | 'sizes' | 'rest'; readonly id: number; readonly draft: Draft };

/** One point of a curve: the share (or a size) and what comes of it. */
export interface CurvePoint {
  readonly at: number;
  readonly sums: Sums;
}

/** What the worker tells. `id` is that of the ask. */
export type Tell =
  | { readonly kind: 'ready' }
  | { readonly kind: 'failed'; readonly message: string }
  | { readonly kind: 'refused'; readonly id: number; readonly issues: readonly Issue[] }
  | { readonly kind: 'answer'; readonly id: number; readonly answer: YearAnswer }
  | { readonly kind: 'beside'; readonly id: number; readonly atOnce: Beside; readonly withoutCars: Money | null }
  | { readonly kind: 'day'; readonly id: number; readonly day: DayAnswer; readonly before: DayAnswer | null }
  | { readonly kind: 'choice'; readonly id: number; readonly variants: readonly Variant[] }
  | { readonly kind: 'output'; readonly id: number; readonly name: OutputName; readonly bytes: Blob }
  | { readonly kind: 'years'; readonly id: number; readonly years: readonly Beside[]; readonly of: number }
  | {
      readonly kind: 'curve';
      readonly id: number;
      readonly minimum: readonly CurvePoint[];
      readonly proportional: readonly CurvePoint[];
    }
  | {
      readonly kind: 'sizes';
      readonly id: number;
      readonly roof: readonly CurvePoint[];
      readonly battery: readonly CurvePoint[];
    };

/** Another run of the same household: its sums, and those of its months. */
export interface Beside {
  readonly total: Sums;
  readonly months: readonly Sums[];
}

/** A kind of charger: its sums, or why there are none. */
export interface Variant {
  readonly charger: ChargerKind;
  readonly sums: Sums | null;
  readonly issue: Issue | null;
}
