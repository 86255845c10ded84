import type { z } from 'zod';
import { type Chance, type Checked, chance, failed, type Issue, passed } from '../base/index.ts';
import { atTop, foundText, type Locate, nearest, pathText, readYaml } from '../scenario/index.ts';
import type { Json } from './key-path.ts';
import { type StudyInput, studySchema } from './schema.ts';
import type { Variant } from './variant.ts';

/** One axis of a study: keys that change together, and their values. */
export interface Axis {
  readonly keys: readonly string[];
  /** Value by value, one entry a key. */
  readonly values: readonly (readonly Json[])[];
  /** Ends of a range from which a sample takes any value; null where only the values listed come up. */
  readonly between: { readonly from: number; readonly to: number } | null;
}

/** A study ready to run: its axes, and a row for every variant (each with all its years). */
export interface Survey {
  readonly study: StudyInput;
  readonly axes: readonly Axis[];
  readonly rows: readonly Readonly<Record<string, Json>>[];
}

/** More runs than this, all years counted, are a slip of the pen. */
const MAX_RUNS = 1_000_000;

/**
 * A study's text, checked: every mistake at once.
 *
 * @param fileName  as the user named it, for the places in error records
 */
export function readStudy(text: string, fileName: string): Checked<Survey> {
  const written = readYaml(text, fileName);
  if (!written.ok) return written;
  const { raw, locate } = written.value;
  const parsed = studySchema.safeParse(raw);
  if (!parsed.success) {
    const issues = parsed.error.issues.flatMap((issue) => schemaIssues(issue, raw));
    return failed(issues.slice(0, LISTED).map((issue) => ({ ...issue, place: { file: fileName, ...locate(issue.path) } })));
  }
  return surveyOf(parsed.data, fileName, locate);
}

/** So many issues are told; a text in which more is wrong is another kind of file. */
const LISTED = 50;
const HELP = 'sixamp study --help shows a whole study.';

function schemaIssues(issue: z.core.$ZodIssue, raw: unknown): Issue[] {
  const path = issue.path as (string | number)[];
  if (issue.code === 'unrecognized_keys') return issue.keys.slice(0, LISTED).map((key) => unknownKey([...path, key], raw));
  const value = valueAt(raw, path);
  const name = path.length === 0 ? 'The study' : `\`${foundText(pathText(path))}\``;
  const problem =
    value === undefined ? `The study lacks ${name}.` : value === null ? `${name} has no value.` : `${name} ${wrongText(issue)}.`;
  return [{ code: 'study-wrong', path, found: foundText(value), problem, allowed: '', fix: `correct it; ${HELP}` }];
}

/** What is wrong, to follow the name of the key. */
function wrongText(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case 'too_small':
      return issue.origin === 'array'
        ? 'is an empty list'
        : `must be ${issue.inclusive ? 'at least' : 'more than'} ${issue.minimum}`;
    case 'too_big':
      return issue.origin === 'array' ? `has more than ${issue.maximum} entries` : `must be at most ${issue.maximum}`;
    case 'invalid_key':
      return issue.issues[0]?.message ?? 'is no key';
    case 'invalid_type':
      return `must be ${KINDS[issue.expected] ?? issue.expected}`;
    default:
      return issue.message;
  }
}

const KINDS: Readonly<Record<string, string>> = {
  number: 'a number',
  int: 'a whole number',
  string: 'a text',
  array: 'a list',
  object: 'a section of keys',
  record: 'a section of keys',
};

function unknownKey(path: readonly (string | number)[], raw: unknown): Issue {
  const key = String(path[path.length - 1]);
  const section = path.length > 1 ? `\`${pathText(path.slice(0, -1))}\`` : 'A study';
  const like = path.length > 1 ? null : nearest(key, Object.keys(studySchema.shape));
  const fix = like === null ? `remove it; ${HELP}` : `write \`${like}\`, the nearest known key, or remove it.`;
  const problem = `${section} knows no key \`${foundText(key)}\`.`;
  return { code: 'study-wrong', path, found: foundText(valueAt(raw, path)), problem, allowed: '', fix };
}

/** The variants of a checked study. */
export function surveyOf(study: StudyInput, fileName: string, locate: Locate = atTop): Checked<Survey> {
  const axes = axesOf(study);
  const issues = [...crossIssues(study, axes)].map(([path, problem]): Issue => {
    const place = { file: fileName, ...locate(path) };
    return { code: 'study-wrong', path, found: '', problem, allowed: '', fix: 'correct the study.', place };
  });
  if (issues.length > 0) return failed(issues);
  return passed({ study, axes, rows: study.sample === undefined ? gridRows(axes) : sampledRows(axes, study.sample) });
}

/** What does not fit together: the key to look at, and why. */
function* crossIssues(study: StudyInput, axes: readonly Axis[]): Generator<[path: string[], problem: string]> {
  const { heatMap, front, outputs, zip, sample, years } = study;
  const keys = axes.flatMap((axis) => axis.keys);
  const twice = keys.find((key, i) => keys.indexOf(key) !== i);
  if (twice !== undefined) yield [['zip'], `\`${twice}\` is varied twice.`];
  for (const [i, group] of zip.entries()) {
    const lengths = Object.values(group).map((values) => values.length);
    if (new Set(lengths).size > 1) yield [['zip'], `The lists of \`zip[${i}]\` differ in length: ${lengths.join(', ')}.`];
  }
  const runs = (sample?.count ?? axes.reduce((product, { values }) => product * values.length, 1)) * years;
  if (runs > MAX_RUNS) {
    const advice = sample === undefined ? 'ask for a sample' : 'ask for fewer';
    yield [[sample === undefined ? 'vary' : 'sample'], `The study has ${runs} runs, more than ${MAX_RUNS}; ${advice}.`];
  }
  for (const key of heatMap === undefined ? [] : [heatMap.x, heatMap.y])
    if (!keys.includes(key)) yield [['heatMap'], `The heat map asks for \`${key}\`, which is not varied.`];
  const shown: [string, string | undefined][] = [
    ['heatMap', heatMap?.value],
    ['front', front?.less],
    ['front', front?.more],
  ];
  for (const [section, name] of shown)
    if (name !== undefined && !outputs.includes(name)) yield [[section], `\`${name}\` is shown but not among the outputs.`];
}

/** The axes of a study: each key of `vary`, each group of `zip`. */
export function axesOf({ vary, zip, sample }: StudyInput): Axis[] {
  const single = Object.entries(vary).map(([key, values]): Axis => {
    const isList = Array.isArray(values);
    const list = isList ? (values as Json[]) : rangeValues(values as Range);
    return {
      keys: [key],
      values: list.map((value) => [value]),
      between: isList || sample === undefined ? null : (values as Range),
    };
  });
  const zipped = zip.map((group): Axis => {
    const lists = Object.values(group) as Json[][];
    return {
      keys: Object.keys(group),
      values: (lists[0] ?? []).map((_, i) => lists.map((list) => list[i] ?? null)),
      between: null,
    };
  });
  return [...single, ...zipped];
}

interface Range {
  readonly from: number;
  readonly to: number;
  readonly step?: number;
  readonly count?: number;
}

/** Values of a range where it says neither step nor count. */
const RANGE_VALUES = 5;

/**
 * The values of a range, without the dust of adding decimals.
 *
 * @example rangeValues({ from: 0, to: 1, step: 0.25 }) // [0, 0.25, 0.5, 0.75, 1]
 * @example rangeValues({ from: 4, to: 8, count: 3 }) // [4, 6, 8]
 */
export function rangeValues({ from, to, step, count = RANGE_VALUES }: Range): number[] {
  const tidy = (value: number): number => Number(value.toPrecision(12));
  const steps = step === undefined ? count - 1 : Math.floor(Math.abs(to - from) / step + 1e-9);
  const each = step === undefined ? (to - from) / steps : Math.sign(to - from) * step;
  return Array.from({ length: steps + 1 }, (_, i) => tidy(from + i * each));
}

/** Every value with every other; the last axis changes fastest. */
function gridRows(axes: readonly Axis[]): Record<string, Json>[] {
  let rows: Record<string, Json>[] = [{}];
  for (const { keys, values } of axes) rows = rows.flatMap((row) => values.map((entry) => ({ ...row, ...named(keys, entry) })));
  return rows;
}

/** Variants drawn at random; each axis has a chance of its own, so that a further axis leaves the others' values alone. */
function sampledRows(axes: readonly Axis[], { count, seed }: { count: number; seed: number }): Record<string, Json>[] {
  const chances = axes.map(({ keys }) => chance(seed, `study ${keys.join(' ')}`));
  return Array.from({ length: count }, () => {
    let row: Record<string, Json> = {};
    axes.forEach((axis, i) => {
      const drawn = chances[i];
      if (drawn !== undefined) row = { ...row, ...named(axis.keys, draw(axis, drawn)) };
    });
    return row;
  });
}

function draw({ between, values }: Axis, { uniform }: Chance): readonly Json[] {
  const at = uniform();
  if (between !== null) return [Number((between.from + at * (between.to - between.from)).toPrecision(6))];
  return values[Math.floor(at * values.length)] ?? [];
}

const named = (keys: readonly string[], entry: readonly Json[]): Record<string, Json> =>
  Object.fromEntries(keys.map((key, i) => [key, entry[i] ?? null]));

/** The variants of a survey, row by row, each with its years. */
export const surveyVariants = ({ rows, study }: Survey): Variant[] =>
  rows.flatMap((keys) => Array.from({ length: study.years }, (_, year) => ({ keys, year, people: 0 })));

function valueAt(data: unknown, path: readonly (string | number)[]): unknown {
  let value = data;
  for (const part of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, part)) return undefined;
    value = (value as Record<string | number, unknown>)[part];
  }
  return value;
}
