/**
 * A run as things that people open: CSV, JSON, tables for a terminal, charts.
 *
 * In: finished runs (and names, thresholds, fonts). Out: strings, chart specs, bytes of pictures; no file is written here.
 * Models: none. danfo.js makes tables, chart.js on a canvas makes pictures; both load only when asked for.
 * Left out: sentences about single events (explain), files and terminals (cli). Start reading at `files.ts`.
 */
export * from './answer.ts';
export * from './assumptions.ts';
export * from './chart-bars.ts';
export * from './chart-day.ts';
export * from './chart-layers.ts';
export * from './chart-months.ts';
export * from './chart-study.ts';
export * from './chart-winners.ts';
export * from './dates.ts';
export * from './draw.ts';
export * from './events-csv.ts';
export * from './figures-json.ts';
export * from './figures-text.ts';
export * from './files.ts';
export { type HandoverInput, handoverPage } from './handover-page.ts';
export * from './log-page.ts';
export * from './month-rows.ts';
export * from './month-table.ts';
export * from './months-csv.ts';
export * from './notebook.ts';
export * from './numbers.ts';
export * from './pick-days.ts';
export * from './pilot-page.ts';
export * from './platform-zone.ts';
export * from './report-html.ts';
export * from './ribbon-text.ts';
export * from './steps-csv.ts';
export * from './study-report.ts';
export * from './study-survey.ts';
export * from './study-verdicts.ts';
export * from './summary-json.ts';
export * from './sums.ts';
export * from './why-html.ts';
export * from './why-text.ts';
