import { type Chance, type Checked, chance, failed, type Issue, passed } from '../base/index.ts';
import { foundText, readYaml } from '../scenario/index.ts';
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

/** More variants than this are a slip of the pen. */
const MAX_ROWS = 1_000_000;

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
    return failed(
      parsed.error.issues.map((issue): Issue => {
        const path = issue.path as (string | number)[];
        return {
          code: 'study-wrong',
          path,
          found: foundText(valueAt(raw, path)),
          problem: `${path.length === 0 ? 'The study' : `\`${path.join('.')}\``}: ${issue.message}.`,
          allowed: '',
          fix: 'correct it; sixamp study --help shows a whole study.',
          place: { file: fileName, ...locate(path) },
        };
      }),
    );
  }
  return surveyOf(parsed.data, fileName);
}

/** The variants of a checked study. */
export function surveyOf(study: StudyInput, fileName: string): Checked<Survey> {
  const axes = axesOf(study);
  const issues = [...crossIssues(study, axes)].map((problem): Issue => issueAbout(problem, fileName));
  if (issues.length > 0) return failed(issues);
  return passed({ study, axes, rows: study.sample === undefined ? gridRows(axes) : sampledRows(axes, study.sample) });
}

const issueAbout = (problem: string, file: string): Issue => ({
  code: 'study-wrong',
  path: [],
  found: '',
  problem,
  allowed: '',
  fix: 'correct the study.',
  place: { file, line: 1, column: 1 },
});

function* crossIssues(study: StudyInput, axes: readonly Axis[]): Generator<string> {
  const keys = axes.flatMap((axis) => axis.keys);
  const twice = keys.find((key, i) => keys.indexOf(key) !== i);
  if (twice !== undefined) yield `\`${twice}\` is varied twice.`;
  for (const [i, group] of study.zip.entries()) {
    const lengths = Object.values(group).map((values) => values.length);
    if (new Set(lengths).size > 1) yield `The lists of \`zip[${i}]\` differ in length: ${lengths.join(', ')}.`;
  }
  const count = axes.reduce((product, { values }) => product * values.length, 1);
  if (study.sample === undefined && count > MAX_ROWS) yield `The grid has ${count} variants; ask for a sample.`;
  const { heatMap, front, outputs } = study;
  for (const key of heatMap === undefined ? [] : [heatMap.x, heatMap.y])
    if (!keys.includes(key)) yield `The heat map asks for \`${key}\`, which is not varied.`;
  const asked = [heatMap?.value, front?.less, front?.more].filter((name) => name !== undefined);
  for (const name of asked) if (!outputs.includes(name)) yield `\`${name}\` is shown but not among the outputs.`;
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
  for (const part of path) value = (value as Record<string | number, unknown> | null | undefined)?.[part];
  return value;
}
