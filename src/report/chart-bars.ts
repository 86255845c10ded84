import type { ChartConfiguration } from 'chart.js';
import { bottomAxis, LAYOUT, valueAxis } from './chart-axes.ts';
import { axisTitle, headings, legendOf, STILL, TICKS } from './chart-common.ts';
import { FAINT_INK, GRID_LINE, INK, OKABE_ITO } from './palette.ts';

/** One bar for each name, in the same colour. */
export interface Bars {
  readonly label: string;
  readonly values: readonly number[];
  /** Left out: the next colour in order. */
  readonly colour?: string;
}

/** Headings of a chart, and what its values are. */
export interface BarsFrame {
  readonly heading: string;
  readonly subtitle: string;
  readonly values: string;
}

const COLOURS = [OKABE_ITO.orange, OKABE_ITO.blue, OKABE_ITO.bluishGreen, OKABE_ITO.reddishPurple] as const;

/** Bars side by side: what was published beside what comes out, one setting beside another. A name may have several lines. */
export function barsChart(
  names: readonly (string | readonly string[])[],
  bars: readonly Bars[],
  { heading, subtitle, values }: BarsFrame,
): ChartConfiguration {
  return {
    type: 'bar',
    data: {
      labels: names.map((name) => (typeof name === 'string' ? name : [...name])),
      datasets: bars.map(({ label, values: data, colour }, i) => ({
        label,
        data: [...data],
        backgroundColor: colour ?? COLOURS[i % COLOURS.length],
        categoryPercentage: 0.72,
        maxBarThickness: 48,
      })),
    },
    options: {
      ...STILL,
      layout: LAYOUT,
      scales: { x: bottomAxis(''), y: valueAxis(values) },
      plugins: {
        ...headings(heading, subtitle),
        legend: { ...legendOf({ boxWidth: 14, boxHeight: 12 }), display: bars.length > 1 },
      },
    },
  } as ChartConfiguration;
}

/** From a low to a high value, with the usual one between them. */
export interface Spread {
  readonly name: string;
  readonly low: number;
  readonly usual: number;
  readonly high: number;
}

/** What the ends and the middle of spreads stand for. */
export interface SpreadsFrame extends BarsFrame {
  readonly ends: string;
  readonly middle: string;
  /** Left out: the axis begins at 0. */
  readonly from?: number;
}

/** A band for each name, lying, and a mark in it: how far apart years, people or places lie. */
export function spreadsChart(
  spreads: readonly Spread[],
  { heading, subtitle, values, ends, middle, from = 0 }: SpreadsFrame,
): ChartConfiguration {
  const names = spreads.map(({ name }) => name);
  return {
    type: 'bar',
    data: {
      labels: names,
      datasets: [
        {
          type: 'line',
          label: middle,
          data: spreads.map(({ usual, name }) => ({ x: usual, y: name })),
          showLine: false,
          pointStyle: 'circle',
          pointRadius: 5,
          backgroundColor: INK,
          borderColor: INK,
        },
        {
          label: ends,
          data: spreads.map(({ low, high }) => [low, high]),
          backgroundColor: OKABE_ITO.skyBlue,
          borderColor: OKABE_ITO.skyBlue,
          pointStyle: 'rect',
          borderSkipped: false,
          maxBarThickness: 20,
          minBarLength: 3,
        },
      ],
    },
    options: {
      ...STILL,
      indexAxis: 'y',
      layout: LAYOUT,
      scales: {
        x: {
          type: 'linear',
          min: from,
          grid: { color: GRID_LINE },
          border: { color: FAINT_INK },
          ticks: TICKS,
          title: axisTitle(values),
        },
        y: { type: 'category', labels: names, offset: true, grid: { display: false }, ticks: TICKS },
      },
      plugins: { ...headings(heading, subtitle), legend: legendOf({ boxHeight: 8, usePointStyle: true }) },
    },
  } as unknown as ChartConfiguration;
}
