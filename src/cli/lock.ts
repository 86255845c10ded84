import { linkSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { InputProblem } from './problem.ts';

/** Whoever holds a lock: a process on a machine. */
interface Holder {
  readonly host: string;
  readonly pid: number;
}

const WAIT_MS = 10_000;
const LOOK_EVERY_MS = 20;

/** Whether a process of this machine still runs. Signal 0 asks without sending; EPERM means that it is someone else's. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/**
 * Takes a lock: a small file that says who holds it. The lock of a process that was killed is taken over.
 *
 * @returns a function that gives it back; or null if another process holds it
 */
export function takeLock(path: string): (() => void) | null {
  // Written beside it first: whoever meets a lock finds it whole.
  const own = `${path}.${process.pid}.tmp`;
  writeFileSync(own, JSON.stringify({ host: hostname(), pid: process.pid } satisfies Holder));
  try {
    if (!tryLink(own, path)) {
      if (!isLeftOver(path)) return null;
      rmSync(path, { force: true });
      if (!tryLink(own, path)) return null;
    }
  } finally {
    rmSync(own, { force: true });
  }
  const giveBack = (): void => {
    process.off('exit', giveBack);
    rmSync(path, { force: true });
  };
  process.on('exit', giveBack);
  return giveBack;
}

/** The same, waiting for whoever holds it. @throws InputProblem  it is held for long */
export async function waitForLock(path: string, shownAs: string): Promise<() => void> {
  for (let waitedMs = 0; waitedMs < WAIT_MS; waitedMs += LOOK_EVERY_MS) {
    const giveBack = takeLock(path);
    if (giveBack !== null) return giveBack;
    await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS));
  }
  throw lockHeld(path, shownAs, 'is putting its files there');
}

/** @param does  what the other process does, behind "Another run" */
export const lockHeld = (path: string, shownAs: string, does: string): InputProblem =>
  new InputProblem(shownAs, {
    code: 'folder-in-use',
    problem: `Another run ${does}.`,
    allowed: '',
    fix: `wait for it, or give --out another folder; if none is running, remove ${path}`,
  });

/** A link to a name that is taken fails, on every disk, without a moment in between. */
function tryLink(from: string, to: string): boolean {
  try {
    linkSync(from, to);
    return true;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') return false;
    // Disks that know no links (FAT) know this much.
    if (code === 'EPERM' || code === 'ENOTSUP' || code === 'ENOSYS') return tryCreate(from, to);
    throw error;
  }
}

function tryCreate(from: string, to: string): boolean {
  try {
    writeFileSync(to, readFileSync(from), { flag: 'wx' });
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
}

/** Whether the process that holds a lock is gone. On another machine nobody can tell. */
function isLeftOver(path: string): boolean {
  try {
    const { host, pid } = JSON.parse(readFileSync(path, 'utf8')) as Holder;
    return host === hostname() && !isRunning(pid);
  } catch {
    // Given back in this moment; or not a lock of ours, which we leave alone.
    return false;
  }
}
