import type { Words } from '../words/index.ts';
import { axis, type Spec, STILL } from './chart-js.ts';
import type { Paint } from './paint.ts';

/** A month: energy from the roof into the car, kWh. */
export interface MonthBar {
  readonly label: string;
  readonly own: number;
  readonly atOnce: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/** Months as bars, in each the same month charged at once, over it the lowest and the highest of the years run. */
export const monthsSpec =
  (months: readonly MonthBar[], words: Words) =>
  (paint: Paint): Spec => ({
    type: 'bar',
    data: {
      labels: months.map(({ label }) => label),
      datasets: [
        {
          label: words.promise.chartSpread,
          data: months.map(({ low, high }) => (low === null || high === null ? null : [low, high])),
          backgroundColor: paint.ink,
          grouped: false,
          barThickness: 2.5,
          order: 0,
        },
        {
          label: words.promise.chartPv,
          data: months.map(({ own }) => own),
          backgroundColor: paint.pv,
          grouped: false,
          categoryPercentage: 0.72,
          barPercentage: 1,
          order: 2,
        },
        {
          label: words.promise.chartAtOnce,
          data: months.map(({ atOnce }) => atOnce),
          backgroundColor: 'transparent',
          borderColor: paint.ink,
          borderWidth: 1.5,
          grouped: false,
          categoryPercentage: 0.5,
          barPercentage: 1,
          order: 1,
        },
      ],
    },
    options: {
      ...STILL,
      scales: {
        x: { ...axis(paint, ''), grid: { display: false } },
        y: { ...axis(paint, words.promise.axis), beginAtZero: true },
      },
      plugins: { tooltip: { mode: 'index', intersect: false } },
    },
  });
