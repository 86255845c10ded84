/** How wide a text comes out, px. */
export type MeasureText = (text: string, sizePx: number, weight: number) => number;

/** What the tidying needs to know. */
export interface TidyOptions {
  /** What the picture shows, for readers that can not see it. */
  readonly title: string;
  /** CSS font families, best first. */
  readonly fontFamilies: string;
  readonly measure: MeasureText;
}

/**
 * An SVG from the canvas made fit for people and version control: words of one text in one element, at the width that they have in
 * the chart's own font wherever it is missing; a title; a view box, so that it scales; numbers to 0.01 px; no points on the way
 * of a straight line.
 */
export function tidySvg(svg: string, options: TidyOptions): string {
  const body = svg
    .replace(/<\?xml[^>]*>\s*/, '')
    .replace(TEXT_RUN, (run) => joinedTexts(run, options))
    .replace(/ d="([^"]*)"/g, (_, d: string) => ` d="${straightened(roundedNumbers(d))}"`)
    .replace(
      / (x|y|width|height|transform|rx|ry|fill-opacity|stroke-opacity)="([^"]*)"/g,
      (_, name: string, value: string) => ` ${name}="${roundedNumbers(value)}"`,
    );
  return `${withFrame(ownIds(body, options.title), options.title)}\n`;
}

/** The canvas counts its ids on from one picture to the next; ours start afresh and do not meet those of another picture on a page. */
function ownIds(body: string, title: string): string {
  const prefix = title.toLowerCase().replace(/[^a-z0-9]+/g, '-');
  const ids = [...new Set([...body.matchAll(/ id="([^"]*)"/g)].map((match) => match[1] ?? ''))];
  return body.replace(/( id="|url\(#)([^")]*)/g, (_, before: string, id: string) => `${before}${prefix}-${ids.indexOf(id)}`);
}

function withFrame(body: string, title: string): string {
  return body.replace(
    /<svg ([^>]*)width="(\d+)" height="(\d+)">/,
    (_, names: string, width: string, height: string) =>
      `<svg ${names}width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" role="img"><title>${escaped(title)}</title>`,
  );
}

// The canvas writes each word as an element of its own, with a place for every letter and an empty element for each space.
const TEXT = /<text ([^>]*?) ?x="([^"]*)" y="([^"]*)">([^<]*)<\/text>/g;
const TEXT_RUN = new RegExp(`(?:${TEXT.source})+`, 'g');

interface TextPiece {
  readonly attributes: string;
  readonly x: string;
  readonly y: string;
  text: string;
}

function joinedTexts(run: string, options: TidyOptions): string {
  const pieces: TextPiece[] = [];
  let afterSpace = false;
  for (const [, attributes = '', x = '', y = '', text = ''] of run.matchAll(TEXT)) {
    const last = pieces[pieces.length - 1];
    if (text === '') {
      afterSpace = true;
      continue;
    }
    if (afterSpace && last !== undefined && last.attributes === attributes) last.text += ` ${text}`;
    else pieces.push({ attributes, x: first(x), y: first(y), text });
    afterSpace = false;
  }
  return pieces.map((piece) => textElement(piece, options)).join('');
}

function textElement({ attributes, x, y, text }: TextPiece, { fontFamilies, measure }: TidyOptions): string {
  const sizePx = Number(/font-size="([\d.]+)"/.exec(attributes)?.[1] ?? 12);
  const weight = Number(/font-weight="(\d+)"/.exec(attributes)?.[1] ?? 400);
  const named = attributes
    .replace(/font-family="[^"]*"/, `font-family="${fontFamilies.replaceAll('"', "'")}"`)
    // The canvas knows our semibold, 600, as 500.
    .replace('font-weight="500"', 'font-weight="600"');
  const length = measure(unescaped(text), sizePx, weight).toFixed(1);
  return `<text ${named} x="${x}" y="${y}" textLength="${length}" lengthAdjust="spacingAndGlyphs">${text}</text>`;
}

/** Drops points that lie on the way of a level or upright line; only for paths of straight lines. */
function straightened(d: string): string {
  if (!/^[ML\d.\- Z]*$/.test(d)) return d;
  return d.replace(/M[^M]*/g, (line) => {
    const kept: [x: string, y: string][] = [];
    for (const point of line.replace(/[MZ]/g, '').split('L')) {
      const [x = '', y = ''] = point.trim().split(' ');
      const [before, last] = [kept[kept.length - 2], kept[kept.length - 1]];
      if (last?.[0] === x && last[1] === y) continue;
      if (before && last && ((before[0] === last[0] && last[0] === x) || (before[1] === last[1] && last[1] === y))) kept.pop();
      kept.push([x, y]);
    }
    return `M${kept.map((point) => point.join(' ')).join('L')}${line.includes('Z') ? 'Z' : ''}`;
  });
}

const roundedNumbers = (text: string): string =>
  text.replace(/-?\d+\.\d+/g, (number) => String(Number(Number(number).toFixed(2)) + 0));
const first = (list: string): string => list.split(',')[0]?.trim() ?? '';
const escaped = (text: string): string => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
const unescaped = (text: string): string =>
  text
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"')
    .replaceAll('&apos;', "'")
    .replaceAll('&amp;', '&');
