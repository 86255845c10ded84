import { rmdirSync, rmSync } from 'node:fs';
import { type FileHandle, link, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { hostname } from 'node:os';
import { basename, dirname, join, resolve } from 'node:path';
import { atPlace } from './disk-trouble.ts';
import { isRunning, waitForLock } from './lock.ts';
import { makeFolder, refuseNameless } from './out-folder.ts';
import { InputProblem } from './problem.ts';
import { undisturbed } from './stopping.ts';

/** What a file holds: whole, or piece by piece. */
export type Content = string | Uint8Array | Iterable<string | Uint8Array> | AsyncIterable<string | Uint8Array>;

/** A file to write: its name within the folder, and what it holds. */
export interface NamedContent {
  readonly name: string;
  readonly content: Content;
}

/** Half-written folders of this process, gone when it is stopped, each with the first folder that was made on the way to it. */
const pending = new Map<string, string | undefined>();

/** Removes everything half-written, at once; for a command that ends in the middle. */
export function dropPending(): void {
  for (const [path, madeFolder] of pending) {
    rmSync(path, { recursive: true, force: true });
    removeEmpty(dirname(path), madeFolder);
  }
  pending.clear();
}

/**
 * Writes a folder of files: each of them whole, or, if anything fails on the way, nothing at all.
 *
 * The files are written under a temporary name beside their place, made safe on the disk, and then renamed. A new folder appears in
 * one step; in a folder that is there already, files are put in place one by one while no other run does the same, other files are left
 * alone, and files that `isOurs` knows but this time does not write are removed (charts of other days). What a killed run left
 * half-written beside it is cleared away.
 *
 * @returns names of the files, in the order written
 * @throws InputProblem  the place is a file, can not be written to, or another run does not let go of it
 */
export async function writeFolder(
  folder: string,
  files: AsyncIterable<NamedContent> | Iterable<NamedContent>,
  isOurs: (name: string) => boolean,
  onFile: (name: string) => void = () => {},
): Promise<string[]> {
  refuseNameless(folder);
  const target = resolve(folder);
  const isThere = await isFolder(target, folder);
  const [above, name] = isThere ? [target, 'files'] : [dirname(target), basename(target)];
  await clearLeftOvers(above, name);
  const waiting = join(above, temporaryName(name));
  const madeFolder = await atPlace(folder, async () => makeFolder(waiting));
  pending.set(waiting, madeFolder);
  try {
    const names: string[] = [];
    for await (const { name, content } of files) {
      await atPlace(folder, () => writeSafely(join(waiting, name), content));
      names.push(name);
      onFile(name);
    }
    await undisturbed(() => atPlace(folder, () => settle(waiting, target, folder, names, isOurs)));
    return names;
  } finally {
    // After a good end there is nothing left to remove.
    await rm(waiting, { recursive: true, force: true });
    pending.delete(waiting);
    removeEmpty(dirname(waiting), madeFolder);
  }
}

/** A name that `ls` hides, `.gitignore` knows, and no other running process takes. */
const temporaryName = (name: string): string => `.${name}.${hostname()}-${process.pid}.tmp`;

/** Removes what processes of this machine that run no more left half-written under such a name. */
async function clearLeftOvers(above: string, name: string): Promise<void> {
  const begin = `.${name}.${hostname()}-`;
  for (const found of await readdir(above).catch(() => [])) {
    const pid =
      found.startsWith(begin) && /^\d+\.tmp$/.test(found.slice(begin.length))
        ? Number.parseInt(found.slice(begin.length), 10)
        : null;
    if (pid === null || pending.has(join(above, found)) || (pid !== process.pid && isRunning(pid))) continue;
    await rm(join(above, found), { recursive: true, force: true }).catch(() => {});
  }
}

/** The last step: a new folder in one, or its files into a folder that is there. */
async function settle(
  from: string,
  to: string,
  shownAs: string,
  names: readonly string[],
  isOurs: (name: string) => boolean,
): Promise<void> {
  // Another run may have made the folder meanwhile.
  if (!(await isFolder(to, shownAs)) && (await moved(from, to))) return;
  for (const name of names) await refuseFolder(join(to, name));
  const giveBack = await waitForLock(join(to, LOCK), shownAs);
  try {
    await putInPlace(from, to, names, isOurs);
  } finally {
    giveBack();
  }
}

const LOCK = '.files.lock';

const moved = (from: string, to: string): Promise<boolean> =>
  rename(from, to).then(
    () => true,
    async (error: unknown) => {
      if (await isFolder(to, to)) return false;
      throw error;
    },
  );

/** Where one file can not be put in place (another program holds it open), those before it are put back: old and new never mix. */
async function putInPlace(from: string, to: string, names: readonly string[], isOurs: (name: string) => boolean): Promise<void> {
  const stale = (await readdir(to)).filter((name) => isOurs(name) && !names.includes(name));
  const done: string[] = [];
  try {
    for (const name of names) {
      // A second name for the old file, as long as it may be wanted back; where the disk knows no such thing, there is no way back.
      await link(join(to, name), join(from, oldName(name))).catch(() => {});
      await rename(join(from, name), join(to, name));
      done.push(name);
    }
  } catch (error) {
    for (const name of done) await rename(join(from, oldName(name)), join(to, name)).catch(() => rm(join(to, name)));
    throw error;
  }
  for (const name of stale) await rm(join(to, name));
}

const oldName = (name: string): string => `.old.${name}`;

async function refuseFolder(path: string): Promise<void> {
  const found = await stat(path).catch(() => null);
  if (!found?.isDirectory()) return;
  throw new InputProblem(path, {
    code: 'out-is-a-folder',
    problem: 'A folder stands where a file should be written.',
    allowed: '',
    fix: 'remove or rename it, or give --out another name',
  });
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
function removeEmpty(lowest: string, firstMade: string | undefined): void {
  if (firstMade === undefined) return;
  try {
    for (let folder = lowest; folder.length >= firstMade.length; folder = dirname(folder)) rmdirSync(folder);
  } catch {
    // Something stands in it, or it is gone already.
  }
}
