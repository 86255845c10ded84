/** A key of a scenario, step by step: `["pv", "arrays", 0, "kWp"]`. */
export type KeyPath = readonly (string | number)[];

/** A value as JSON has it. */
export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

/**
 * A key path as people write it, taken apart; null where it is none.
 *
 * @example parseKeyPath('pv.arrays[0].kWp') // ['pv', 'arrays', 0, 'kWp']
 * @example parseKeyPath('pv..kWp') // null
 */
export function parseKeyPath(text: string): KeyPath | null {
  if (!/^[A-Za-z_]\w*(\[\d+\])*(\.\w+(\[\d+\])*)*$/.test(text)) return null;
  return (text.match(/\w+/g) ?? []).map((part, i) => (i > 0 && /^\d+$/.test(part) ? Number(part) : part));
}

/**
 * A copy of plain data with one value changed; what lies beside the path is shared with the original. Sections on the way are made
 * where there are none; null takes the key out.
 *
 * @throws RangeError  the path leads through something that has no keys, or beyond the end of a list
 */
export function withValue(data: unknown, path: KeyPath, value: Json): unknown {
  const [part, ...rest] = path;
  if (part === undefined) return value;
  if (Array.isArray(data)) return withEntry(data, part, rest, value);
  if (data !== undefined && data !== null && typeof data !== 'object')
    throw new RangeError(`${part}: there is a single value where a section is needed`);
  const section: Record<string, unknown> = { ...(data as Record<string, unknown> | null | undefined) };
  if (rest.length === 0 && value === null) delete section[part];
  else section[part] = withValue(section[part], rest, value);
  return section;
}

function withEntry(list: readonly unknown[], part: string | number, rest: KeyPath, value: Json): unknown[] {
  const at = Number(part);
  if (!Number.isInteger(at) || at >= list.length) throw new RangeError(`[${part}]: the list has ${list.length} entries`);
  return list.map((entry, i) => (i === at ? withValue(entry, rest, value) : entry));
}
