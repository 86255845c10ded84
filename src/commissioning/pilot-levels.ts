import type { Published } from './sureness.ts';

/** States of the pilot circuit: nothing plugged in, plugged in, ready, ready with ventilation, pilot shorted, station not available. */
export const PILOT_STATES = ['A', 'B', 'C', 'D', 'E', 'F'] as const;

/** One of them. */
export type PilotState = (typeof PILOT_STATES)[number];

/** A range, ends included. */
export interface Range {
  readonly min: number;
  readonly max: number;
}

const PILOT = 'IEC 61851-1 Annex A';
const around = (value: number, tolerance: number): Range => ({ min: value - tolerance, max: value + tolerance });

/** Level of the pilot signal (its upper one where it is a square wave), V, at the station. @see iec61851-pilot (data/SOURCES.md) */
export const PILOT_LEVEL_V: Readonly<Record<PilotState, Published<Range>>> = {
  A: { value: around(12, 1), source: PILOT, sure: 'from-memory' },
  B: { value: around(9, 1), source: PILOT, sure: 'second-hand' },
  C: { value: around(6, 1), source: PILOT, sure: 'second-hand' },
  D: { value: around(3, 1), source: PILOT, sure: 'second-hand' },
  E: { value: around(0, 1), source: PILOT, sure: 'from-memory' },
  F: { value: around(-12, 1), source: PILOT, sure: 'from-memory' },
};

/** Lower level of the square wave, V. */
export const LOW_LEVEL_V: Published<Range> = { value: around(-12, 1), source: PILOT, sure: 'from-memory' };

/** Frequency of the square wave, Hz. */
export const FREQUENCY_HZ: Published<Range> = { value: around(1000, 5), source: PILOT, sure: 'from-memory' };

/** How far the duty cycle of a station may be from that of the current it is set to, percent of the period. */
export const DUTY_TOLERANCE_PERCENT: Published<number> = { value: 1, source: PILOT, sure: 'from-memory' };

/** Whether the contactor should be closed; null where it depends on the station. */
export const CONTACTOR: Readonly<Record<PilotState, 'open' | 'closed' | null>> = {
  A: 'open',
  B: 'open',
  C: 'closed',
  D: null,
  E: 'open',
  F: 'open',
};

/** What the resistor between proximity contact and protective conductor says about a cable. */
export interface ProximityCode {
  readonly cableA: number;
  readonly nominalOhm: Published<number>;
  readonly acceptedOhm: Published<Range>;
}

const PROXIMITY = 'IEC 61851-1 Annex B, IEC 62196-2';
const code = (cableA: number, ohm: number, min: number, max: number, sure: 'second-hand' | 'from-memory'): ProximityCode => ({
  cableA,
  nominalOhm: { value: ohm, source: PROXIMITY, sure },
  acceptedOhm: { value: { min, max }, source: PROXIMITY, sure: 'from-memory' },
});

/** Cables with a plug at both ends, thinnest first. @see iec61851-pilot (data/SOURCES.md) */
export const PROXIMITY_CODES: readonly ProximityCode[] = [
  code(13, 1500, 1000, 2700, 'from-memory'),
  code(20, 680, 330, 1000, 'second-hand'),
  code(32, 220, 150, 330, 'second-hand'),
  code(63, 100, 50, 150, 'second-hand'),
];

/**
 * What a proximity resistor says about a cable; where two ranges touch, the thinner cable is meant (the safe reading).
 *
 * @param ohm  0 or more
 * @returns    null outside every range: such a cable must not be used
 * @example proximityCodeOf(680)?.cableA // 20
 * @example proximityCodeOf(330)?.cableA // 20
 * @example proximityCodeOf(49) // null
 * @see iec61851-pilot (data/SOURCES.md)
 */
export const proximityCodeOf = (ohm: number): ProximityCode | null =>
  PROXIMITY_CODES.find(({ acceptedOhm: { value } }) => ohm >= value.min && ohm <= value.max) ?? null;
