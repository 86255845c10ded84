/**
 * The name of each step, one per charge point: what the control law made of it. Stable words; the number is what the columns hold.
 */
export const STATES = [
  'away',
  'full',
  'short',
  'proving',
  'resting',
  'waking',
  'surplus',
  'topped',
  'ceiling',
  'bridging',
  'switching',
  'held-fuse',
  'held-imbalance',
  'held-contract',
  'held-dimmed',
  'must',
  'at-once',
  'refusing',
  'gave-up',
] as const;

/** A state's name. */
export type StateName = (typeof STATES)[number];

/** Numbers of the states, for columns and for the law. */
export const State = {
  away: 0,
  full: 1,
  short: 2,
  proving: 3,
  resting: 4,
  waking: 5,
  surplus: 6,
  topped: 7,
  ceiling: 8,
  bridging: 9,
  switching: 10,
  heldFuse: 11,
  heldImbalance: 12,
  heldContract: 13,
  heldDimmed: 14,
  must: 15,
  atOnce: 16,
  refusing: 17,
  gaveUp: 18,
} as const;

/** A state's number. */
export type StateCode = (typeof State)[keyof typeof State];

/** The name that a number stands for. */
export const stateName = (code: number): StateName => STATES[code] ?? 'away';

/** What can happen to a charge point between two steps. */
export const EVENTS = [
  'none',
  'plug-in',
  'start',
  'stall',
  'switch',
  'hold',
  'must',
  'full',
  'leave',
  'break-off',
  'gave-up',
] as const;

/** An event's name. */
export type EventName = (typeof EVENTS)[number];

/** Numbers of the events. */
export const Event = {
  none: 0,
  plugIn: 1,
  start: 2,
  stall: 3,
  switch: 4,
  hold: 5,
  must: 6,
  full: 7,
  leave: 8,
  breakOff: 9,
  gaveUp: 10,
} as const;

/** An event's number. */
export type EventCode = (typeof Event)[keyof typeof Event];
