import type { Catalogue, Language } from './catalogue.ts';
import { DE } from './de.ts';
import { EN } from './en.ts';

export * from './catalogue.ts';
export { DE } from './de.ts';
export { EN } from './en.ts';
export type { CivilDate, Form } from './form.ts';

/** The words of a language. */
export const wordsOf = (language: Language): Catalogue => ({ en: EN, de: DE })[language];
