import { dirname, resolve } from 'node:path';
import { checkScenario, filesOf, monthsOf, readYaml, type ScenarioInput, type StudyBase, unfitForVerdict } from '../index.ts';
import { type Entered, enter, recordOf, sayIssues } from './door.ts';
import { MAX_DATA_BYTES, MAX_SCENARIO_BYTES, readText } from './read-file.ts';
import { sayJson, type Terminal } from './terminal.ts';

/** A scenario that came through the door, ready to be varied. */
export interface EnteredBase extends Entered {
  readonly input: ScenarioInput;
  readonly base: StudyBase;
  /** Calendar month of each month of the period, 1 … 12. */
  readonly months: readonly number[];
  /** Three letters, or null without a tariff. */
  readonly currency: string | null;
}

/**
 * Takes a scenario through the door and keeps what its variants need: the text as plain data, and the files that it names.
 *
 * @param forVerdict  refuse what no verdict can rest on
 * @returns null if there was anything wrong: then all is said
 */
export async function enterBase(file: string, json: boolean, terminal: Terminal, forVerdict = true): Promise<EnteredBase | null> {
  const entered = await enter(file, json, terminal);
  if (entered === null) return null;
  const written = readYaml(await readText(file, file, MAX_SCENARIO_BYTES), file);
  if (!written.ok) throw new Error(`${file} changed while it was read`);
  const { raw, locate } = written.value;
  const checked = checkScenario(raw);
  if (!checked.ok) throw new Error(`${file} changed while it was read`);
  const input = checked.value;
  const unfit = forVerdict ? unfitForVerdict(input) : [];
  if (unfit.length > 0) {
    const whence = { fileName: file, locate };
    if (json) sayJson(terminal, { ok: false, issues: unfit.map((issue) => recordOf(issue, whence)), warnings: [] });
    else sayIssues(whence, unfit, terminal);
    return null;
  }
  const { scenario } = entered;
  return {
    ...entered,
    input,
    base: {
      raw,
      files: await textsOf(
        filesOf(input).map((request) => request.file),
        dirname(file),
      ),
    },
    months: monthsOf(scenario),
    currency: scenario.tariff?.currency ?? null,
  };
}

/** The texts of files, by their names as the scenario writes them. */
export async function textsOf(names: readonly string[], folder: string): Promise<Map<string, string>> {
  const texts = new Map<string, string>();
  for (const name of names) if (!texts.has(name)) texts.set(name, await readText(resolve(folder, name), name, MAX_DATA_BYTES));
  return texts;
}
