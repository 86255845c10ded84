import { InputProblem } from './problem.ts';

/** What the codes of a disk mean for whoever chose the place. */
const REASONS: Readonly<Record<string, string>> = {
  EACCES: 'You may not write there.',
  EPERM: 'You may not write there.',
  EROFS: 'You may not write there: the disk is read-only.',
  ENOSPC: 'The disk is full.',
  EDQUOT: 'Your share of the disk is used up.',
  EFBIG: 'A file would be larger than this disk allows.',
  EIO: 'The disk does not answer as it should.',
  ENOTDIR: 'A part of this path is a file, not a folder.',
  EEXIST: 'A part of this path is a file, not a folder.',
  EISDIR: 'A folder stands where a file should be written.',
  ENOTEMPTY: 'A folder stands where a file should be written.',
  ENOENT: 'The folder went away while it was written to.',
  ELOOP: 'The path runs in a circle of links.',
  ENAMETOOLONG: 'The name is too long.',
  EBUSY: 'Another program holds a file there open.',
};

/** A failure of the place that the user chose is the user's to mend: a problem to tell. Any other error comes back as it is. */
export function placeProblem(error: unknown, shownAs: string): unknown {
  const problem = REASONS[(error as NodeJS.ErrnoException | null)?.code ?? ''];
  if (problem === undefined || error instanceof InputProblem) return error;
  const fix = 'give --out another place, or mend this one';
  return new InputProblem(shownAs, { code: 'out-not-writable', problem, allowed: '', fix });
}

/** Does something at a place that the user chose. @throws InputProblem  the place does not allow it */
export async function atPlace<T>(shownAs: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    throw placeProblem(error, shownAs);
  }
}
