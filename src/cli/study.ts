import { dirname, resolve } from 'node:path';
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
import { defaultFolder } from './out-folder.ts';
import { MAX_SCENARIO_BYTES, readText } from './read-file.ts';
import { enterBase, textsOf } from './study-base.ts';
import type { StudyOptions } from './study-options.ts';
import { studyProgress } from './study-progress.ts';
import { remark, type Terminal } from './terminal.ts';
import { show } from './verdict.ts';
import { packageVersion } from './version.ts';
import { refused } from './wiring.ts';

/** Options of `sixamp study`. */
export interface SurveyOptions extends StudyOptions {
  readonly anew?: boolean;
}

/** `sixamp study`: any keys of a scenario as axes, any results as columns. */
export async function study(file: string, options: SurveyOptions, terminal: Terminal): Promise<ExitCode> {
  const read = readStudy(await readText(file, file, MAX_SCENARIO_BYTES), file);
  if (!read.ok) return refused(read, file, options.json === true, terminal);
  const survey = read.value;
  const scenarioFile = resolve(dirname(file), survey.study.scenario);
  const entered = await enterBase(scenarioFile, options.json === true, terminal, false);
  if (entered === null) return Exit.input;
  const named = await textsOf(filesInAxes(survey), dirname(scenarioFile));
  const base: StudyBase = { raw: entered.base.raw, files: new Map([...entered.base.files, ...named]) };
  const out = options.out ?? defaultFolder(file);
  const { done, journal } = await resumed(survey, base, out, options, terminal);
  try {
    const report = await surveyReport(survey, rowsOf(survey, done));
    await show(report, { ...options, out }, terminal, entered.warningRecords);
    journal.remove();
  } finally {
    journal.close();
  }
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
    return { done, journal };
  } catch (error) {
    journal.close();
    throw error;
  } finally {
    bar.end();
    await engine.close();
  }
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
