/** What a rule limits; data/grid-rules.yaml explains each. */
export type GridRuleName =
  | 'imbalanceLimitA'
  | 'notifyAboveKVA'
  | 'approvalAboveKVA'
  | 'threePhaseAboveKVA'
  | 'dimmingFloorW'
  | 'notifyWithinDays'
  | 'generationLimitA';

/** A rule of the grid connection: to be checked locally, the grid operator's conditions come first. */
export interface GridRule {
  readonly rule: GridRuleName;
  /** In the unit that the rule's name ends in. */
  readonly value: number;
  readonly source: string;
  /** Year or day of the rule as its source states it, or `undated`. */
  readonly stand: string;
  readonly sure: 'read' | 'second-hand' | 'from-memory';
}

/** What is known of a country's rules; where nothing could be traced, nothing is in the list. */
export interface CountryRules {
  readonly name: string;
  /** Zones whose clocks only this country keeps. */
  readonly timeZones: readonly string[];
  readonly rules: readonly GridRule[];
}

const ONE_PHASE_3700 = 'e-handbuch.de, single-phase charging limit of 3.7 kW';
const AR_N_4100 = 'VDE-AR-N 4100 5.5.2 and TAB 10.1(3)';
const OPERATOR_4100 = 'as told by a network operator (stadtwerke-marburg.de)';

/** The rules of data/grid-rules.yaml by country; a test compares the two. */
export const GRID_RULES = {
  AT: {
    name: 'Austria',
    timeZones: ['Europe/Vienna'],
    rules: [
      { rule: 'imbalanceLimitA', value: 16, source: ONE_PHASE_3700, stand: 'undated', sure: 'second-hand' },
      {
        rule: 'notifyAboveKVA',
        value: 3.68,
        source: 'TAEV 2020 part I 3.1(1.12), as told by salzburgnetz.at',
        stand: '2020',
        sure: 'read',
      },
      {
        rule: 'approvalAboveKVA',
        value: 11,
        source: 'a network operator, e-netze.at (three-phase; one-phase 3.68)',
        stand: 'undated',
        sure: 'read',
      },
    ],
  },
  CH: {
    name: 'Switzerland',
    timeZones: ['Europe/Zurich'],
    rules: [
      { rule: 'imbalanceLimitA', value: 16, source: ONE_PHASE_3700, stand: 'undated', sure: 'second-hand' },
      {
        rule: 'notifyAboveKVA',
        value: 3.6,
        source: 'conditions of network operators',
        stand: 'undated',
        sure: 'from-memory',
      },
    ],
  },
  CZ: { name: 'Czechia', timeZones: ['Europe/Prague'], rules: [] },
  DE: {
    name: 'Germany',
    timeZones: ['Europe/Berlin', 'Europe/Busingen'],
    rules: [
      {
        rule: 'imbalanceLimitA',
        value: 20,
        source: `${AR_N_4100}, 4.6 kVA, ${OPERATOR_4100}`,
        stand: '2019',
        sure: 'second-hand',
      },
      {
        rule: 'threePhaseAboveKVA',
        value: 4.6,
        source: `${AR_N_4100}, ${OPERATOR_4100}`,
        stand: '2019',
        sure: 'second-hand',
      },
      {
        rule: 'notifyAboveKVA',
        value: 3.6,
        source:
          'VDE-AR-N 4100, as told by network operators (ngp-potsdam.de, swtue.de); NAV section 19(2) asks for every charge point',
        stand: '2019-03-22',
        sure: 'second-hand',
      },
      {
        rule: 'approvalAboveKVA',
        value: 12,
        source: 'NAV section 19(2), buzer.de; the operator answers within two months',
        stand: '2019-03-22',
        sure: 'read',
      },
      {
        rule: 'dimmingFloorW',
        value: 4200,
        source: 'EnWG section 14a, BNetzA BK6-22-300 of 2023-11-27; charge points above 4.2 kW from 2024-01-01 on',
        stand: '2024-01-01',
        sure: 'read',
      },
    ],
  },
  GB: {
    name: 'United Kingdom',
    timeZones: ['Europe/London'],
    rules: [
      {
        rule: 'notifyWithinDays',
        value: 28,
        source: 'form of the ENA for charge points; else the operator must agree first',
        stand: 'undated',
        sure: 'read',
      },
      {
        rule: 'generationLimitA',
        value: 16,
        source: 'G98, 3.68 kW per phase, a trade page',
        stand: 'undated',
        sure: 'second-hand',
      },
    ],
  },
} as const satisfies Record<string, CountryRules>;

/** A country whose rules are known, by its two letters. */
export type CountryCode = keyof typeof GRID_RULES;

/** Countries whose rules are known. */
export const COUNTRY_CODES = Object.keys(GRID_RULES) as [CountryCode, ...CountryCode[]];

/** A country's rule, or null where none could be traced. */
export function gridRule(country: CountryCode, name: GridRuleName): GridRule | null {
  const rules: readonly GridRule[] = GRID_RULES[country].rules;
  return rules.find(({ rule }) => rule === name) ?? null;
}

/** The country whose clock a zone is, or null where that is not known. */
export function countryOfZone(timeZone: string): CountryCode | null {
  const isOf = (code: CountryCode): boolean => (GRID_RULES[code].timeZones as readonly string[]).includes(timeZone);
  return COUNTRY_CODES.find(isOf) ?? null;
}
