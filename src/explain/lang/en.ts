import { EN_ACCOUNT } from './en-account.ts';
import { EN_MEANING } from './en-meaning.ts';
import { EN_REPORT } from './en-report.ts';
import type { Catalogue } from './catalogue.ts';
import { EN_FORM } from './en-form.ts';

/** English. */
export const EN: Catalogue = { language: 'en', form: EN_FORM, ...EN_ACCOUNT, ...EN_MEANING, ...EN_REPORT };
