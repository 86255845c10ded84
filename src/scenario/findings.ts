import type { Issue } from '../base/index.ts';

/** So many issues of one file are listed, and so many of one kind; the rest are counted. */
const LISTED = 20;
const LISTED_OF_A_KIND = 5;

/** One thing found in a data file. Lines and columns count from 1. */
export interface Finding {
  readonly code: string;
  readonly line: number;
  readonly column: number;
  readonly found: string;
  readonly problem: string;
  readonly allowed: string;
  readonly fix: string;
}

/** What is wrong with one data file, and what is worth knowing about it. Long lists are cut, and the rest is counted. */
export class Findings {
  private readonly listed: Issue[] = [];
  private readonly noted: Issue[] = [];
  private count = 0;
  private lastLine = 1;
  private readonly file: string;
  private readonly path: readonly (string | number)[];

  /** @param path  the scenario's key that names the file */
  constructor(file: string, path: readonly (string | number)[]) {
    this.file = file;
    this.path = path;
  }

  /** Something is wrong. */
  wrong(finding: Finding): void {
    this.count++;
    this.lastLine = finding.line;
    const alike = this.listed.filter((issue) => issue.code === finding.code).length;
    if (this.listed.length < LISTED && alike < LISTED_OF_A_KIND) this.listed.push(this.issueOf(finding));
  }

  /** Something was assumed (`allowed`) that the user should know of. */
  note(finding: Finding): void {
    this.noted.push(this.issueOf(finding));
  }

  /** Is anything wrong? */
  get any(): boolean {
    return this.count > 0;
  }

  /** How much is wrong, listed or not. */
  get total(): number {
    return this.count;
  }

  get issues(): readonly Issue[] {
    const more = this.count - this.listed.length;
    if (more <= 0) return this.listed;
    const rest = {
      code: 'and-more',
      line: this.lastLine,
      column: 1,
      found: '',
      problem: `And ${more} more in this file, the last in this line.`,
      allowed: '',
      fix: 'mend those above first; they often have one cause.',
    };
    return [...this.listed, this.issueOf(rest)];
  }

  get warnings(): readonly Issue[] {
    return this.noted;
  }

  private issueOf({ line, column, ...rest }: Finding): Issue {
    return { ...rest, path: this.path, place: { file: this.file, line, column } };
  }
}
