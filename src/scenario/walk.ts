import type { z } from 'zod';
import { type Hint, hints } from './schema/common.ts';
import { scenarioSchema } from './schema.ts';

/** What the schema says about a path: its hint, its description, its default. */
export interface SchemaNote {
  readonly hint: Hint | null;
  readonly about: string;
  /** Undefined where there is none. */
  readonly byDefault: unknown;
  /** May it be left out? */
  readonly optional: boolean;
  /** Keys known here, where it is a section; for a section with sources, those of the source written. */
  readonly keys: readonly string[];
  /** Keys that other sources of this section know, with those sources. */
  readonly keysElsewhere: ReadonlyMap<string, readonly string[]>;
}

/** As much of a zod node as is read here. */
interface NodeDef {
  readonly type: string;
  readonly innerType?: z.ZodType;
  readonly element?: z.ZodType;
  readonly shape?: Readonly<Record<string, z.ZodType>>;
  readonly options?: readonly z.ZodType[];
  readonly discriminator?: string;
  readonly defaultValue?: unknown;
  readonly values?: readonly unknown[];
}

const defOf = (node: z.ZodType): NodeDef => node.def as unknown as NodeDef;

/**
 * What the schema says about a path of a scenario.
 *
 * @param raw  the scenario as it was written: it decides which source of a section is meant
 */
export function noteAt(path: readonly (string | number)[], raw: unknown): SchemaNote {
  let node: z.ZodType = scenarioSchema;
  let value = raw;
  for (const part of path) {
    const next = childOf(bare(node), part, value);
    if (next === null) return NOTHING;
    node = next;
    value = isRecord(value) ? value[String(part)] : Array.isArray(value) ? value[Number(part)] : undefined;
  }
  return noteOf(node, value);
}

const NOTHING: SchemaNote = { hint: null, about: '', byDefault: undefined, optional: false, keys: [], keysElsewhere: new Map() };

function noteOf(node: z.ZodType, value: unknown): SchemaNote {
  let hint: Hint | null = null;
  let about = '';
  let byDefault: unknown;
  let optional = false;
  let at = node;
  for (;;) {
    hint ??= hints.get(at) ?? null;
    about ||= at.description ?? '';
    const def = defOf(at);
    if (def.type === 'default') byDefault = def.defaultValue;
    if (def.type === 'default' || def.type === 'prefault' || def.type === 'optional') optional = true;
    if (def.innerType === undefined) break;
    at = def.innerType;
  }
  return { hint, about, byDefault, optional, ...keysOf(at, value) };
}

function keysOf(node: z.ZodType, value: unknown): Pick<SchemaNote, 'keys' | 'keysElsewhere'> {
  const def = defOf(node);
  const chosen = optionFor(node, value);
  const keys = chosen === null ? [] : Object.keys(defOf(chosen).shape ?? {});
  const elsewhere = new Map<string, string[]>();
  for (const option of def.discriminator === undefined ? [] : (def.options ?? [])) {
    const shape = defOf(option).shape ?? {};
    const source = sourceOf(option, def.discriminator ?? '');
    for (const key of Object.keys(shape)) if (!keys.includes(key)) elsewhere.set(key, [...(elsewhere.get(key) ?? []), source]);
  }
  return { keys, keysElsewhere: elsewhere };
}

/** A node without what wraps it (default, optional). */
function bare(node: z.ZodType): z.ZodType {
  let at = node;
  for (let inner = defOf(at).innerType; inner !== undefined; inner = defOf(at).innerType) at = inner;
  return at;
}

function childOf(node: z.ZodType, part: string | number, value: unknown): z.ZodType | null {
  const option = optionFor(node, value);
  if (option === null) return null;
  const def = defOf(option);
  return (typeof part === 'number' && def.element ? def.element : def.shape?.[String(part)]) ?? null;
}

/** The member of a union that a value means: by its source, or by its kind (number, list, section). */
function optionFor(node: z.ZodType, value: unknown): z.ZodType | null {
  const def = defOf(node);
  if (def.options === undefined) return node;
  if (def.discriminator !== undefined) {
    const { discriminator } = def;
    const written = isRecord(value) ? value[discriminator] : undefined;
    return def.options.find((option) => sourceOf(option, discriminator) === written) ?? null;
  }
  return def.options.find((option) => kindOf(option) === kindOfValue(value)) ?? null;
}

const sourceOf = (option: z.ZodType, discriminator: string): string => {
  const field = defOf(option).shape?.[discriminator];
  return field === undefined ? '' : String(defOf(field).values?.[0]);
};

const kindOf = (node: z.ZodType): string => {
  const { type } = defOf(node);
  return type === 'object' || type === 'array' || type === 'number' ? type : 'string';
};

const kindOfValue = (value: unknown): string => (Array.isArray(value) ? 'array' : value === null ? 'string' : typeof value);

/** Whether something is a section: keys with values. */
export const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** The value at a path of plain data, undefined where there is none. */
export function valueAt(raw: unknown, path: readonly (string | number)[]): unknown {
  let value = raw;
  for (const part of path) {
    if (Array.isArray(value) && typeof part === 'number') value = value[part];
    else if (isRecord(value) && Object.hasOwn(value, part)) value = value[part];
    else return undefined;
  }
  return value;
}
