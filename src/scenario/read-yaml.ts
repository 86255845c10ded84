import {
  type Document,
  isAlias,
  isMap,
  isNode,
  isPair,
  isScalar,
  isSeq,
  type Node,
  parseDocument,
  visit,
  type YAMLError,
} from 'yaml';
import { type Checked, failed, type Issue, type Place, passed } from '../base/index.ts';
import { foundText, type Locate } from './issue-text.ts';

/** A scenario's text as plain data, and where each key stands in it. */
export interface Written {
  readonly raw: Record<string, unknown>;
  readonly locate: Locate;
}

/** Longer texts are no scenarios. */
const MAX_CHARS = 1_000_000;
/** Aliases (`*name`) may be followed so many times: a few lines of them can stand for billions of values. */
const MAX_ALIASES = 100;

/**
 * Reads YAML or JSON (which is YAML too) into plain data.
 *
 * @param fileName  for the places in error records
 */
export function readYaml(text: string, fileName: string): Checked<Written> {
  if (text.length > MAX_CHARS)
    return failed([wholeFile('scenario-too-large', 'The file has more than a million characters.', fileName)]);
  // Without the byte order mark; and a lone carriage return ends a line, as old loggers and editors mean it.
  const plain = text.replace(/^\uFEFF/, '').replace(/\r(?!\n)/g, '\n');
  const deepAt = tooDeepAt(plain);
  if (deepAt >= 0) return failed([{ ...tooDeep(fileName), place: placeIn(plain, deepAt, fileName) }]);
  let aliasAt = 0;
  try {
    const document = parseDocument(plain, {
      prettyErrors: false,
      // The parser holds each key against each other, which takes minutes for a file of nothing but keys: see `keysTwice`.
      uniqueKeys: false,
      resolveKnownTags: false,
      strict: true,
      logLevel: 'error',
    });
    const problems = [...document.errors, ...document.warnings, ...keysTwice(document)].slice(0, 20);
    if (problems.length > 0) return failed(firstCauses(problems.map((problem) => syntaxIssue(problem, plain, fileName))));
    aliasAt = firstAlias(document);
    const raw: unknown = document.toJS({ maxAliasCount: MAX_ALIASES });
    const height = heightOf(raw);
    if (height === Infinity) return failed([{ ...containsItself(fileName), place: placeIn(plain, aliasAt, fileName) }]);
    if (height > MAX_DEPTH) return failed([tooDeep(fileName)]);
    if (raw === null || raw === undefined) return failed([wholeFile('scenario-empty', 'The file has nothing in it.', fileName)]);
    if (typeof raw !== 'object' || Array.isArray(raw)) {
      return failed([wholeFile('scenario-not-keys', 'The file holds no keys with values (`site:`, `pv:` …).', fileName)]);
    }
    const locate: Locate = (path) =>
      placeOf(document.contents, path, plain, (alias) => (isAlias(alias) ? alias.resolve(document) : alias));
    return passed({ raw: raw as Record<string, unknown>, locate });
  } catch (error) {
    return failed([thrownIssue(error, fileName, placeIn(plain, aliasAt, fileName))]);
  }
}

/** Nobody nests a scenario deeper; the parser calls itself at each level, and a long row of brackets would end the process. */
const MAX_DEPTH = 100;

/** Where brackets, or dashes and indentation, go deeper than in any scenario; -1: nowhere. Brackets in remarks count too: no harm. */
function tooDeepAt(text: string): number {
  const dashes = text.search(/^ *(?:[-?:] +){100}|^ {400}/m);
  if (dashes >= 0) return dashes;
  let depth = 0;
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === 91 || code === 123) depth++;
    else if ((code === 93 || code === 125) && depth > 0) depth--;
    if (depth > MAX_DEPTH) return at;
  }
  return -1;
}

/** How deep plain data is nested, aliases followed; without end where something contains itself. */
function heightOf(value: unknown, known = new Map<object, number>()): number {
  if (typeof value !== 'object' || value === null) return 0;
  const met = known.get(value);
  if (met !== undefined) return met;
  // Whoever comes back here before the end is inside itself.
  known.set(value, Infinity);
  let height = 0;
  for (const part of Object.values(value)) height = Math.max(height, 1 + heightOf(part, known));
  known.set(value, height);
  return height;
}

/** Something wrong in the text, as the parser tells it. */
type TextProblem = Pick<YAMLError, 'code' | 'message' | 'pos'>;

/** Keys that stand twice in the same section, in the order of the text. */
function keysTwice(document: Document): TextProblem[] {
  const found: TextProblem[] = [];
  visit(document, {
    Map: (_, { items }) => {
      const met = new Set<unknown>();
      for (const { key } of items) {
        if (!isScalar(key)) continue;
        const [from = 0, to = from] = key.range ?? [];
        if (met.has(key.value)) found.push({ code: 'DUPLICATE_KEY', message: '', pos: [from, to] });
        met.add(key.value);
      }
    },
  });
  return found.sort((a, b) => a.pos[0] - b.pos[0]);
}

/** Where the first alias stands that stands for nothing; else the first of all. */
function firstAlias(document: Document): number {
  let first: number | null = null;
  let unknown: number | null = null;
  visit(document, {
    Alias: (_, alias) => {
      const at = alias.range?.[0] ?? 0;
      first ??= at;
      if (alias.resolve(document) === undefined) unknown ??= at;
    },
  });
  return unknown ?? first ?? 0;
}

/** A place by its offset, counted from 1. (The parser's own count leaves out the lines of a text in quotes that never ends.) */
function lineAndColumn(text: string, offset: number): { line: number; column: number } {
  const before = text.slice(0, offset).split('\n');
  return { line: before.length, column: (before[before.length - 1]?.length ?? 0) + 1 };
}

const placeIn = (text: string, offset: number, file: string): Place => ({ file, ...lineAndColumn(text, offset) });

const containsItself = (file: string): Issue => ({
  ...wholeFile('yaml-aliases', 'An alias (`*name`) stands for something that it is itself a part of.', file),
  fix: 'write the values out.',
});

const tooDeep = (file: string): Issue =>
  wholeFile('yaml-too-deep', 'Brackets or sections are nested deeper than in any scenario.', file);

/** A place for issues about a scenario that could not be read at all. */
export const atTop: Locate = () => ({ line: 1, column: 1 });

/** The place of a path: its value where there is one, else the nearest key above it. */
function placeOf(
  root: unknown,
  path: readonly (string | number)[],
  text: string,
  follow: (node: unknown) => unknown,
): { line: number; column: number } {
  let offset = isNode(root) ? (root.range?.[0] ?? 0) : 0;
  let node = follow(root);
  for (const part of path) {
    const step = childOf(node, part);
    if (step === null) break;
    offset = step.offset ?? offset;
    node = follow(step.node);
  }
  return lineAndColumn(text, offset);
}

/** One step down: the value, and the offset at which a reader should look (a whole section is shown at its key). */
function childOf(node: unknown, part: string | number): { node: unknown; offset: number | undefined } | null {
  if (isSeq(node) && typeof part === 'number') {
    const item = node.items[part];
    return item === undefined ? null : { node: item, offset: startOf(item) };
  }
  if (!isMap(node)) return null;
  const pair = node.items.find((item) => isPair(item) && isScalar(item.key) && String(item.key.value) === String(part));
  if (pair === undefined) return null;
  const shown = isScalar(pair.value) && pair.value.value !== null ? pair.value : pair.key;
  return { node: pair.value, offset: startOf(shown) };
}

const startOf = (node: unknown): number | undefined => (isNode(node) ? (node as Node).range?.[0] : undefined);

function wholeFile(code: string, problem: string, file: string): Issue {
  const fix = 'write a scenario as in the folder scenarios/.';
  return { code, path: [], found: '', problem, allowed: '', fix, place: { file, line: 1, column: 1 } };
}

/** One slip makes a parser complain many times: a tab explains what follows it, and beyond three complaints none helps. */
function firstCauses(issues: readonly Issue[]): Issue[] {
  const tabs = issues.filter((issue) => issue.code === 'yaml-tab');
  const syntax = issues.filter((issue) => issue.code === 'yaml-syntax').slice(0, tabs.length > 0 ? 0 : 3);
  return issues.filter((issue, i) => (issue.code !== 'yaml-syntax' || syntax.includes(issue)) && !isSame(issue, issues[i - 1]));
}

/** The parser says of each of two brackets that end in the same place that they are open. */
const isSame = (a: Issue, b: Issue | undefined): boolean =>
  a.problem === b?.problem && a.place?.line === b.place?.line && a.place?.column === b.place?.column;

/** Advice for the mistakes that are easily made; the parser's own words for the rest. */
function syntaxIssue(problem: TextProblem, text: string, file: string): Issue {
  const place = placeIn(text, problem.pos[0], file);
  const base = { path: [], found: '', allowed: '', place };
  const cut = text.slice(problem.pos[0], problem.pos[1]);
  if (problem.code === 'DUPLICATE_KEY') {
    return { ...base, code: 'key-twice', problem: 'This key stands twice in the same section.', fix: 'keep one of the two.' };
  }
  if (problem.code === 'TAB_AS_INDENT' || cut.startsWith('\t')) {
    return {
      ...base,
      code: 'yaml-tab',
      problem: 'The line is indented with a tab; YAML knows spaces only.',
      fix: 'indent with spaces.',
    };
  }
  if (problem.code === 'MULTIPLE_DOCS') {
    return {
      ...base,
      code: 'yaml-two-documents',
      problem: 'A second document begins here (`---`).',
      fix: 'keep one scenario in a file.',
    };
  }
  if (problem.code === 'TAG_RESOLVE_FAILED') {
    const tag = foundText(/!\S*/.exec(cut)?.[0] ?? cut);
    return {
      ...base,
      code: 'yaml-syntax',
      problem: `A tag (\`${tag}\`) stands before this value; tags are not used here.`,
      fix: 'remove the tag.',
    };
  }
  const open = /end with a ([\]}])/.exec(problem.message)?.[1];
  if (open !== undefined) {
    const bracket = open === ']' ? '[' : '{';
    return {
      ...base,
      code: 'yaml-syntax',
      problem: `A \`${bracket}\` is not closed by \`${open}\`.`,
      fix: `look for the end of what \`${bracket}\` begins.`,
    };
  }
  const said = problem.message.split('\n')[0]?.replace(/[.:\s]*$/, '') ?? problem.code;
  const fix = 'look at this line and the one before it: colons, brackets, quotes, and how far lines are indented.';
  return { ...base, code: 'yaml-syntax', problem: `This is not YAML: ${said}.`, fix };
}

function thrownIssue(error: unknown, file: string, place: Place): Issue {
  const base = { path: [], found: '', allowed: '', place };
  if (error instanceof ReferenceError && error.message.startsWith('Unresolved')) {
    const problem = 'An alias (`*name`) stands for nothing: no `&name` comes before it.';
    return { ...base, code: 'yaml-alias-unknown', problem, fix: 'write the value out.' };
  }
  if (error instanceof ReferenceError) {
    return {
      ...base,
      code: 'yaml-aliases',
      problem: 'Aliases (`*name`) stand for too many values.',
      fix: 'write the values out.',
    };
  }
  if (error instanceof RangeError) return { ...tooDeep(file), place };
  throw error;
}
