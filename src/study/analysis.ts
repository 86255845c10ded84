import type { Json } from './key-path.ts';
import { meanOf } from './quantiles.ts';
import type { Axis } from './survey.ts';

/** A variant of a study with what it came to: means over its years, null where something is missing; or why it failed. */
export interface StudyRow {
  readonly keys: Readonly<Record<string, Json>>;
  readonly values: Readonly<Record<string, number | null>>;
  readonly problem: string | null;
}

/** How much of the spread of an output goes with one axis alone. */
export interface Influence {
  readonly keys: readonly string[];
  /** Part of the variance between variants that the means over this axis' values explain, 0 … 1. */
  readonly share: number;
  /** From the lowest to the highest of those means, in the output's unit. */
  readonly span: number;
}

/** Values of a sampled range are taken together in so many classes. */
const CLASSES = 8;

/**
 * Which axis moves an output most: the variance of its means over each axis' values, by the variance of all.
 *
 * First order only: what axes do together shows as the part that is missing to 1. On a full grid exact; on a sample as good as its
 * number of variants for each class.
 *
 * @returns  strongest first; empty where the output never differs
 */
export function influences(axes: readonly Axis[], rows: readonly StudyRow[], output: string): Influence[] {
  const found = rows.flatMap((row) => {
    const value = row.values[output];
    return typeof value === 'number' ? [{ row, value }] : [];
  });
  if (found.length < 2) return [];
  const mean = meanOf(found.map(({ value }) => value));
  const variance = meanOf(found.map(({ value }) => (value - mean) ** 2));
  if (variance === 0) return [];
  return axes
    .map((axis): Influence => {
      const groups = new Map<string, number[]>();
      for (const { row, value } of found) {
        const name = groupOf(axis, row);
        groups.set(name, [...(groups.get(name) ?? []), value]);
      }
      const means = [...groups.values()].map((values) => ({ mean: meanOf(values), count: values.length }));
      const between = means.reduce((sum, group) => sum + group.count * (group.mean - mean) ** 2, 0) / found.length;
      const levels = means.map((group) => group.mean);
      return { keys: axis.keys, share: between / variance, span: Math.max(...levels) - Math.min(...levels) };
    })
    .sort((a, b) => b.share - a.share);
}

function groupOf({ keys, between }: Axis, row: StudyRow): string {
  const value = row.keys[keys[0] ?? ''];
  if (between === null || typeof value !== 'number') return JSON.stringify(keys.map((key) => row.keys[key]));
  const at = (value - between.from) / (between.to - between.from);
  return String(Math.min(CLASSES - 1, Math.floor(at * CLASSES)));
}

/**
 * The rows that no other beats in both: less (or as little) of one output and more (or as much) of another.
 *
 * @returns  in order of the first output, rising
 */
export function paretoFront(rows: readonly StudyRow[], { less, more }: { less: string; more: string }): StudyRow[] {
  const sound = rows.filter(({ values }) => typeof values[less] === 'number' && typeof values[more] === 'number');
  const cost = (row: StudyRow): number => row.values[less] ?? 0;
  const gain = (row: StudyRow): number => row.values[more] ?? 0;
  const sorted = [...sound].sort((a, b) => cost(a) - cost(b) || gain(b) - gain(a));
  const front: StudyRow[] = [];
  for (const row of sorted) {
    const last = front[front.length - 1];
    if (last === undefined || gain(row) > gain(last)) front.push(row);
  }
  return front;
}

/** Means of an output over two axes; other axes are averaged over. Null where no variant lies there. */
export interface HeatMap {
  readonly xKey: string;
  readonly yKey: string;
  readonly output: string;
  readonly xs: readonly Json[];
  readonly ys: readonly Json[];
  /** `cells[y][x]`. */
  readonly cells: readonly (readonly (number | null)[])[];
}

/** A heat map of two axes of a full grid. */
export function heatMapOf(rows: readonly StudyRow[], map: { x: string; y: string; value: string }): HeatMap {
  const xs = distinct(rows.map((row) => row.keys[map.x] ?? null));
  const ys = distinct(rows.map((row) => row.keys[map.y] ?? null));
  const sums = new Map<string, number[]>();
  for (const { keys, values } of rows) {
    const value = values[map.value];
    if (typeof value !== 'number') continue;
    const cell = JSON.stringify([keys[map.x] ?? null, keys[map.y] ?? null]);
    sums.set(cell, [...(sums.get(cell) ?? []), value]);
  }
  const at = (x: Json, y: Json): number | null => {
    const values = sums.get(JSON.stringify([x, y]));
    return values === undefined ? null : meanOf(values);
  };
  return { xKey: map.x, yKey: map.y, output: map.value, xs, ys, cells: ys.map((y) => xs.map((x) => at(x, y))) };
}

/** Different values in the order in which they come; numbers rising. */
function distinct(values: readonly Json[]): Json[] {
  const known = new Map(values.map((value) => [JSON.stringify(value), value]));
  const list = [...known.values()];
  return list.every((value) => typeof value === 'number') ? list.sort((a, b) => Number(a) - Number(b)) : list;
}
