import { accessSync, constants, existsSync, mkdirSync } from 'node:fs';
import { basename, dirname, extname, join, resolve } from 'node:path';
import { InputProblem } from './problem.ts';

/** Where results go if nothing is said: `out/` and the name of the file. A name of nothing but points would lead out of there. */
export function defaultFolder(file: string): string {
  const name = basename(file, extname(file));
  return join('out', /^\.*$/.test(name) ? 'results' : name);
}

/**
 * Makes a folder with all folders on the way to it.
 *
 * @returns the first that was made, undefined if none was
 */
export function makeFolder(path: string): string | undefined {
  try {
    return mkdirSync(path, { recursive: true });
  } catch (error) {
    // A disk that may not be written to is reported as a folder that is not there; asking for the right to write gives the reason.
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') accessSync(nearestAbove(path), constants.W_OK);
    throw error;
  }
}

function nearestAbove(path: string): string {
  let folder = resolve(path);
  while (!existsSync(folder) && dirname(folder) !== folder) folder = dirname(folder);
  return folder;
}

/** A place that was named with an empty text (a variable that was not set) is no place: files would end up anywhere. */
export function refuseNameless(out: string): void {
  if (out.trim() !== '') return;
  throw new InputProblem('--out', {
    code: 'out-empty',
    problem: 'The name is empty.',
    allowed: 'a name, new or not',
    fix: 'write a name behind --out, or leave it out',
  });
}
