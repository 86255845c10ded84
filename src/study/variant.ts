import { type Checked, failed, type Issue, passed, type Zone } from '../base/index.ts';
import {
  checkScenario,
  completeScenario,
  periodMs,
  type Scenario,
  type ScenarioInput,
  timeZoneUnknown,
} from '../scenario/index.ts';
import { type Json, parseKeyPath, withValue } from './key-path.ts';

/** The scenario that the variants of a study start from, as it was written, with the texts of every file that any of them names. */
export interface StudyBase {
  readonly raw: Readonly<Record<string, unknown>>;
  readonly files: ReadonlyMap<string, string>;
}

/** Table of a zone that covers two instants; null for a name that the platform does not know. A face hands it in. */
export type ZoneOf = (name: string, fromMs: number, toMs: number) => Zone | null;

/** One variant of a scenario; plain JSON. */
export interface Variant {
  /** Values by key path; null takes a key out. */
  readonly keys: Readonly<Record<string, Json>>;
  /** Which year of chance, from 0: the year of the scenario as it is written. */
  readonly year: number;
  /** Which people live there, from 0, on the same weather: others leave, cook and drive at other times. */
  readonly people: number;
}

/** The scenario as it is written. */
export const AS_WRITTEN: Variant = { keys: {}, year: 0, people: 0 };

/** Seeds of other people lie so far apart that no study of fewer years meets the same people twice. */
const SEEDS_PER_PEOPLE = 1000;

/**
 * A variant through the first half of the door.
 *
 * Seeds: year y adds y to the seeds of weather, household and trips; people p add 1000 · p to those of household and trips.
 */
export function variantInput(base: StudyBase, { keys, year, people }: Variant): Checked<ScenarioInput> {
  let raw: unknown = base.raw;
  for (const [key, value] of Object.entries(keys)) {
    const path = parseKeyPath(key);
    if (path === null) return failed([keyIssue(key, value, 'This is not the path of a key.')]);
    try {
      raw = withValue(raw, path, value);
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      return failed([keyIssue(key, value, `No such key in this scenario: ${error.message}.`)]);
    }
  }
  const checked = checkScenario(raw as Record<string, unknown>);
  return checked.ok ? passed(reseeded(checked.value, year, people * SEEDS_PER_PEOPLE), checked.warnings) : checked;
}

const keyIssue = (key: string, value: Json, problem: string): Issue => ({
  code: 'study-key-unknown',
  path: [],
  found: `${key}: ${JSON.stringify(value)}`,
  problem,
  allowed: 'a path such as pv.arrays[0].kWp; entries of lists count from 0',
  fix: 'correct the key.',
});

function reseeded(input: ScenarioInput, year: number, people: number): ScenarioInput {
  if (year + people === 0) return input;
  const { weather, household, chargePoints } = input;
  return {
    ...input,
    ...(weather === undefined ? {} : { weather: withSeed(weather, year) }),
    household: withSeed(household, year + people),
    chargePoints: chargePoints.map((point) => ({ ...point, usage: withSeed(point.usage, year + people) })),
  };
}

const withSeed = <T extends object>(section: T, add: number): T =>
  'seed' in section && typeof section.seed === 'number' ? { ...section, seed: section.seed + add } : section;

/** A checked variant through the second half. */
export function completeVariant(base: StudyBase, input: ScenarioInput, zoneOf: ZoneOf): Checked<Scenario> {
  const { fromMs, toMs } = periodMs(input);
  const zone = zoneOf(input.site.timeZone, fromMs, toMs);
  return zone === null ? failed([timeZoneUnknown(input)]) : completeScenario(input, base.files, zone);
}
