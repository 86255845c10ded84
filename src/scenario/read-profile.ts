import { type Checked, failed, passed, UTC } from '../base/index.ts';
import type { StandardProfile } from '../house/index.ts';
import { PROFILE_COLUMNS, PROFILE_DAYS } from './columns.ts';
import { clockOf } from './csv-time.ts';
import { Findings } from './findings.ts';
import type { CsvSource } from './measured.ts';
import { type CsvTable, readCsv } from './read-csv.ts';

/** Reads a standard profile: `hour,winter_workday,…,summer_sunday`, the values of a day from hour 0 on at even steps. */
export function readProfileCsv(source: CsvSource): Checked<StandardProfile> {
  const findings = new Findings(source.file, source.path);
  const table = readCsv(source.text, PROFILE_COLUMNS, clockOf('offset', UTC), findings);
  if (table === null || findings.any) return failed(findings.issues);
  checkHours(table, findings);
  checkCells(table, findings);
  if (findings.any) return failed(findings.issues);
  const day = (name: string): Float64Array => table.columns.get(name) ?? new Float64Array(0);
  const season = (name: string) => ({
    workday: day(`${name}_workday`),
    saturday: day(`${name}_saturday`),
    sunday: day(`${name}_sunday`),
  });
  return passed({ winter: season('winter'), transition: season('transition'), summer: season('summer') }, findings.warnings);
}

/** The rows must be the parts of one day, evenly from midnight on, each an hour or a whole part of one. */
function checkHours({ rows, columns, line }: CsvTable, findings: Findings): void {
  const hours = columns.get('hour') ?? new Float64Array(0);
  const fits = rows >= 24 && rows % 24 === 0 && 3600 % (rows / 24) === 0;
  const wrong = hours.findIndex((hour, i) => !(Math.abs(hour - (24 * i) / rows) < 0.001));
  if (fits && wrong < 0) return;
  const at = fits ? Math.max(0, wrong) : Math.max(0, rows - 1);
  const problem = fits
    ? `Row ${at + 1} of ${rows} does not begin at hour ${Number(((24 * at) / rows).toFixed(3))} of the day.`
    : `The file has ${rows} rows, which are not the hours, quarter-hours or minutes of a day.`;
  findings.wrong({
    code: 'profile-hours',
    line: line[at] ?? 1,
    column: 1,
    found: `hour = ${hours[at] ?? ''}`,
    problem,
    allowed: '24, 48, 96 … rows; hour = 0, 0.25, 0.5 … 23.75 for quarter-hours, where each begins',
    fix: 'write the hour at which each value begins, from 0 on.',
  });
}

function checkCells({ columns, line }: CsvTable, findings: Findings): void {
  for (const name of PROFILE_DAYS) {
    const empty = (columns.get(name) ?? new Float64Array(0)).findIndex((value) => Number.isNaN(value));
    if (empty < 0) continue;
    const problem = `${name} has no value here.`;
    const fix = 'fill every cell; a season that the file does not know takes the values of another.';
    findings.wrong({
      code: 'profile-empty-cell',
      line: line[empty] ?? 1,
      column: 1,
      found: name,
      problem,
      allowed: 'a number',
      fix,
    });
  }
  const nothing = PROFILE_DAYS.every((name) => columns.get(name)?.every((value) => value === 0));
  if (!nothing || findings.any) return;
  const problem = 'All values are 0, so that nothing can be scaled to the year.';
  findings.wrong({
    code: 'profile-zero',
    line: 1,
    column: 1,
    found: '',
    problem,
    allowed: 'some values above 0',
    fix: 'write values.',
  });
}
