/**
 * From numbers to words that a homeowner understands.
 *
 * In: a complete Scenario (later: finished runs). Out: sentences. Models: none of its own; every number comes from the code that the
 * run uses. Left out: accounts of single days. Start reading at `meaning.ts`.
 */
export * from './meaning.ts';
export * from './words.ts';
