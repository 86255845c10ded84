import type { Issue, Language, Money } from '../index.ts';
import type { Draft } from './draft.ts';
import type { YearAnswer } from './engine/answer.ts';
import type { DayAnswer } from './engine/day.ts';
import type { Beside, CurvePoint, Variant } from './engine/protocol.ts';
import type { View } from './link.ts';

/** How the page is lit. */
export const THEMES = ['auto', 'light', 'dark'] as const;
export type Theme = (typeof THEMES)[number];

/** What the person has set: all that is shown follows from it. */
export interface Chosen {
  readonly draft: Draft;
  readonly view: View;
  /** Day of the run, from 0; -1: the best one. */
  readonly day: number;
  /** The household that the day is compared with, or null. */
  readonly before: Draft | null;
  readonly language: Language;
  readonly theme: Theme;
}

/** What the workers have found out, each part of it as soon as it is there. */
export interface Found {
  readonly answer: YearAnswer | null;
  readonly issues: readonly Issue[];
  readonly atOnce: Beside | null;
  readonly withoutCars: Money | null;
  readonly day: DayAnswer | null;
  readonly dayBefore: DayAnswer | null;
  readonly variants: readonly Variant[] | null;
  readonly years: readonly Beside[];
  readonly yearsOf: number;
  readonly curve: { readonly minimum: readonly CurvePoint[]; readonly proportional: readonly CurvePoint[] } | null;
  readonly sizes: { readonly roof: readonly CurvePoint[]; readonly battery: readonly CurvePoint[] } | null;
  /** Everything that the view shows has been worked out, the long work too. */
  readonly done: boolean;
  /** Our own mistake, in the machine's words. */
  readonly failure: string | null;
}

export const NOTHING_FOUND: Found = {
  answer: null,
  issues: [],
  atOnce: null,
  withoutCars: null,
  day: null,
  dayBefore: null,
  variants: null,
  years: [],
  yearsOf: 0,
  curve: null,
  sizes: null,
  done: false,
  failure: null,
};
