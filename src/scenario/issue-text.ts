import type { Issue } from '../base/index.ts';

/** Where a scenario's key stands in the user's text, counted from 1. */
export type Locate = (path: readonly (string | number)[]) => { readonly line: number; readonly column: number };

/**
 * An issue as text: where and what stood there, what is wrong, what is allowed, what to do.
 *
 * ```
 * home.yaml:4:20  chargePoints[0].charger.minCurrentA = 5
 *   A charger cannot offer a car less than 6 A, so 5 A would mean no charging at all.
 *   Allowed: 6 to 32 (amperes per phase)
 *   Fix: write 6 or more, or remove the line to use the default, 6.   [charger-current-too-low]
 * ```
 *
 * @param fileName  the scenario's file, as the user named it
 */
export function formatIssue(issue: Issue, fileName: string, locate: Locate): string {
  return lines(issue, fileName, locate, '', 'Allowed');
}

/**
 * A warning as text: the same lines, marked as one. Its `allowed` says what was assumed, its `fix` how to silence it.
 */
export function formatWarning(issue: Issue, fileName: string, locate: Locate): string {
  return lines(issue, fileName, locate, 'warning: ', 'Assumed');
}

function lines(issue: Issue, fileName: string, locate: Locate, mark: string, label: string): string {
  const at = issue.place ?? { file: fileName, ...locate(issue.path) };
  // In a data file what stood there names its column; the scenario's key would only stand in the way.
  const key = issue.place === undefined ? pathText(issue.path) : '';
  const stood = issue.found === '' ? key : key === '' ? issue.found : `${key} = ${issue.found}`;
  const head = `${at.file}:${at.line}:${at.column}  ${mark}${stood}`.trimEnd();
  const allowed = issue.allowed === '' ? [] : [`  ${label}: ${issue.allowed}`];
  return [head, `  ${issue.problem}`, ...allowed, `  Fix: ${issue.fix}   [${issue.code}]`].join('\n');
}

/** A path as people write it: `chargePoints[0].charger.minCurrentA`. */
export function pathText(path: readonly (string | number)[]): string {
  let text = '';
  for (const part of path) text += typeof part === 'number' ? `[${part}]` : text === '' ? part : `.${part}`;
  return text;
}

/** Something the user wrote, on one line and not too long. */
export function foundText(value: unknown): string {
  if (value === undefined) return '';
  const text = typeof value === 'string' ? value.slice(0, 200).replace(/\s+/g, ' ') : plain(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

/** More entries than fit on the line. */
const SHOWN = 30;

function plain(value: unknown): string {
  if (value === null) return 'nothing';
  if (Array.isArray(value)) return `[${value.slice(0, SHOWN).map(plain).join(', ')}]`;
  if (typeof value === 'object') return `{ ${Object.keys(value).slice(0, SHOWN).join(', ')} }`;
  return String(value);
}
