import { constants, createReadStream } from 'node:fs';
import { open, readFile } from 'node:fs/promises';
import { pipeline } from 'node:stream/promises';
import { createGunzip } from 'node:zlib';
import { InputProblem } from './problem.ts';

const MB = 1_000_000;
/** No scenario is longer. */
export const MAX_SCENARIO_BYTES = 2 * MB;
/** A year of rows every two seconds, unpacked; and no text can be much longer than this in JavaScript. */
export const MAX_DATA_BYTES = 500 * MB;
/** So many bytes show what a file is. */
const LOOKED_AT = 4096;

/**
 * The text of a file: UTF-8, UTF-16 that begins with its mark, else Latin-1; `.gz` is unpacked, a byte order mark dropped.
 *
 * @param path      where it is
 * @param shownAs   what the user calls it
 * @param maxBytes  limit, unpacked
 * @throws InputProblem  not there, not a file, not readable, too large, not text
 */
export async function readText(path: string, shownAs: string, maxBytes: number): Promise<string> {
  try {
    const { isOrdinary, size, head } = await lookAt(path);
    if (!isOrdinary) throw notAFile(shownAs);
    if (size > maxBytes) throw tooLarge(shownAs, maxBytes);
    if (isGzip(head)) return decoded(await unpacked(path, shownAs, maxBytes));
    if (isNoText(head)) throw notText(shownAs);
    return decoded(await readFile(path));
  } catch (error) {
    throw error instanceof InputProblem ? error : unreadable(shownAs, error as NodeJS.ErrnoException);
  }
}

/** What a file is, from its first bytes. */
async function lookAt(path: string): Promise<{ isOrdinary: boolean; size: number; head: Uint8Array }> {
  // A pipe that nobody writes to would keep the opening waiting for ever.
  const file = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
  try {
    const found = await file.stat();
    if (found.isDirectory()) throw Object.assign(new Error(path), { code: 'EISDIR' });
    const isOrdinary = found.isFile();
    const head = new Uint8Array(LOOKED_AT);
    const { bytesRead } = isOrdinary ? await file.read(head) : { bytesRead: 0 };
    return { isOrdinary, size: found.size, head: head.subarray(0, bytesRead) };
  } finally {
    await file.close();
  }
}

/** The first two bytes of RFC 1952. */
const isGzip = (bytes: Uint8Array): boolean => bytes[0] === 0x1f && bytes[1] === 0x8b;

/** What begins UTF-16: the byte order mark, low byte or high byte first. */
const utf16Of = (bytes: Uint8Array): string | null =>
  bytes[0] === 0xff && bytes[1] === 0xfe ? 'utf-16le' : bytes[0] === 0xfe && bytes[1] === 0xff ? 'utf-16be' : null;

/** Zero bytes stand in pictures, archives and spreadsheets, and in no text but UTF-16. */
const isNoText = (head: Uint8Array): boolean => utf16Of(head) === null && head.subarray(0, LOOKED_AT).includes(0);

/** Unpacks piece by piece, and gives up as soon as it is too much or no text: a few kilobytes can stand for gigabytes. */
async function unpacked(path: string, shownAs: string, maxBytes: number): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  let bytes = 0;
  // The pipeline reports that it was broken off, not why.
  let problem: InputProblem | null = null;
  const take = async (source: AsyncIterable<Uint8Array>): Promise<void> => {
    for await (const piece of source) {
      if (bytes === 0 && isNoText(piece)) problem = notText(shownAs);
      bytes += piece.length;
      if (bytes > maxBytes) problem = tooLarge(shownAs, maxBytes);
      if (problem !== null) throw problem;
      pieces.push(piece);
    }
  };
  try {
    await pipeline(createReadStream(path), createGunzip({ chunkSize: 1 << 18 }), take);
    return Buffer.concat(pieces, bytes);
  } catch (error) {
    throw problem ?? (isOfGzip(error) ? notUnpacked(shownAs) : error);
  }
}

const isOfGzip = (error: unknown): boolean => /^Z_|^ERR_STREAM_PREMATURE/.test((error as NodeJS.ErrnoException).code ?? '');

function decoded(bytes: Uint8Array): string {
  const utf16 = utf16Of(bytes);
  if (utf16 !== null) return new TextDecoder(utf16).decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    // Weather files name towns so.
    return new TextDecoder('latin1').decode(bytes);
  }
}

const notUnpacked = (shownAs: string): InputProblem =>
  new InputProblem(shownAs, {
    code: 'file-not-unpacked',
    problem: 'The file begins like gzip but can not be unpacked; it may be cut short.',
    allowed: 'a whole gzip file, or plain text',
    fix: 'copy or download it again',
  });

const notText = (shownAs: string): InputProblem =>
  new InputProblem(shownAs, {
    code: 'file-not-text',
    problem: 'The file is not plain text.',
    allowed: 'text in UTF-8 (or UTF-16, Latin-1), also packed as .gz',
    fix: 'save it as UTF-8 text; from a spreadsheet, export CSV',
  });

const notAFile = (shownAs: string): InputProblem =>
  new InputProblem(shownAs, {
    code: 'file-unreadable',
    problem: 'This is a pipe or a device, not a file.',
    allowed: '',
    fix: 'save what it holds as a file, and name that',
  });

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
  ENOTDIR: ['There is no such file: a part of the path is a file.', 'check the name, and the folder you are in'],
  ENAMETOOLONG: ['No file has so long a name.', 'check the name'],
  ERR_INVALID_ARG_VALUE: ['No file can have such a name.', 'check the name'],
  EACCES: ['You may not read this file.', 'give yourself the right to read it'],
};

function unreadable(shownAs: string, error: NodeJS.ErrnoException): InputProblem {
  const [problem, fix] = REASONS[error.code ?? ''] ?? [
    `The file can not be read (${error.code ?? error.message}).`,
    'check the disk or the path',
  ];
  return new InputProblem(shownAs, { code: 'file-unreadable', problem, allowed: '', fix });
}
