import type { Language } from '../explain/index.ts';
import { numberText } from './language.ts';
import type { Range } from './pilot-levels.ts';
import type { PilotLine, PilotLines, ProximityLine } from './pilot-lines.ts';
import { PILOT_WORDS, type PilotWords } from './pilot-words.ts';

/** A line as four texts: what it is, what was measured (empty: blank), what was published, how the two compare. */
export interface LineText {
  readonly name: string;
  readonly measured: string;
  readonly published: string;
  readonly verdict: string;
  /** Published value that rests on memory only. */
  readonly fromMemory: boolean;
  readonly isOutside: boolean;
}

/** Decimals that an instrument gives, by quantity. */
const DECIMALS = { voltageV: 2, lowV: 2, dutyPercent: 1, frequencyHz: 0, contactor: 0 } as const;

/** A line of the pilot signal in words. */
export function pilotLineText(line: PilotLine, language: Language): LineText {
  const words = PILOT_WORDS[language];
  const decimals = DECIMALS[line.quantity];
  const shown = typeof line.measured === 'number' ? numberText(line.measured, decimals, language) : wordFor(line.measured, words);
  return {
    name: `${words.states[line.state]}: ${words.quantities[line.quantity]}`,
    measured: shown,
    published: line.allowed === null ? '' : allowedText(line.allowed, decimals, words, language),
    verdict: [words.verdicts[line.verdict], offerText(line, words, language)].filter((text) => text !== '').join('; '),
    fromMemory: line.sure === 'from-memory',
    isOutside: line.verdict === 'outside',
  };
}

const wordFor = (measured: 'open' | 'closed' | null, words: PilotWords): string =>
  measured === null ? '' : words.contactor[measured];

const allowedText = (allowed: Range | 'open' | 'closed', decimals: number, words: PilotWords, language: Language): string =>
  typeof allowed === 'string' ? words.contactor[allowed] : rangeText(allowed, decimals, language);

/** A range, ends included: `8 … 10`. */
export const rangeText = ({ min, max }: Range, decimals: number, language: Language): string =>
  `${numberText(min, decimals, language)}\u00a0…\u00a0${numberText(max, decimals, language)}`;

function offerText({ offer }: PilotLine, words: PilotWords, language: Language): string {
  if (offer === null) return '';
  return offer.kind === 'current' ? words.offers(numberText(offer.currentA, 1, language)) : words.offer[offer.kind];
}

/** The line of the cable's resistor in words. */
export function proximityText(line: ProximityLine, language: Language): LineText {
  const words = PILOT_WORDS[language];
  const codedText = line.codedA === null ? words.noCode : words.proximityCode(numberText(line.codedA, 0, language));
  const coded = line.measuredOhm === null ? '' : codedText;
  const published = line.allowed === null ? words.anyCode : rangeText(line.allowed, 0, language);
  return {
    name: words.proximity,
    measured: line.measuredOhm === null ? '' : numberText(line.measuredOhm, 0, language),
    published: line.cableA === null ? published : `${published} (${words.cable(numberText(line.cableA, 0, language))})`,
    verdict: [words.verdicts[line.verdict], coded].filter((text) => text !== '').join('; '),
    fromMemory: true,
    isOutside: line.verdict === 'outside',
  };
}

/** What the failing lines usually mean, each cause once, in the order of the lines. */
export function causeTexts({ pilot, proximity }: PilotLines, language: Language): string[] {
  const causes = new Set([...pilot.map(({ cause }) => cause), proximity.cause]);
  return [...causes].flatMap((cause) => (cause === null ? [] : [PILOT_WORDS[language].causes[cause]]));
}

/** The fine print: where published values come from, and which rest on memory only. */
export const pilotFinePrint = (language: Language): string =>
  PILOT_WORDS[language].finePrint(PILOT_WORDS[language].fromMemory.join('; '));
