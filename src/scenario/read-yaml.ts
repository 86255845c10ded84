import { isAlias, isMap, isNode, isPair, isScalar, isSeq, LineCounter, type Node, parseDocument, type YAMLError } from 'yaml';
import { type Checked, failed, type Issue, passed } from '../base/index.ts';
import type { Locate } from './issue-text.ts';

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
  if (isTooDeep(text)) return failed([tooDeep(fileName)]);
  const lineCounter = new LineCounter();
  try {
    const document = parseDocument(text.replace(/^\uFEFF/, ''), {
      lineCounter,
      prettyErrors: false,
      uniqueKeys: true,
      strict: true,
      logLevel: 'error',
    });
    const problems = [...document.errors, ...document.warnings].slice(0, 20);
    if (problems.length > 0)
      return failed(firstCauses(problems.map((problem) => syntaxIssue(problem, text, fileName, lineCounter))));
    const raw: unknown = document.toJS({ maxAliasCount: MAX_ALIASES });
    if (raw === null || raw === undefined) return failed([wholeFile('scenario-empty', 'The file has nothing in it.', fileName)]);
    if (typeof raw !== 'object' || Array.isArray(raw)) {
      return failed([wholeFile('scenario-not-keys', 'The file holds no keys with values (`site:`, `pv:` …).', fileName)]);
    }
    const locate: Locate = (path) =>
      placeOf(document.contents, path, lineCounter, (alias) => (isAlias(alias) ? alias.resolve(document) : alias));
    return passed({ raw: raw as Record<string, unknown>, locate });
  } catch (error) {
    return failed([thrownIssue(error, fileName)]);
  }
}

/** Nobody nests a scenario deeper; the parser calls itself at each level, and a long row of brackets would end the process. */
const MAX_DEPTH = 100;

/** Whether brackets, or dashes and indentation, go deeper than any scenario. Brackets in remarks count too, which does no harm. */
function isTooDeep(text: string): boolean {
  if (/^ *(?:[-?:] +){100}|^ {400}/m.test(text)) return true;
  let depth = 0;
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code === 91 || code === 123) depth++;
    else if ((code === 93 || code === 125) && depth > 0) depth--;
    if (depth > MAX_DEPTH) return true;
  }
  return false;
}

const tooDeep = (file: string): Issue =>
  wholeFile('yaml-too-deep', 'Brackets or sections are nested deeper than in any scenario.', file);

/** A place for issues about a scenario that could not be read at all. */
export const atTop: Locate = () => ({ line: 1, column: 1 });

/** The place of a path: its value where there is one, else the nearest key above it. */
function placeOf(
  root: unknown,
  path: readonly (string | number)[],
  lineCounter: LineCounter,
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
  const { line, col } = lineCounter.linePos(offset);
  return { line: Math.max(1, line), column: Math.max(1, col) };
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
  return issues.filter((issue) => issue.code !== 'yaml-syntax' || syntax.includes(issue));
}

/** Advice for the mistakes that are easily made; the parser's own words for the rest. */
function syntaxIssue(problem: YAMLError, text: string, file: string, lineCounter: LineCounter): Issue {
  const { line, col } = lineCounter.linePos(problem.pos[0]);
  const place = { file, line: Math.max(1, line), column: Math.max(1, col) };
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

function thrownIssue(error: unknown, file: string): Issue {
  const place = { file, line: 1, column: 1 };
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
  if (error instanceof RangeError) return tooDeep(file);
  throw error;
}
