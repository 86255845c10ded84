import { type Catalogue, whatIfs } from '../index.ts';
import { answerOf, isOutputName, moneyText, type OutputFile, outputFiles, type RunFacts, summaryOf } from '../report/index.ts';
import { type Entered, enter } from './door.ts';
import { Exit, type ExitCode } from './exit-codes.ts';
import { factsOf, remarksOf } from './facts.ts';
import { chartFonts } from './fonts.ts';
import type { CommonOptions, LanguageOption } from './options.ts';
import { defaultFolder } from './out-folder.ts';
import { type Progress, progress } from './progress.ts';
import { type BothRuns, RUN_PARTS, runBoth } from './simulation.ts';
import { say, sayJson, styled, type Terminal } from './terminal.ts';
import { wordsFor } from './words.ts';
import { type NamedContent, writeFolder } from './write-whole.ts';

/** Options of `sixamp run`. */
export interface RunOptions extends CommonOptions, LanguageOption {
  readonly out?: string;
}

/** Files of a run, at most: how long the bar is. */
const MOST_FILES = 15;
/** Pieces of steps.csv between two looks at the bar. */
const PIECES_PER_LOOK = 16;

/** `sixamp run`: runs a scenario, writes the folder of its results, and prints the answer. */
export async function run(file: string, options: RunOptions, terminal: Terminal): Promise<ExitCode> {
  const words = wordsFor(options);
  const entered = await enter(file, options.json === true, terminal);
  if (entered === null) return Exit.input;
  const folder = options.out ?? defaultFolder(file);
  const facts = factsOf(entered, words);
  const { both, names } = await computeAndWrite(entered, facts, folder, words, terminal);
  if (options.json) {
    const summary = summaryOf(both.run, both.atOnce, facts, both.money);
    sayJson(terminal, { ok: true, ...summary, folder, files: names, warnings: entered.warningRecords });
    return Exit.fine;
  }
  say(terminal, styled(terminal.out, 'bold', entered.scenario.name));
  for (const sentence of answerOf(both.run, both.atOnce, words)) say(terminal, `  ${sentence}`);
  if (both.money !== null) for (const sentence of moneyText(both.money, words)) say(terminal, `  ${sentence}`);
  say(terminal, `  ${names.length} files in ${folder}: ${names.join(', ')}`);
  return Exit.fine;
}

async function computeAndWrite(
  { scenario, warnings }: Entered,
  facts: RunFacts,
  folder: string,
  words: Catalogue,
  terminal: Terminal,
): Promise<{ both: BothRuns; names: string[] }> {
  const bar = progress(terminal, RUN_PARTS + 1 + MOST_FILES);
  try {
    const both = await runBoth(scenario, bar);
    const changes = whatIfs(scenario, both.run, both.profiles);
    await bar.at(RUN_PARTS + 1, 'files');
    const remarks = remarksOf(warnings);
    const files = outputFiles({ ...both, scenario, whatIfs: changes, facts, remarks, words, fonts: await chartFonts() });
    const names = await writeFolder(folder, watched(files, bar), isOutputName);
    return { both, names: names.sort() };
  } finally {
    bar.end();
  }
}

/** The same files, telling the bar as they go by; a long one in between too. */
async function* watched(files: AsyncIterable<OutputFile>, bar: Progress): AsyncGenerator<NamedContent> {
  let done = RUN_PARTS + 1;
  for await (const { name, content } of files) {
    await bar.at(done, name);
    const isLong = typeof content !== 'string' && !(content instanceof Uint8Array);
    yield { name, content: isLong ? watchedPieces(content, () => bar.at(done, name)) : content };
    done++;
  }
}

async function* watchedPieces(
  pieces: Iterable<string | Uint8Array>,
  look: () => Promise<void>,
): AsyncGenerator<string | Uint8Array> {
  let count = 0;
  for (const piece of pieces) {
    if (count++ % PIECES_PER_LOOK === 0) await look();
    yield piece;
  }
}
