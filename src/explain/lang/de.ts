import type { Catalogue } from './catalogue.ts';
import { DE_ACCOUNT } from './de-account.ts';
import { DE_CONFLICTS } from './de-conflicts.ts';
import { DE_FORM } from './de-form.ts';
import { DE_MEANING } from './de-meaning.ts';
import { DE_REPORT } from './de-report.ts';

/** German. */
export const DE: Catalogue = {
  language: 'de',
  form: DE_FORM,
  conflicts: DE_CONFLICTS,
  ...DE_ACCOUNT,
  ...DE_MEANING,
  ...DE_REPORT,
};
