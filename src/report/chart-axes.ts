import { axisTitle, TICKS } from './chart-common.ts';
import { FAINT_INK, GRID_LINE } from './palette.ts';

/** Room around a chart, px. */
export const LAYOUT = { padding: { top: 8, right: 18, bottom: 8, left: 10 } };

/** An axis of values, upright. */
export const valueAxis = (title: string, beginAtZero = true) => ({
  beginAtZero,
  grid: { color: GRID_LINE },
  border: { display: false },
  ticks: TICKS,
  title: axisTitle(title),
});

/** The axis at the bottom. */
export const bottomAxis = (title: string) => ({
  grid: { display: false },
  border: { color: FAINT_INK },
  ticks: { ...TICKS, autoSkip: true, maxRotation: 0 },
  title: axisTitle(title),
});
