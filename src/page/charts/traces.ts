import type { Plugin } from 'chart.js';

/** A quantity over a day, a mean for every step: a line, or an area down to another. */
export interface Trace {
  readonly label: string;
  readonly kW: Float64Array;
  readonly colour: string;
  /** Lower edge of an area; null: a line. */
  readonly above: Float64Array | null;
  readonly widthPx: number;
  readonly dash: readonly number[];
}

/**
 * Draws traces straight from their columns. chart.js makes an object for each of its points, ten thousand for a day by the minute,
 * which takes longer than running the year does.
 */
export const tracesPlugin: Plugin = {
  id: 'traces',
  beforeDatasetsDraw(chart, _args, options) {
    const { list = [], hours = 24 } = options as { list?: readonly Trace[]; hours?: number };
    const { ctx, chartArea, scales } = chart;
    const { x, y } = scales;
    if (x === undefined || y === undefined) return;
    const frame: Frame = {
      left: x.getPixelForValue(0),
      right: x.getPixelForValue(hours),
      zero: y.getPixelForValue(0),
      perKw: y.getPixelForValue(0) - y.getPixelForValue(1),
    };
    ctx.save();
    ctx.beginPath();
    ctx.rect(chartArea.left, chartArea.top, chartArea.width, chartArea.height);
    ctx.clip();
    for (const trace of list) draw(ctx, trace, frame);
    ctx.restore();
  },
};

/** Where things lie on the canvas, px. */
interface Frame {
  readonly left: number;
  readonly right: number;
  readonly zero: number;
  readonly perKw: number;
}

function draw(ctx: CanvasRenderingContext2D, { kW, above, colour, widthPx, dash }: Trace, frame: Frame): void {
  ctx.beginPath();
  edge(ctx, kW, frame, false);
  if (above !== null) {
    edge(ctx, above, frame, true);
    ctx.closePath();
    ctx.fillStyle = colour;
    ctx.fill();
    return;
  }
  ctx.setLineDash([...dash]);
  ctx.lineWidth = widthPx;
  ctx.strokeStyle = colour;
  ctx.lineJoin = 'round';
  ctx.stroke();
}

/** The stairs of a column, from left to right or back. */
function edge(ctx: CanvasRenderingContext2D, kW: Float64Array, { left, right, zero, perKw }: Frame, back: boolean): void {
  const stepPx = (right - left) / kW.length;
  for (let j = 0; j < kW.length; j++) {
    const i = back ? kW.length - 1 - j : j;
    const top = zero - (kW[i] ?? 0) * perKw;
    const from = left + i * stepPx;
    ctx.lineTo(back ? from + stepPx : from, top);
    ctx.lineTo(back ? from : from + stepPx, top);
  }
}
