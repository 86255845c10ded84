import type { ChartConfiguration } from 'chart.js';
import { bottomAxis, LAYOUT, valueAxis } from './chart-axes.ts';
import { headings, legendOf, STILL } from './chart-common.ts';
import { FAINT_INK, OKABE_ITO } from './palette.ts';

/** Points drawn in one way: joined, held like stairs, each by itself, or as a level to compare with. */
export interface Layer {
  readonly label: string;
  readonly look: 'line' | 'stairs' | 'dots' | 'level';
  readonly points: readonly { readonly x: number; readonly y: number }[];
  /** Left out: the next colour in order. */
  readonly colour?: string;
}

/** Headings of a chart and its axes. */
export interface XyFrame {
  readonly heading: string;
  readonly subtitle: string;
  readonly x: string;
  readonly y: string;
  readonly fromZero?: boolean;
  /** Where the bottom axis ends and how far its numbers are apart. Left out: as the points have it. */
  readonly xTo?: number;
  readonly xStep?: number;
}

const PAINT = [
  { colour: OKABE_ITO.blue, pointStyle: 'circle' },
  { colour: OKABE_ITO.vermillion, pointStyle: 'rect' },
  { colour: OKABE_ITO.bluishGreen, pointStyle: 'triangle' },
  { colour: OKABE_ITO.reddishPurple, pointStyle: 'rectRot' },
  { colour: OKABE_ITO.orange, pointStyle: 'star' },
] as const;
/** Up to so many joined points, each is marked. */
const MOST_MARKED = 40;

/** Layers over a number: measured points beside a model's curve, a level to stay below. The first one lies on top. */
export function layersChart(
  layers: readonly Layer[],
  { heading, subtitle, x, y, fromZero = false, xTo, xStep }: XyFrame,
): ChartConfiguration {
  const across = bottomAxis(x);
  if (xStep !== undefined) Object.assign(across.ticks, { stepSize: xStep });
  return {
    type: 'line',
    data: { datasets: layers.map(datasetOf) },
    options: {
      ...STILL,
      layout: LAYOUT,
      parsing: false,
      scales: { x: { ...across, type: 'linear', ...(xTo === undefined ? {} : { max: xTo }) }, y: valueAxis(y, fromZero) },
      plugins: { ...headings(heading, subtitle), legend: legendOf({ boxHeight: 8, usePointStyle: true }) },
    },
  } as unknown as ChartConfiguration;
}

function datasetOf({ label, look, points, colour }: Layer, i: number) {
  const paint = PAINT[i % PAINT.length] ?? PAINT[0];
  const own = colour ?? (look === 'level' ? FAINT_INK : paint.colour);
  const isMany = points.length > MOST_MARKED;
  const isMarked = look === 'dots' || (look === 'line' && !isMany);
  return {
    label,
    data: [...points].sort((a, b) => a.x - b.x),
    borderColor: own,
    backgroundColor: own,
    // Circles take much room in an SVG.
    pointStyle: isMarked ? (isMany ? 'rect' : paint.pointStyle) : 'line',
    pointRadius: isMarked ? (isMany ? 1.5 : look === 'dots' ? 4 : 3) : 0,
    showLine: look !== 'dots',
    stepped: look === 'stairs' ? 'before' : false,
    borderWidth: isMany ? 1.25 : 2,
    ...(look === 'level' ? { borderDash: [6, 5] } : {}),
  };
}
