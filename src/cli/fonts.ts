import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Fonts } from '../report/index.ts';

const FILES = [
  ['Source Sans 3', 'latin-400'],
  ['Source Sans 3', 'latin-600'],
  ['Source Sans 3 Ext', 'latin-ext-400'],
  ['Source Sans 3 Ext', 'latin-ext-600'],
] as const;

/** The fonts that come with the package, so that charts look the same on a machine that has none. */
export async function chartFonts(): Promise<Fonts> {
  const { resolve } = createRequire(import.meta.url);
  return Promise.all(
    FILES.map(async ([family, subset]) => ({
      family,
      bytes: await readFile(resolve(`@fontsource/source-sans-3/files/source-sans-3-${subset}-normal.woff2`)),
    })),
  );
}
