import { WH_PER_KWH } from '../base/index.ts';
import type { Catalogue } from '../explain/index.ts';
import type { PointTally, Run } from '../simulate/index.ts';
import type { Page } from './page-shell.ts';
import { SOURCE_COLOUR } from './palette.ts';
import { scrolledTable } from './scrolled-table.ts';
import { allPoints } from './sums.ts';
import { picture, roundTicks, type Scale, scaleOf, svgMaker } from './svg-parts.ts';

const WIDTH = 720;
const HEIGHT = 300;
const BOX = { left: 48, right: WIDTH - 8, top: 24, bottom: HEIGHT - 36 } as const;
const SOURCES = ['pv', 'battery', 'grid'] as const;
type Source = (typeof SOURCES)[number];

const energyWh: Record<Source, (sums: PointTally) => number> = {
  pv: ({ carPvWh }) => carPvWh,
  battery: ({ carBatteryWh }) => carBatteryWh,
  grid: ({ carGridWh }) => carGridWh,
};

/** The months of a run beside those charged at once: a picture with its legend, and the table behind it. */
export function monthsFigure(page: Page, run: Run, atOnce: Run, words: Catalogue): HTMLElement[] {
  const own = run.ledger.months.map(({ tally }) => allPoints(tally));
  const beside = atOnce.ledger.months.map(({ tally }) => allPoints(tally));
  const used = SOURCES.filter((source) => [...own, ...beside].some((sums) => energyWh[source](sums) > 0));
  const entries = used.map((source) => ({ colour: SOURCE_COLOUR[source], label: words.charts.from[source] }));
  return [
    page.el('figure', [monthsPicture(page, run, own, beside, used, words), legend(page, entries)]),
    monthsTable(page, run, own, beside, used, words),
  ];
}

/** What the colours mean. */
export function legend(page: Page, entries: readonly { colour: string; label: string }[]): HTMLElement {
  const swatch = (colour: string): HTMLElement => page.el('span', [], { class: 'swatch', style: `background:${colour}` });
  return page.el(
    'ul',
    entries.map(({ colour, label }) => page.el('li', [swatch(colour), label])),
    { class: 'legend' },
  );
}

function monthsPicture(
  page: Page,
  run: Run,
  own: readonly PointTally[],
  beside: readonly PointTally[],
  used: readonly Source[],
  words: Catalogue,
): SVGElement {
  const svg = svgMaker(page.document);
  const highest = Math.max(...[...own, ...beside].map((sums) => sums.carWh / WH_PER_KWH), 1);
  const ticks = roundTicks(highest);
  const y = scaleOf(0, ticks[ticks.length - 1] ?? 1, BOX.bottom, BOX.top);
  const slot = (BOX.right - BOX.left) / own.length;
  const axis = ticks.flatMap((tick) => [
    svg('line', { x1: BOX.left, x2: BOX.right, y1: y(tick), y2: y(tick), class: 'rule' }),
    svg('text', { x: BOX.left - 6, y: y(tick) + 4, 'text-anchor': 'end' }, words.form.plain(tick, 1)),
  ]);
  const months = own.flatMap((sums, i) => {
    const left = BOX.left + i * slot;
    const besideSums = beside[i];
    return [
      ...bars(svg, y, sums, used, left + slot * 0.08, slot * 0.46, 1),
      ...(besideSums === undefined ? [] : bars(svg, y, besideSums, used, left + slot * 0.56, slot * 0.36, 0.4)),
      ...monthLabel(svg, run, i, left + slot / 2, words, sums, own.length),
    ];
  });
  const unit = svg('text', { x: BOX.left - 6, y: 12, 'text-anchor': 'end', class: 'small' }, 'kWh');
  return picture(svg, words.report.monthsChart, WIDTH, HEIGHT, [...axis, ...months, unit]);
}

function monthLabel(
  svg: ReturnType<typeof svgMaker>,
  run: Run,
  i: number,
  x: number,
  { form }: Catalogue,
  sums: PointTally,
  count: number,
): SVGElement[] {
  // Beyond two years of months there is no room for every name.
  if (count > 24 && i % 3 !== 0) return [];
  const month = form.shortMonths[(run.ledger.months[i]?.month ?? 1) - 1] ?? '';
  const name = svg('text', { x, y: BOX.bottom + 16, 'text-anchor': 'middle' }, month);
  if (count > 12) return [name];
  return [
    name,
    svg('text', { x, y: BOX.bottom + 31, 'text-anchor': 'middle', class: 'small' }, `${form.fixed(sums.pvKm, 0)} km`),
  ];
}

function bars(
  svg: ReturnType<typeof svgMaker>,
  y: Scale,
  sums: PointTally,
  used: readonly Source[],
  x: number,
  width: number,
  opacity: number,
): SVGElement[] {
  let belowKWh = 0;
  return used.map((source) => {
    const kWh = energyWh[source](sums) / WH_PER_KWH;
    const top = y(belowKWh + kWh);
    const height = y(belowKWh) - top;
    belowKWh += kWh;
    return svg('rect', { x, y: top, width, height, fill: SOURCE_COLOUR[source], 'fill-opacity': String(opacity) });
  });
}

function monthsTable(
  page: Page,
  run: Run,
  own: readonly PointTally[],
  beside: readonly PointTally[],
  used: readonly Source[],
  { form, table, report }: Catalogue,
): HTMLElement {
  const kWh = (wh: number): string => form.fixed(wh / WH_PER_KWH, 1);
  const heads: Record<Source, string> = { pv: table.pv, battery: table.battery, grid: table.grid };
  const head = [table.month, ...used.map((source) => heads[source]), table.km, table.hours, table.starts, table.stalls];
  const cells = (label: string, sums: PointTally, other: PointTally | undefined): string[] => [
    label,
    ...used.map((source) => kWh(energyWh[source](sums))),
    form.fixed(sums.pvKm, 0),
    form.fixed(sums.solarChargingH, 1),
    form.fixed(sums.starts, 0),
    form.fixed(sums.stalls, 0),
    other === undefined ? '' : kWh(other.carPvWh),
    other === undefined ? '' : kWh(other.carGridWh),
  ];
  const rows = own.map((sums, i) => {
    const { month, year } = run.ledger.months[i] ?? { month: 1, year: 0 };
    const name = form.shortMonths[month - 1] ?? '';
    return cells(own.length > 12 ? `${name} ${year}` : name, sums, beside[i]);
  });
  const total = cells(table.sum, totalOf(own), totalOf(beside));
  return scrolledTable(
    page,
    report.monthsCaption,
    [...head, report.atOncePv, report.atOnceGrid],
    [...rows, total],
    'numbers total',
  );
}

const totalOf = (points: readonly PointTally[]): PointTally => allPoints({ points: [...points] });
