import { basename, dirname } from 'node:path';
import { refuseNameless } from './out-folder.ts';
import { writeFolder } from './write-whole.ts';

/** Writes one page, whole or not at all. */
export async function writePage(path: string, html: string): Promise<void> {
  refuseNameless(path);
  await writeFolder(dirname(path), [{ name: basename(path), content: html }], () => false);
}
