import type { ChartConfiguration, ChartDataset } from 'chart.js';
import { WH_PER_KWH } from '../base/index.ts';
import { type Catalogue, EN } from '../explain/index.ts';
import type { DatedTally, PointTally, Run } from '../simulate/index.ts';
import { periodName } from './answer.ts';
import { axisTitle, headings, legendOf, STILL, TICKS } from './chart-common.ts';
import { rounded } from './numbers.ts';
import { FAINT_INK, GRID_LINE, paler, SOURCE_COLOUR } from './palette.ts';
import { allPoints, solarShare } from './sums.ts';

const SOURCES = [
  { name: 'pv', colour: SOURCE_COLOUR.pv, energyWh: (sums: PointTally) => sums.carPvWh },
  { name: 'battery', colour: SOURCE_COLOUR.battery, energyWh: (sums: PointTally) => sums.carBatteryWh },
  { name: 'grid', colour: SOURCE_COLOUR.grid, energyWh: (sums: PointTally) => sums.carGridWh },
] as const;

/** How much of a source's colour is left in the bars of the same days charged at once. */
const AT_ONCE_SHARE = 0.35;

/**
 * The months of a run as bars: energy into the car by source, and beside each, paler, the same month charged at once. Under each
 * month stand the kilometres that its PV energy gives. Several charge points are added up.
 *
 * @param heading  what the chart is about, usually the scenario's name
 */
export function monthsChart(
  run: Run,
  atOnce: Run,
  heading: string,
  words: Catalogue = EN,
): ChartConfiguration<'bar', number[], string[]> {
  const own = run.ledger.months.map((dated) => allPoints(dated.tally));
  const beside = run.ledger.months.map((_, i) => pointsOf(atOnce.ledger.months[i]));
  const used = SOURCES.filter(({ energyWh }) => [...own, ...beside].some((sums) => sums !== undefined && energyWh(sums) > 0));
  return {
    type: 'bar',
    data: {
      labels: run.ledger.months.map((dated, i) => monthLabel(dated, own[i], run.ledger.months.length > 12, words)),
      datasets: used.flatMap((source) => [ownBars(source, own, words), besideBars(source, beside, words)]),
    },
    options: {
      ...STILL,
      layout: { padding: { top: 8, right: 18, bottom: 8, left: 10 } },
      scales: { x: monthAxis(words), y: energyAxis(words) },
      plugins: {
        ...headings(heading, subtitles(run, atOnce, words)),
        legend: legendOf({ boxWidth: 14, boxHeight: 12 }),
        tooltip: { callbacks: { label: (item) => `${item.dataset.label}: ${words.form.fixed(item.parsed.y ?? 0, 1)} kWh` } },
      },
    },
  };
}

const monthAxis = ({ charts }: Catalogue) => ({
  stacked: true,
  grid: { display: false },
  border: { color: FAINT_INK },
  ticks: { ...TICKS, autoSkip: false, maxRotation: 0 },
  title: axisTitle(charts.monthAxis),
});

const energyAxis = ({ charts }: Catalogue) => ({
  stacked: true,
  beginAtZero: true,
  grid: { color: GRID_LINE },
  border: { display: false },
  ticks: TICKS,
  title: axisTitle(charts.energyAxis),
});

type Source = (typeof SOURCES)[number];
type Bars = ChartDataset<'bar', number[]>;

const ownBars = (source: Source, months: readonly (PointTally | undefined)[], { charts }: Catalogue): Bars => ({
  ...bars(source, months),
  label: charts.from[source.name],
  stack: 'own',
  backgroundColor: source.colour,
});

const besideBars = (source: Source, months: readonly (PointTally | undefined)[], { charts }: Catalogue): Bars => ({
  ...bars(source, months),
  label: charts.ifAtOnce(charts.from[source.name]),
  stack: 'at once',
  backgroundColor: paler(source.colour, AT_ONCE_SHARE),
});

function bars(source: Source, months: readonly (PointTally | undefined)[]): Bars {
  return {
    data: months.map((sums) => (sums === undefined ? 0 : rounded(source.energyWh(sums) / WH_PER_KWH, 3))),
    borderColor: source.colour,
    borderWidth: 1,
    // Few months do not make fat bars.
    categoryPercentage: Math.min(0.8, 0.12 * months.length),
    barPercentage: 0.92,
  };
}

const pointsOf = (dated: DatedTally | undefined): PointTally | undefined => dated && allPoints(dated.tally);

function monthLabel(dated: DatedTally, sums: PointTally | undefined, withYear: boolean, { form }: Catalogue): string[] {
  const month = form.shortMonths[dated.month - 1] ?? '';
  return [withYear ? `${month} ${dated.year}` : month, `${form.fixed(sums?.pvKm ?? 0, 0)} km`];
}

function subtitles(run: Run, atOnce: Run, words: Catalogue): string[] {
  const one = (label: string, sums: PointTally): string => words.charts.monthSums(label, sums, solarShare(sums));
  return [one(periodName(run, words), allPoints(run.ledger.total)), one(words.charts.atOnceDays, allPoints(atOnce.ledger.total))];
}
