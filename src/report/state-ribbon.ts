import type { Chart, Plugin } from 'chart.js';
import { type StateName, stateName } from '../charging/index.ts';
import type { Catalogue } from '../explain/index.ts';
import { cssFont, TEXT_PX } from './chart-common.ts';
import { FAINT_INK, INK, STATE_PAINT, type StatePaint } from './palette.ts';

/** A stretch of a day in one state; hours since local midnight. */
export interface Stretch {
  readonly state: StateName;
  readonly fromH: number;
  readonly toH: number;
}

/** A ribbon: what one charge point did over a day. */
export interface Ribbon {
  readonly name: string;
  readonly stretches: readonly Stretch[];
}

const BAND_PX = 16;
const BAND_GAP_PX = 6;
const ABOVE_PX = 12;
const LEGEND_ROW_PX = 20;
const SWATCH_PX = 14;
/** Rough width of a letter, to know how many rows the legend takes before there is a canvas. */
const LETTER_PX = 7;

/**
 * The stretches of equal state among the steps of a day.
 *
 * @param states  state numbers of the whole run
 * @param from    first step of the day
 * @param to      first step after it
 */
export function stretchesOf(states: Uint8Array, from: number, to: number, stepH: number): Stretch[] {
  const stretches: Stretch[] = [];
  let start = from;
  for (let step = from + 1; step <= to; step++) {
    if (step < to && states[step] === states[start]) continue;
    stretches.push({ state: stateName(states[start] ?? 0), fromH: (start - from) * stepH, toH: (step - from) * stepH });
    start = step;
  }
  return stretches;
}

/** Names of the states that occur, in the order of their first appearance. */
export const statesIn = (ribbons: readonly Ribbon[]): StateName[] => [
  ...new Set(ribbons.flatMap((ribbon) => ribbon.stretches.map((stretch) => stretch.state))),
];

/** Room that the ribbons and their legend need under the time axis, px. */
export function ribbonsHeightPx(ribbons: readonly Ribbon[], widthPx: number, states: StateLabels): number {
  const legendPx = statesIn(ribbons).reduce((sum, name) => sum + SWATCH_PX + 24 + states[name].length * LETTER_PX, 0);
  const rows = Math.max(1, Math.ceil(legendPx / widthPx));
  return ABOVE_PX + ribbons.length * (BAND_PX + BAND_GAP_PX) + rows * LEGEND_ROW_PX;
}

type StateLabels = Catalogue['states'];

/** Draws ribbons and legend into the padding under the chart. */
export function ribbonPlugin(ribbons: readonly Ribbon[], states: StateLabels): Plugin<'line'> {
  return {
    id: 'stateRibbon',
    afterDraw(chart) {
      const x = chart.scales.x;
      if (x === undefined) return;
      const { ctx } = chart;
      ctx.save();
      ctx.textBaseline = 'middle';
      let top = x.bottom + ABOVE_PX;
      for (const ribbon of ribbons) {
        drawBand(chart as Chart, ribbon, top);
        top += BAND_PX + BAND_GAP_PX;
      }
      drawLegend(chart as Chart, statesIn(ribbons), states, top + LEGEND_ROW_PX / 2);
      ctx.restore();
    },
  };
}

function drawBand(chart: Chart, ribbon: Ribbon, top: number): void {
  const x = chart.scales.x;
  if (x === undefined) return;
  const { ctx } = chart;
  for (const stretch of ribbon.stretches) {
    const left = x.getPixelForValue(stretch.fromH);
    paint(ctx, STATE_PAINT[stretch.state], left, top, x.getPixelForValue(stretch.toH) - left, BAND_PX);
  }
  ctx.strokeStyle = FAINT_INK;
  ctx.lineWidth = 1;
  ctx.strokeRect(x.left, top, x.right - x.left, BAND_PX);
  ctx.font = cssFont(TEXT_PX.small);
  ctx.fillStyle = INK;
  ctx.textAlign = 'right';
  ctx.fillText(ribbon.name, x.left - 8, top + BAND_PX / 2, x.left - 12);
}

function drawLegend(chart: Chart, names: readonly StateName[], states: StateLabels, firstRowY: number): void {
  const x = chart.scales.x;
  if (x === undefined) return;
  const { ctx } = chart;
  ctx.font = cssFont(TEXT_PX.small);
  ctx.textAlign = 'left';
  let left = x.left;
  let y = firstRowY;
  for (const name of names) {
    const width = SWATCH_PX + 6 + ctx.measureText(states[name]).width;
    if (left + width > x.right && left > x.left) {
      left = x.left;
      y += LEGEND_ROW_PX;
    }
    paint(ctx, STATE_PAINT[name], left, y - SWATCH_PX / 2 + 1, SWATCH_PX, SWATCH_PX - 2);
    ctx.strokeStyle = FAINT_INK;
    ctx.lineWidth = 0.75;
    ctx.strokeRect(left, y - SWATCH_PX / 2 + 1, SWATCH_PX, SWATCH_PX - 2);
    ctx.fillStyle = INK;
    ctx.fillText(states[name], left + SWATCH_PX + 6, y);
    left += width + 18;
  }
}

/** Fills a box; strokes run across it every few px so that narrow stretches show them too. */
function paint(ctx: CanvasRenderingContext2D, style: StatePaint, left: number, top: number, width: number, height: number): void {
  ctx.fillStyle = style.fill;
  ctx.fillRect(left, top, width, height);
  if (style.strokes === undefined) return;
  const lean = { rising: 5, falling: -5, upright: 0 }[style.strokes];
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top, width, height);
  ctx.clip();
  ctx.beginPath();
  for (let x = left - 5 + ((5 - (left % 5)) % 5); x < left + width + 5; x += 5) {
    ctx.moveTo(x - lean / 2, top + height);
    ctx.lineTo(x + lean / 2, top);
  }
  ctx.strokeStyle = 'rgba(255, 255, 255, 0.85)';
  ctx.lineWidth = 1.5;
  ctx.stroke();
  ctx.restore();
}
