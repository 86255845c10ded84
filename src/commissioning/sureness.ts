import type { InEveryLanguage } from './language.ts';

/** How a published value came here: its document was read, another text that cites it was read, or it is known from memory only. */
export type Sureness = 'read' | 'second-hand' | 'from-memory';

/** What stands in fine print beside a value. */
export const SURENESS_TEXT: InEveryLanguage<Readonly<Record<Sureness, string>>> = {
  en: {
    read: 'read in the published text',
    'second-hand': 'read in a text that cites it, not in the standard itself',
    'from-memory': 'from memory, not verified',
  },
  de: {
    read: 'im veröffentlichten Text gelesen',
    'second-hand': 'in einem Text gelesen, der die Quelle anführt, nicht in der Norm selbst',
    'from-memory': 'aus dem Gedächtnis, nicht überprüft',
  },
};

/** A published value with where it comes from. */
export interface Published<T> {
  readonly value: T;
  readonly source: string;
  readonly sure: Sureness;
}
