import { EN_FORM } from './lang/en-form.ts';

/** Numbers in English, for sentences that there are no other words for yet: see `lang/form.ts`. */
export const { kw, amps, plain, listed } = EN_FORM;

/** "one phase", "two phases", "three phases". */
export const phasesInWords = EN_FORM.onPhases;
