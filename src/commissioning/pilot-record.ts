import * as z from 'zod';
import { type Checked, failed, type Issue, passed } from '../base/index.ts';
import { atTop, type Locate, nearest, readYaml } from '../scenario/index.ts';
import type { PilotState } from './pilot-levels.ts';

const text = () => z.string().max(200);
const num = (min: number, max: number) => z.number().min(min).max(max);

/** What may be measured in one state of the pilot circuit. All of it may be left out. */
const readings = z.strictObject({
  /** Level, or upper level of the square wave, V. */
  voltageV: num(-20, 20).optional(),
  /** Lower level of the square wave, V. */
  lowV: num(-20, 20).optional(),
  dutyPercent: num(0, 100).optional(),
  frequencyHz: num(0, 10_000).optional(),
  /** What the main contactor did. */
  contactor: z.enum(['open', 'closed']).optional(),
  /** What else was seen. */
  seen: text().optional(),
});

/** What the electrician states; free text, recorded as it is. */
const safety = z.strictObject({
  protectiveConductor: text().optional(),
  residualCurrentDevice: text().optional(),
  insulation: text().optional(),
  phaseSequence: text().optional(),
  earthing: text().optional(),
  brokenNeutral: text().optional(),
});

const recordSchema = z.strictObject({
  station: text().optional(),
  place: text().optional(),
  date: text().optional(),
  testedBy: text().optional(),
  instrument: text().optional(),
  /** Current that the station was set to while it was measured, A per phase. */
  setCurrentA: num(6, 80).optional(),
  pilot: z
    .strictObject({
      A: readings.optional(),
      B: readings.optional(),
      C: readings.optional(),
      D: readings.optional(),
      E: readings.optional(),
      F: readings.optional(),
    })
    .optional(),
  proximityOhm: num(0, 1_000_000).optional(),
  /** What is written on the cable, A. */
  cableA: num(1, 200).optional(),
  safety: safety.optional(),
  remarks: z.string().max(2000).optional(),
});

/** A record of measurements at a station, as its author wrote it. */
export type PilotRecord = z.infer<typeof recordSchema>;
/** What was measured in one state. */
export type PilotReadings = z.infer<typeof readings>;
/** Names of the lines that the electrician states. */
export type SafetyLine = keyof z.infer<typeof safety>;

/** The lines that are asked for, in the order in which they are tested. */
export const SAFETY_LINES = Object.keys(safety.shape) as readonly SafetyLine[];

/** What was measured in a state; nothing where the record is silent. */
export const readingsIn = (record: PilotRecord, state: PilotState): PilotReadings => record.pilot?.[state] ?? {};

/** A record's text after reading. */
export interface ReadRecord {
  readonly checked: Checked<PilotRecord>;
  readonly locate: Locate;
}

/** Reads a record (YAML or JSON), or finds all that is wrong with it. */
export function readPilotRecord(yaml: string, fileName: string): ReadRecord {
  const written = readYaml(yaml, fileName);
  if (!written.ok) return { checked: failed(written.issues.map(aboutRecord)), locate: atTop };
  const { raw, locate } = written.value;
  const parsed = recordSchema.safeParse(raw);
  if (parsed.success) return { checked: passed(parsed.data), locate };
  return { checked: failed(parsed.error.issues.flatMap((issue) => issuesOf(issue, raw))), locate };
}

/** Texts that speak of a scenario, for a record. */
const aboutRecord = (issue: Issue): Issue => ({
  ...issue,
  code: issue.code.replace('scenario-', 'record-'),
  problem: issue.problem.replace('(`site:`, `pv:` …)', '(`station:`, `pilot:` …)'),
  fix: issue.fix
    .replace('write a scenario as in the folder scenarios/', 'write a record as in data/demo/pilot-record.yaml')
    .replace('scenario', 'record'),
});

type ZodIssue = z.core.$ZodIssue;
type Path = readonly (string | number)[];

function issuesOf(issue: ZodIssue, raw: unknown): Issue[] {
  const path = issue.path as Path;
  if (issue.code === 'unrecognized_keys') return issue.keys.map((key) => unknownKey([...path, key], raw));
  const value = valueAt(raw, path);
  const allowed = allowedAt(path);
  const found = value === undefined || value === null ? '' : String(typeof value === 'object' ? 'a section' : value).slice(0, 60);
  const base = { path, found, allowed };
  const name = `\`${path[path.length - 1] ?? 'record'}\``;
  if (value === null || value === undefined) {
    return [
      {
        ...base,
        code: 'no-value',
        problem: `${name} has no value.`,
        fix: 'write one, or remove the line: it stays blank in the record.',
      },
    ];
  }
  const inText = typeof value === 'string' && /^\s*[-+]?\d+,\d+\s*$/.test(value);
  if (inText)
    return [
      {
        ...base,
        code: 'decimal-comma',
        problem: `${name} has a decimal comma.`,
        fix: `write ${value.trim().replace(',', '.')}.`,
      },
    ];
  const fix = 'write what is allowed, or remove the line: it stays blank in the record.';
  return [{ ...base, code: 'not-allowed', problem: `${name} cannot have this value.`, fix }];
}

function unknownKey(path: Path, raw: unknown): Issue {
  const key = String(path[path.length - 1]);
  const known = keysAt(path.slice(0, -1));
  const like = nearest(key, known);
  const value = valueAt(raw, path);
  // In `{ voltageV: 12,05 }` the comma ends the value, and what follows is read as a key.
  if (/^\d+$/.test(key) && value === null) {
    const problem = `A comma parts \`${key}\` from the number before it.`;
    return {
      code: 'decimal-comma',
      path,
      found: '',
      problem,
      allowed: known.join(', '),
      fix: 'write numbers with a decimal point.',
    };
  }
  return {
    code: 'unknown-key',
    path,
    found: typeof value === 'object' ? '' : String(value).slice(0, 60),
    problem: `A record knows no key \`${key}\` here.`,
    allowed: known.join(', '),
    fix: like === null ? 'remove the line.' : `write \`${like}\`, the nearest known key, or remove the line.`,
  };
}

const valueAt = (raw: unknown, path: Path): unknown =>
  path.reduce<unknown>(
    (at, part) => (typeof at === 'object' && at !== null ? (at as Record<string, unknown>)[part] : undefined),
    raw,
  );

const keysAt = (path: Path): string[] => {
  const section = schemaAt(path);
  return section instanceof z.ZodObject ? Object.keys(section.shape) : [];
};

/** The schema of a key, without what makes it optional. */
function schemaAt(path: Path): unknown {
  let at: unknown = recordSchema;
  for (const part of path) {
    at = at instanceof z.ZodObject ? (at.shape as Record<string, unknown>)[part] : undefined;
    if (at instanceof z.ZodOptional) at = at.unwrap();
  }
  return at;
}

function allowedAt(path: Path): string {
  const schema = schemaAt(path);
  if (schema instanceof z.ZodNumber) return `a number from ${schema.minValue} to ${schema.maxValue}`;
  if (schema instanceof z.ZodEnum) return schema.options.join(', ');
  if (schema instanceof z.ZodString) return 'a text, in quotes where it looks like a number';
  const keys = keysAt(path);
  return keys.length === 0 ? '' : `a section of keys: ${keys.join(', ')}`;
}
