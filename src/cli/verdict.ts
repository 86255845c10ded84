import { type Ask, unpricedSentences, VariantRefused } from '../index.ts';
import { isStudyName, type StudyReport, studyFiles, textTable } from '../report/index.ts';
import { askEngine, openEngine } from './engine.ts';
import { Exit, type ExitCode } from './exit-codes.ts';
import { chartFonts } from './fonts.ts';
import { InputProblem } from './problem.ts';
import { type EnteredBase, enterBase } from './study-base.ts';
import type { StudyOptions } from './study-options.ts';
import { studyProgress } from './study-progress.ts';
import { say, sayJson, styled, type Terminal } from './terminal.ts';
import { writeFolder } from './write-whole.ts';

/**
 * A command that runs many variants of a scenario and gives a verdict: through the door, onto the workers, into words and files.
 *
 * @param work  asks for what it needs and puts the report together
 */
export async function giveVerdict(
  file: string,
  what: string,
  options: StudyOptions,
  terminal: Terminal,
  work: (entered: EnteredBase, ask: Ask) => Promise<StudyReport>,
): Promise<ExitCode> {
  const entered = await enterBase(file, options.json === true, terminal);
  if (entered === null) return Exit.input;
  const engine = openEngine(entered.base, options.workers);
  const bar = studyProgress(terminal, what);
  try {
    const report = minding(await work(entered, askEngine(engine, bar.at)), unpricedSentences(entered.scenario.tariff));
    bar.end();
    await show(report, options, terminal, entered.warningRecords);
    return Exit.fine;
  } catch (error) {
    if (!(error instanceof VariantRefused)) throw error;
    throw new InputProblem(file, {
      code: 'variant-refused',
      problem: `A variant that this command needs does not pass the door. ${error.message}`,
      allowed: '',
      fix: 'change the scenario so that it can be varied',
    });
  } finally {
    bar.end();
    await engine.close();
  }
}

/** A report that tells more of what must be kept in mind. */
const minding = (report: StudyReport, sentences: readonly string[]): StudyReport => ({
  ...report,
  minded: { ...report.minded, sentences: [...report.minded.sentences, ...sentences] },
  json: { ...report.json, minded: sentences },
});

/** Prints a report, and writes its files where a folder is named. */
export async function show(
  report: StudyReport,
  options: StudyOptions,
  terminal: Terminal,
  warnings: readonly object[],
): Promise<void> {
  const names = options.out === undefined ? [] : await writeReport(report, options.out);
  if (options.json) {
    sayJson(terminal, { ...report.json, ...(options.out === undefined ? {} : { folder: options.out, files: names }), warnings });
    return;
  }
  say(terminal, styled(terminal.out, 'bold', report.title));
  for (const sentence of report.answer) say(terminal, `  ${sentence}`);
  if (report.minded.sentences.length > 0) {
    say(terminal, `\n${report.minded.heading}`);
    for (const sentence of report.minded.sentences) say(terminal, `  ${sentence}`);
  }
  for (const table of report.tables) say(terminal, `\n${textTable(table)}`);
  if (options.out !== undefined) say(terminal, `\n${names.length} files in ${options.out}: ${names.join(', ')}`);
}

/** Writes the files of a report into a folder. @returns their names */
export async function writeReport(report: StudyReport, folder: string): Promise<string[]> {
  const names = await writeFolder(folder, studyFiles(report, await chartFonts()), isStudyName);
  return names.sort();
}
