import { rmSync } from 'node:fs';
import { type FileHandle, mkdir, open, readdir, rename, rm, rmdir, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { InputProblem } from './problem.ts';

/** What a file holds: whole, or piece by piece. */
export type Content = string | Uint8Array | Iterable<string> | AsyncIterable<string>;

/** A file to write: its name within the folder, and what it holds. */
export interface NamedContent {
  readonly name: string;
  readonly content: Content;
}

/** Half-written things of this process; gone when it is stopped. */
const pending = new Set<string>();

/** Removes everything half-written, at once; for the handler of a signal. */
export function dropPending(): void {
  for (const path of pending) rmSync(path, { recursive: true, force: true });
  pending.clear();
}

/**
 * Writes a folder of files: each of them whole, or, if anything fails on the way, nothing at all.
 *
 * The files are written under a temporary name beside their place, made safe on the disk, and then renamed. A new folder appears in
 * one step; in a folder that is there already, files are put in place one by one, other files are left alone, and files that
 * `isOurs` knows but this time does not write are removed (charts of other days).
 *
 * @returns names of the files, in the order written
 * @throws InputProblem  the place is a file, or can not be written to
 */
export async function writeFolder(
  folder: string,
  files: AsyncIterable<NamedContent> | Iterable<NamedContent>,
  isOurs: (name: string) => boolean,
  onFile: (name: string) => void = () => {},
): Promise<string[]> {
  const target = resolve(folder);
  const isThere = await isFolder(target, folder);
  const waiting = isThere ? join(target, temporaryName('files')) : join(dirname(target), temporaryName(basename(target)));
  const madeFolder = await withReason(folder, () => mkdir(waiting, { recursive: true }));
  pending.add(waiting);
  try {
    const names: string[] = [];
    for await (const { name, content } of files) {
      await withReason(folder, () => writeSafely(join(waiting, name), content));
      names.push(name);
      onFile(name);
    }
    if (isThere) await putInPlace(waiting, target, names, isOurs);
    else await rename(waiting, target);
    return names;
  } finally {
    // After a good end there is nothing left to remove.
    await rm(waiting, { recursive: true, force: true });
    pending.delete(waiting);
    await removeEmpty(dirname(waiting), madeFolder);
  }
}

/** A name that `ls` hides, `.gitignore` knows, and no other running process takes. */
const temporaryName = (name: string): string => `.${name}.${process.pid}.tmp`;

async function putInPlace(from: string, to: string, names: readonly string[], isOurs: (name: string) => boolean): Promise<void> {
  const stale = (await readdir(to)).filter((name) => isOurs(name) && !names.includes(name));
  for (const name of names) await rename(join(from, name), join(to, name));
  for (const name of stale) await rm(join(to, name));
}

/** Writes a file under its final bytes: in pieces if it comes so, and down to the disk before it is called done. */
async function writeSafely(path: string, content: Content): Promise<void> {
  const file = await open(path, 'wx');
  try {
    await writePieces(file, content);
    await file.sync();
  } finally {
    await file.close();
  }
}

async function writePieces(file: FileHandle, content: Content): Promise<void> {
  if (typeof content === 'string' || content instanceof Uint8Array) {
    await file.writeFile(content);
    return;
  }
  for await (const piece of content) await file.appendFile(piece);
}

async function isFolder(path: string, shownAs: string): Promise<boolean> {
  const found = await stat(path).catch(() => null);
  if (found === null) return false;
  if (found.isDirectory()) return true;
  throw new InputProblem(shownAs, {
    code: 'out-is-a-file',
    problem: 'The results need a folder, and this is a file.',
    allowed: 'a folder, new or not',
    fix: 'give --out another name',
  });
}

/** Removes folders that were made on the way, from the lowest up to the first one made, as far as nothing stands in them. */
async function removeEmpty(lowest: string, firstMade: string | undefined): Promise<void> {
  if (firstMade === undefined) return;
  for (let folder = lowest; folder.length >= firstMade.length; folder = dirname(folder)) {
    const removed = await rmdir(folder).then(
      () => true,
      () => false,
    );
    if (!removed) return;
  }
}

const DISK_REASONS: Readonly<Record<string, string>> = {
  EACCES: 'You may not write there.',
  EPERM: 'You may not write there.',
  EROFS: 'You may not write there: the disk is read-only.',
  ENOSPC: 'The disk is full.',
  ENOTDIR: 'A part of this path is a file, not a folder.',
  ENAMETOOLONG: 'The name is too long.',
};

/** Failures of the place that the user chose are the user's to mend; others are ours. */
async function withReason<T>(shownAs: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    const problem = DISK_REASONS[(error as NodeJS.ErrnoException).code ?? ''];
    if (problem === undefined) throw error;
    throw new InputProblem(shownAs, { code: 'out-not-writable', problem, allowed: '', fix: 'give --out another place' });
  }
}
