import { type GridRuleName, gridRule, type Scenario } from '../scenario/index.ts';
import { type InEveryLanguage, numberText } from './language.ts';
import type { Sureness } from './sureness.ts';

/** Something that must be reported to the grid operator, or needs its consent; never without "check locally". */
export interface Duty {
  readonly rule: GridRuleName;
  /** What is asked, in the reader's language. */
  readonly text: InEveryLanguage;
  /** Whether this household falls under it, by the rated power of its charge points; null: not told by it. */
  readonly applies: boolean | null;
  readonly source: string;
  /** Year or day of the rule as its source states it, or `undated`. */
  readonly stand: string;
  readonly sure: Sureness;
}

/** What a country's grid operators ask of a charge point, as far as it could be traced, held against a household. */
export function dutiesOf({ supply, chargePoints }: Scenario): Duty[] {
  const { country, voltageV } = supply;
  if (country === null) return [];
  const eachKVA = chargePoints.map(({ charger }) => ratedKVA(charger.phases, charger.maxCurrentA, voltageV));
  return RULES.flatMap(({ rule, text, applies }): Duty[] => {
    const found = gridRule(country, rule);
    if (found === null) return [];
    const { value, source, stand, sure } = found;
    return [{ rule, text: text(value), applies: applies(value, eachKVA), source, stand, sure }];
  });
}

/** What a charge point can draw at most, kVA; a switchable one on three phases. */
export const ratedKVA = (phases: 1 | 3 | 'switchable', maxCurrentA: number, voltageV: number): number =>
  ((phases === 1 ? 1 : 3) * voltageV * maxCurrentA) / 1000;

interface RuleWords {
  readonly rule: GridRuleName;
  readonly text: (value: number) => InEveryLanguage;
  readonly applies: (value: number, eachKVA: readonly number[]) => boolean | null;
}

const both =
  (en: (value: string) => string, de: (value: string) => string, decimals: number, scale = 1) =>
  (value: number) => ({
    en: en(numberText(value * scale, decimals, 'en')),
    de: de(numberText(value * scale, decimals, 'de')),
  });

/** Standards round: 3 × 16 A at 230 V is 11.04 kVA and called 11; this much above a limit is not above it. */
const ROUNDING_KVA = 0.05;
const anyAbove = (limit: number, eachKVA: readonly number[]): boolean => eachKVA.some((kVA) => kVA > limit + ROUNDING_KVA);

/** The rules that are duties, in the order in which they matter. */
const RULES: readonly RuleWords[] = [
  {
    rule: 'notifyAboveKVA',
    text: both(
      (v) => `Report charge points above ${v} kVA to the grid operator before they are put into use.`,
      (v) => `Ladepunkte über ${v} kVA vor der Inbetriebnahme beim Netzbetreiber melden.`,
      2,
    ),
    applies: anyAbove,
  },
  {
    rule: 'notifyWithinDays',
    text: both(
      (v) =>
        `Report the charge point to the network operator within ${v} days, where its conditions are met; otherwise apply before connecting.`,
      (v) =>
        `Den Ladepunkt binnen ${v} Tagen beim Netzbetreiber melden, wenn dessen Bedingungen erfüllt sind; sonst vor dem Anschluss beantragen.`,
      0,
    ),
    applies: () => null,
  },
  {
    rule: 'approvalAboveKVA',
    text: both(
      (v) => `Above ${v} kVA of rated power together, the grid operator must agree first.`,
      (v) => `Über ${v} kVA Summenleistung muss der Netzbetreiber vorher zustimmen.`,
      2,
    ),
    applies: (limit, eachKVA) => eachKVA.reduce((sum, kVA) => sum + kVA, 0) > limit + ROUNDING_KVA,
  },
  {
    rule: 'threePhaseAboveKVA',
    text: both(
      (v) => `Above ${v} kVA a charge point must be connected on three phases.`,
      (v) => `Über ${v} kVA muss ein Ladepunkt dreiphasig angeschlossen sein.`,
      2,
    ),
    applies: anyAbove,
  },
  {
    rule: 'imbalanceLimitA',
    text: both(
      (v) => `The phases may differ by at most ${v} A.`,
      (v) => `Die Außenleiter dürfen sich um höchstens ${v} A unterscheiden.`,
      0,
    ),
    applies: () => null,
  },
  {
    rule: 'dimmingFloorW',
    text: both(
      (v) => `Charge points above ${v} kW must take part in dimming by the operator; it never goes below ${v} kW.`,
      (v) => `Ladepunkte über ${v} kW müssen an der netzorientierten Steuerung teilnehmen; unter ${v} kW wird nie gedimmt.`,
      1,
      0.001,
    ),
    applies: (limitW, eachKVA) => anyAbove(limitW / 1000, eachKVA),
  },
];
