/**
 * Many variants of one scenario on the same weather: weather years, one phase or three, which share, how large, any keys at all.
 *
 * In: a scenario as it was written, overrides by key path, years of chance, names of outputs; and something that works through such
 * tasks (`Ask`: one thread here, a pool of workers in the command). Out: values, verdicts, what would turn them.
 * Models: none of its own. Chance: the year counts up the seeds (`variant.ts`).
 * Left out: threads, files, journals (the command has them). Start reading at `variant.ts`, `task.ts` and `runner.ts`.
 */
export * from './analysis.ts';
export * from './ask-here.ts';
export * from './flips.ts';
export * from './household.ts';
export * from './key-path.ts';
export * from './longer-steps.ts';
export * from './open-study.ts';
export * from './outputs.ts';
export * from './parts.ts';
export * from './phases.ts';
export * from './phases-map.ts';
export * from './quantiles.ts';
export * from './rank.ts';
export * from './refuse.ts';
export * from './robust.ts';
export * from './runner.ts';
export * from './schema.ts';
export * from './share.ts';
export * from './size.ts';
export * from './survey.ts';
export * from './task.ts';
export * from './variant.ts';
export * from './want.ts';
export * from './words.ts';
export * from './years.ts';
