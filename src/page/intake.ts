import { parse } from 'yaml';
import { formatIssue, type Issue, readScenario } from '../index.ts';
import { type Draft, type Plain, withValue } from './draft.ts';
import type { Words } from './words/index.ts';

/** Longer files are not read into a page. */
const MOST_BYTES = 200_000_000;
const MS_PER_DAY = 86_400_000;

/** What came of a dropped file: a whole household, a draft that uses it, or why it was not taken. */
export type Taken =
  | { readonly kind: 'scenario'; readonly draft: Draft }
  | {
      readonly kind: 'data';
      readonly draft: Draft;
      readonly name: string;
      readonly text: string;
      readonly said: readonly string[];
    }
  | { readonly kind: 'refused'; readonly said: string };

/** The text of a file; `.gz` is unpacked. Null for one that is too long; rejects what is no whole gzip. */
export async function textOf(file: File): Promise<string | null> {
  if (file.size > MOST_BYTES) return null;
  if (!file.name.endsWith('.gz')) return withoutMark(await file.text());
  // A few kB may unpack without end, so the length is counted on the way.
  let bytes = 0;
  const counted = new TransformStream<Uint8Array, Uint8Array>({
    transform(part, out) {
      bytes += part.length;
      if (bytes > MOST_BYTES) out.terminate();
      else out.enqueue(part);
    },
  });
  const text = await new Response(file.stream().pipeThrough(new DecompressionStream('gzip')).pipeThrough(counted)).text();
  return bytes > MOST_BYTES ? null : withoutMark(text);
}

const withoutMark = (text: string): string => text.replace(/^\uFEFF/, '');

/** Takes a file that was dropped or opened: what it is follows from its name and its first line. */
export function takeFile(name: string, text: string, draft: Draft, words: Words): Taken {
  return /\.(ya?ml|json)$/i.test(name) ? takeScenario(name, text) : takeCsv(name, text, draft, words);
}

function takeScenario(name: string, text: string): Taken {
  const { checked, locate } = readScenario(text, name);
  const fatal = checked.ok ? [] : checked.issues.filter(isOfTheText);
  // What is wrong with single keys is shown under their fields; a text that can not be read at all has none.
  if (fatal.length > 0) return { kind: 'refused', said: fatal.map((issue) => formatIssue(issue, name, locate)).join('\n') };
  return { kind: 'scenario', draft: parse(text) as Draft };
}

const isOfTheText = (issue: Issue): boolean => issue.path.length === 0 && issue.code !== 'unknown-key';

interface Kind {
  readonly as: 'pv' | 'load' | 'meter' | 'weather' | 'stays';
  readonly column: string;
  use(draft: Draft, section: Record<string, Plain>): Draft;
}

const KINDS: readonly Kind[] = [
  { as: 'pv', column: 'pv_w', use: (draft, file) => withValue(draft, ['pv'], { source: 'csv', ...file }) },
  { as: 'load', column: 'load_w', use: (draft, file) => withValue(draft, ['household'], { source: 'csv', ...file }) },
  { as: 'load', column: 'l1_w', use: (draft, file) => withValue(draft, ['household'], { source: 'csv', ...file }) },
  { as: 'meter', column: 'import_w', use: (draft, file) => withValue(draft, ['household'], { source: 'meter', ...file }) },
  { as: 'weather', column: 'ghi_w_m2', use: (draft, file) => withValue(draft, ['weather'], { source: 'csv', ...file }) },
  {
    as: 'stays',
    column: 'arrive',
    use: (draft, file) => withValue(draft, ['chargePoints', 0, 'usage'], { source: 'csv', ...file }),
  },
];

function takeCsv(name: string, text: string, draft: Draft, words: Words): Taken {
  const [head = ''] = firstRows(text);
  const columns = head.split(/[,;\t]/).map((column) => column.trim().replaceAll('"', '').toLowerCase());
  const kind = KINDS.find(({ column }) => columns.includes(column));
  if (kind === undefined) return { kind: 'refused', said: `${name}: ${words.errors.unknownCsv} ${words.errors.noColumns}` };
  const times = kind.as === 'stays' ? null : spanOf(text);
  const section = { file: name, ...(times?.isLocal ? { clock: 'local' } : {}) };
  const used = kind.use(draft, section);
  const said = [words.files.taken(name, words.files.as[kind.as])];
  if (times === null) return { kind: 'data', draft: used, name, text, said };
  said.push(words.files.period(times.from, times.days));
  const period = draft.period as { stepS?: Plain } | undefined;
  const kept = period?.stepS === undefined ? {} : { stepS: period.stepS };
  return { kind: 'data', draft: withValue(used, ['period'], { start: times.from, days: times.days, ...kept }), name, text, said };
}

/** The first rows of a file that are no remarks. */
const firstRows = (text: string): string[] =>
  text
    .slice(0, 10_000)
    .split(/\r?\n/)
    .filter((row) => row.trim() !== '' && !row.startsWith('#'));

/** The whole days that a file's times span, read off its first and last rows; null where they are no times. */
export function spanOf(text: string): { from: string; days: number; isLocal: boolean } | null {
  const rows = text.trimEnd();
  const [, first = '', second = ''] = firstRows(rows);
  const last = rows.slice(rows.lastIndexOf('\n') + 1);
  const [begin, next, end] = [first, second, last].map(timeOf);
  if (begin === undefined || next === undefined || end === undefined) return null;
  const beginMs = Date.parse(`${begin.wall}Z`);
  const stepMs = Date.parse(`${next.wall}Z`) - beginMs;
  const endMs = Date.parse(`${end.wall}Z`) + stepMs;
  // A day that the file only has the evening of is left out.
  const fromMs = Math.ceil(beginMs / MS_PER_DAY) * MS_PER_DAY;
  const days = Math.floor((endMs - fromMs) / MS_PER_DAY);
  if (!(days >= 1)) return null;
  return { from: new Date(fromMs).toISOString().slice(0, 10), days, isLocal: begin.isLocal };
}

function timeOf(row: string): { wall: string; isLocal: boolean } | undefined {
  const [, day, time, offset = ''] =
    /^"?(\d{4}-\d{2}-\d{2})[T ](\d{2}:\d{2})(?::\d{2}(?:\.\d+)?)?(Z|[+-]\d{2}:?\d{2})?/.exec(row) ?? [];
  return day === undefined || time === undefined ? undefined : { wall: `${day}T${time}:00`, isLocal: offset === '' };
}
