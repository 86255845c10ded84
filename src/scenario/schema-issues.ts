import type { z } from 'zod';
import type { Issue } from '../base/index.ts';
import { foundText, pathText } from './issue-text.ts';
import { nearest } from './nearest.ts';
import { isRecord, noteAt, type SchemaNote, valueAt } from './walk.ts';
import { adviceFor, nameOf } from './wording.ts';

type ZodIssue = z.core.$ZodIssue;
type Path = readonly (string | number)[];

/** The issues that zod found, as records in the domain's words. */
export function schemaIssues(found: readonly ZodIssue[], raw: unknown): Issue[] {
  const issues = found.flatMap((issue) => issuesOf(issue, [], raw));
  return issues.filter((issue) => issue.code !== 'missing-key' || !issues.some((other) => isMisspelling(other, issue.path, raw)));
}

/** Whether an issue is about an unknown key that was meant for the missing one: then it says all. */
function isMisspelling(issue: Issue, missing: Path, raw: unknown): boolean {
  if (issue.code !== 'unknown-key' || pathText(issue.path.slice(0, -1)) !== pathText(missing.slice(0, -1))) return false;
  const keys = noteAt(missing.slice(0, -1), raw).keys;
  return nearest(String(issue.path[issue.path.length - 1]), keys) === missing[missing.length - 1];
}

/** So many unknown keys of one section are told; more of them have one cause. */
const LISTED = 20;

function issuesOf(issue: ZodIssue, above: Path, raw: unknown): Issue[] {
  const path = [...above, ...(issue.path as Path)];
  if (issue.code === 'unrecognized_keys') return unknownKeys(issue.keys, path, raw);
  if (issue.code === 'invalid_union') return unionIssues(issue, path, raw);
  return [valueIssue(issue, path, raw)];
}

/** Of a union's members, the one that the value means by its kind; where none is meant, the union as a whole. */
function unionIssues(issue: z.core.$ZodIssueInvalidUnion, path: Path, raw: unknown): Issue[] {
  const value = valueAt(raw, path);
  const meant = issue.errors.find((errors) => errors.length > 0 && !errors.some((error) => isOtherKind(error, value)));
  if (meant !== undefined) return meant.flatMap((error) => issuesOf(error, path, raw));
  // A section whose `source` is missing or unknown: the union itself carries no path to it.
  const source = issue.discriminator;
  if (source === undefined || !isRecord(value)) return [valueIssue(issue, path, raw)];
  const at = path[path.length - 1] === source ? path : [...path, source];
  return [valueIssue(issue, at, raw)];
}

const isOtherKind = (error: ZodIssue, value: unknown): boolean =>
  error.path.length === 0 && (error.code === 'invalid_type' || (error.code === 'invalid_value' && typeof value !== 'string'));

/** One value that is not what its key takes. */
function valueIssue(issue: ZodIssue, path: Path, raw: unknown): Issue {
  const value = valueAt(raw, path);
  const note = noteAt(path, raw);
  const key = String(path[path.length - 1] ?? 'scenario');
  const allowed = note.hint?.allowed ?? sourcesText(path, raw) ?? 'a section of keys';
  const base = { path, found: foundText(value), allowed };
  if (value === undefined) return { ...base, ...missing(key, path, note) };
  if (value === null) {
    const fix =
      typeof path[path.length - 1] === 'number' ? 'write a value.' : `write a value behind \`${key}:\`${orRemove(note)}.`;
    return { ...base, found: '', code: 'no-value', problem: `${nameOf(path)} has no value.`, fix };
  }
  const advice = adviceFor(path, value, issue, allowed);
  return { ...base, code: advice.code, problem: advice.problem, fix: `${advice.fix}${orRemove(note)}.` };
}

function missing(key: string, path: Path, note: SchemaNote): Pick<Issue, 'code' | 'problem' | 'fix'> {
  const section = path.length > 1 ? `\`${pathText(path.slice(0, -1))}\`` : 'The scenario';
  const about = note.about === '' ? '' : ` Meaning: ${note.about}`;
  const fix = `add a line \`${key}: …\`.${about}`;
  return { code: 'missing-key', problem: `${section} lacks \`${key}\`, which has no default.`, fix };
}

const orRemove = (note: SchemaNote): string => {
  if (note.byDefault !== undefined) return `, or remove the line to use the default, ${foundText(note.byDefault)}`;
  return note.optional ? ', or remove the line' : '';
};

/** The sources that a section can have, where that is what a path asks for. */
function sourcesText(path: Path, raw: unknown): string | null {
  const parent = noteAt(path.slice(0, -1), isRecord(raw) ? raw : {});
  const sources = new Set([...parent.keysElsewhere.values()].flat());
  return path[path.length - 1] === 'source' && sources.size > 0 ? [...sources].join(', ') : null;
}

function unknownKeys(keys: readonly string[], path: Path, raw: unknown): Issue[] {
  const told = keys.slice(0, LISTED).map((key) => unknownKey([...path, key], raw));
  const more = keys.length - LISTED;
  if (more <= 0) return told;
  const problem = `And ${more} more keys that are not known here.`;
  return [...told, { path, found: '', allowed: '', code: 'and-more', problem, fix: 'mend those above first.' }];
}

function unknownKey(path: Path, raw: unknown): Issue {
  const key = String(path[path.length - 1]);
  const section = noteAt(path.slice(0, -1), raw);
  const where = path.length > 1 ? `\`${pathText(path.slice(0, -1))}\`` : 'a scenario';
  const base = { path, found: foundText(valueAt(raw, path)), allowed: section.keys.join(', ') };
  const sources = section.keysElsewhere.get(key);
  if (sources !== undefined) {
    const fix = `remove the line, or write \`source: ${sources[0]}\`.`;
    return {
      ...base,
      code: 'key-of-other-source',
      problem: `\`${foundText(key)}\` is for source ${sources.join(' or ')} only.`,
      fix,
    };
  }
  // A comma parts 6,3 in `{ kWp: 6,3 }`, and `kWp:6.3` without a space is one word.
  if (/^\d+$/.test(key) && base.found === 'nothing') {
    const problem = `A comma parts \`${key}\` from the number before it.`;
    return { ...base, found: '', code: 'decimal-comma', problem, fix: 'write numbers with a decimal point.' };
  }
  if (base.found === 'nothing' && section.keys.includes(key.split(':')[0] ?? '')) {
    const fix = `write \`${foundText(key.replace(':', ': '))}\`.`;
    return { ...base, found: '', code: 'unknown-key', problem: 'A space is missing behind the colon.', fix };
  }
  const like = nearest(key, section.keys);
  const fix = like === null ? 'remove the line.' : `write \`${like}\`, the nearest known key, or remove the line.`;
  return { ...base, code: 'unknown-key', problem: `${where.replace(/^a/, 'A')} knows no key \`${foundText(key)}\`.`, fix };
}
