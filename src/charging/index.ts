/**
 * The control law: when a charge point starts, stalls, switches phases, and how much current it offers.
 *
 * In: surplus, limits and the car's state of one step, as numbers. Out: what the point does in the step, with the code of the
 * branch that decided. Model: the law of the design page, rule by rule. Left out: energy flow (simulate) and sentences (explain).
 * Start reading at `states.ts`.
 */

export * from './ceiling.ts';
export * from './facts.ts';
export * from './law.ts';
export * from './must.ts';
export * from './rules.ts';
export * from './states.ts';
