import type { ChartOptions, FontSpec } from 'chart.js';
import { FAINT_INK, INK } from './palette.ts';

/** Font families of every chart, a CSS value: the one that comes with the package, its wider alphabet, then whatever there is. */
export const CHART_FONT = '"Source Sans 3", "Source Sans 3 Ext", sans-serif';
/** Sizes of text in px. */
export const TEXT_PX = { title: 17, subtitle: 13, axis: 13, small: 12 } as const;

/** A font of the charts. */
export const font = (size: number, bold = false): Partial<FontSpec> => ({
  family: CHART_FONT,
  size,
  weight: bold ? 600 : 400,
});

/** A font as a canvas wants it. */
export const cssFont = (size: number, bold = false): string => `${bold ? 600 : 400} ${size}px ${CHART_FONT}`;

/** What all charts have in common: nothing moves, the size is what the caller says. */
export const STILL = { animation: false, responsive: false, maintainAspectRatio: false } satisfies ChartOptions;

/** What a chart is about, and under it what it comes to; both at the left. */
export const headings = (title: string, subtitle: string | string[]) => ({
  title: {
    display: true,
    align: 'start' as const,
    text: title,
    font: font(TEXT_PX.title, true),
    color: INK,
    padding: { bottom: 2 },
  },
  subtitle: {
    display: true,
    align: 'start' as const,
    text: subtitle,
    font: font(TEXT_PX.subtitle),
    color: FAINT_INK,
    padding: { bottom: 6 },
  },
});

/** A legend above the chart, at the left. */
export const legendOf = (labels: {
  boxHeight: number;
  boxWidth?: number;
  usePointStyle?: boolean;
  pointStyleWidth?: number;
}) => ({
  position: 'top' as const,
  align: 'start' as const,
  labels: { font: font(TEXT_PX.small), color: INK, padding: 16, ...labels },
});

/** What an axis counts, with its unit. */
export const axisTitle = (text: string) => ({ display: true, text, font: font(TEXT_PX.axis), color: FAINT_INK });

/** How the numbers along an axis are written. */
export const TICKS = { font: font(TEXT_PX.small), color: INK };
