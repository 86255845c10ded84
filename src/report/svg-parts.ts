import { rounded } from './numbers.ts';

/** Makes SVG elements of a document; numbers are written to 0.1 px. */
export type MakeSvg = (
  tag: string,
  attributes?: Readonly<Record<string, string | number>>,
  content?: string | readonly Node[],
) => SVGElement;

/** The maker of a document. */
export function svgMaker(document: Document): MakeSvg {
  return (tag, attributes = {}, content = []) => {
    const element = document.createElementNS('http://www.w3.org/2000/svg', tag);
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(tenth(value)));
    if (typeof content === 'string') element.textContent = content;
    else element.append(...content);
    return element;
  };
}

const tenth = (value: string | number): string | number => (typeof value === 'number' ? rounded(value, 1) : value);

/** A picture that scales with the page and has a name for those who can not see it. */
export const picture = (svg: MakeSvg, name: string, width: number, height: number, content: readonly Node[]): SVGElement =>
  svg('svg', { viewBox: `0 0 ${width} ${height}`, role: 'img', 'aria-label': name, class: 'picture' }, content);

/** Where a value lies on an axis, px. */
export type Scale = (value: number) => number;

/** A scale from one pair of ends to another. */
export const scaleOf = (fromValue: number, toValue: number, fromPx: number, toPx: number): Scale => {
  const pxPer = (toPx - fromPx) / (toValue - fromValue);
  return (value) => fromPx + (value - fromValue) * pxPer;
};

/** Round numbers along an axis from 0 to a top, some four of them; the last is at or above the top. */
export function roundTicks(top: number): number[] {
  const rough = Math.max(top, 1e-6) / 4;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 2.5, 5, 10].map((factor) => factor * power).find((size) => size >= rough) ?? 10 * power;
  return Array.from({ length: Math.ceil(top / step - 1e-9) + 1 }, (_, i) => rounded(i * step, 9));
}

/** A line of level steps: `x[i]` to `x[i + 1]` at `y[i]`. Steps on one level are drawn as one. */
export function stepPath(x: Scale, y: Scale, values: ArrayLike<number>): string {
  let path = '';
  let last = Number.NaN;
  for (let i = 0; i < values.length; i++) {
    const level = rounded(y(values[i] ?? 0), 1);
    if (level === last) continue;
    path += i === 0 ? `M${rounded(x(0), 1)} ${level}` : `H${rounded(x(i), 1)}V${level}`;
    last = level;
  }
  return `${path}H${rounded(x(values.length), 1)}`;
}

/** The area between two such lines, the lower one run back. */
export function stepArea(x: Scale, y: Scale, upper: ArrayLike<number>, lower: ArrayLike<number>): string {
  let back = '';
  for (let i = lower.length - 1; i >= 0; i--) {
    const level = rounded(y(lower[i] ?? 0), 1);
    if (i < lower.length - 1 && level === rounded(y(lower[i + 1] ?? 0), 1)) continue;
    back += `H${rounded(x(i + 1), 1)}V${level}`;
  }
  return `${stepPath(x, y, upper)}${back}H${rounded(x(0), 1)}Z`;
}
