import { formatIssue, formatWarning, type Issue, type Scenario } from '../index.ts';
import { type Loaded, load } from './load.ts';
import { remark, sayJson, styled, type Terminal } from './terminal.ts';

/** An issue for machines: the record, and the place it is about. */
export interface IssueRecord extends Omit<Issue, 'place'> {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/** Where issues come from: a file as the user named it, and where its keys stand. */
export type Whence = Pick<Loaded, 'fileName' | 'locate'>;

/** A scenario that came through the door, with what is worth knowing about it. */
export interface Entered {
  readonly scenario: Scenario;
  readonly warnings: readonly Issue[];
  /** The warnings for machines. */
  readonly warningRecords: readonly IssueRecord[];
}

/**
 * Takes a scenario file through the door and reports what it finds: warnings and errors as text on the error stream, or, with
 * `json`, errors as the one JSON object of the command.
 *
 * @returns null if there was anything wrong: then all is said, and the command ends with the code for wrong input
 */
export async function enter(file: string, json: boolean, terminal: Terminal): Promise<Entered | null> {
  const loaded = await load(file);
  const { checked, locate } = loaded;
  if (!checked.ok) {
    if (json) sayJson(terminal, { ok: false, issues: checked.issues.map((issue) => recordOf(issue, loaded)), warnings: [] });
    else sayIssues(loaded, checked.issues, terminal);
    return null;
  }
  if (!json) {
    for (const warning of checked.warnings)
      remark(terminal, `${paintHead(formatWarning(warning, file, locate), 'yellow', terminal)}\n`);
  }
  const warningRecords = checked.warnings.map((issue) => recordOf(issue, loaded));
  return { scenario: checked.value, warnings: checked.warnings, warningRecords };
}

/** Errors as text on the error stream. */
export function sayIssues({ fileName, locate }: Whence, issues: readonly Issue[], terminal: Terminal): void {
  for (const issue of issues) remark(terminal, `${paintHead(formatIssue(issue, fileName, locate), 'red', terminal)}\n`);
  remark(terminal, `${issues.length} ${issues.length === 1 ? 'error' : 'errors'} in ${fileName}; nothing was run.`);
}

/** The first line of an issue says where; it is what the eye looks for. */
function paintHead(text: string, style: 'red' | 'yellow', terminal: Terminal): string {
  const end = text.indexOf('\n');
  return styled(terminal.err, style, text.slice(0, end)) + text.slice(end);
}

/** An issue as a record for machines. */
export function recordOf({ place, ...issue }: Issue, { fileName, locate }: Whence): IssueRecord {
  const at = place ?? { file: fileName, ...locate(issue.path) };
  return { ...issue, file: at.file, line: at.line, column: at.column };
}
