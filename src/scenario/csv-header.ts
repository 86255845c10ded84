import type { Findings } from './findings.ts';
import { nearest } from './nearest.ts';

/** A column that a file may or must have. */
export interface ColumnSpec {
  readonly name: string;
  readonly kind: 'time' | 'number';
  readonly required: boolean;
  /** Numbers outside are errors, in the column's unit. */
  readonly min: number;
  readonly max: number;
  readonly unit: string;
}

/** A file's first line, understood. */
export interface CsvHeader {
  readonly names: readonly string[];
  /** Line of the header, counted from 1, and where the line after it begins. */
  readonly line: number;
  readonly bodyStart: number;
  readonly delimiterCode: number;
  readonly decimalCode: number;
  /** It goes on and on: the file is of another kind. Of its names only the first are told. */
  readonly isTooLong: boolean;
}

const COMMA = 44;
const POINT = 46;
/** No file of measurements has a longer first line. */
const MOST_CHARS = 10_000;

/** Finds the header: the first line that is neither empty nor begins with `#`. */
export function csvHeader(text: string): CsvHeader | null {
  let start = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  for (let line = 1; start < text.length; line++) {
    const newline = text.indexOf('\n', start);
    const end = newline < 0 ? text.length : newline;
    const row = text.slice(start, end).trim().slice(0, MOST_CHARS);
    start = end + 1;
    if (row === '' || row.startsWith('#')) continue;
    const delimiter = delimiterOf(row);
    const names = row.split(delimiter).map((name) =>
      name
        .trim()
        .replace(/^"(.*)"$/, '$1')
        .trim(),
    );
    // Where commas separate nothing, a spreadsheet of a country with decimal commas may have written them into numbers.
    const decimalCode = delimiter !== ',' && !/\d\.\d/.test(text.slice(start, start + 2000)) ? COMMA : POINT;
    return {
      names,
      line,
      bodyStart: start,
      delimiterCode: delimiter.charCodeAt(0),
      decimalCode,
      isTooLong: row.length === MOST_CHARS,
    };
  }
  return null;
}

const delimiterOf = (row: string): string =>
  row.includes(',') ? ',' : row.includes(';') ? ';' : row.includes('\t') ? '\t' : ',';

/**
 * Chooses among the layouts that a file may have: the first whose required columns are all there.
 *
 * @returns the columns to read with their places in a row, or null, with the reasons among the findings
 */
export function chooseColumns(
  header: CsvHeader,
  layouts: readonly (readonly ColumnSpec[])[],
  findings: Findings,
): ReadonlyMap<number, ColumnSpec> | null {
  const twice = header.names.find((name, i) => name !== '' && header.names.indexOf(name) !== i);
  const at = { line: header.line, column: 1, allowed: layouts.map(layoutText).join('   or   ') };
  if (twice !== undefined) {
    findings.wrong({
      ...at,
      code: 'csv-column-twice',
      found: twice,
      problem: `Two columns are called ${twice}.`,
      fix: 'keep or rename one.',
    });
    return null;
  }
  const layout = layouts.find((columns) => columns.every((column) => !column.required || header.names.includes(column.name)));
  if (layout === undefined) {
    reportMissing(header, layouts, at, findings);
    return null;
  }
  const chosen = new Map(layout.filter((c) => header.names.includes(c.name)).map((c) => [header.names.indexOf(c.name), c]));
  const unread = header.names.filter((name, i) => name !== '' && !chosen.has(i));
  if (unread.length > 0) {
    const likes = unread.map(
      (name) =>
        [
          name,
          nearest(
            name,
            layout.map((c) => c.name).filter((n) => !header.names.includes(n)),
          ),
        ] as const,
    );
    const like = likes.find(([, known]) => known !== null);
    const fix =
      like === undefined
        ? 'remove them from the file to silence this.'
        : `write ${like[1]} if that is what ${like[0]} holds, or remove it.`;
    const problem = `Columns that are not read: ${unread.join(', ')}.`;
    findings.note({ ...at, code: 'csv-columns-unread', found: '', problem, allowed: 'they are not needed', fix });
  }
  return chosen;
}

function reportMissing(
  header: CsvHeader,
  layouts: readonly (readonly ColumnSpec[])[],
  at: { line: number; column: number; allowed: string },
  findings: Findings,
): void {
  // The layout that was most likely meant: the one most of whose columns are there, or nearly so.
  const likeness = (columns: readonly ColumnSpec[]): number =>
    columns.filter((c) => nearest(c.name, header.names) !== null).length / columns.filter((c) => c.required).length;
  const layout = [...layouts].sort((a, b) => likeness(b) - likeness(a))[0] ?? [];
  const lacking = layout.filter((column) => column.required && !header.names.includes(column.name)).map((column) => column.name);
  const like = nearest(lacking[0] ?? '', header.names);
  const instead = like === null ? '' : ` (${like} comes nearest to ${lacking[0]})`;
  findings.wrong({
    ...at,
    code: 'csv-column-missing',
    found: header.names.join(',').slice(0, 60),
    problem: `The first line names no column ${lacking.join(', ')}${instead}.`,
    fix: 'name the columns in the first line as allowed; their order does not matter.',
  });
}

const layoutText = (columns: readonly ColumnSpec[]): string =>
  columns.map((column) => (column.required ? column.name : `[${column.name}]`)).join(',');
