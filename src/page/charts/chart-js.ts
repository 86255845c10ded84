import {
  BarController,
  BarElement,
  CategoryScale,
  Chart,
  type ChartConfiguration,
  type ChartOptions,
  Filler,
  LinearScale,
  LineController,
  LineElement,
  type Plugin,
  PointElement,
  Tooltip,
} from 'chart.js';
import type { Paint } from './paint.ts';
import { tracesPlugin } from './traces.ts';

Chart.register(BarController, BarElement, CategoryScale, Filler, LinearScale, LineController, LineElement, PointElement, Tooltip);

export { Chart };
export type Spec = ChartConfiguration<'bar' | 'line', unknown[], unknown>;

export const FONT = 'system-ui, "Segoe UI", Roboto, "Helvetica Neue", Arial, sans-serif';
const font = (size: number) => ({ family: FONT, size });

/** What all charts have in common: they fill their box, and nothing moves. */
export const STILL = { animation: false, responsive: true, maintainAspectRatio: false, normalized: true } satisfies ChartOptions;

/** An axis in the page's colours. `text`: what it counts, with its unit. */
export const axis = (paint: Paint, text: string) => ({
  grid: { color: paint.line, drawTicks: false },
  border: { color: paint.faint },
  // A few labels say how wide all are: to measure each takes longer than to draw it.
  ticks: { color: paint.ink, font: font(12), padding: 6, maxRotation: 0, sampleSize: 4 },
  title: { display: text !== '', text, color: paint.faint, font: font(12) },
});

/** A width that the ribbon under a chart can count on, px. */
export const AXIS_PX = 46;
export const fixedWidth = (scale: { width: number }): void => {
  scale.width = AXIS_PX;
};

/** An upright line with a word at its head. */
export interface Mark {
  readonly at: number;
  readonly text: string;
  readonly colour: string;
  readonly dash: readonly number[];
}

/** Draws marks that the chart's options carry, so that they follow an update. */
export const marksPlugin: Plugin = {
  id: 'marks',
  afterDatasetsDraw(chart, _args, options) {
    const marks = (options as { list?: readonly Mark[] }).list ?? [];
    const { ctx, chartArea, scales } = chart;
    const x = scales.x;
    if (x === undefined) return;
    ctx.save();
    ctx.font = `600 12px ${FONT}`;
    marks.forEach(({ at, text, colour, dash }, i) => {
      const left = x.getPixelForValue(at);
      ctx.strokeStyle = colour;
      ctx.fillStyle = colour;
      ctx.lineWidth = 1.5;
      ctx.setLineDash([...dash]);
      ctx.beginPath();
      ctx.moveTo(left, chartArea.top);
      ctx.lineTo(left, chartArea.bottom);
      ctx.stroke();
      const isRight = left > (chartArea.left + chartArea.right) / 2;
      ctx.textAlign = isRight ? 'right' : 'left';
      ctx.fillText(text, left + (isRight ? -5 : 5), chartArea.top + 12 + 15 * i);
    });
    ctx.restore();
  },
};

/** Level dashed lines with a word: thresholds. */
export interface Level {
  readonly at: number;
  readonly text: string;
}

export const levelsPlugin: Plugin = {
  id: 'levels',
  afterDatasetsDraw(chart, _args, options) {
    const {
      list = [],
      colour = '#000',
      paper = '#fff',
    } = options as { list?: readonly Level[]; colour?: string; paper?: string };
    const { ctx, chartArea, scales } = chart;
    const y = scales.y;
    if (y === undefined) return;
    ctx.save();
    ctx.font = `12px ${FONT}`;
    ctx.setLineDash([5, 4]);
    ctx.strokeStyle = colour;
    ctx.fillStyle = colour;
    for (const { at, text } of list) {
      const top = y.getPixelForValue(at);
      if (top < chartArea.top || top > chartArea.bottom) continue;
      ctx.beginPath();
      ctx.moveTo(chartArea.left, top);
      ctx.lineTo(chartArea.right, top);
      ctx.stroke();
      ctx.setLineDash([]);
      ctx.strokeStyle = paper;
      ctx.lineWidth = 4;
      ctx.strokeText(text, chartArea.left + 6, top - 5);
      ctx.fillText(text, chartArea.left + 6, top - 5);
      ctx.setLineDash([5, 4]);
      ctx.strokeStyle = colour;
      ctx.lineWidth = 1;
    }
    ctx.restore();
  },
};
Chart.register(marksPlugin, levelsPlugin, tracesPlugin);
