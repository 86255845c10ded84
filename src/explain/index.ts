/**
 * From numbers to words that a homeowner understands.
 *
 * In: a complete Scenario, finished runs. Out: what a scenario means; accounts of days, event by event; where the hours went; what one
 * change would have done, each from a re-run. Models: none of its own; every number comes from the code that the run uses, and all
 * words stand in `lang/`, one catalogue a language. Left out: tables, charts and pages (report). Start reading at `account.ts`.
 */
export * from './account.ts';
export { type PointSurplus, surplusOfPoints } from './available.ts';
export * from './chain.ts';
export * from './conflicts.ts';
export { clockAt, factsOfEvent } from './events.ts';
export * from './facts.ts';
export * from './lang/index.ts';
export * from './meaning.ts';
export * from './slice.ts';
export { factsOfStretch, namedSpans, type Span, spansOf } from './stretches.ts';
export * from './variants.ts';
export * from './what-if.ts';
export * from './words.ts';
