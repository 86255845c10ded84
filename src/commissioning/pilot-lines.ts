import { dutyPercentFor, type Offer, offerOf } from './duty-cycle.ts';
import {
  CONTACTOR,
  DUTY_TOLERANCE_PERCENT,
  FREQUENCY_HZ,
  LOW_LEVEL_V,
  PILOT_LEVEL_V,
  PILOT_STATES,
  type PilotState,
  PROXIMITY_CODES,
  proximityCodeOf,
  type Range,
} from './pilot-levels.ts';
import { type PilotRecord, readingsIn, SAFETY_LINES, type SafetyLine } from './pilot-record.ts';
import type { Sureness } from './sureness.ts';

/** What is asked for in a state, in the order of the record. */
export type Quantity = 'voltageV' | 'lowV' | 'dutyPercent' | 'frequencyHz' | 'contactor';

/** Against what was published. There is no overall result. */
export type LineVerdict = 'within' | 'outside' | 'not-measured' | 'not-judged';

/** Which cause a failing line usually has; the words are in the catalogue. */
export type Cause =
  | 'idle-high'
  | 'idle-low'
  | 'loop-open'
  | 'loop-leaks'
  | 'ready-not-seen'
  | 'resistors-low'
  | 'diode'
  | 'fault-level'
  | 'generator'
  | 'setting'
  | 'no-offer'
  | 'welded'
  | 'does-not-close'
  | 'cable-code';

/** One line of the pilot part of a record. */
export interface PilotLine {
  readonly state: PilotState;
  readonly quantity: Quantity;
  /** A number, what the contactor did, or null: not measured. */
  readonly measured: number | 'open' | 'closed' | null;
  /** Range or word that was published; null: nothing to hold it against. */
  readonly allowed: Range | 'open' | 'closed' | null;
  readonly verdict: LineVerdict;
  readonly sure: Sureness;
  /** What the duty cycle offers, where one was measured. */
  readonly offer: Offer | null;
  readonly cause: Cause | null;
}

/** The line of the proximity resistor. */
export interface ProximityLine {
  readonly measuredOhm: number | null;
  readonly cableA: number | null;
  /** Current that the resistor stands for; null: none, or not measured. */
  readonly codedA: number | null;
  readonly allowed: Range | null;
  readonly verdict: LineVerdict;
  readonly cause: Cause | null;
}

/** A line that the electrician states, word by word. */
export interface StatedLine {
  readonly name: SafetyLine;
  readonly stated: string | null;
}

/** All lines of a record. */
export interface PilotLines {
  readonly pilot: readonly PilotLine[];
  readonly proximity: ProximityLine;
  readonly safety: readonly StatedLine[];
}

const SQUARE_WAVE: readonly Quantity[] = ['voltageV', 'lowV', 'dutyPercent', 'frequencyHz', 'contactor'];
const STEADY: readonly Quantity[] = ['voltageV', 'contactor'];
const ASKED: Readonly<Record<PilotState, readonly Quantity[]>> = {
  A: STEADY,
  B: SQUARE_WAVE,
  C: SQUARE_WAVE,
  D: SQUARE_WAVE,
  E: STEADY,
  F: STEADY,
};

/** Holds every line of a record against what was published. Lines that were not measured stay in the list, so that they can be filled in. */
export function pilotLines(record: PilotRecord): PilotLines {
  return {
    pilot: PILOT_STATES.flatMap((state) => ASKED[state].map((quantity) => pilotLine(record, state, quantity))),
    proximity: proximityLine(record),
    safety: SAFETY_LINES.map((name) => ({ name, stated: record.safety?.[name] ?? null })),
  };
}

function pilotLine(record: PilotRecord, state: PilotState, quantity: Quantity): PilotLine {
  const measured = readingsIn(record, state)[quantity] ?? null;
  const { allowed, sure } = publishedFor(record, state, quantity);
  const offer = quantity === 'dutyPercent' && typeof measured === 'number' ? offerOf(measured) : null;
  const verdict = judged(measured, allowed, offer);
  const cause = verdict === 'outside' ? causeOf(state, quantity, measured, allowed) : null;
  return { state, quantity, measured, allowed, verdict, sure, offer, cause };
}

function publishedFor(
  record: PilotRecord,
  state: PilotState,
  quantity: Quantity,
): { allowed: Range | 'open' | 'closed' | null; sure: Sureness } {
  switch (quantity) {
    case 'voltageV':
      return { allowed: PILOT_LEVEL_V[state].value, sure: PILOT_LEVEL_V[state].sure };
    case 'lowV':
      return { allowed: LOW_LEVEL_V.value, sure: LOW_LEVEL_V.sure };
    case 'frequencyHz':
      return { allowed: FREQUENCY_HZ.value, sure: FREQUENCY_HZ.sure };
    case 'contactor':
      return { allowed: CONTACTOR[state], sure: 'second-hand' };
    case 'dutyPercent':
      return dutyRange(record.setCurrentA);
  }
}

/** Where the set current is known, its own duty cycle; else any at which something is offered. */
function dutyRange(setCurrentA: number | undefined): { allowed: Range; sure: Sureness } {
  if (setCurrentA === undefined) return { allowed: { min: 8, max: 97 }, sure: 'second-hand' };
  const duty = dutyPercentFor(setCurrentA);
  const off = DUTY_TOLERANCE_PERCENT.value;
  return { allowed: { min: duty - off, max: duty + off }, sure: DUTY_TOLERANCE_PERCENT.sure };
}

/** Ends included, and a hair beyond: a level is read to a hundredth of a volt. */
const HAIR = 1e-9;
const inside = (value: number, { min, max }: Range): boolean => value >= min - HAIR && value <= max + HAIR;

function judged(measured: PilotLine['measured'], allowed: PilotLine['allowed'], offer: Offer | null): LineVerdict {
  if (measured === null) return 'not-measured';
  // Data over the pilot have a duty cycle of their own, and a steady level is no square wave to judge.
  if (offer?.kind === 'digital' || offer?.kind === 'steady' || allowed === null) return 'not-judged';
  if (typeof measured === 'number') return typeof allowed === 'object' && inside(measured, allowed) ? 'within' : 'outside';
  return measured === allowed ? 'within' : 'outside';
}

function causeOf(
  state: PilotState,
  quantity: Quantity,
  measured: PilotLine['measured'],
  allowed: PilotLine['allowed'],
): Cause | null {
  switch (quantity) {
    case 'lowV':
      return 'diode';
    case 'frequencyHz':
      return 'generator';
    case 'contactor':
      return measured === 'closed' ? 'welded' : 'does-not-close';
    case 'dutyPercent':
      return typeof measured === 'number' && offerOf(measured).kind === 'none' ? 'no-offer' : 'setting';
    case 'voltageV':
      return typeof measured === 'number' && typeof allowed === 'object' && allowed !== null
        ? LEVEL_CAUSES[state][measured > allowed.max ? 'high' : 'low']
        : null;
  }
}

const LEVEL_CAUSES: Readonly<Record<PilotState, Readonly<Record<'high' | 'low', Cause>>>> = {
  A: { high: 'idle-high', low: 'idle-low' },
  B: { high: 'loop-open', low: 'loop-leaks' },
  C: { high: 'ready-not-seen', low: 'resistors-low' },
  D: { high: 'ready-not-seen', low: 'resistors-low' },
  E: { high: 'fault-level', low: 'fault-level' },
  F: { high: 'fault-level', low: 'fault-level' },
};

function proximityLine({ proximityOhm, cableA }: PilotRecord): ProximityLine {
  const measuredOhm = proximityOhm ?? null;
  const written = cableA ?? null;
  const expected = PROXIMITY_CODES.find((code) => code.cableA === written);
  const allowed = expected?.acceptedOhm.value ?? null;
  if (measuredOhm === null) return { measuredOhm, cableA: written, codedA: null, allowed, verdict: 'not-measured', cause: null };
  const codedA = proximityCodeOf(measuredOhm)?.cableA ?? null;
  // What is not coded exactly (a 16 A cable) may stand for less than the cable carries, which only slows charging, never for more.
  const fits = allowed === null ? codedA !== null && codedA <= (written ?? Infinity) : inside(measuredOhm, allowed);
  const verdict = fits ? 'within' : 'outside';
  return { measuredOhm, cableA: written, codedA, allowed, verdict, cause: verdict === 'outside' ? 'cable-code' : null };
}
