import { type Language, wordsOf } from '../explain/index.ts';

/** A text in every language: a missing one does not compile. */
export type InEveryLanguage<T = string> = Readonly<Record<Language, T>>;

/**
 * A number as a language writes it, at most so many decimals and none that are zero, with a true minus sign.
 *
 * @example numberText(-4.14, 2, 'de') // '−4,14'
 * @example numberText(6.0, 1, 'en') // '6'
 */
export const numberText = (value: number, decimals: number, language: Language): string =>
  wordsOf(language).form.plain(value, decimals).replace('-', '−');
