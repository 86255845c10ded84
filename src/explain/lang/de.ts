import { DE_ACCOUNT } from './de-account.ts';
import { DE_MEANING } from './de-meaning.ts';
import { DE_REPORT } from './de-report.ts';
import type { Catalogue } from './catalogue.ts';
import { DE_FORM } from './de-form.ts';

/** German. */
export const DE: Catalogue = { language: 'de', form: DE_FORM, ...DE_ACCOUNT, ...DE_MEANING, ...DE_REPORT };
