import { dirname, resolve } from 'node:path';
import {
  type Checked,
  completeScenario,
  type FileRequest,
  failed,
  filesOf,
  fileUnreadable,
  type Issue,
  type Locate,
  passed,
  periodMs,
  readScenario,
  type Scenario,
  type ScenarioInput,
  timeZoneUnknown,
} from '../index.ts';
import { zoneOfPlatform } from '../report/index.ts';
import { InputProblem } from './problem.ts';
import { MAX_DATA_BYTES, MAX_SCENARIO_BYTES, readText } from './read-file.ts';

/** A scenario file after both halves of the door, and where its keys stand. */
export interface Loaded {
  /** The file as the user named it. */
  readonly fileName: string;
  readonly locate: Locate;
  readonly checked: Checked<Scenario>;
}

/**
 * Reads a scenario and every file that it names (paths count from its own folder), and completes it.
 *
 * @throws InputProblem  the scenario file itself can not be read
 */
export async function load(file: string): Promise<Loaded> {
  const text = await readText(file, file, MAX_SCENARIO_BYTES);
  const { checked: read, locate } = readScenario(text, file);
  if (!read.ok) return { fileName: file, locate, checked: read };
  const whole = await completed(read.value, dirname(file));
  const checked = whole.ok ? passed(whole.value, [...read.warnings, ...whole.warnings]) : whole;
  return { fileName: file, locate, checked };
}

/** Hands the second half of the door what only a platform has: the texts of files, and the zone's table. */
async function completed(input: ScenarioInput, folder: string): Promise<Checked<Scenario>> {
  const texts = new Map<string, string>();
  const issues: Issue[] = [];
  for (const request of filesOf(input)) {
    const text = await textOf(request, folder);
    if (typeof text === 'string') texts.set(request.file, text);
    else issues.push(text);
  }
  const { fromMs, toMs } = periodMs(input);
  const zone = zoneOfPlatform(input.site.timeZone, fromMs, toMs);
  if (zone === null) issues.push(timeZoneUnknown(input));
  return zone === null || issues.length > 0 ? failed(issues) : completeScenario(input, texts, zone);
}

/** The text of a file that a scenario names, or why there is none. */
async function textOf(request: FileRequest, folder: string): Promise<string | Issue> {
  try {
    return await readText(resolve(folder, request.file), request.file, MAX_DATA_BYTES);
  } catch (error) {
    if (!(error instanceof InputProblem)) throw error;
    const { problem } = error.issue;
    return fileUnreadable(request, problem.charAt(0).toLowerCase() + problem.slice(1).replace(/\.$/, ''));
  }
}
