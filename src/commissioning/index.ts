/**
 * The other half of the job: what an electrician measures, logs and hands over, held against published levels and the control law.
 *
 * In: records (YAML), logs (CSV), a cable's dimensions, a complete Scenario. Out: verdicts line by line, each with how sure it is, and
 * the words for them. Models: published levels and formulas, least squares over all orders of conductors, the law replayed on a log.
 * Left out: any overall result, any test, pages (report) and files (cli). Start reading at `pilot-lines.ts`, `wiring.ts`,
 * `run-estimates.ts`, `run-departures.ts`.
 */
export * from './cable.ts';
export * from './cable-answer.ts';
export * from './cautions.ts';
export * from './duties.ts';
export * from './duty-cycle.ts';
export * from './handover-words.ts';
export * from './language.ts';
export * from './log-clock.ts';
export * from './pilot-levels.ts';
export * from './pilot-lines.ts';
export * from './pilot-record.ts';
export * from './pilot-text.ts';
export * from './pilot-words.ts';
export * from './run-current.ts';
export * from './run-departures.ts';
export * from './run-enough.ts';
export * from './run-estimates.ts';
export * from './run-events.ts';
export * from './run-following.ts';
export * from './run-log.ts';
export * from './run-text.ts';
export * from './run-thresholds.ts';
export * from './sureness.ts';
export * from './wiring.ts';
export * from './wiring-edges.ts';
export * from './wiring-log.ts';
export * from './wiring-scores.ts';
export * from './wiring-text.ts';
