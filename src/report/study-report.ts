import type { ChartConfiguration } from 'chart.js';
import { CSV_LINE_END } from './csv.ts';
import { type Fonts, openDrawing, type PictureSize } from './draw.ts';
import type { OutputFile } from './files.ts';
import { openPage, tableOf } from './page-shell.ts';

/** A table for people: the first cell of a row names it. */
export interface StudyTable {
  readonly caption: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** A chart of a study, under the name of its files. */
export interface StudyChart {
  readonly name: string;
  readonly about: string;
  readonly spec: ChartConfiguration;
  readonly size: PictureSize;
}

/** Rows for spreadsheets, under the name of their file. */
export interface StudyCsv {
  readonly name: string;
  readonly rows: readonly Readonly<Record<string, string | number | null>>[];
}

/** What a study came to, once for all: the terminal, the page, the files. */
export interface StudyReport {
  readonly title: string;
  /** The answer, in sentences. */
  readonly answer: readonly string[];
  /** What to mind, in sentences; empty: nothing. */
  readonly minded: { readonly heading: string; readonly sentences: readonly string[] };
  readonly tables: readonly StudyTable[];
  readonly charts: readonly StudyChart[];
  readonly csvs: readonly StudyCsv[];
  readonly json: object;
}

/** Size of the charts, px. */
export const STUDY_CHART: PictureSize = { widthPx: 1000, heightPx: 520 };

/** A table as text for a terminal. */
export function textTable({ caption, head, rows }: StudyTable): string {
  const width = head.map((title, c) => Math.max(title.length, ...rows.map((row) => (row[c] ?? '').length)));
  const line = (cells: readonly string[]): string =>
    cells
      .map((cell, c) => (c === 0 ? cell.padEnd(width[c] ?? 0) : cell.padStart(width[c] ?? 0)))
      .join('  ')
      .trimEnd();
  const top = line(head);
  return [caption, top, '-'.repeat(top.length), ...rows.map(line)].join('\n');
}

/** All files of a study: the page, the results as JSON and CSV, each chart as PNG and SVG. */
export async function* studyFiles(report: StudyReport, fonts: Fonts): AsyncGenerator<OutputFile, void, undefined> {
  yield { name: 'results.json', content: `${JSON.stringify(report.json, null, 2)}\n` };
  for (const csv of report.csvs) yield { name: `${csv.name}.csv`, content: await tableCsv(csv) };
  const pictures: { chart: StudyChart; svg: string }[] = [];
  const draw = report.charts.length === 0 ? null : await openDrawing(fonts);
  for (const chart of report.charts) {
    const drawn = draw?.(chart.spec, chart.size);
    if (drawn === undefined) continue;
    yield { name: `${chart.name}.png`, content: drawn.png };
    yield { name: `${chart.name}.svg`, content: drawn.svg };
    pictures.push({ chart, svg: drawn.svg });
  }
  yield { name: 'report.html', content: await studyHtml(report, pictures) };
}

/** Whether a name in an output folder is one that a study writes. */
export const isStudyName = (name: string): boolean =>
  /^(results\.json|report\.html|(results|variants|summary|years|heat|front|influence|phases|share|size|roof|battery|minimum)[\w-]*\.(csv|png|svg))$/.test(
    name,
  );

/** Rows as CSV, made by danfo.js, which is loaded when this is called. Nothing stands where a value is missing. */
export async function tableCsv({ rows }: StudyCsv): Promise<string> {
  if (rows.length === 0) return '';
  const { DataFrame, toCSV } = await import('danfojs');
  const text = toCSV(new DataFrame(rows.map((row) => ({ ...row }))));
  if (typeof text !== 'string') throw new Error('danfo.js gave no text for a table');
  return text.trimEnd().replaceAll('\n', CSV_LINE_END) + CSV_LINE_END;
}

async function studyHtml(report: StudyReport, pictures: readonly { chart: StudyChart; svg: string }[]): Promise<string> {
  const page = await openPage({
    lang: 'en',
    title: report.title,
    cautionsHeading: 'Read this first',
    cautions: CAUTIONS,
    css: 'figure { margin: 1rem 0; } figure img { width: 100%; height: auto; background: #fff; } td { text-align: right; font-variant-numeric: tabular-nums; } thead th + th { text-align: right; } .wide { overflow-x: auto; }',
  });
  const { main, el } = page;
  main.append(el('h2', 'Answer'), ...report.answer.map((text) => el('p', text)));
  if (report.minded.sentences.length > 0)
    main.append(
      el('h2', report.minded.heading),
      el(
        'ul',
        report.minded.sentences.map((text) => el('li', text)),
      ),
    );
  for (const { chart, svg } of pictures) {
    const src = `data:image/svg+xml;base64,${base64(svg)}`;
    main.append(el('figure', [el('img', [], { src, alt: chart.about }), el('figcaption', chart.about, { class: 'fine' })]));
  }
  for (const table of report.tables)
    main.append(el('div', [tableOf(page, table.caption, table.head, table.rows.slice(0, MOST_ROWS))], { class: 'wide' }));
  return page.html();
}

/** Longer tables are for the CSV. */
const MOST_ROWS = 200;

const CAUTIONS = [
  'These are estimates from a model, not measurements and not a promise.',
  'Electrical work is for licensed people; local rules and those of the grid operator come first.',
];

/** Text as base64 of its UTF-8 bytes. */
function base64(text: string): string {
  let bytes = '';
  for (const byte of new TextEncoder().encode(text)) bytes += String.fromCharCode(byte);
  return btoa(bytes);
}
