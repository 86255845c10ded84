import { open, readFile } from 'node:fs/promises';
import { promisify } from 'node:util';
import { gunzip } from 'node:zlib';
import { InputProblem } from './problem.ts';

const MB = 1_000_000;
/** No scenario is longer. */
export const MAX_SCENARIO_BYTES = 2 * MB;
/** A year of one-second rows is about half of this, unpacked. */
export const MAX_DATA_BYTES = 1000 * MB;

/**
 * The text of a file; `.gz` is unpacked, a byte order mark dropped.
 *
 * @param path      where it is
 * @param shownAs   what the user calls it
 * @param maxBytes  limit, unpacked
 * @throws InputProblem  not there, not readable, too large, not text
 */
export async function readText(path: string, shownAs: string, maxBytes: number): Promise<string> {
  const packed = await readBytes(path, shownAs, maxBytes);
  const bytes = isGzip(packed) ? await unpacked(packed, shownAs, maxBytes) : packed;
  return decoded(bytes, shownAs);
}

async function readBytes(path: string, shownAs: string, maxBytes: number): Promise<Uint8Array> {
  try {
    const file = await open(path, 'r');
    try {
      const { size } = await file.stat();
      if (size > maxBytes) throw tooLarge(shownAs, maxBytes);
    } finally {
      await file.close();
    }
    return await readFile(path);
  } catch (error) {
    throw error instanceof InputProblem ? error : unreadable(shownAs, error as NodeJS.ErrnoException);
  }
}

/** The first two bytes of RFC 1952. */
const isGzip = (bytes: Uint8Array): boolean => bytes[0] === 0x1f && bytes[1] === 0x8b;

async function unpacked(packed: Uint8Array, shownAs: string, maxBytes: number): Promise<Uint8Array> {
  try {
    return await promisify(gunzip)(packed, { maxOutputLength: maxBytes });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ERR_BUFFER_TOO_LARGE') throw tooLarge(shownAs, maxBytes);
    throw new InputProblem(shownAs, {
      code: 'file-not-unpacked',
      problem: 'The file begins like gzip but can not be unpacked; it may be cut short.',
      allowed: 'a whole gzip file, or plain text',
      fix: 'copy or download it again',
    });
  }
}

/** UTF-8, else Latin-1 (weather files name towns so). Only a file that holds zero bytes is no text. */
function decoded(bytes: Uint8Array, shownAs: string): string {
  if (bytes.subarray(0, 4096).includes(0)) {
    throw new InputProblem(shownAs, {
      code: 'file-not-text',
      problem: 'The file is not plain text.',
      allowed: 'text in UTF-8 (or Latin-1), also packed as .gz',
      fix: 'save it as UTF-8 text; from a spreadsheet, export CSV',
    });
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('latin1').decode(bytes);
  }
}

function tooLarge(shownAs: string, maxBytes: number): InputProblem {
  return new InputProblem(shownAs, {
    code: 'file-too-large',
    problem: `The file holds more than ${maxBytes / MB} MB.`,
    allowed: `up to ${maxBytes / MB} MB, unpacked`,
    fix: 'check that it is the file you meant, or cut it to the days that the scenario covers',
  });
}

const REASONS: Readonly<Record<string, readonly [problem: string, fix: string]>> = {
  ENOENT: ['There is no such file.', 'check the name, and the folder you are in'],
  EISDIR: ['This is a folder, not a file.', 'name a file in it'],
  EACCES: ['You may not read this file.', 'give yourself the right to read it'],
};

function unreadable(shownAs: string, error: NodeJS.ErrnoException): InputProblem {
  const [problem, fix] = REASONS[error.code ?? ''] ?? [
    `The file can not be read (${error.code ?? error.message}).`,
    'check the disk or the path',
  ];
  return new InputProblem(shownAs, { code: 'file-unreadable', problem, allowed: '', fix });
}
