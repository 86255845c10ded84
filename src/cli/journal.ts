import { createHash } from 'node:crypto';
import { closeSync, existsSync, fdatasyncSync, ftruncateSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import type { TaskResult } from '../index.ts';
import { placeProblem } from './disk-trouble.ts';
import { lockHeld, takeLock } from './lock.ts';
import { makeFolder, refuseNameless } from './out-folder.ts';
import { InputProblem } from './problem.ts';
import { whenStopped } from './stopping.ts';

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
const LOCK = '.study.lock';
/** Between two times that the disk is asked to make lines safe against a loss of power, ms. A killed process loses none. */
const SYNC_MS = 1000;

/**
 * Opens the journal of a study in its folder: lines of JSON, first what study it belongs to, then a result a line. A last line that was
 * cut off is dropped, and so is all from a line on that the disk did not keep as it was written. As long as it is open, no other study
 * can begin in the folder.
 *
 * @param study  all that decides the results; another study's journal is refused
 * @param anew   forget what an earlier run left
 * @throws InputProblem  the folder holds the journal of another study, another study runs there, or it can not be written to
 */
export function openJournal(folder: string, study: object, anew: boolean): Journal {
  try {
    return opened(folder, study, anew);
  } catch (error) {
    throw placeProblem(error, folder);
  }
}

function opened(folder: string, study: object, anew: boolean): Journal {
  const path = join(folder, NAME);
  refuseNameless(folder);
  makeFolder(folder);
  const giveBack = takeLock(join(folder, LOCK));
  if (giveBack === null) throw lockHeld(join(folder, LOCK), folder, 'of a study works in this folder');
  const header = `${JSON.stringify({ journal: 1, study: digestOf(study) })}\n`;
  const { lines, bytes } = existsSync(path) && !anew ? wholeLines(path) : { lines: [], bytes: 0 };
  const isOther = lines.length > 0 && `${lines[0]}\n` !== header;
  if (isOther) giveBack();
  if (isOther) throw otherStudy(path);
  const file = openSync(path, 'a');
  ftruncateSync(file, bytes);
  if (bytes === 0) writeSync(file, header);
  const found = lines.slice(1).map((line) => JSON.parse(line) as TaskResult);
  let count = found.length;
  let syncedMs = performance.now();
  let open = true;
  const forget = whenStopped(() => `What is done (${count} results) is kept in ${folder}: the same command goes on from there.`);
  const end = (last: () => void = () => {}): void => {
    if (!open) return;
    open = false;
    closeSync(file);
    last();
    forget();
    giveBack();
  };
  const add = (result: TaskResult): void => {
    writeSync(file, `${JSON.stringify(result)}\n`);
    count++;
    if (performance.now() - syncedMs < SYNC_MS) return;
    fdatasyncSync(file);
    syncedMs = performance.now();
  };
  return {
    found,
    add: (result) => {
      try {
        add(result);
      } catch (error) {
        throw placeProblem(error, folder);
      }
    },
    remove: () => end(() => rmSync(path, { force: true })),
    close: () => end(),
  };
}

/** The lines of a file up to the first that is not whole JSON, and how many bytes they take. */
function wholeLines(path: string): { lines: string[]; bytes: number } {
  const written = readFileSync(path, 'utf8').split('\n').slice(0, -1);
  const broken = written.findIndex((line) => !isRecord(line));
  const lines = broken < 0 ? written : written.slice(0, broken);
  return { lines, bytes: lines.reduce((bytes, line) => bytes + Buffer.byteLength(line) + 1, 0) };
}

function isRecord(line: string): boolean {
  try {
    const record: unknown = JSON.parse(line);
    return typeof record === 'object' && record !== null && ('journal' in record || 'index' in record);
  } catch {
    return false;
  }
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
