/** Options that every command takes. */
export interface CommonOptions {
  /** One JSON object on the standard output instead of text. */
  readonly json?: boolean;
}

/** The language of sentences, tables and charts. */
export interface LanguageOption {
  readonly lang?: string;
}
