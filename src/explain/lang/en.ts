import type { Catalogue } from './catalogue.ts';
import { EN_ACCOUNT } from './en-account.ts';
import { EN_CONFLICTS } from './en-conflicts.ts';
import { EN_FORM } from './en-form.ts';
import { EN_MEANING } from './en-meaning.ts';
import { EN_REPORT } from './en-report.ts';

/** English. */
export const EN: Catalogue = {
  language: 'en',
  form: EN_FORM,
  conflicts: EN_CONFLICTS,
  ...EN_ACCOUNT,
  ...EN_MEANING,
  ...EN_REPORT,
};
