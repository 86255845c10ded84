import type { Issue } from '../base/index.ts';
import { foundText, pathText } from './issue-text.ts';
import { isRecord } from './walk.ts';

/** A key, or a value of a key, whose machinery is still to be built. */
interface NotYet {
  /** Keys from the top, joined by points; `*` stands for every entry of a list. */
  readonly path: string;
  /** Refused only where this holds; always where it is left out. Gets the value and the section that it stands in. */
  readonly when?: (value: unknown, section: Readonly<Record<string, unknown>>) => boolean;
  /** What can be done meanwhile. */
  readonly meanwhile: string;
}

const isNot =
  (neutral: unknown) =>
  (value: unknown): boolean =>
    !same(value, neutral);

/** What is refused for now, a line a key: whoever builds the machinery deletes the line. */
const NOT_YET: readonly NotYet[] = [
  { path: 'weather.climate', meanwhile: 'write monthlyGhiKWhM2 and monthlyTempC' },
  {
    path: 'weather.minutes',
    when: isNot('flat'),
    meanwhile: 'write minutes: flat, and mind that hourly means hide most starts and stalls',
  },
];

/** Keys of a scenario, as it was written, that are refused for now. */
export function notYetIssues(raw: unknown): Issue[] {
  return NOT_YET.flatMap((entry) => refusals(entry, entry.path.split('.'), raw, []));
}

function refusals(entry: NotYet, rest: readonly string[], node: unknown, path: readonly (string | number)[]): Issue[] {
  const [part, ...deeper] = rest;
  if (part === undefined) return [];
  if (Array.isArray(node)) {
    const indexes = [...node.keys()].filter((i) => part === '*' || i >= Number(part));
    return indexes.flatMap((i) =>
      deeper.length === 0 ? [issueOf(entry, [...path, i], node[i])] : refusals(entry, deeper, node[i], [...path, i]),
    );
  }
  if (!isRecord(node) || !Object.hasOwn(node, part)) return [];
  const value = node[part];
  if (deeper.length > 0) return refusals(entry, deeper, value, [...path, part]);
  return entry.when === undefined || entry.when(value, node) ? [issueOf(entry, [...path, part], value)] : [];
}

function issueOf(entry: NotYet, path: readonly (string | number)[], value: unknown): Issue {
  const last = path[path.length - 1];
  const key = typeof last === 'number' ? pathText(path) : (last ?? '');
  return {
    code: 'not-yet',
    path,
    found: foundText(value),
    problem: `Sixamp cannot take \`${key}\` into account yet, and leaves nothing out silently.`,
    allowed: '',
    fix: `${entry.meanwhile}.`,
  };
}

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);
