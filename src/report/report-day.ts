import { MS_PER_H, S_PER_H, stepStartMs, W_PER_KW, wallClockAt } from '../base/index.ts';
import type { StateName } from '../charging/index.ts';
import { type AccountLine, accountOf, type Catalogue, type Explained } from '../explain/index.ts';
import { carGridW, type Run } from '../simulate/index.ts';
import { isoDay } from './dates.ts';
import { type Page, tableOf } from './page-shell.ts';
import { OKABE_ITO, SOURCE_COLOUR, STATE_PAINT } from './palette.ts';
import { legend } from './report-months.ts';
import { scrolledTable } from './scrolled-table.ts';
import { type Ribbon, statesIn, stretchesOf } from './state-ribbon.ts';
import { allPoints, solarShare } from './sums.ts';
import { type MakeSvg, picture, roundTicks, type Scale, scaleOf, stepArea, stepPath, svgMaker } from './svg-parts.ts';
import { thresholdsOf } from './threshold-lines.ts';

const WIDTH = 720;
const PLOT = { left: 40, right: WIDTH - 8, top: 24, bottom: 250 } as const;
/** Ribbons under the plot; each has a line for its name where there are several. */
const BAND = { height: 16, gap: 6, below: 26, name: 14 } as const;
const bandPx = (count: number): number => BAND.height + BAND.gap + (count > 1 ? BAND.name : 0);

/** A day of a report: a heading if it has one, its sums, its picture with the ribbon of states, the hours as a table, the account. */
export function daySection(
  page: Page,
  whole: Explained,
  day: number,
  names: readonly string[],
  words: Catalogue,
  heading?: string,
): HTMLElement {
  const { run } = whole;
  const dated = run.ledger.days[day];
  if (dated === undefined) throw new RangeError(`day = ${day}: the run has ${run.ledger.days.length} days`);
  const [from, to] = [run.grid.dayStart[day] ?? 0, run.grid.dayStart[day + 1] ?? 0];
  const weekday = wallClockAt(run.grid.zone, stepStartMs(run.grid, from)).weekday;
  const title = words.account.day(dated, weekday);
  const sums = allPoints(dated.tally);
  const told = sums.carWh === 0 ? words.account.nothing : words.account.sums(sums, solarShare(sums));
  const top = page.el(
    'div',
    [
      ...(heading === undefined ? [] : [page.el('h3', heading)]),
      page.el('p', [page.el('strong', title), `: ${told}`]),
      dayFigure(page, run, { from, to, day: title, id: isoDay(dated) }, names, words),
    ],
    { class: 'together' },
  );
  return page.el('section', [top, accountTable(page, accountOf(whole, from, to, words), names, title, words)]);
}

interface DayOf {
  readonly from: number;
  readonly to: number;
  readonly day: string;
  /** For ids that are the day's own. */
  readonly id: string;
}

function dayFigure(page: Page, run: Run, day: DayOf, names: readonly string[], words: Catalogue): HTMLElement {
  const stepH = run.grid.stepS / S_PER_H;
  const ribbons = run.columns.points.map(
    (point, i): Ribbon => ({ name: names[i] ?? '', stretches: stretchesOf(point.state, day.from, day.to, stepH) }),
  );
  const details = page.el('details', [page.el('summary', words.report.showTable), hoursTable(page, run, day, words)]);
  return page.el('figure', [
    dayPicture(page, run, day, ribbons, words),
    legend(page, lineEntries(run, day, words)),
    stateLegend(page, statesIn(ribbons), day.id, words),
    details,
  ]);
}

const SOURCES = ['pv', 'battery', 'grid'] as const;

/** Power into all cars of each source over the steps of a day, kW. */
function carKw(run: Run, { from, to }: DayOf): Record<(typeof SOURCES)[number], Float64Array> {
  const sum = { pv: new Float64Array(to - from), battery: new Float64Array(to - from), grid: new Float64Array(to - from) };
  for (const point of run.columns.points) {
    for (let k = from; k < to; k++) {
      sum.pv[k - from] = (sum.pv[k - from] ?? 0) + (point.pvW[k] ?? 0) / W_PER_KW;
      sum.battery[k - from] = (sum.battery[k - from] ?? 0) + (point.batteryW[k] ?? 0) / W_PER_KW;
      sum.grid[k - from] = (sum.grid[k - from] ?? 0) + carGridW(point, k) / W_PER_KW;
    }
  }
  return sum;
}

const usedSources = (car: ReturnType<typeof carKw>) => SOURCES.filter((source) => car[source].some((kw) => kw > 1e-6));

function lineEntries(run: Run, day: DayOf, { charts }: Catalogue): { colour: string; label: string }[] {
  return [
    { colour: OKABE_ITO.vermillion, label: charts.pv },
    { colour: 'var(--ink)', label: charts.house },
    ...usedSources(carKw(run, day)).map((source) => ({ colour: SOURCE_COLOUR[source], label: charts.carFrom[source] })),
  ];
}

function dayPicture(page: Page, run: Run, day: DayOf, ribbons: readonly Ribbon[], words: Catalogue): SVGElement {
  const svg = svgMaker(page.document);
  const { from, to } = day;
  const car = carKw(run, day);
  const pvKw = run.columns.pvW.subarray(from, to).map((w) => w / W_PER_KW);
  const houseKw = run.columns.loadW.subarray(from, to).map((w) => w / W_PER_KW);
  const stacked = stackOf(car);
  const top = [pvKw, houseKw, ...stacked.map(({ upper }) => upper)].reduce(
    (highest, values) => values.reduce((most, kw) => Math.max(most, kw), highest),
    thresholdsOf(run).reduce((most, { thresholdW }) => Math.max(most, thresholdW / W_PER_KW), 1),
  );
  const ticks = roundTicks(top);
  const y = scaleOf(0, ticks[ticks.length - 1] ?? 1, PLOT.bottom, PLOT.top);
  const x = scaleOf(0, to - from, PLOT.left, PLOT.right);
  const height = PLOT.bottom + BAND.below + ribbons.length * bandPx(ribbons.length) + 4;
  const hours = scaleOf(0, ((to - from) * run.grid.stepS) / S_PER_H, PLOT.left, PLOT.right);
  return picture(svg, words.report.dayChart(day.day), WIDTH, height, [
    patterns(svg, statesIn(ribbons), day.id),
    ...powerAxis(svg, y, ticks, words),
    ...timeAxis(svg, run, day, hours),
    ...stacked.map(({ source, upper, lower }) =>
      svg('path', { d: stepArea(x, y, upper, lower), fill: SOURCE_COLOUR[source], 'fill-opacity': '0.8' }),
    ),
    svg('path', { d: stepPath(x, y, houseKw), class: 'house' }),
    svg('path', { d: stepPath(x, y, pvKw), class: 'pv' }),
    ...thresholdLines(svg, run, y, words),
    ...ribbons.flatMap((ribbon, i) =>
      band(svg, ribbon, hours, PLOT.bottom + BAND.below + i * bandPx(ribbons.length), ribbons.length > 1, day.id),
    ),
  ]);
}

/** Sources laid on one another, PV lowest. */
function stackOf(car: ReturnType<typeof carKw>) {
  let lower = new Float64Array(car.pv.length);
  return usedSources(car).map((source) => {
    const base = lower;
    const upper = car[source].map((kw, k) => kw + (base[k] ?? 0));
    lower = upper;
    return { source, upper, lower: base };
  });
}

const powerAxis = (svg: MakeSvg, y: Scale, ticks: readonly number[], { form }: Catalogue): SVGElement[] => [
  ...ticks.flatMap((tick) => [
    svg('line', { x1: PLOT.left, x2: PLOT.right, y1: y(tick), y2: y(tick), class: 'rule' }),
    svg('text', { x: PLOT.left - 6, y: y(tick) + 4, 'text-anchor': 'end' }, form.plain(tick, 1)),
  ]),
  svg('text', { x: PLOT.left - 6, y: 12, 'text-anchor': 'end', class: 'small' }, 'kW'),
];

/** Every third hour by the clock on the wall; on a day on which the clocks change they are uneven. */
function timeAxis(svg: MakeSvg, { grid }: Run, { from, to }: DayOf, x: Scale): SVGElement[] {
  const marks: SVGElement[] = [];
  const lastH = ((to - from) * grid.stepS) / S_PER_H;
  for (let h = 0; h <= lastH; h++) {
    const { hour } = wallClockAt(grid.zone, stepStartMs(grid, from) + h * MS_PER_H);
    if (hour % 3 !== 0) continue;
    marks.push(svg('line', { x1: x(h), x2: x(h), y1: PLOT.bottom, y2: PLOT.bottom + 4, class: 'axis' }));
    const anchor = h === lastH ? 'end' : 'middle';
    marks.push(svg('text', { x: x(h), y: PLOT.bottom + 17, 'text-anchor': anchor }, `${String(hour).padStart(2, '0')}:00`));
  }
  return marks;
}

const thresholdLines = (svg: MakeSvg, run: Run, y: Scale, { charts }: Catalogue): SVGElement[] =>
  thresholdsOf(run).flatMap(({ thresholdW, phases }) => {
    const level = y(thresholdW / W_PER_KW);
    return [
      svg('line', { x1: PLOT.left, x2: PLOT.right, y1: level, y2: level, class: 'threshold' }),
      svg('text', { x: PLOT.left + 4, y: level - 3, class: 'small on-plot' }, charts.threshold(thresholdW, phases)),
    ];
  });

const patternId = (state: StateName, id: string): string => `state-${state}-${id}`;

/** Paint of a state; strokes where a colour alone would not do. */
function patterns(svg: MakeSvg, states: readonly StateName[], id: string): SVGElement {
  return svg(
    'defs',
    {},
    states.map((state) => {
      const { fill, strokes } = STATE_PAINT[state];
      const lean = strokes === undefined ? null : { rising: 'M0 6L6 0', falling: 'M0 0L6 6', upright: 'M3 0V6' }[strokes];
      const mark = lean === null ? [] : [svg('path', { d: lean, stroke: '#fff', 'stroke-width': '1.5', fill: 'none' })];
      return svg('pattern', { id: patternId(state, id), width: 6, height: 6, patternUnits: 'userSpaceOnUse' }, [
        svg('rect', { width: 6, height: 6, fill }),
        ...mark,
      ]);
    }),
  );
}

function band(svg: MakeSvg, { name, stretches }: Ribbon, x: Scale, top: number, named: boolean, id: string): SVGElement[] {
  const label = named ? [svg('text', { x: PLOT.left, y: top + 10, class: 'small' }, name)] : [];
  const y = named ? top + BAND.name : top;
  const boxes = stretches.map(({ state, fromH, toH }) =>
    svg('rect', { x: x(fromH), y, width: x(toH) - x(fromH), height: BAND.height, fill: `url(#${patternId(state, id)})` }),
  );
  return [
    ...label,
    ...boxes,
    svg('rect', { x: PLOT.left, y, width: PLOT.right - PLOT.left, height: BAND.height, class: 'frame' }),
  ];
}

function stateLegend(page: Page, states: readonly StateName[], id: string, words: Catalogue): HTMLElement {
  const svg = svgMaker(page.document);
  const entry = (state: StateName): HTMLElement => {
    const box = svg('rect', {
      x: 0.5,
      y: 0.5,
      width: 15,
      height: 11,
      fill: `url(#${patternId(state, id)})`,
      class: 'frame-filled',
    });
    return page.el('li', [
      svg('svg', { viewBox: '0 0 16 12', class: 'swatch', 'aria-hidden': 'true' }, [box]),
      words.states[state],
    ]);
  };
  return page.el('ul', states.map(entry), { class: 'legend' });
}

/** Means of each hour, for those who read tables. */
function hoursTable(page: Page, run: Run, day: DayOf, words: Catalogue): HTMLElement {
  const perHour = Math.max(1, Math.round(S_PER_H / run.grid.stepS));
  const car = carKw(run, day);
  const mean = (values: ArrayLike<number>, from: number, to: number): string => {
    let sum = 0;
    for (let k = from; k < to; k++) sum += values[k] ?? 0;
    return words.form.fixed(sum / (to - from), 2);
  };
  const rows: string[][] = [];
  for (let from = 0; from < day.to - day.from; from += perHour) {
    const to = Math.min(from + perHour, day.to - day.from);
    const { hour } = wallClockAt(run.grid.zone, stepStartMs(run.grid, day.from + from));
    rows.push([
      `${String(hour).padStart(2, '0')}:00`,
      mean(
        run.columns.pvW.subarray(day.from, day.to).map((w) => w / W_PER_KW),
        from,
        to,
      ),
      mean(
        run.columns.loadW.subarray(day.from, day.to).map((w) => w / W_PER_KW),
        from,
        to,
      ),
      ...SOURCES.map((source) => mean(car[source], from, to)),
    ]);
  }
  const { charts, report } = words;
  const head = [report.hour, charts.pv, charts.house, ...SOURCES.map((source) => charts.carFrom[source])];
  return scrolledTable(page, report.dayTable(day.day), head, rows, 'numbers');
}

/** What happened, and why: one row a sentence. */
export function accountTable(
  page: Page,
  lines: readonly AccountLine[],
  names: readonly string[],
  title: string,
  words: Catalogue,
): HTMLElement {
  const rows = lines.map((line) => {
    const time = words.form.clock(line.from) + (line.toStep > line.fromStep ? `–${words.form.clock(line.to)}` : '');
    const who = names.length > 1 ? `${names[line.point] ?? ''}: ` : '';
    return [time, who + line.text];
  });
  const { timeHead, happened } = words.report;
  return tableOf(page, title, [timeHead, happened], rows, 'account');
}
