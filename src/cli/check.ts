import { meaningOf } from '../index.ts';
import { enter } from './door.ts';
import { Exit, type ExitCode } from './exit-codes.ts';
import type { CommonOptions, LanguageOption } from './options.ts';
import { say, sayJson, styled, type Terminal } from './terminal.ts';
import { wordsFor } from './words.ts';

/** `sixamp check`: everything that is wrong with a scenario, or, if nothing is, what it means in words. */
export async function check(file: string, options: CommonOptions & LanguageOption, terminal: Terminal): Promise<ExitCode> {
  const words = wordsFor(options);
  const entered = await enter(file, options.json === true, terminal);
  if (entered === null) return Exit.input;
  const { scenario, warningRecords } = entered;
  const meaning = meaningOf(scenario, words);
  if (options.json) {
    sayJson(terminal, { ok: true, scenario: scenario.name, meaning, warnings: warningRecords });
    return Exit.fine;
  }
  say(terminal, styled(terminal.out, 'bold', scenario.name));
  for (const sentence of meaning) say(terminal, `  ${sentence}`);
  return Exit.fine;
}
