/**
 * The part of the reports that the page may use: strings, numbers and colours that need neither danfo.js, nor jsdom, nor a canvas.
 */
export * from './assumptions.ts';
export * from './csv.ts';
export * from './dates.ts';
export * from './events-csv.ts';
export * from './month-rows.ts';
export * from './numbers.ts';
export * from './palette.ts';
export * from './pick-days.ts';
export * from './platform-zone.ts';
export { type Stretch, stretchesOf } from './state-ribbon.ts';
export * from './steps-csv.ts';
export * from './summary-json.ts';
export * from './sums.ts';
