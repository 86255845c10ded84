import type { Issue } from '../index.ts';

/** The machine failed the command (a worker that died for want of memory): neither the input is wrong nor Sixamp. */
export class MachineFailure extends Error {
  /** What to do, in a few words. */
  readonly fix: string;

  constructor(problem: string, fix: string) {
    super(problem);
    this.name = 'MachineFailure';
    this.fix = fix;
  }
}

/**
 * Something wrong with what the user gave the command itself (an option, a path), as a record like those of a scenario;
 * `at` is what it is about: the command line, or a file.
 */
export class InputProblem extends Error {
  readonly at: string;
  readonly issue: Issue;

  constructor(at: string, issue: Omit<Issue, 'path' | 'found'> & { found?: string }) {
    super(issue.problem);
    this.name = 'InputProblem';
    this.at = at;
    this.issue = { path: [], found: '', ...issue };
  }

  /** The four lines of every error. */
  text(): string {
    const { found, problem, allowed, fix, code } = this.issue;
    const lines = [`${this.at}  ${found}`.trimEnd(), `  ${problem}`];
    if (allowed !== '') lines.push(`  Allowed: ${allowed}`);
    return [...lines, `  Fix: ${fix}   [${code}]`].join('\n');
  }
}
