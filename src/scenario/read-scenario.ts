import { type Checked, failed, type Issue, passed } from '../base/index.ts';
import { crossChecks } from './cross-checks.ts';
import { expandNames } from './expand-names.ts';
import type { Locate } from './issue-text.ts';
import { atTop, readYaml } from './read-yaml.ts';
import { type ScenarioInput, scenarioSchema } from './schema.ts';
import { schemaIssues } from './schema-issues.ts';

/** A scenario's text after the first half of the door. */
export interface ReadScenario {
  readonly checked: Checked<ScenarioInput>;
  /** Where a key stands in the text. */
  readonly locate: Locate;
}

/**
 * The first half of the door: text to a checked scenario in the user's keys, with defaults filled in.
 *
 * Everything that is wrong is found at once: in the syntax; else in keys, kinds and ranges, and in what does not fit together.
 *
 * @param text      YAML or JSON
 * @param fileName  as the user named it, for the places in error records
 */
export function readScenario(text: string, fileName: string): ReadScenario {
  const written = readYaml(text, fileName);
  if (!written.ok) return { checked: written, locate: atTop };
  const { raw, locate } = written.value;
  return { checked: checkScenario(raw), locate };
}

/** The same for a scenario that is plain data already. */
export function checkScenario(written: Readonly<Record<string, unknown>>): Checked<ScenarioInput> {
  const raw = expandNames(written);
  const whole = scenarioSchema.safeParse(raw);
  const wrong = whole.success ? [] : schemaIssues(whole.error.issues, raw);
  const parts = whole.success ? whole.data : soundParts(raw);
  const issues = [...wrong, ...crossChecks(parts, Object.keys(raw))];
  return whole.success && issues.length === 0 ? passed(whole.data) : failed(inOrder(issues, raw));
}

/** The sections that pass by themselves, so that what does not fit together is found beside what is wrong elsewhere. */
function soundParts(raw: Readonly<Record<string, unknown>>): Partial<ScenarioInput> {
  const parts: Record<string, unknown> = {};
  for (const [key, schema] of Object.entries(scenarioSchema.shape)) {
    const part = schema.safeParse(Object.hasOwn(raw, key) ? raw[key] : undefined);
    if (part.success && part.data !== undefined) parts[key] = part.data;
  }
  return parts as Partial<ScenarioInput>;
}

/** So many issues are told; a text in which more is wrong is another kind of file. */
const LISTED = 100;

/** Issues in the order of the keys they are about, as the user wrote them. */
function inOrder(issues: readonly Issue[], raw: Readonly<Record<string, unknown>>): Issue[] {
  const places = new Map(Object.keys(raw).map((section, i) => [section, i]));
  const rank = (issue: Issue): number => places.get(String(issue.path[0])) ?? places.size;
  return [...issues].sort((a, b) => rank(a) - rank(b)).slice(0, LISTED);
}
