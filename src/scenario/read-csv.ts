import { type ColumnSpec, type CsvHeader, chooseColumns, csvHeader } from './csv-header.ts';
import { numberAt } from './csv-number.ts';
import { type CsvClock, TimeReader, type TimeTrouble } from './csv-time.ts';
import type { Findings } from './findings.ts';

/** The columns of a file that were asked for: instants in UTC ms, numbers, NaN for an empty cell. */
export interface CsvTable {
  readonly rows: number;
  /** Line of each row, counted from 1. */
  readonly line: Int32Array;
  readonly columns: ReadonlyMap<string, Float64Array>;
}

/**
 * Reads a CSV file of times and numbers (RFC 4180: commas, quotes where needed; LF or CRLF; a byte order mark is passed over).
 *
 * Columns are found by name, in any order. Lines before the header that begin with `#` and empty lines are passed over. Files
 * separated by semicolons or tabs are read too, with decimal commas if they have those, and noted as such.
 *
 * @param layouts   the columns that the file may have, a list a layout
 * @param findings  takes what is wrong, with line and column
 * @param whenEmpty what else to do if a cell is left empty, for the advice; null: no cell may be
 * @returns         the columns, or null if they cannot be told; rows with something wrong are left out
 */
export function readCsv(
  text: string,
  layouts: readonly (readonly ColumnSpec[])[],
  clock: CsvClock,
  findings: Findings,
  whenEmpty: string | null = null,
): CsvTable | null {
  const whole = /\r(?!\n)/.test(text.slice(0, LOOKED_AT)) ? text.replace(/\r(?!\n)/g, '\n') : text;
  const header = csvHeader(whole);
  if (header === null) {
    const problem = 'The file has nothing in it.';
    findings.wrong({ code: 'csv-empty', line: 1, column: 1, found: '', problem, allowed: '', fix: 'write a header and rows.' });
    return null;
  }
  const chosen = header.isTooLong ? tooLong(header, findings) : chooseColumns(header, layouts, findings);
  if (chosen === null) return null;
  noteSeparators(header, findings);
  return new RowReader(whole, header, chosen, clock, findings, whenEmpty).readAll();
}

function tooLong({ line, names }: CsvHeader, findings: Findings): null {
  findings.wrong({
    code: 'csv-header-too-long',
    line,
    column: 1,
    found: names.join(',').slice(0, 60),
    problem: 'The first line does not end within 10,000 characters; this is no file of columns.',
    allowed: 'a line of names, then a line for each time',
    fix: 'check that it is the file you meant, and that its lines end.',
  });
  return null;
}

function noteSeparators(header: CsvHeader, findings: Findings): void {
  if (header.delimiterCode === COMMA) return;
  const separator = header.delimiterCode === 59 ? 'semicolons' : 'tabs';
  const decimal = header.decimalCode === COMMA ? 'commas' : 'points';
  findings.note({
    code: 'csv-separators',
    line: header.line,
    column: 1,
    found: '',
    problem: `Cells are separated by ${separator}, not by commas.`,
    allowed: `cells separated by ${separator}, decimal ${decimal}`,
    fix: 'save the file with commas between cells and decimal points to silence this.',
  });
}

/** So many characters show whether lines end with a lone carriage return. A file of measurements is far longer. */
const LOOKED_AT = 20_000;

const COMMA = 44;
const QUOTE = 34;
const SPACE = 32;
const TAB = 9;
const RETURN = 13;

/** Walks over the rows once. Kept as a class so that a cell needs no objects: a year of minutes has millions of cells. */
class RowReader {
  private readonly text: string;
  private readonly header: CsvHeader;
  private readonly findings: Findings;
  private readonly whenEmpty: string | null;
  /** What to do with each cell of a row: null where it is not read. */
  private readonly specs: readonly (ColumnSpec | null)[];
  private readonly values: readonly Float64Array[];
  private readonly times: readonly TimeReader[];
  private readonly lines: Int32Array;
  private row = 0;
  private line: number;
  private lineStart = 0;
  private rowSound = true;

  constructor(
    text: string,
    header: CsvHeader,
    chosen: ReadonlyMap<number, ColumnSpec>,
    clock: CsvClock,
    findings: Findings,
    whenEmpty: string | null,
  ) {
    this.text = text;
    this.header = header;
    this.findings = findings;
    this.whenEmpty = whenEmpty;
    this.specs = header.names.map((_, i) => chosen.get(i) ?? null);
    const most = countLines(text, header.bodyStart);
    this.values = this.specs.map((spec) => new Float64Array(spec === null ? 0 : most));
    this.times = this.specs.map(() => new TimeReader(clock));
    this.lines = new Int32Array(most);
    this.line = header.line;
  }

  readAll(): CsvTable {
    const { text } = this;
    for (let start = this.header.bodyStart; start < text.length; ) {
      const newline = text.indexOf('\n', start);
      const next = newline < 0 ? text.length : newline;
      const end = text.charCodeAt(next - 1) === RETURN && next > start ? next - 1 : next;
      this.line++;
      this.lineStart = start;
      if (!isBlank(text, start, end)) this.readRow(start, end);
      start = next + 1;
    }
    const columns = new Map<string, Float64Array>();
    this.specs.forEach((spec, i) => {
      if (spec !== null) columns.set(spec.name, this.values[i]?.subarray(0, this.row) ?? new Float64Array(0));
    });
    return { rows: this.row, line: this.lines.subarray(0, this.row), columns };
  }

  private readRow(start: number, end: number): void {
    this.rowSound = true;
    let cell = 0;
    for (let at = start; at <= end; cell++) {
      const cellEnd = this.text.charCodeAt(at) === QUOTE ? this.quotedEnd(at, end) : this.plainEnd(at, end);
      if (cell < this.specs.length) this.readCell(cell, at, cellEnd);
      at = cellEnd + 1;
    }
    if (cell !== this.specs.length) this.wrongCount(cell);
    if (!this.rowSound) return;
    this.lines[this.row] = this.line;
    this.row++;
  }

  private plainEnd(start: number, end: number): number {
    const { delimiterCode } = this.header;
    let at = start;
    while (at < end && this.text.charCodeAt(at) !== delimiterCode) at++;
    return at;
  }

  /** The end of a cell in quotes, in which separators do not count and two quotes are one. */
  private quotedEnd(start: number, end: number): number {
    let at = start + 1;
    while (at < end && (this.text.charCodeAt(at) !== QUOTE || this.text.charCodeAt(at + 1) === QUOTE)) {
      at += this.text.charCodeAt(at) === QUOTE ? 2 : 1;
    }
    return this.plainEnd(at, end);
  }

  private readCell(cell: number, cellStart: number, cellEnd: number): void {
    const spec = this.specs[cell] ?? null;
    const values = this.values[cell];
    if (spec === null || values === undefined) return;
    let start = cellStart;
    let end = cellEnd;
    while (start < end && isPadding(this.text.charCodeAt(start))) start++;
    while (end > start && isPadding(this.text.charCodeAt(end - 1))) end--;
    values[this.row] = spec.kind === 'time' ? this.timeIn(cell, spec, start, end) : this.numberIn(spec, start, end);
  }

  private timeIn(cell: number, spec: ColumnSpec, start: number, end: number): number {
    const reader = this.times[cell];
    const atMs = reader?.read(this.text, start, end) ?? Number.NaN;
    if (Number.isNaN(atMs)) this.wrong(spec, start, end, TIME_TROUBLES[reader?.trouble ?? 'form']);
    return atMs;
  }

  private numberIn(spec: ColumnSpec, start: number, end: number): number {
    if (start === end) return Number.NaN;
    const value = numberAt(this.text, start, end, this.header.decimalCode);
    if (Number.isNaN(value)) this.wrong(spec, start, end, this.orEmpty(spec, NOT_A_NUMBER));
    else if (value < spec.min || value > spec.max) this.wrong(spec, start, end, this.orEmpty(spec, OUT_OF_RANGE));
    return value;
  }

  /** What is wrong with a number, and whether an empty cell would do instead. */
  private orEmpty(spec: ColumnSpec, { code, problem, fix }: Omit<Trouble, 'allowed'>): Trouble {
    const range = `${spec.min} to ${spec.max} (${spec.unit})`;
    if (this.whenEmpty === null) return { code, problem, allowed: range, fix: `${fix}.` };
    return { code, problem, allowed: `${range}, or an empty cell`, fix: `${fix}, or leave the cell empty${this.whenEmpty}.` };
  }

  private wrong(spec: ColumnSpec, start: number, end: number, trouble: Trouble): void {
    this.rowSound = false;
    const written = this.text.slice(start, end).slice(0, 40);
    const found = written === '' ? spec.name : `${spec.name} = ${written}`;
    this.findings.wrong({ line: this.line, column: start - this.lineStart + 1, found, ...trouble });
  }

  private wrongCount(cells: number): void {
    this.rowSound = false;
    this.findings.wrong({
      code: 'csv-cells',
      line: this.line,
      column: 1,
      found: '',
      problem: `The row has ${cells} cells, the header ${this.specs.length}.`,
      allowed: 'as many cells as the header has',
      fix: 'look for a cell that is missing, or a decimal comma that splits one in two.',
    });
  }
}

interface Trouble {
  readonly code: string;
  readonly problem: string;
  readonly allowed: string;
  readonly fix: string;
}

const NOT_A_NUMBER = {
  code: 'csv-not-a-number',
  problem: 'This is not a number.',
  fix: 'write a number with a decimal point and no unit',
};

const OUT_OF_RANGE = {
  code: 'csv-out-of-range',
  problem: 'No such value occurs in nature or in a house; it may be a code for a missing value, or another unit.',
  fix: 'correct the value',
};

const FORM = 'a time by ISO 8601, such as 2025-06-01T10:00:00+02:00';

const TIME_TROUBLES: Readonly<Record<TimeTrouble, Trouble>> = {
  form: { code: 'csv-bad-time', problem: 'This is not a time by ISO 8601.', allowed: FORM, fix: 'write the time in that form.' },
  'no-such-day': {
    code: 'csv-no-such-time',
    problem: 'There is no such day in the calendar.',
    allowed: FORM,
    fix: 'correct the day.',
  },
  'lacks-offset': {
    code: 'csv-time-lacks-offset',
    problem: 'The time does not say how far it is from UTC.',
    allowed: FORM,
    fix: 'add Z or an offset to each time; or say in the scenario what clock it is: `clock: local`, or one offset, `clock: "+01:00"`.',
  },
  'has-offset': {
    code: 'csv-time-has-offset',
    problem: 'The scenario says that the times carry no offset, but this one does.',
    allowed: 'times without offset',
    fix: 'remove the key `clock` from the scenario.',
  },
  'left-out-hour': {
    code: 'csv-no-such-time',
    problem: 'On this day the clocks are put forward, and this hour is left out.',
    allowed: 'times that the wall clock shows',
    fix: 'if the logger never changes its clock, write its offset in the scenario: `clock: "+01:00"`.',
  },
};

const isPadding = (code: number): boolean => code === SPACE || code === QUOTE || code === TAB;

function isBlank(text: string, start: number, end: number): boolean {
  for (let at = start; at < end; at++) if (text.charCodeAt(at) !== SPACE) return false;
  return true;
}

function countLines(text: string, start: number): number {
  let lines = 1;
  for (let at = text.indexOf('\n', start); at >= 0; at = text.indexOf('\n', at + 1)) lines++;
  return lines;
}
