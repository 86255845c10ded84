import type { JSDOM } from 'jsdom';

/** What stands around every page. */
export interface PageFrame {
  readonly lang: string;
  readonly title: string;
  /** Heading of the cautions, and the cautions: nobody gets a page without them. */
  readonly cautionsHeading: string;
  readonly cautions: readonly string[];
  /** Rules of one page beyond the shared ones. */
  readonly css?: string;
}

/** Children of an element: text stays text, whatever stands in it. */
export type Content = string | Node | readonly (string | Node)[];

/** A page in the making: one file, nothing loaded from anywhere, no script. */
export interface Page {
  readonly document: Document;
  /** Where the page's own content goes; title and cautions stand already. */
  readonly main: HTMLElement;
  /** A new element, not yet in the page. */
  el(tag: string, content?: Content, attributes?: Readonly<Record<string, string>>): HTMLElement;
  /** The page as text. */
  html(): string;
}

/**
 * Begins a page: title, cautions, styles for a screen (light and dark) and for A4.
 *
 * Everything that comes from a user goes in as text, so markup in a name stays text. The page forbids itself scripts and the network.
 */
export async function openPage(frame: PageFrame): Promise<Page> {
  const { JSDOM } = await import('jsdom');
  const dom: JSDOM = new JSDOM('<!doctype html><html><head></head><body></body></html>');
  const { document } = dom.window;
  document.documentElement.lang = frame.lang;
  const el: Page['el'] = (tag, content = [], attributes = {}) => {
    const element = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
    for (const child of typeof content === 'string' || !isList(content) ? [content] : content) element.append(child);
    return element;
  };
  document.head.append(
    el('meta', [], { charset: 'utf-8' }),
    el('meta', [], { name: 'viewport', content: 'width=device-width, initial-scale=1' }),
    el('meta', [], { 'http-equiv': 'Content-Security-Policy', content: POLICY }),
    el('title', frame.title),
    el('style', PAGE_CSS + (frame.css ?? '')),
  );
  const main = el('main');
  main.append(el('h1', frame.title), cautionsBlock(el, frame));
  document.body.append(main);
  return { document, main, el, html: () => `${dom.serialize()}\n` };
}

const isList = (content: Content): content is readonly (string | Node)[] => Array.isArray(content);

const POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:";

const cautionsBlock = (el: Page['el'], { cautionsHeading, cautions }: PageFrame): HTMLElement =>
  el(
    'aside',
    [
      el('h2', cautionsHeading),
      el(
        'ul',
        cautions.map((text) => el('li', text)),
      ),
    ],
    { class: 'cautions' },
  );

/** A table with a head; the first cell of each row names it. */
export function tableOf(
  { el }: Pick<Page, 'el'>,
  caption: string,
  head: readonly string[],
  rows: readonly (readonly Content[])[],
  className = '',
): HTMLElement {
  const headRow = el(
    'tr',
    head.map((text) => el('th', text, { scope: 'col' })),
  );
  const bodyRows = rows.map((cells) =>
    el(
      'tr',
      cells.map((cell, i) => (i === 0 ? el('th', cell, { scope: 'row' }) : el('td', cell))),
    ),
  );
  const table = el('table', [el('caption', caption), el('thead', [headRow]), el('tbody', bodyRows)]);
  if (className !== '') table.className = className;
  return table;
}

/** A line to write on, for what was not measured; its name is read out. */
export const blankLine = ({ el }: Pick<Page, 'el'>, name: string): HTMLElement =>
  el('span', [], { class: 'blank', role: 'img', 'aria-label': name });

const PAGE_CSS = `
:root { color-scheme: light dark; --ink: #222; --faint: #555; --line: #bbb; --paper: #fff; --warn: #a63c00; --warn-paper: #fff6ef; }
@media (prefers-color-scheme: dark) {
  :root { --ink: #e8e8e8; --faint: #b3b3b3; --line: #666; --paper: #191919; --warn: #ffab73; --warn-paper: #2b1f16; }
}
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 16px/1.45 "Source Sans 3", system-ui, "Segoe UI", "Helvetica Neue", Arial, sans-serif; }
main { max-width: 48rem; margin: 0 auto; padding: 1.5rem 1rem 3rem; overflow-wrap: break-word; }
h1 { font-size: 1.6rem; line-height: 1.2; margin: 0 0 1rem; }
h2 { font-size: 1.15rem; margin: 1.8rem 0 .5rem; }
h3 { font-size: 1rem; margin: 1.2rem 0 .3rem; }
p, ul, ol { margin: .4rem 0; }
li { margin: .2rem 0; }
.cautions { border: 2px solid var(--warn); background: var(--warn-paper); padding: .6rem 1rem; border-radius: 4px; }
.cautions h2 { margin: 0 0 .2rem; color: var(--warn); font-size: 1rem; }
.cautions ul { margin: 0; padding-left: 1.2rem; }
table { border-collapse: collapse; width: 100%; margin: .6rem 0; }
caption { text-align: left; color: var(--faint); font-size: .9rem; padding-bottom: .25rem; }
th, td { text-align: left; vertical-align: top; padding: .3rem .5rem; border-bottom: 1px solid var(--line); font-weight: normal; }
thead th { font-weight: 600; border-bottom: 2px solid var(--line); }
tbody th { font-weight: 600; }
.fine { color: var(--faint); font-size: .85rem; }
.whole { white-space: nowrap; }
.blank { display: inline-block; width: 100%; min-width: 2.2rem; height: 1.3em; border-bottom: 1px solid var(--ink); }
.signature { display: grid; grid-template-columns: 1fr 1fr; gap: 1.5rem 2rem; margin-top: 2rem; }
.signature div { padding-top: 2.2rem; }
.signature span { display: block; border-top: 1px solid var(--ink); font-size: .85rem; color: var(--faint); padding-top: .2rem; }
@media (max-width: 30rem) { body { font-size: 15px; } th, td { padding: .3rem .25rem; overflow-wrap: anywhere; } }
@page { size: A4; margin: 16mm 15mm; }
@media print {
  :root { color-scheme: light; --ink: #000; --faint: #444; --line: #999; --paper: #fff; --warn: #a63c00; --warn-paper: #fff; }
  body { font-size: 10pt; line-height: 1.35; }
  th, td { padding: 1.1mm 2mm; }
  h2 { margin-top: 4mm; }
  main { max-width: none; padding: 0; }
  h2, h3, caption, p:has(+ ol), p:has(+ ul) { break-after: avoid; }
  tr, li, .cautions, .signature, figure { break-inside: avoid; }
  thead { display: table-header-group; }
}
`;
