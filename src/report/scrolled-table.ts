import { type Content, type Page, tableOf } from './page-shell.ts';

/** A table that may be wider than a narrow screen: it scrolls by itself, with the keyboard too. */
export function scrolledTable(
  page: Page,
  caption: string,
  head: readonly string[],
  rows: readonly (readonly Content[])[],
  className: string,
): HTMLElement {
  return scrollBox(page, tableOf(page, caption, head, rows, className), caption);
}

/** A box that what stands in it can be scrolled in. */
export const scrollBox = (page: Page, content: HTMLElement, name: string): HTMLElement =>
  page.el('div', content, { class: 'scroll', role: 'region', tabindex: '0', 'aria-label': name });
