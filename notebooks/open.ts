/**
 * What every notebook opens with: a household out of scenarios/, and a way to show sentences, tables and pictures below a cell.
 * It is the notebooks' face, as src/cli is the command's: files and the kernel are known here only.
 */
import { readFile } from 'node:fs/promises';
import { formatIssue, type OpenStudy, openStudy } from '../src/index.ts';
import {
  type Bundle,
  type Fonts,
  type Frame,
  openDrawing,
  pictureBundle,
  sentencesBundle,
  tableBundle,
  zoneOfPlatform,
} from '../src/report/index.ts';

/** What is used of the kernel. */
declare const Deno: { readonly jupyter: { display(shown: object): Promise<void> } };

const here = (path: string): URL => new URL(path, import.meta.url);

/** An invented household, by the name of its file in scenarios/. */
export async function household(name: string): Promise<OpenStudy> {
  const text = await readFile(here(`../scenarios/${name}.yaml`), 'utf8');
  const opened = openStudy(text, name, zoneOfPlatform);
  if (!opened.ok)
    throw new Error(opened.issues.map((issue) => formatIssue(issue, name, () => ({ line: 1, column: 1 }))).join('\n'));
  return opened.value;
}

const FONTS = [
  ['Source Sans 3', 'latin-400'],
  ['Source Sans 3', 'latin-600'],
  ['Source Sans 3 Ext', 'latin-ext-400'],
  ['Source Sans 3 Ext', 'latin-ext-600'],
] as const;
const fontFile = (subset: string): URL =>
  here(`../node_modules/@fontsource/source-sans-3/files/source-sans-3-${subset}-normal.woff2`);
const fonts: Fonts = await Promise.all(
  FONTS.map(async ([family, subset]) => ({ family, bytes: await readFile(fontFile(subset)) })),
);
const draw = await openDrawing(fonts);

type Chart = Parameters<typeof draw>[0];

/** Wide enough for a page, low enough to leave the first screen room for the answer, px. */
const SIZE = { widthPx: 900, heightPx: 400 };

/** Sentences below the cell. */
export const say = (...sentences: string[]): Promise<void> => show(sentencesBundle(sentences));

/** A chart below the cell. */
export const picture = (chart: Chart, heightPx = SIZE.heightPx): Promise<void> =>
  show(pictureBundle(draw(chart, { ...SIZE, heightPx }), String(chart.options?.plugins?.title?.text ?? '')));

/** A danfo.js DataFrame below the cell. */
export const table = (frame: Frame, caption: string, decimals?: number): Promise<void> =>
  show(tableBundle(frame, caption, decimals));

/** What a reader of the kernel's messages may need to take one in; the kernel drops the next where there is no room for it, ms. */
const DRAIN_MS = 250;

async function show(bundle: Bundle): Promise<void> {
  await Deno.jupyter.display({ [Symbol.for('Jupyter.display')]: () => bundle });
  await new Promise((resolve) => setTimeout(resolve, DRAIN_MS));
}
