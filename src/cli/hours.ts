import { answerOf, moneyText, monthTable, summaryOf, sumsOf } from '../report/index.ts';
import { enter } from './door.ts';
import { Exit, type ExitCode } from './exit-codes.ts';
import { factsOf } from './facts.ts';
import type { CommonOptions, LanguageOption } from './options.ts';
import { progress } from './progress.ts';
import { RUN_PARTS, runBoth } from './simulation.ts';
import { say, sayJson, type Terminal } from './terminal.ts';
import { wordsFor } from './words.ts';

/** `sixamp hours`: the months of a run beside those of the same days charged at once, and the answer in words. */
export async function hours(file: string, options: CommonOptions & LanguageOption, terminal: Terminal): Promise<ExitCode> {
  const words = wordsFor(options);
  const entered = await enter(file, options.json === true, terminal);
  if (entered === null) return Exit.input;
  const bar = progress(terminal, RUN_PARTS);
  const { run, atOnce, money } = await runBoth(entered.scenario, bar).finally(() => bar.end());
  if (options.json) {
    const facts = factsOf(entered, words);
    const months = run.ledger.months.map(({ year, month, tally }, i) => {
      const beside = atOnce.ledger.months[i];
      return {
        year,
        month,
        run: sumsOf(tally, facts.pointNames),
        chargedAtOnce: beside && sumsOf(beside.tally, facts.pointNames),
      };
    });
    sayJson(terminal, { ok: true, ...summaryOf(run, atOnce, facts, money), months, warnings: entered.warningRecords });
    return Exit.fine;
  }
  say(terminal, monthTable(run, atOnce, words));
  for (const sentence of answerOf(run, atOnce, words)) say(terminal, sentence);
  if (money !== null) for (const sentence of moneyText(money, words)) say(terminal, sentence);
  return Exit.fine;
}
