import { type Checked, failed, type Issue, isoWithOffset, MS_PER_H, MS_PER_S, passed, S_PER_MIN } from '../base/index.ts';
import { type ColumnSpec, type CsvTable, Findings, readCsv } from '../scenario/index.ts';

/** Rows of a log in the order of time. Values are means over the interval that begins at the row's time; NaN where a cell was empty. */
export interface LogTable {
  readonly file: string;
  readonly rows: number;
  /** The most common time from one row to the next, s. */
  readonly intervalS: number;
  readonly atMs: Float64Array;
  /** 1 where rows are missing just before this one: no change across it means anything. */
  readonly gapBefore: Uint8Array;
  readonly columns: ReadonlyMap<string, Float64Array>;
}

/** A column of numbers; which of them a log must have is for its reader to say. */
export const logColumn = (name: string, min: number, max: number, unit: string): ColumnSpec => ({
  name,
  kind: 'number',
  required: false,
  min,
  max,
  unit,
});

const TIME: ColumnSpec = { name: 'time', kind: 'time', required: true, min: -Infinity, max: Infinity, unit: '' };

/** Longest interval from which a verdict is given: beyond it starts and stops drown in means. */
const MAX_INTERVAL_S = 60;
const LEAST_ROWS = 10;
/** Rows that come early or late by more than this part of the interval are not at even times. */
const JITTER_SHARE = 0.5;
/** So many rows in a hundred may be at odd times before the log is refused. */
const ODD_ROWS_SHARE = 0.02;

/**
 * Reads a log as loggers write them, and repairs what can be repaired without guessing: rows from last to first, rows that stand twice,
 * pieces in the wrong order, the hour that autumn repeats. Every repair is among the warnings; what is left is an error.
 */
export function readLog(text: string, file: string, columns: readonly ColumnSpec[]): Checked<LogTable> {
  if (/^\uFEFF?\s*"?\d{4}-\d{2}-\d{2}/.test(text)) return failed([noHeader(file, columns)]);
  const { table, findings, hasOffset } = readRows(text, file, [[TIME, ...columns]]);
  if (table === null || findings.any) return failed(findings.issues.map(aboutLog));
  if (table.rows < LEAST_ROWS) {
    const problem = `The log has ${table.rows === 1 ? 'one row' : `${table.rows} rows`}; nothing can be told from so few.`;
    findings.wrong({ ...at(1), code: 'log-too-short', problem, allowed: `${LEAST_ROWS} rows or more`, fix: 'log for longer.' });
    return failed(findings.issues);
  }
  const ordered = inOrder(table, hasOffset, findings);
  if (ordered === null) return failed(findings.issues);
  const log = spaced(ordered, file, findings);
  return log === null ? failed(findings.issues) : passed(log, findings.warnings.map(aboutLog));
}

const noHeader = (file: string, columns: readonly ColumnSpec[]): Issue => ({
  code: 'log-no-header',
  path: [],
  found: '',
  problem: 'The first line holds values, not the names of the columns.',
  allowed: `time and names out of ${columns.map(({ name }) => name).join(', ')}`,
  fix: 'write the names of the columns into a first line.',
  place: { file, line: 1, column: 1 },
});

const at = (line: number) => ({ line, column: 1, found: '' });

/** Rows as they stand. Times without an offset are taken as they are: only differences between them matter. */
function readRows(
  text: string,
  file: string,
  layouts: readonly (readonly ColumnSpec[])[],
): { table: CsvTable | null; findings: Findings; hasOffset: boolean } {
  const findings = new Findings(file, []);
  const table = readCsv(text, layouts, { kind: 'offset' }, findings, '');
  if (!findings.issues.some(({ code }) => code === 'csv-time-lacks-offset')) return { table, findings, hasOffset: true };
  const again = new Findings(file, []);
  const local = readCsv(text, layouts, { kind: 'fixed', offsetS: 0 }, again, '');
  // Where some times carry an offset and some do not, the fewer of them are told.
  if (findings.total < again.total) return { table, findings, hasOffset: true };
  again.note({
    ...at(local?.line[0] ?? 1),
    code: 'log-no-offset',
    problem: 'The times do not say how far they are from UTC.',
    allowed: 'they are taken as they stand; only the differences between them are used',
    fix: 'add Z or an offset to each time to silence this.',
  });
  return { table: local, findings: again, hasOffset: false };
}

/** Advice of the CSV reader that speaks of a scenario's keys, for a log, which has none. */
function aboutLog(issue: Issue): Issue {
  if (issue.code !== 'csv-time-has-offset' && issue.code !== 'csv-time-lacks-offset') return issue;
  return {
    ...issue,
    code: 'log-offsets-mixed',
    problem: 'Some times carry an offset and some do not.',
    allowed: 'all times in one form',
    fix: 'write all times in one form.',
  };
}

interface Ordered {
  readonly atMs: Float64Array;
  /** Row of the table that each row came from. */
  readonly from: readonly number[];
  readonly table: CsvTable;
  readonly sorted: boolean;
}

function inOrder(table: CsvTable, hasOffset: boolean, findings: Findings): Ordered | null {
  const times = table.columns.get('time') ?? new Float64Array(0);
  let atMs = Array.from(times);
  let from = atMs.map((_, i) => i);
  const back = stepsBack(atMs);
  let sorted = false;
  if (back.length > atMs.length / 2) {
    from.reverse();
    atMs = from.map((i) => times[i] ?? 0);
    const problem = 'The rows run from the last to the first.';
    findings.note({
      ...at(table.line[0] ?? 1),
      code: 'log-reversed',
      problem,
      allowed: 'rows read backwards',
      fix: 'sort the file by time to silence this.',
    });
  } else if (back.length === 1 && !hasOffset && isRepeatedHour(atMs, back[0] ?? 0)) {
    const first = back[0] ?? 0;
    atMs = atMs.map((ms, i) => (i >= first ? ms + MS_PER_H : ms));
    const problem = 'The clock is put back by an hour here, as at the end of summer time.';
    findings.note({
      ...at(table.line[first] ?? 1),
      code: 'log-hour-twice',
      problem,
      allowed: 'the rows from here on follow those before them',
      fix: 'log in UTC or with an offset to silence this.',
    });
  }
  const stillBack = stepsBack(atMs);
  if (stillBack.length > 0) {
    sorted = true;
    const order = atMs.map((_, i) => i).sort((a, b) => (atMs[a] ?? 0) - (atMs[b] ?? 0) || a - b);
    from = order.map((i) => from[i] ?? 0);
    atMs = order.map((i) => atMs[i] ?? 0);
    const line = table.line[stillBack[0] ?? 0] ?? 1;
    const times = stillBack.length === 1 ? 'once' : `${stillBack.length} times`;
    findings.note({
      ...at(line),
      code: 'log-sorted',
      problem: `The time steps back ${times}, here first.`,
      allowed: 'rows sorted by time',
      fix: 'sort the file by time to silence this.',
    });
  }
  return withoutTwins({ atMs: Float64Array.from(atMs), from, table, sorted }, findings);
}

/** Rows at which the time steps back. */
const stepsBack = (atMs: readonly number[]): number[] => atMs.flatMap((ms, i) => (i > 0 && ms < (atMs[i - 1] ?? 0) ? [i] : []));

/** Whether the clock was put back by one hour between two rows that otherwise follow each other. */
function isRepeatedHour(atMs: readonly number[], row: number): boolean {
  const before = (atMs[row - 1] ?? 0) - (atMs[row - 2] ?? 0);
  const onwards = (atMs[row] ?? 0) + MS_PER_H - (atMs[row - 1] ?? 0);
  return before > 0 && Math.abs(onwards - before) <= before * JITTER_SHARE;
}

/** Leaves out rows that stand twice; two rows of one time that differ are an error. */
function withoutTwins(ordered: Ordered, findings: Findings): Ordered | null {
  const { atMs, from, table } = ordered;
  const keep: number[] = [];
  let twins = 0;
  let firstTwin = 1;
  for (let i = 0; i < atMs.length; i++) {
    const last = keep[keep.length - 1];
    if (last === undefined || atMs[i] !== atMs[last]) {
      keep.push(i);
      continue;
    }
    const line = table.line[from[i] ?? 0] ?? 1;
    if (!sameValues(table, from[last] ?? 0, from[i] ?? 0)) {
      findings.wrong({
        ...at(line),
        found: `time = ${isoWithOffset(atMs[i] ?? 0, 0)}`,
        code: 'log-time-twice',
        problem: `The same time stands in line ${table.line[from[last] ?? 0] ?? 1} with other values; the clock may have been put back.`,
        allowed: 'each time once',
        fix: 'log in UTC, or cut the file where the clock was put back and give one part.',
      });
      continue;
    }
    if (twins++ === 0) firstTwin = line;
  }
  if (findings.any) return null;
  if (twins > 0) {
    const problem = twins === 1 ? 'One row stands twice.' : `${twins} rows stand twice, here the first.`;
    findings.note({
      ...at(firstTwin),
      code: 'log-rows-twice',
      problem,
      allowed: 'each row once',
      fix: 'remove them from the file to silence this.',
    });
  }
  return { ...ordered, atMs: Float64Array.from(keep, (i) => atMs[i] ?? 0), from: keep.map((i) => from[i] ?? 0) };
}

function sameValues(table: CsvTable, a: number, b: number): boolean {
  for (const values of table.columns.values()) if (!Object.is(values[a], values[b])) return false;
  return true;
}

/** Finds the interval, and where rows are missing. */
function spaced({ atMs, from, table, sorted }: Ordered, file: string, findings: Findings): LogTable | null {
  const differences = Array.from(atMs.subarray(1), (ms, i) => ms - (atMs[i] ?? 0));
  const intervalMs = [...differences].sort((a, b) => a - b)[Math.floor(differences.length / 2)] ?? 0;
  const early = differences.filter((ms) => ms < intervalMs * JITTER_SHARE).length;
  if (early > (sorted ? 0 : differences.length * ODD_ROWS_SHARE)) {
    const first = differences.findIndex((ms) => ms < intervalMs * JITTER_SHARE) + 1;
    findings.wrong({
      ...at(table.line[from[first] ?? 0] ?? 1),
      code: 'log-uneven',
      problem: `Most rows are ${intervalMs / MS_PER_S} s apart, but ${early === 1 ? 'one comes' : `${early} come`} sooner, here the first; the clock may have been put back.`,
      allowed: 'rows at even times; whole rows may be missing',
      fix: 'log at a fixed interval, or cut the file where the clock was put back.',
    });
    return null;
  }
  if (intervalMs > MAX_INTERVAL_S * MS_PER_S) {
    const problem = `The rows are ${intervalMs / MS_PER_S} s apart: starts and stops drown in such long means.`;
    findings.wrong({
      ...at(table.line[0] ?? 1),
      code: 'log-too-coarse',
      problem,
      allowed: `up to ${MAX_INTERVAL_S} s`,
      fix: 'log once a minute or more often.',
    });
    return null;
  }
  const gapBefore = Uint8Array.from(atMs, (_, i) => (i > 0 && isGap(differences[i - 1] ?? 0, intervalMs) ? 1 : 0));
  noteGaps(differences, intervalMs, (i) => table.line[from[i] ?? 0] ?? 1, findings);
  const columns = new Map<string, Float64Array>();
  for (const [name, values] of table.columns) {
    if (name !== 'time')
      columns.set(
        name,
        Float64Array.from(from, (i) => values[i] ?? Number.NaN),
      );
  }
  return { file, rows: atMs.length, intervalS: intervalMs / MS_PER_S, atMs, gapBefore, columns };
}

const isGap = (differenceMs: number, intervalMs: number): boolean =>
  Math.abs(differenceMs - intervalMs) > intervalMs * JITTER_SHARE;

function noteGaps(differences: readonly number[], intervalMs: number, lineOf: (row: number) => number, findings: Findings): void {
  const gaps = differences.flatMap((ms, i) => (ms > intervalMs && isGap(ms, intervalMs) ? [i] : []));
  const first = gaps[0];
  if (first === undefined) return;
  const longestMs = Math.max(...gaps.map((i) => differences[i] ?? 0));
  findings.note({
    ...at(lineOf(first + 1)),
    code: 'log-gaps',
    problem:
      `Rows are missing in ${gaps.length === 1 ? 'one place' : `${gaps.length} places`}, here ${gaps.length === 1 ? '' : 'the first'}, for up to ${minutes(longestMs)}; a clock that was put forward looks the same.`.replace(
        ' ,',
        ',',
      ),
    allowed: 'nothing is concluded across a gap',
    fix: 'look at the logger if the gap was not meant.',
  });
}

const minutes = (ms: number): string => {
  const s = ms / MS_PER_S;
  return s < 2 * S_PER_MIN ? `${Number(s.toFixed(0))} s` : `${Number((s / S_PER_MIN).toFixed(1))} min`;
};
