import { type Checked, failed, passed } from '../base/index.ts';
import { checkScenario, readYaml, type Scenario, type ScenarioInput } from '../scenario/index.ts';
import { askHere } from './ask-here.ts';
import type { Keys } from './household.ts';
import { lastOnes } from './last-ones.ts';
import { Refusal } from './runner.ts';
import type { Ask } from './task.ts';
import { completeVariant, type StudyBase, variantInput, type ZoneOf } from './variant.ts';

/** A household as written, ready to be varied where the caller is. */
export interface OpenStudy {
  readonly base: StudyBase;
  readonly input: ScenarioInput;
  /** Calendar month of each month of the period, 1 … 12. */
  readonly months: readonly number[];
  readonly ask: Ask;
  /** The scenario with some keys changed. @throws Refusal  it does not pass the door */
  scenarioWith(keys?: Keys): Scenario;
}

/**
 * Opens a scenario's text for studies on one thread.
 *
 * @param zones  asked once for each zone and period
 * @param files  texts of the files that it names
 */
export function openStudy(
  text: string,
  fileName: string,
  zones: ZoneOf,
  files: ReadonlyMap<string, string> = new Map(),
): Checked<OpenStudy> {
  const written = readYaml(text, fileName);
  if (!written.ok) return written;
  const { raw } = written.value;
  const zoneOf = remembered(zones);
  const checked = checkScenario(raw);
  if (!checked.ok) return checked;
  const base: StudyBase = { raw, files };
  const whole = completeVariant(base, checked.value, zoneOf);
  if (!whole.ok) return failed(whole.issues);
  const scenarioWith = (keys: Keys = {}): Scenario => {
    const input = variantInput(base, { keys, year: 0, people: 0 });
    if (!input.ok) throw new Refusal(input.issues);
    const scenario = completeVariant(base, input.value, zoneOf);
    if (!scenario.ok) throw new Refusal(scenario.issues);
    return scenario.value;
  };
  return passed({ base, input: checked.value, months: monthsOf(whole.value), ask: askHere(base, zoneOf), scenarioWith });
}

/** Calendar months that a period touches, in order, one for each of a calendar year. */
export function monthsOf({ grid }: Pick<Scenario, 'grid'>): number[] {
  const months: number[] = [];
  let before = '';
  for (const dayMs of grid.dayMs) {
    const day = new Date(dayMs);
    const name = `${day.getUTCFullYear()}-${day.getUTCMonth()}`;
    if (name !== before) months.push(day.getUTCMonth() + 1);
    before = name;
  }
  return months;
}

/** Tables of zones take a platform a while. */
function remembered(zones: ZoneOf): ZoneOf {
  const known = lastOnes<ReturnType<ZoneOf>>(8);
  return (name, fromMs, toMs) => known(`${name} ${fromMs} ${toMs}`, () => zones(name, fromMs, toMs));
}
