import { cssFont, TEXT_PX } from './chart-common.ts';

/** How a cell of a map is painted. */
export interface CellPaint {
  readonly fill: string;
  readonly ink: string;
  /** Lines of text, left out where there is no room. */
  readonly texts: readonly string[];
}

/** What a plugin of chart.js sees of a chart, as far as cells need it. */
interface CellChart {
  readonly ctx: CanvasRenderingContext2D;
  readonly chartArea: { left: number; right: number; top: number; bottom: number };
}

/** Least room for a line of text in a cell, px. */
const ROOM = { widePx: 44, tallPx: 16 } as const;

/**
 * Paints the cells of a map into the chart's area.
 *
 * @param cells  `cells[y][x]`; the first row lies at the bottom, like on any axis
 */
export function cellsPlugin<Cell>(cells: readonly (readonly Cell[])[], paint: (cell: Cell) => CellPaint) {
  return {
    id: 'cells',
    afterDatasetsDraw({ ctx, chartArea }: CellChart): void {
      const wide = (chartArea.right - chartArea.left) / Math.max(1, cells[0]?.length ?? 0);
      const tall = (chartArea.bottom - chartArea.top) / Math.max(1, cells.length);
      ctx.save();
      ctx.textAlign = 'center';
      ctx.textBaseline = 'middle';
      ctx.font = cssFont(TEXT_PX.small);
      cells.forEach((row, y) => {
        row.forEach((cell, x) => {
          const left = chartArea.left + x * wide;
          const top = chartArea.bottom - (y + 1) * tall;
          const { fill, ink, texts } = paint(cell);
          ctx.fillStyle = fill;
          ctx.fillRect(left + 0.5, top + 0.5, wide - 1, tall - 1);
          if (wide < ROOM.widePx || tall < ROOM.tallPx * texts.length) return;
          ctx.fillStyle = ink;
          texts.forEach((text, i) => {
            const below = (i - (texts.length - 1) / 2) * ROOM.tallPx;
            ctx.fillText(text, left + wide / 2, top + tall / 2 + below);
          });
        });
      });
      ctx.restore();
    },
  };
}
