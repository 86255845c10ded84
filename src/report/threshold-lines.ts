import type { Plugin } from 'chart.js';
import { W_PER_KW } from '../base/index.ts';
import { type Catalogue, EN } from '../explain/index.ts';
import type { Run } from '../simulate/index.ts';
import { cssFont, TEXT_PX } from './chart-common.ts';
import { FAINT_INK, INK, PAPER } from './palette.ts';

/** A surplus that the charge point waits for. */
export interface ThresholdLine {
  /** Phases that it starts on. */
  readonly phases: number;
  readonly thresholdW: number;
}

/** The start thresholds of a run's charge points, each power once; none where nobody waits for surplus. */
export function thresholdsOf(run: Run): ThresholdLine[] {
  const lines: ThresholdLine[] = [];
  for (const { rules } of run.plan.points) {
    if (rules.atOnce) continue;
    for (const { n, thresholdW } of [rules.least, rules.most]) {
      if (thresholdW > 0 && !lines.some((line) => line.thresholdW === thresholdW)) lines.push({ phases: n, thresholdW });
    }
  }
  return lines;
}

/** What a threshold line is called on the chart, to 10 W. */
export const thresholdLabel = (line: ThresholdLine, { charts }: Catalogue = EN): string =>
  charts.threshold(line.thresholdW, line.phases);

/** Draws dashed lines at the start thresholds, each named at its left end, above the curves. */
export function thresholdPlugin(lines: readonly ThresholdLine[], words: Catalogue = EN): Plugin<'line'> {
  return {
    id: 'thresholds',
    afterDatasetsDraw(chart) {
      const { ctx, chartArea } = chart;
      const y = chart.scales.y;
      if (y === undefined) return;
      ctx.save();
      for (const line of lines)
        drawLine(ctx, chartArea, y.getPixelForValue(line.thresholdW / W_PER_KW), thresholdLabel(line, words));
      ctx.restore();
    },
  };
}

function drawLine(ctx: CanvasRenderingContext2D, area: { left: number; right: number }, y: number, label: string): void {
  ctx.setLineDash([5, 4]);
  ctx.strokeStyle = FAINT_INK;
  ctx.lineWidth = 1.25;
  ctx.beginPath();
  ctx.moveTo(area.left, y);
  ctx.lineTo(area.right, y);
  ctx.stroke();
  ctx.font = cssFont(TEXT_PX.small);
  ctx.textAlign = 'left';
  ctx.textBaseline = 'bottom';
  // A pale edge keeps the words readable over a curve.
  ctx.setLineDash([]);
  ctx.strokeStyle = PAPER;
  ctx.lineWidth = 3;
  ctx.strokeText(label, area.left + 6, y - 2);
  ctx.fillStyle = INK;
  ctx.fillText(label, area.left + 6, y - 2);
}
