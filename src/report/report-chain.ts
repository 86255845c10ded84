import { WH_PER_KWH } from '../base/index.ts';
import { type Catalogue, type Chain, type ChainRow, rowsOfChain } from '../explain/index.ts';
import type { Page } from './page-shell.ts';
import { OKABE_ITO } from './palette.ts';
import { scrollBox } from './scrolled-table.ts';
import { svgMaker } from './svg-parts.ts';

const BAR_WIDTH = 200;
const BAR_HEIGHT = 14;

/** Where the hours and the roof's energy went, one row a link: what is taken off hangs at the end of what was left before it. */
export function chainTable(page: Page, chain: Chain, caption: string, words: Catalogue): HTMLElement {
  const rows = rowsOfChain(chain).filter((row) => !row.less || row.hours > 0 || row.energyWh > 0);
  const first = rows[0];
  const fullH = Math.max(first?.hours ?? 0, 1e-9);
  const fullWh = Math.max(first?.energyWh ?? 0, 1e-9);
  let leftH = 0;
  let leftWh = 0;
  const body = rows.map((row) => {
    leftH = row.less ? leftH - row.hours : row.hours;
    leftWh = row.less ? leftWh - row.energyWh : row.energyWh;
    const hours = bar(page, row, leftH / fullH, row.hours / fullH, OKABE_ITO.blue);
    const energy = bar(page, row, leftWh / fullWh, row.energyWh / fullWh, OKABE_ITO.orange);
    return chainRow(page, row, [hours, energy], words);
  });
  const { link, hours, energy } = words.chain;
  const head = page.el('tr', [
    page.el('th', link, { scope: 'col' }),
    page.el('th', hours, { scope: 'col', colspan: '2' }),
    page.el('th', energy, { scope: 'col', colspan: '2' }),
  ]);
  const table = page.el('table', [page.el('caption', caption), page.el('thead', [head]), page.el('tbody', body)], {
    class: 'chain',
  });
  return scrollBox(page, table, caption);
}

function chainRow(page: Page, row: ChainRow, [hoursBar, energyBar]: readonly Node[], { chain, form }: Catalogue): HTMLElement {
  const sign = row.less ? '− ' : '';
  const number = (value: number, decimals: number): string => (value === 0 ? '' : sign + form.fixed(value, decimals));
  return page.el(
    'tr',
    [
      page.el('th', chain.rows[row.name], { scope: 'row' }),
      page.el('td', number(row.hours, 1), { class: 'number' }),
      page.el('td', hoursBar ?? '', { class: 'bar' }),
      page.el('td', number(row.energyWh / WH_PER_KWH, row.energyWh < 99_950 ? 1 : 0), { class: 'number' }),
      page.el('td', energyBar ?? '', { class: 'bar' }),
    ],
    row.less ? { class: 'less' } : {},
  );
}

/** The numbers stand beside it, so a bar is for the eye alone. */
function bar(page: Page, { less }: ChainRow, left: number, size: number, colour: string): SVGElement {
  const svg = svgMaker(page.document);
  const x = less ? left * BAR_WIDTH : 0;
  const box = { x: Math.max(0, x), y: 1, height: BAR_HEIGHT - 2, width: size * BAR_WIDTH };
  const shape = less
    ? svg('rect', { ...box, fill: colour, 'fill-opacity': '0.25', stroke: colour, 'stroke-dasharray': '3 2' })
    : svg('rect', { ...box, fill: colour });
  return svg('svg', { viewBox: `0 0 ${BAR_WIDTH} ${BAR_HEIGHT}`, 'aria-hidden': 'true' }, [shape]);
}
