import type { SvgCanvas } from '@napi-rs/canvas';
import type { ChartConfiguration } from 'chart.js';
import { CHART_FONT, cssFont } from './chart-common.ts';
import { PAPER } from './palette.ts';
import { type MeasureText, tidySvg } from './tidy-svg.ts';

/** Size of a picture, px. */
export interface PictureSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Font files (woff2 or ttf) by the family name that charts ask for; the machine's own fonts are used where one is missing. */
export type Fonts = readonly { readonly family: string; readonly bytes: Uint8Array }[];

/** A chart as pictures. */
export interface Pictures {
  readonly png: Uint8Array;
  readonly svg: string;
}

/** PNG pixels per px, so that the picture stays sharp in print. */
const PNG_SCALE = 2;

/**
 * Makes something that draws charts. Loads chart.js and the canvas when called, and registers only what the charts here use.
 *
 * @param fonts  the fonts to draw with; given none, text comes in whatever the machine has, or not at all
 */
export async function openDrawing(fonts: Fonts): Promise<(spec: ChartConfiguration, size: PictureSize) => Pictures> {
  const [chartJs, canvas] = await Promise.all([import('chart.js'), import('@napi-rs/canvas')]);
  const { Chart } = chartJs;
  Chart.register(
    chartJs.BarController,
    chartJs.BarElement,
    chartJs.CategoryScale,
    chartJs.Filler,
    chartJs.Legend,
    chartJs.LinearScale,
    chartJs.LineController,
    chartJs.LineElement,
    chartJs.PointElement,
    chartJs.SubTitle,
    chartJs.Title,
  );
  for (const { family, bytes } of fonts) canvas.GlobalFonts.register(bytes as Buffer, family);

  // Destroying a chart wipes its canvas, so the picture is taken before.
  const render = <T>(spec: ChartConfiguration, target: unknown, scale: number, take: () => T): T => {
    const options = { ...spec.options, devicePixelRatio: scale };
    const chart = new Chart(target as HTMLCanvasElement, { ...spec, options, plugins: [PAPER_PLUGIN, ...(spec.plugins ?? [])] });
    const picture = take();
    chart.destroy();
    return picture;
  };
  const ruler = canvas.createCanvas(1, 1).getContext('2d');
  const measure: MeasureText = (text, sizePx, weight) => {
    ruler.font = cssFont(sizePx, weight >= 500);
    return ruler.measureText(text).width;
  };
  const drawPng = (spec: ChartConfiguration, size: PictureSize): Uint8Array => {
    const target = canvas.createCanvas(size.widthPx, size.heightPx);
    return render(spec, target, PNG_SCALE, () => target.toBuffer('image/png'));
  };
  const drawSvg = (spec: ChartConfiguration, size: PictureSize): string => {
    const target: SvgCanvas = canvas.createCanvas(size.widthPx, size.heightPx, canvas.SvgExportFlag.NoPrettyXML);
    return render(spec, target, 1, () =>
      tidySvg(target.getContent().toString(), { title: titleOf(spec), fontFamilies: CHART_FONT, measure }),
    );
  };
  return (spec, size) => ({ png: drawPng(spec, size), svg: drawSvg(spec, size) });
}

const titleOf = (spec: ChartConfiguration): string => String(spec.options?.plugins?.title?.text ?? '');

/** Charts are see-through by nature; pictures get paper under them. */
const PAPER_PLUGIN = {
  id: 'paper',
  beforeDraw(chart: { ctx: CanvasRenderingContext2D; width: number; height: number }): void {
    chart.ctx.save();
    chart.ctx.fillStyle = PAPER;
    chart.ctx.fillRect(0, 0, chart.width, chart.height);
    chart.ctx.restore();
  },
};
