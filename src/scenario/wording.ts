import type { z } from 'zod';
import type { Issue } from '../base/index.ts';
import { CLIMATE_NAMES } from '../sky/index.ts';
import { nearest } from './nearest.ts';

type Advice = Pick<Issue, 'code' | 'problem' | 'fix'>;
type Path = readonly (string | number)[];

/**
 * What to say about a value that its key does not take. `fix` comes without its full stop: where a key has a default, "or remove the
 * line" is added to it.
 */
export function adviceFor(path: Path, value: unknown, issue: z.core.$ZodIssue, allowed: string): Advice {
  const keys = path.filter((part) => typeof part === 'string').join('.');
  return special(keys, value) ?? byIssue(nameOf(path), value, issue, allowed);
}

/** What a value is called in a sentence: its key, or its place in a list (people count from 1). */
export function nameOf(path: Path): string {
  const last = path[path.length - 1];
  if (last === undefined) return '`scenario`';
  return typeof last === 'number'
    ? `Entry ${last + 1} of \`${path.filter((part) => typeof part === 'string').pop()}\``
    : `\`${last}\``;
}

/** Mistakes that deserve words of their own. */
function special(keys: string, value: unknown): Advice | null {
  if (keys === 'grid.country' && typeof value === 'string') return countryUnknown(value);
  if (keys === 'weather.climate' && typeof value === 'string') return climateUnknown(value);
  if (typeof value !== 'number') return null;
  if (keys === 'chargePoints.charger.minCurrentA' && value < 6) return chargerTooLow(value);
  if (keys === 'chargePoints.charger.maxCurrentA' && value < 6) return chargerMaximumTooLow(value);
  if (/^chargePoints\.(vehicle|believes)\.minCurrentA/.test(keys) && value < 6) return vehicleTooLow(value);
  if (keys === 'pv.arrays.azimuthDeg') return azimuth(value);
  if (keys === 'pv.arrays.temperatureCoefficientPerK' && value < -0.05 && value >= -1) return coefficientInPercent(value);
  if (keys === 'pv.arrays.kWp' && value > 1000) return inWatts(value, 'kWp', 'Wp');
  return null;
}

const climateUnknown = (value: string): Advice => ({
  code: 'climate-unknown',
  problem: `No climate on record is called ${value}.`,
  fix: `write ${nearest(value, CLIMATE_NAMES) ?? 'a place nearby'}, or monthlyGhiKWhM2 and monthlyTempC of the site`,
});

const countryUnknown = (value: string): Advice => ({
  code: 'country-unknown',
  problem: `No rules of the grid connection are on record for ${value}.`,
  fix:
    value.toUpperCase() === 'UK'
      ? 'write GB'
      : 'write one of those that are allowed; for any other country write the limits themselves, such as imbalanceLimitA',
});

const chargerTooLow = (value: number): Advice => ({
  code: 'charger-current-too-low',
  problem: `A charger cannot offer a car less than 6 A, so ${value} A would mean no charging at all.`,
  fix: 'write 6 or more',
});

const chargerMaximumTooLow = (value: number): Advice => ({
  code: 'charger-maximum-too-low',
  problem: `A car draws nothing below 6 A, so a charger that offers at most ${value} A never charges it.`,
  fix: 'write what the charger offers at most, in amperes per phase',
});

const vehicleTooLow = (value: number): Advice => ({
  code: 'vehicle-current-too-low',
  problem: `No charger offers a car less than 6 A, so a car that starts at ${value} A starts at 6 A.`,
  fix: 'write 6, or the current at which this car really starts',
});

const azimuth = (value: number): Advice => ({
  code: 'azimuth-out-of-range',
  problem: 'Azimuth is counted clockwise from north: 90 is east, 180 south, 270 west.',
  fix:
    value >= -180 && value < 0
      ? `write ${value + 180} if ${value} was counted from south, ${value + 360} if from north`
      : 'write 0 to 360',
});

const coefficientInPercent = (value: number): Advice => ({
  code: 'coefficient-in-percent',
  problem: `${value} per kelvin would cost ${-value * 100} % of the power for each kelvin; data sheets give percent per kelvin.`,
  fix: `write ${Number((value / 100).toPrecision(6))} if the data sheet says ${value} %/K`,
});

const inWatts = (value: number, unit: string, small: string): Advice => ({
  code: 'value-too-large',
  problem: `${value} ${unit} is more than any household's roof.`,
  fix: `write ${value / 1000} if the roof has ${value} ${small}`,
});

function byIssue(key: string, value: unknown, issue: z.core.$ZodIssue, allowed: string): Advice {
  switch (issue.code) {
    case 'too_small':
      return isList(value) ? count(key, value) : tooSmall(key, value, issue.minimum, allowed);
    case 'too_big':
      return isList(value) ? count(key, value) : tooLarge(key, value, issue.maximum, allowed);
    case 'invalid_type':
      return wrongKind(key, value, issue.expected);
    case 'invalid_format':
      return {
        code: 'bad-format',
        problem: `${key} cannot be read as it is written.`,
        fix: 'write it in the form that is allowed',
      };
    default:
      return { code: 'not-one-of', problem: `${key} cannot have this value.`, fix: 'write one of those that are allowed' };
  }
}

const isList = (value: unknown): value is readonly unknown[] => Array.isArray(value);

const count = (key: string, value: readonly unknown[]): Advice => ({
  code: 'wrong-count',
  problem: `${key} has ${value.length} ${value.length === 1 ? 'entry' : 'entries'}.`,
  fix: 'write as many as are allowed',
});

function tooSmall(key: string, value: unknown, minimum: number | bigint, allowed: string): Advice {
  if (value === '') return { code: 'no-value', problem: `${key} is empty.`, fix: `write ${allowed}` };
  return { code: 'value-too-small', problem: `${key} is less than it can be.`, fix: `write ${minimum} or more` };
}

function tooLarge(key: string, value: unknown, maximum: number | bigint, allowed: string): Advice {
  const inPercent = allowed.includes('share of 1') && typeof value === 'number' && value <= 100;
  const fix = inPercent ? `write ${Number((value / 100).toPrecision(6))} if ${value} % is meant` : `write ${maximum} or less`;
  return { code: 'value-too-large', problem: `${key} is more than it can be.`, fix };
}

/** A number in quotes, with a unit, with a decimal comma, or something else altogether. */
function wrongKind(key: string, value: unknown, expected: string): Advice {
  const code = 'wrong-kind';
  if (expected === 'int' || (expected === 'number' && typeof value === 'number')) {
    return {
      code: expected === 'int' ? 'not-whole' : 'not-finite',
      problem: `${key} must be a ${expected === 'int' ? 'whole' : 'finite'} number.`,
      fix: 'write such a number',
    };
  }
  if (expected === 'number' && typeof value === 'string') return numberAsText(key, value);
  const kind = KINDS[expected] ?? expected;
  if (key === '`vehicle`' && typeof value === 'string')
    return { code, problem: `${key} must be ${kind}, not a text.`, fix: `write \`vehicle: { kind: ${value.slice(0, 40)} }\`` };
  return { code, problem: `${key} must be ${kind}, not ${kindOf(value)}.`, fix: `write ${kind}` };
}

function numberAsText(key: string, value: string): Advice {
  const code = 'wrong-kind';
  const comma = /^\s*([+-]?\d+),(\d+)\s*$/.exec(value);
  if (comma) return { code: 'decimal-comma', problem: `${key} has a decimal comma.`, fix: `write ${comma[1]}.${comma[2]}` };
  if (/^\s*[+-]?\d{1,3}(['’_.\s]\d{3})+\s*$/.test(value)) {
    const bare = value.replace(/[^\d+-]/g, '');
    return { code, problem: `${key} must be a number without thousands marks.`, fix: `write ${bare}` };
  }
  const unit = /^\s*([+-]?\d+(?:\.\d+)?)\s*[\p{L}%°€$£].*$/u.exec(value);
  if (unit)
    return { code, problem: `${key} must be a number without its unit.`, fix: `write ${unit[1]}, in the unit that is allowed` };
  const quoted = /^\s*[+-]?\d+(\.\d+)?\s*$/.test(value);
  if (quoted)
    return { code, problem: `${key} must be a number, but stands in quotes.`, fix: `write ${value.trim()} without quotes` };
  return { code, problem: `${key} must be a number, not a text.`, fix: 'write a number' };
}

const KINDS: Readonly<Record<string, string>> = {
  number: 'a number',
  string: 'a text',
  boolean: 'true or false',
  array: 'a list',
  object: 'a section of keys',
  record: 'a section of keys',
};

const kindOf = (value: unknown): string =>
  KINDS[Array.isArray(value) ? 'array' : value instanceof Date ? 'string' : typeof value] ?? 'this';
