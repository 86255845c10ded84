/**
 * Where the folders meet: a scenario becomes profiles, the loop walks them, the ledger adds them up.
 *
 * In: a complete Scenario. Out: a Run (columns, events, drives, ledger). Models: energy follows the meter; the control law is
 * charging's. Left out: voltage, reactive power, harmonics, the measuring lag inside one step. Start reading at `loop.ts`.
 */
export { columnStore } from './buffers.ts';
export { type Buffers, carCurrentA, carGridW, columnsOf, freshColumns, lineCurrentA } from './columns.ts';
export * from './figures.ts';
export { addPoint, emptyPointTally, tally } from './ledger.ts';
export { runLoop } from './loop.ts';
export * from './money.ts';
export * from './plan.ts';
export * from './prices.ts';
export * from './profiles.ts';
export * from './reach.ts';
export * from './results.ts';
export * from './run.ts';
