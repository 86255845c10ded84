/**
 * The door: a user's file becomes one complete, checked Scenario, or a list of all that is wrong with it.
 *
 * In: the text of a scenario (YAML or JSON), the texts of the files it names, and the zone's table. Out: `Checked<Scenario>` in the
 * core's own units, behind which nothing is optional and nothing is NaN. Models: none but resampling that keeps energy.
 * Left out: reading files and asking the platform for zones (the faces do).
 * Start reading at `schema.ts` (what may be written), then `read-scenario.ts` and `complete.ts` (the two halves of the door).
 */
export { completeScenario } from './complete.ts';
export type { ColumnSpec } from './csv-header.ts';
export type { CsvClock } from './csv-time.ts';
export { type FileRequest, filesOf, fileUnreadable, timeZoneUnknown } from './files.ts';
export { Findings } from './findings.ts';
export { type CountryCode, countryOfZone, GRID_RULES, type GridRule, type GridRuleName, gridRule } from './grid-rules.ts';
export { formatIssue, formatWarning, foundText, type Locate, pathText } from './issue-text.ts';
export { scenarioJsonSchema } from './json-schema.ts';
export { modulesOf } from './modules.ts';
export { nearest } from './nearest.ts';
export { periodMs } from './period.ts';
export { type CsvTable, readCsv } from './read-csv.ts';
export { checkScenario, type ReadScenario, readScenario } from './read-scenario.ts';
export { atTop, readYaml } from './read-yaml.ts';
export { onGrid } from './resample.ts';
export * from './scenario.ts';
export { type ScenarioDraft, type ScenarioInput, scenarioSchema } from './schema.ts';
export type { MeasuredSeries, WeatherSeries } from './series.ts';
