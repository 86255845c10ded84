import type { Pictures } from './draw.ts';
import { textTable } from './study-report.ts';

/** One output of a notebook's cell: the same content by media type; a viewer takes the richest one that it knows. */
export type Bundle = Readonly<Record<string, string>>;

/**
 * A drawn chart as an output: PNG and SVG, and words for who can see neither. As HTML the PNG once more, at its own size and with words in its
 * place: some programs that make web pages of notebooks would take the SVG and drop its shapes.
 */
export function pictureBundle({ png, svg }: Pictures, about: string): Bundle {
  const data = base64(png);
  const width = /width="(\d+)"/.exec(svg)?.[1] ?? '';
  const alt = escaped(about).replaceAll('"', '&quot;');
  return {
    'text/html': `<img src="data:image/png;base64,${data}" alt="${alt}" width="${width}">`,
    'image/png': data,
    'image/svg+xml': svg,
    'text/plain': `[picture: ${about}]`,
  };
}

/** Sentences as an output, a paragraph each. */
export const sentencesBundle = (sentences: readonly string[]): Bundle => ({
  'text/markdown': sentences.join('\n\n'),
  'text/plain': sentences.join('\n'),
});

/** What is needed of a danfo.js DataFrame to show it. */
export interface Frame {
  readonly columns: readonly string[];
  readonly values: unknown;
}

/**
 * A table as an output, as HTML and as text: the first column names its row, numbers stand right.
 *
 * @param decimals  of every number that is not whole
 */
export function tableBundle({ columns, values }: Frame, caption: string, decimals = 1): Bundle {
  const rows = (values as readonly (readonly unknown[])[]).map((row) => row.map((value) => cellText(value, decimals)));
  return { 'text/html': htmlTable(columns, rows, caption), 'text/plain': textTable({ caption, head: columns, rows }) };
}

const cellText = (value: unknown, decimals: number): string => {
  if (typeof value !== 'number') return value === null || value === undefined ? '-' : String(value);
  return Number.isInteger(value) ? String(value) : value.toFixed(decimals);
};

function htmlTable(columns: readonly string[], rows: readonly (readonly string[])[], caption: string): string {
  const line = (cells: readonly string[], tag: 'td' | 'th'): string =>
    `<tr>${cells.map((text, c) => `<${tag}${c === 0 ? '' : ' style="text-align: right"'}>${escaped(text)}</${tag}>`).join('')}</tr>`;
  const body = rows.map((row) => line(row, 'td')).join('\n');
  return `<table>\n<caption>${escaped(caption)}</caption>\n<thead>\n${line(columns, 'th')}\n</thead>\n<tbody>\n${body}\n</tbody>\n</table>`;
}

const escaped = (text: string): string => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

function base64(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text);
}
