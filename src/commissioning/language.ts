import { type Language, wordsOf } from '../explain/index.ts';

/** A text in every language: a missing one does not compile. */
export type InEveryLanguage<T = string> = Readonly<Record<Language, T>>;

/**
 * A number as a language writes it, at most so many decimals and none that are zero, with a true minus sign. No marks between
 * thousands: what was read off an instrument must not look like something else in another country.
 *
 * @example numberText(-4.14, 2, 'de') // '−4,14'
 * @example numberText(1000, 1, 'en') // '1000'
 */
export const numberText = (value: number, decimals: number, language: Language): string =>
  String(Number(value.toFixed(decimals)) + 0)
    .replace('.', wordsOf(language).form.decimal)
    .replace('-', '−');
