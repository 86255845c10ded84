/** Languages that pages for a customer come in. */
export const LANGUAGES = ['en', 'de'] as const;

/** One of them. */
export type Language = (typeof LANGUAGES)[number];

/** A text in every language: a missing one does not compile. */
export type InEveryLanguage<T = string> = Readonly<Record<Language, T>>;

/**
 * A number in the reader's form: decimal comma in German; no decimals that are zero.
 *
 * @example numberText(4.14, 2, 'de') // '4,14'
 * @example numberText(6.0, 1, 'en') // '6'
 */
export function numberText(value: number, decimals: number, language: Language): string {
  const text = String(Number(value.toFixed(decimals)) + 0);
  return (language === 'de' ? text.replace('.', ',') : text).replace('-', '−');
}
