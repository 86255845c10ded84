import { type Catalogue, wordsOf } from '../index.ts';
import { languageOf } from './language.ts';
import type { LanguageOption } from './options.ts';

/** The words that an option asks for; English where it is left out. */
export const wordsFor = ({ lang }: LanguageOption): Catalogue => wordsOf(languageOf(lang));
