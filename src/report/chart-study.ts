import type { ChartConfiguration, ChartDataset } from 'chart.js';
import type { Expectation, HeatMap, Influence, StudyRow } from '../study/index.ts';
import { bottomAxis, LAYOUT, valueAxis } from './chart-axes.ts';
import { type CellPaint, cellsPlugin } from './chart-cells.ts';
import { axisTitle, headings, legendOf, STILL, TICKS } from './chart-common.ts';
import { monthName } from './dates.ts';
import { brief, shortNumber } from './numbers.ts';
import { FAINT_INK, INK, OKABE_ITO, PAPER, paler, SOURCE_COLOUR } from './palette.ts';

/** The months of many years: bars for the usual one, a band from what nine of ten reach to what one of ten reaches. */
export function yearsChart(
  months: readonly { readonly month: number; readonly pvKWh: Expectation }[],
  heading: string,
  subtitle: string,
): ChartConfiguration {
  const values = (of: (expected: Expectation) => number): number[] => months.map(({ pvKWh }) => of(pvKWh));
  const line = (
    label: string,
    data: number[],
    more: Partial<ChartDataset<'line', number[]>>,
  ): ChartDataset<'line', number[]> => ({
    label,
    data,
    pointRadius: 3,
    borderWidth: 2,
    tension: 0,
    ...more,
  });
  return {
    type: 'line',
    data: {
      labels: months.map(({ month }) => monthName(month)),
      datasets: [
        line(
          'reached in one year of ten',
          values(({ inOneOfTen }) => inOneOfTen),
          {
            borderColor: OKABE_ITO.skyBlue,
            backgroundColor: paler(OKABE_ITO.skyBlue, 0.35),
            fill: '+2',
            order: 2,
            pointStyle: 'triangle',
          },
        ),
        line(
          'usual',
          values(({ usual }) => usual),
          { borderColor: INK, backgroundColor: INK, pointStyle: 'circle', borderWidth: 3, order: 0 },
        ),
        line(
          'reached in nine years of ten',
          values(({ inNineOfTen }) => inNineOfTen),
          {
            borderColor: OKABE_ITO.blue,
            backgroundColor: paler(OKABE_ITO.blue, 0.35),
            pointStyle: 'rect',
            order: 1,
          },
        ),
      ],
    },
    options: {
      ...STILL,
      layout: LAYOUT,
      scales: { x: bottomAxis('month'), y: valueAxis('PV into the car, kWh a month') },
      plugins: { ...headings(heading, subtitle), legend: legendOf({ boxHeight: 8, usePointStyle: true }) },
    },
  } as ChartConfiguration;
}

/** A bar for each option, stacked by where the car's energy comes from. */
export function optionsChart(
  options: readonly { readonly name: string; readonly pvKWh: number; readonly batteryKWh: number; readonly gridKWh: number }[],
  heading: string,
  subtitle: string,
): ChartConfiguration {
  const bars = (
    label: string,
    colour: string,
    of: (option: (typeof options)[number]) => number,
  ): ChartDataset<'bar', number[]> => ({
    label,
    data: options.map(of),
    backgroundColor: colour,
    categoryPercentage: Math.min(0.7, 0.16 * options.length),
  });
  const sources = [
    bars('from PV', SOURCE_COLOUR.pv, ({ pvKWh }) => pvKWh),
    bars('from the home battery', SOURCE_COLOUR.battery, ({ batteryKWh }) => batteryKWh),
    bars('from the grid', SOURCE_COLOUR.grid, ({ gridKWh }) => gridKWh),
  ];
  return {
    type: 'bar',
    data: { labels: options.map(({ name }) => name), datasets: sources.filter(({ data }) => data.some((value) => value > 0)) },
    options: {
      ...STILL,
      layout: LAYOUT,
      scales: { x: { ...bottomAxis(''), stacked: true }, y: { ...valueAxis('energy into the car, kWh a year'), stacked: true } },
      plugins: { ...headings(heading, subtitle), legend: legendOf({ boxWidth: 14, boxHeight: 12 }) },
    },
  } as ChartConfiguration;
}

/** A curve of a chart over numbers. */
export interface Curve {
  readonly label: string;
  readonly points: readonly { readonly x: number; readonly y: number }[];
  readonly dashed?: boolean;
}

const CURVE_PAINT = [
  { colour: OKABE_ITO.blue, pointStyle: 'circle' },
  { colour: OKABE_ITO.vermillion, pointStyle: 'rect' },
  { colour: OKABE_ITO.bluishGreen, pointStyle: 'triangle' },
  { colour: FAINT_INK, pointStyle: 'line' },
] as const;

/** Curves over a number: share against cost, roof against solar fraction. A dashed one is a level to reach. */
export function curvesChart(
  curves: readonly Curve[],
  { heading, subtitle, x, y, fromZero = false }: { heading: string; subtitle: string; x: string; y: string; fromZero?: boolean },
): ChartConfiguration {
  const datasets = curves.map(({ label, points, dashed = false }, i) => {
    const { colour, pointStyle } = CURVE_PAINT[i % CURVE_PAINT.length] ?? CURVE_PAINT[0];
    return {
      label,
      data: [...points].sort((a, b) => a.x - b.x),
      borderColor: dashed ? FAINT_INK : colour,
      backgroundColor: dashed ? FAINT_INK : colour,
      pointStyle: dashed ? 'line' : pointStyle,
      pointRadius: dashed ? 0 : 3,
      borderWidth: 2,
      ...(dashed ? { borderDash: [6, 5] } : {}),
    };
  });
  return {
    type: 'line',
    data: { datasets },
    options: {
      ...STILL,
      layout: LAYOUT,
      parsing: false,
      scales: { x: { ...bottomAxis(x), type: 'linear' }, y: valueAxis(y, fromZero) },
      plugins: { ...headings(heading, subtitle), legend: legendOf({ boxHeight: 8, usePointStyle: true }) },
    },
  } as unknown as ChartConfiguration;
}

/** Which axis moves the answer most: a bar for each. */
export function influenceChart(influences: readonly Influence[], output: string, heading: string): ChartConfiguration {
  return {
    type: 'bar',
    data: {
      labels: influences.map(({ keys }) => keys.join(' + ')),
      datasets: [
        { label: output, data: influences.map(({ share }) => 100 * share), backgroundColor: OKABE_ITO.blue, maxBarThickness: 34 },
      ],
    },
    options: {
      ...STILL,
      indexAxis: 'y',
      layout: LAYOUT,
      scales: {
        x: { ...bottomAxis(`part of the spread of ${output} that goes with the key alone, %`), min: 0, max: 100 },
        y: { grid: { display: false }, ticks: TICKS },
      },
      plugins: { ...headings(heading, `which key moves ${output} most`), legend: { display: false } },
    },
  } as ChartConfiguration;
}

/** Every variant as a point, and the front of those that no other beats in both outputs. */
export function frontChart(
  rows: readonly StudyRow[],
  front: readonly StudyRow[],
  { less, more }: { less: string; more: string },
  heading: string,
): ChartConfiguration {
  const at = (list: readonly StudyRow[]) =>
    list
      .flatMap(({ values }) => {
        const [x, y] = [values[less], values[more]];
        return typeof x === 'number' && typeof y === 'number' ? [{ x, y }] : [];
      })
      .sort((a, b) => a.x - b.x);
  return {
    type: 'line',
    data: {
      datasets: [
        {
          label: 'not beaten in both',
          data: at(front),
          borderColor: OKABE_ITO.vermillion,
          backgroundColor: OKABE_ITO.vermillion,
          pointRadius: 4,
          borderWidth: 2,
        },
        {
          label: 'all variants',
          data: at(rows),
          showLine: false,
          borderColor: OKABE_ITO.skyBlue,
          backgroundColor: OKABE_ITO.skyBlue,
          pointRadius: 2,
        },
      ],
    },
    options: {
      ...STILL,
      layout: LAYOUT,
      parsing: false,
      scales: {
        x: { ...bottomAxis(`${less} (less is better)`), type: 'linear' },
        y: valueAxis(`${more} (more is better)`, false),
      },
      plugins: {
        ...headings(heading, `${front.length} of ${rows.length} variants are on the front`),
        legend: legendOf({ boxHeight: 8, usePointStyle: true }),
      },
    },
  } as unknown as ChartConfiguration;
}

/** A heat map: cells from pale to full blue, each with its number where there is room. */
export function heatChart(map: HeatMap, heading: string): ChartConfiguration {
  const values = map.cells.flat().filter((value) => value !== null);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return {
    type: 'line',
    data: { labels: map.xs.map(labelOf), datasets: [] },
    options: {
      ...STILL,
      layout: LAYOUT,
      scales: {
        x: { ...bottomAxis(map.xKey), type: 'category', offset: true, labels: map.xs.map(labelOf) },
        y: {
          type: 'category',
          offset: true,
          reverse: true,
          labels: [...map.ys].map(labelOf),
          grid: { display: false },
          ticks: TICKS,
          title: axisTitle(map.yKey),
        },
      },
      plugins: {
        ...headings(heading, `${map.output}: ${brief(low)} (pale) to ${brief(high)} (blue)`),
        legend: { display: false },
      },
    },
    plugins: [cellsPlugin(map.cells, (value) => heatPaint(value, low, high))],
  } as unknown as ChartConfiguration;
}

const labelOf = (value: unknown): string => (typeof value === 'string' ? value : JSON.stringify(value));

/** From pale to full blue; paper where there is no value. */
function heatPaint(value: number | null, low: number, high: number): CellPaint {
  if (value === null) return { fill: PAPER, ink: INK, texts: [] };
  const at = high > low ? (value - low) / (high - low) : 1;
  return { fill: paler(OKABE_ITO.blue, 0.08 + 0.92 * at), ink: at > 0.5 ? PAPER : INK, texts: [cellText(value)] };
}

/** A number as short as a cell needs it: three figures or so. */
const cellText = (value: number): string =>
  Math.abs(value) >= 100 ? brief(value) : shortNumber(value, Math.abs(value) >= 10 ? 1 : Math.abs(value) >= 1 ? 2 : 3);
