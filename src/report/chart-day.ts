import type { ChartConfiguration, ChartDataset, Point } from 'chart.js';
import { MS_PER_H, S_PER_H, stepStartMs, W_PER_KW, wallClockAt } from '../base/index.ts';
import { type Catalogue, EN } from '../explain/index.ts';
import { carGridW, type PointColumns, type Run } from '../simulate/index.ts';
import { axisTitle, headings, legendOf, STILL, TICKS } from './chart-common.ts';
import { clockTime, isoDay } from './dates.ts';
import { rounded } from './numbers.ts';
import { FAINT_INK, GRID_LINE, OKABE_ITO, paler, SOURCE_COLOUR } from './palette.ts';
import { type Ribbon, ribbonPlugin, ribbonsHeightPx, stretchesOf } from './state-ribbon.ts';
import { allPoints } from './sums.ts';
import { thresholdPlugin, thresholdsOf } from './threshold-lines.ts';

/** Which day, and what to write on it. */
export interface DayChartOptions {
  /** Day of the run, from 0. */
  readonly day: number;
  /** What the chart is about, usually the scenario's name. */
  readonly heading: string;
  /** One name per charge point. */
  readonly pointNames: readonly string[];
  /** Words on it; English where left out. */
  readonly words?: Catalogue;
  /** Width that the chart will be drawn at, px; decides how many rows the legend of states takes. */
  readonly widthPx: number;
}

/** The steps of one day. */
interface DaySteps {
  readonly run: Run;
  readonly from: number;
  readonly to: number;
  readonly stepH: number;
}

type Line = ChartDataset<'line', Point[]>;

/**
 * One local day of a run, step by step: PV and house load as lines, power into the cars stacked by source, the start thresholds
 * as dashed lines, and under the time axis a ribbon per charge point with the state of every step.
 *
 * @throws RangeError  no such day in the run
 */
export function dayChart(run: Run, options: DayChartOptions): ChartConfiguration<'line', Point[]> {
  const day = dayStepsOf(run, options.day);
  const { words = EN } = options;
  const ribbons = run.columns.points.map(
    (point, i): Ribbon => ({
      name: run.columns.points.length > 1 ? (options.pointNames[i] ?? words.charts.car(i + 1)) : words.charts.state,
      stretches: stretchesOf(point.state, day.from, day.to, day.stepH),
    }),
  );
  const thresholds = thresholdsOf(run);
  const topKw = Math.max(...thresholds.map((line) => line.thresholdW / W_PER_KW), 1);
  return {
    type: 'line',
    data: { datasets: linesOf(day, words) },
    options: {
      ...STILL,
      layout: {
        padding: { top: 8, right: 22, bottom: ribbonsHeightPx(ribbons, options.widthPx - 110, words.states) + 6, left: 10 },
      },
      scales: { x: timeAxis(day, words), y: powerAxis(topKw, words) },
      plugins: {
        ...headings(`${options.heading}, ${dayName(run, options.day, words)}`, sumsText(run, options.day, words)),
        legend: legendOf({ usePointStyle: true, pointStyleWidth: 20, boxHeight: 8 }),
        tooltip: { mode: 'index', intersect: false },
      },
    },
    plugins: [thresholdPlugin(thresholds, words), ribbonPlugin(ribbons, words.states)],
  };
}

/**
 * A day's name in files and titles.
 *
 * @param day  day of the run, from 0
 * @returns    `2025-06-21`
 */
export function dateOf(run: Run, day: number): string {
  const dated = run.ledger.days[day];
  if (dated === undefined) throw new RangeError(`day = ${day}: the run has ${run.ledger.days.length} days`);
  return isoDay(dated);
}

function dayStepsOf(run: Run, day: number): DaySteps {
  const from = run.grid.dayStart[day];
  const to = run.grid.dayStart[day + 1];
  if (from === undefined || to === undefined) throw new RangeError(`day = ${day}: the run has ${run.grid.dayMs.length} days`);
  return { run, from, to, stepH: run.grid.stepS / S_PER_H };
}

/** Power of a step, W. */
type PowerAt = (step: number) => number;

const inArray =
  (column: Float64Array): PowerAt =>
  (step) =>
    column[step] ?? 0;

function linesOf(day: DaySteps, { charts }: Catalogue): Line[] {
  const { columns } = day.run;
  const sources = [
    { label: charts.carFrom.pv, colour: SOURCE_COLOUR.pv, pick: (point: PointColumns) => inArray(point.pvW) },
    { label: charts.carFrom.battery, colour: SOURCE_COLOUR.battery, pick: (point: PointColumns) => inArray(point.batteryW) },
    {
      label: charts.carFrom.grid,
      colour: SOURCE_COLOUR.grid,
      pick: (point: PointColumns) => (step: number) => carGridW(point, step),
    },
  ].map((source) => ({ ...source, points: stepPoints(day, columns.points.map(source.pick)) }));
  const used = sources.filter((source) => source.points.some((point) => (point.y ?? 0) > 0));
  const areas = used.map(
    (source, i): Line => ({
      label: source.label,
      data: source.points,
      stack: 'car',
      fill: i === 0 ? 'origin' : '-1',
      backgroundColor: paler(source.colour, 0.75),
      borderColor: source.colour,
      borderWidth: 0,
      pointStyle: 'rect',
      ...STEPPED,
    }),
  );
  const pv = { label: charts.pv, data: stepPoints(day, [inArray(columns.pvW)]), borderColor: OKABE_ITO.vermillion };
  const house = { label: charts.house, data: stepPoints(day, [inArray(columns.loadW)]), borderColor: OKABE_ITO.black };
  // The first datasets are drawn last, so the lines lie over the areas; the areas' order among themselves stays.
  return [{ ...pv, ...LINE, stack: 'pv' }, { ...house, ...LINE, borderWidth: 1, stack: 'house' }, ...areas];
}

const STEPPED = { stepped: 'before', pointRadius: 0, pointHitRadius: 6, tension: 0 } as const;
const LINE = { ...STEPPED, fill: false, borderWidth: 1.5, pointStyle: 'line' } as const;

/** A sum of powers over a day in kW, a point where each step begins and one where the last ends. */
function stepPoints(day: DaySteps, powers: readonly PowerAt[]): Point[] {
  const points: Point[] = [];
  for (let step = day.from; step <= day.to; step++) {
    const source = Math.min(step, day.to - 1);
    const powerW = powers.reduce((sum, powerAt) => sum + powerAt(source), 0);
    points.push({ x: (step - day.from) * day.stepH, y: rounded(powerW / W_PER_KW, 4) });
  }
  return points;
}

function timeAxis(day: DaySteps, { charts }: Catalogue) {
  const hours = (day.to - day.from) * day.stepH;
  const ticks = timeTicks(day, hours);
  return {
    type: 'linear' as const,
    min: 0,
    max: hours,
    grid: { color: GRID_LINE },
    border: { color: FAINT_INK },
    afterBuildTicks: (axis: { ticks: { value: number }[] }) => {
      axis.ticks = ticks.map(({ value }) => ({ value }));
    },
    ticks: {
      ...TICKS,
      autoSkip: false,
      maxRotation: 0,
      callback: (value: number | string) => ticks.find((tick) => tick.value === value)?.label ?? '',
    },
    title: axisTitle(charts.localTime(day.run.grid.zone.name)),
  };
}

/** Hours since midnight at which the clock on the wall shows an even hour: on a day on which the clocks change they are uneven. */
function timeTicks(day: DaySteps, hours: number): { value: number; label: string }[] {
  const { grid } = day.run;
  const midnightMs = stepStartMs(grid, day.from);
  const ticks = [];
  for (let value = 0; value <= hours; value += 0.5) {
    const wall = wallClockAt(grid.zone, midnightMs + value * MS_PER_H);
    if (wall.minute === 0 && wall.hour % 2 === 0) ticks.push({ value, label: clockTime(wall) });
  }
  return ticks;
}

const powerAxis = (topKw: number, { charts }: Catalogue) => ({
  type: 'linear' as const,
  stacked: true,
  beginAtZero: true,
  suggestedMax: topKw * 1.12,
  grid: { color: GRID_LINE },
  border: { display: false },
  ticks: TICKS,
  title: axisTitle(charts.power),
});

/** A day's name for people. */
function dayName(run: Run, day: number, { form }: Catalogue): string {
  const dated = run.ledger.days[day];
  return dated === undefined ? '' : form.date(dated);
}

function sumsText(run: Run, day: number, { charts }: Catalogue): string {
  const dated = run.ledger.days[day];
  return dated === undefined ? '' : charts.daySums(allPoints(dated.tally));
}
