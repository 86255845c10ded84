import { basename, dirname, extname, join, resolve } from 'node:path';
import {
  type Json,
  meansOf,
  readStudy,
  type StudyBase,
  type StudyRow,
  type Survey,
  surveyVariants,
  type Task,
  type TaskResult,
} from '../index.ts';
import { surveyReport } from '../report/index.ts';
import { openEngine } from './engine.ts';
import { Exit, type ExitCode } from './exit-codes.ts';
import { openJournal } from './journal.ts';
import { MAX_SCENARIO_BYTES, readText } from './read-file.ts';
import { enterBase, studyProblem, textsOf } from './study-base.ts';
import type { StudyOptions } from './study-options.ts';
import { studyProgress } from './study-progress.ts';
import { remark, type Terminal } from './terminal.ts';
import { show } from './verdict.ts';
import { packageVersion } from './version.ts';

/** Options of `sixamp study`. */
export interface SurveyOptions extends StudyOptions {
  readonly anew?: boolean;
}

/** `sixamp study`: any keys of a scenario as axes, any results as columns. */
export async function study(file: string, options: SurveyOptions, terminal: Terminal): Promise<ExitCode> {
  const read = readStudy(await readText(file, file, MAX_SCENARIO_BYTES), file);
  if (!read.ok) throw studyProblem(file, read.issues);
  const survey = read.value;
  const scenarioFile = resolve(dirname(file), survey.study.scenario);
  const entered = await enterBase(scenarioFile, options.json === true, terminal, false);
  if (entered === null) return Exit.input;
  const named = await textsOf(filesInAxes(survey), dirname(scenarioFile));
  const base: StudyBase = { raw: entered.base.raw, files: new Map([...entered.base.files, ...named]) };
  const out = options.out ?? join('out', basename(file, extname(file)));
  const results = await resumed(survey, base, out, options, terminal);
  const report = await surveyReport(survey, rowsOf(survey, results.done));
  await show(report, { ...options, out }, terminal, entered.warningRecords);
  results.journal.remove();
  return Exit.fine;
}

/** Files that the values of an axis name: every text under a key that ends in `file`. */
function filesInAxes({ axes }: Survey): string[] {
  return axes.flatMap(({ keys, values }) =>
    values.flatMap((entry) =>
      entry.filter((value, i): value is string => typeof value === 'string' && /(^|\.)file$/.test(keys[i] ?? '')),
    ),
  );
}

/** Runs what an earlier run has not done yet. */
async function resumed(survey: Survey, base: StudyBase, out: string, options: SurveyOptions, terminal: Terminal) {
  const { outputs, years } = survey.study;
  const tasks = surveyVariants(survey).map((variant, index): Task => ({ index, variant, outputs, monthly: [] }));
  const what = { version: packageVersion(), raw: base.raw, files: [...base.files], rows: survey.rows, years, outputs };
  const journal = openJournal(out, what, options.anew === true);
  const done = new Map(journal.found.map((result) => [result.index, result]));
  if (done.size > 0 && options.json !== true)
    remark(terminal, `Going on: ${done.size} of ${tasks.length} variants were done already.`);
  const left = tasks.filter(({ index }) => !done.has(index));
  const bar = studyProgress(terminal, 'variants');
  const engine = openEngine(base, options.workers);
  try {
    let count = 0;
    await engine.run(left, async (result) => {
      done.set(result.index, result);
      // What failed is tried again by a later run.
      if (!('problem' in result)) journal.add(result);
      await bar.at(++count, left.length);
    });
  } finally {
    bar.end();
    await engine.close();
    journal.close();
  }
  return { done, journal };
}

/** The rows of a study in their order, each with the means of its years. */
function rowsOf({ rows, study: { years } }: Survey, done: ReadonlyMap<number, TaskResult>): StudyRow[] {
  return rows.map((keys: Readonly<Record<string, Json>>, i): StudyRow => {
    const results = Array.from({ length: years }, (_, year) => done.get(i * years + year));
    const failed = results.find((result) => result === undefined || 'problem' in result);
    if (failed !== undefined && 'problem' in failed) return { keys, values: {}, problem: failed.problem };
    return {
      keys,
      values: meansOf(results.map((result) => (result !== undefined && 'values' in result ? result.values : {}))),
      problem: null,
    };
  });
}
