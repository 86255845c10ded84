import { type Catalogue, type Language, wordsOf } from '../../index.ts';
import { de } from './de.ts';
import { en, type Words } from './en.ts';
import { type Form, formOf } from './form.ts';

export type { Form, Words };

/** All words of a language with its numbers and dates. */
export interface Speech {
  readonly language: Language;
  readonly words: Words;
  /** The core's own words: names of states and the like. */
  readonly core: Catalogue;
  readonly form: Form;
}

export const SPEECH: Readonly<Record<Language, Speech>> = {
  en: { language: 'en', words: en, core: wordsOf('en'), form: formOf('en-GB') },
  de: { language: 'de', words: de, core: wordsOf('de'), form: formOf('de-DE') },
};
