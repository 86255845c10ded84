import type { ScenarioInput } from '../scenario/index.ts';
import { delaysAt, type Keys } from './household.ts';

/** Circumstances in which a verdict is tried again. */
export type Trial = 'as-written' | 'slow' | 'quick' | 'other-people';

/** What the scenario becomes in them. */
export interface TrialSetting {
  readonly trial: Trial;
  readonly keys: Keys;
  readonly people: number;
}

/** The scenario as written; its delays at the slow and at the quick end of what installations have; other people in the same house. */
export const trialsOf = (input: ScenarioInput): TrialSetting[] => [
  { trial: 'as-written', keys: {}, people: 0 },
  { trial: 'slow', keys: delaysAt(input, 'slow'), people: 0 },
  { trial: 'quick', keys: delaysAt(input, 'quick'), people: 0 },
  { trial: 'other-people', keys: {}, people: 1 },
];

/** How a verdict came out of one of them. */
export interface TrialResult {
  readonly trial: Trial;
  readonly survives: boolean;
  /** What won, or what the answer was there. */
  readonly answer: string;
}
