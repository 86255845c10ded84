/** A plain value as YAML and JSON know it. */
export type Plain = string | number | boolean | null | readonly Plain[] | { readonly [key: string]: Plain };
/** A scenario as it was written: plain data that only the door may judge. */
export type Draft = { readonly [key: string]: Plain };
/** A key's place in a draft. */
export type Path = readonly (string | number)[];

const isRecord = (node: Plain | undefined): node is Draft => typeof node === 'object' && node !== null && !Array.isArray(node);

/** The value at a path, or undefined where there is none. */
export function valueAt(draft: Plain | undefined, path: Path): Plain | undefined {
  let node: Plain | undefined = draft;
  for (const part of path) {
    if (Array.isArray(node)) node = (node as readonly Plain[])[Number(part)];
    else if (isRecord(node) && Object.hasOwn(node, part)) node = node[part];
    else return undefined;
  }
  return node;
}

/** A draft with another value at a path; undefined takes the key out. Sections on the way are made where they are missing. */
export function withValue(draft: Draft, path: Path, value: Plain | undefined): Draft {
  return changed(draft, path, value) as Draft;
}

function changed(node: Plain | undefined, path: Path, value: Plain | undefined): Plain | undefined {
  const [part, ...rest] = path;
  if (part === undefined) return value;
  if (Array.isArray(node) || typeof part === 'number') {
    const list = Array.isArray(node) ? [...(node as readonly Plain[])] : [];
    const inner = changed(list[Number(part)], rest, value);
    if (inner === undefined) list.splice(Number(part), 1);
    else list[Number(part)] = inner;
    return list;
  }
  const record: Record<string, Plain> = isRecord(node) ? { ...node } : {};
  const inner = changed(record[part], rest, value);
  if (inner === undefined) delete record[part];
  else record[part] = inner;
  return record;
}

/** A path as one word, to be used as a key: `chargePoints.0.charger.maxCurrentA`. */
export const pathKey = (path: Path): string => path.join('.');

/** Whether a path leads to a key or to something within it. */
export const isWithin = (path: Path, section: Path): boolean => section.every((part, i) => String(path[i]) === String(part));
