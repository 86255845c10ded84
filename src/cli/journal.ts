import { createHash } from 'node:crypto';
import {
  closeSync,
  existsSync,
  fdatasyncSync,
  ftruncateSync,
  mkdirSync,
  openSync,
  readFileSync,
  rmSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import type { TaskResult } from '../index.ts';
import { InputProblem } from './problem.ts';

/** Results of a study so far, on the disk: a killed study goes on from here. */
export interface Journal {
  /** Results that an earlier run left. */
  readonly found: readonly TaskResult[];
  add(result: TaskResult): void;
  /** The study is done and written: the journal has served. */
  remove(): void;
  close(): void;
}

const NAME = 'study.journal';
/** Between two times that the disk is asked to make lines safe against a loss of power, ms. A killed process loses none. */
const SYNC_MS = 1000;

/**
 * Opens the journal of a study in its folder: lines of JSON, first what study it belongs to, then a result a line. A last line that was
 * cut off is dropped.
 *
 * @param study  all that decides the results; another study's journal is refused
 * @param anew   forget what an earlier run left
 * @throws InputProblem  the folder holds the journal of another study
 */
export function openJournal(folder: string, study: object, anew: boolean): Journal {
  const path = join(folder, NAME);
  if (anew) rmSync(path, { force: true });
  const header = `${JSON.stringify({ journal: 1, study: digestOf(study) })}\n`;
  const { lines, bytes } = existsSync(path) ? wholeLines(path) : { lines: [], bytes: 0 };
  if (lines.length > 0 && `${lines[0]}\n` !== header) throw otherStudy(path);
  mkdirSync(folder, { recursive: true });
  const file = openSync(path, 'a');
  ftruncateSync(file, bytes);
  if (bytes === 0) writeSync(file, header);
  let syncedMs = performance.now();
  let open = true;
  const close = (): void => {
    if (open) closeSync(file);
    open = false;
  };
  return {
    found: lines.slice(1).map((line) => JSON.parse(line) as TaskResult),
    add: (result) => {
      writeSync(file, `${JSON.stringify(result)}\n`);
      if (performance.now() - syncedMs < SYNC_MS) return;
      fdatasyncSync(file);
      syncedMs = performance.now();
    },
    remove: () => {
      close();
      rmSync(path, { force: true });
    },
    close,
  };
}

/** The lines of a file that are whole, and how many bytes they take. */
function wholeLines(path: string): { lines: string[]; bytes: number } {
  const content = readFileSync(path);
  const bytes = content.lastIndexOf(10) + 1;
  const text = content.subarray(0, bytes).toString('utf8');
  return { lines: text.split('\n').slice(0, -1), bytes };
}

const digestOf = (study: object): string => createHash('sha256').update(JSON.stringify(study)).digest('hex');

const otherStudy = (path: string): InputProblem =>
  new InputProblem(path, {
    code: 'journal-of-another-study',
    problem:
      'An interrupted study left its results here, and it is not this one: study, scenario, data or Sixamp have changed since.',
    allowed: '',
    fix: 'name another folder with --out, or begin again with --anew',
  });
