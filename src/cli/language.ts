import { LANGUAGES, type Language } from '../index.ts';
import { InputProblem } from './problem.ts';

/** The language that an option asks for. */
export function languageOf(option: string | undefined): Language {
  const found = LANGUAGES.find((language) => language === (option ?? 'en'));
  if (found !== undefined) return found;
  throw new InputProblem('--lang', {
    code: 'language-unknown',
    found: String(option),
    problem: 'There are no words in this language.',
    allowed: LANGUAGES.join(', '),
    fix: 'write one of them',
  });
}
