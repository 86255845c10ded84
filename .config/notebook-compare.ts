import { type Notebook, textOf } from './notebook-file.ts';

/**
 * How far a notebook run anew may be from the one that is kept. On the machine and with the versions that wrote it, it is equal to the
 * byte; elsewhere the last digit of a sine may differ, and one start in a thousand with it.
 */
export const TOLERANCE = {
  /** Part of a number in a sentence or table. */
  numberShare: 0.005,
  /** Or so many units of the last digit that it is written with. */
  lastDigits: 1,
  /** Edges of a shape in a picture, px of about 900. */
  shapePx: 3,
} as const;

/** The tolerances in a line. */
export const TOLERANCE_TEXT = `words equal; numbers within ${100 * TOLERANCE.numberShare} % or ${TOLERANCE.lastDigits} unit of their last digit; pictures of the same size, as many shapes, each edge within ${TOLERANCE.shapePx} px`;

/** What differs between a notebook that is kept and the same run anew; empty: nothing beyond the tolerances. */
export function differences(kept: Notebook, anew: Notebook): string[] {
  if (kept.cells.length !== anew.cells.length) return [`${anew.cells.length} cells instead of ${kept.cells.length}`];
  return kept.cells.flatMap((cell, i) => {
    const other = anew.cells[i];
    if (cell.cell_type !== 'code' || other?.cell_type !== 'code') return [];
    if (cell.outputs.length !== other.outputs.length)
      return [`cell ${cell.id}: ${other.outputs.length} outputs instead of ${cell.outputs.length}`];
    return cell.outputs.flatMap(({ data }, o) => {
      const found = other.outputs[o]?.data ?? {};
      const types = new Set([...Object.keys(data), ...Object.keys(found)]);
      return [...types].flatMap((type) => {
        const [before, after] = [data[type], found[type]];
        const what =
          before === undefined || after === undefined ? 'on one side only' : difference(type, textOf(before), textOf(after));
        return what === null ? [] : [`cell ${cell.id}, output ${o + 1}, ${type}: ${what}`];
      });
    });
  });
}

function difference(type: string, kept: string, anew: string): string | null {
  if (kept === anew) return null;
  if (type === 'image/png') return samePngSize(kept, anew) ? null : 'another size';
  if (type === 'image/svg+xml') return shapesDiffer(kept, anew);
  return textDiffers(withoutData(kept), withoutData(anew));
}

/** A picture inside a page is the PNG that is compared by itself. */
const withoutData = (text: string): string => text.replace(/base64,[^"]*/g, 'base64,');

const NUMBER = /\d[\d,]*(?:\.\d+)?/g;

/** The first place at which two texts differ beyond the tolerance, or null. */
export function textDiffers(kept: string, anew: string): string | null {
  if (kept.replace(NUMBER, '#').replace(/\s+/g, ' ') !== anew.replace(NUMBER, '#').replace(/\s+/g, ' '))
    return `other words: ${excerpt(anew)} instead of ${excerpt(kept)}`;
  const [numbers, others] = [kept.match(NUMBER) ?? [], anew.match(NUMBER) ?? []];
  const at = numbers.findIndex((text, i) => !near(text, others[i] ?? ''));
  return at < 0 ? null : `${others[at]} instead of ${numbers[at]}`;
}

function near(kept: string, anew: string): boolean {
  const [a, b] = [kept, anew].map((text) => Number(text.replaceAll(',', ''))) as [number, number];
  const digit = 10 ** -(kept.split('.')[1]?.length ?? 0);
  return Math.abs(a - b) <= Math.max(TOLERANCE.numberShare * Math.abs(a), TOLERANCE.lastDigits * digit * (1 + 1e-9));
}

const excerpt = (text: string): string => JSON.stringify(text.length > 120 ? `${text.slice(0, 120)}…` : text);

/** Width and height stand at fixed places of a PNG file. */
const samePngSize = (kept: string, anew: string): boolean => {
  const size = (png: string): string => Buffer.from(png.slice(0, 64), 'base64').subarray(16, 24).toString('hex');
  return size(kept) === size(anew);
};

/** Texts and shapes of a picture. */
function shapesDiffer(kept: string, anew: string): string | null {
  const words = (svg: string): string => [...svg.matchAll(/>([^<>]+)</g)].map((match) => match[1]).join('\n');
  const differs = textDiffers(words(kept), words(anew));
  if (differs !== null) return differs;
  const [shapes, others] = [edgesOf(kept), edgesOf(anew)];
  if (shapes.length !== others.length) return `${others.length} shapes instead of ${shapes.length}`;
  const isOff = (edges: readonly number[], i: number): boolean =>
    edges.some((edge, k) => Math.abs(edge - (others[i]?.[k] ?? Number.POSITIVE_INFINITY)) > TOLERANCE.shapePx);
  const at = shapes.findIndex(isOff);
  return at < 0 ? null : `shape ${at + 1} reaches ${others[at]?.join(' ')} instead of ${shapes[at]?.join(' ')}`;
}

/** Left, top, right and bottom of every path of straight or bent lines, px. */
function edgesOf(svg: string): number[][] {
  return [...svg.matchAll(/ d="([^"]+)"/g)].map(([, d = '']) => {
    const numbers = (d.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number);
    const of = (first: number): number[] => numbers.filter((_, i) => i % 2 === first);
    const [xs, ys] = [of(0), of(1)];
    return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
  });
}
