import { type Content, type Page, tableOf } from './page-shell.ts';

/** A table that may be wider than a narrow screen: it scrolls by itself, with the keyboard too. */
export function scrolledTable(
  page: Page,
  caption: string,
  head: readonly string[],
  rows: readonly (readonly Content[])[],
  className: string,
): HTMLElement {
  const table = tableOf(page, caption, head, rows, className);
  return page.el('div', table, { class: 'scroll', role: 'region', tabindex: '0', 'aria-label': caption });
}
