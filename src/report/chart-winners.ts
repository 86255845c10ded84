import type { ChartConfiguration } from 'chart.js';
import type { PhaseOption, Ranking } from '../study/index.ts';
import { bottomAxis, LAYOUT } from './chart-axes.ts';
import { type CellPaint, cellsPlugin } from './chart-cells.ts';
import { axisTitle, headings, legendOf, STILL, TICKS } from './chart-common.ts';
import { brief, grouped } from './numbers.ts';
import { FAINT_INK, INK, OKABE_ITO, PAPER, paler } from './palette.ts';

/** What won in a cell of the map, and by how much, as people read it. */
export interface Won {
  readonly winner: string;
  readonly lead: string;
  /** Too close to call: painted pale. */
  readonly isTie: boolean;
}

/** A map of which answer wins where. */
export interface WinnersMap {
  readonly xs: readonly string[];
  readonly ys: readonly string[];
  /** `cells[y][x]`, the first row at the bottom. */
  readonly cells: readonly (readonly Won[])[];
}

const COLOURS = [OKABE_ITO.orange, OKABE_ITO.blue, OKABE_ITO.bluishGreen, OKABE_ITO.reddishPurple] as const;
/** How much of its colour a cell keeps: clear ones, and those too close to call. */
const CLEAR = 0.55;
const CLOSE = 0.18;

/** Where an answer flips: a colour for each winner, paler where it is too close to call, with the lead in words. */
export function winnersChart(
  { xs, ys, cells }: WinnersMap,
  { heading, subtitle, x, y }: { heading: string; subtitle: string; x: string; y: string },
): ChartConfiguration {
  const winners = [...new Set(cells.flat().map(({ winner }) => winner))].sort();
  const colourOf = (winner: string): string => COLOURS[winners.indexOf(winner) % COLOURS.length] ?? PAPER;
  const paint = ({ winner, lead, isTie }: Won): CellPaint => ({
    fill: paler(colourOf(winner), isTie ? CLOSE : CLEAR),
    ink: isTie ? FAINT_INK : INK,
    texts: [winner, lead],
  });
  return {
    type: 'bar',
    data: {
      labels: [...xs],
      // Bars without height: they are here for the legend.
      datasets: winners.map((winner) => ({ label: winner, data: [], backgroundColor: paler(colourOf(winner), CLEAR) })),
    },
    options: {
      ...STILL,
      layout: LAYOUT,
      scales: {
        x: { ...bottomAxis(x), type: 'category', offset: true },
        y: {
          type: 'category',
          offset: true,
          reverse: true,
          labels: [...ys],
          grid: { display: false },
          ticks: TICKS,
          title: axisTitle(y),
        },
      },
      plugins: { ...headings(heading, subtitle), legend: legendOf({ boxWidth: 14, boxHeight: 12 }) },
    },
    plugins: [cellsPlugin(cells, paint)],
  } as unknown as ChartConfiguration;
}

const WAYS = { 1: 'one phase', 3: 'three phases', switchable: 'switchable' } as const;

/**
 * Rankings of the ways to connect, all over a map, as a map of winners.
 *
 * @param currency  of the household's cost; null where PV ranks
 */
export const phasesMap = (
  rankings: readonly (readonly Ranking<PhaseOption>[])[],
  xs: readonly string[],
  ys: readonly string[],
  currency: string | null,
): WinnersMap => ({
  xs,
  ys,
  cells: rankings.map((row) =>
    row.map(({ winner, ahead, tieBelow }): Won => {
      const isTie = ahead < tieBelow;
      const lead = currency === null ? `by ${brief(ahead)} kWh` : `by ${currency} ${grouped(ahead, 0)}`;
      return { winner: WAYS[winner.option.phases], lead: isTie ? 'no clear lead' : lead, isTie };
    }),
  ),
});
