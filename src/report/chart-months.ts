import type { ChartConfiguration, ChartDataset } from 'chart.js';
import { WH_PER_KWH } from '../base/index.ts';
import type { DatedTally, PointTally, Run } from '../simulate/index.ts';
import { periodName } from './answer.ts';
import { axisTitle, headings, legendOf, STILL, TICKS } from './chart-common.ts';
import { monthName } from './dates.ts';
import { brief, grouped, rounded } from './numbers.ts';
import { FAINT_INK, GRID_LINE, paler, SOURCE_COLOUR } from './palette.ts';
import { allPoints, solarShare } from './sums.ts';

const SOURCES = [
  { label: 'from PV', colour: SOURCE_COLOUR.pv, energyWh: (sums: PointTally) => sums.carPvWh },
  { label: 'from the home battery', colour: SOURCE_COLOUR.battery, energyWh: (sums: PointTally) => sums.carBatteryWh },
  { label: 'from the grid', colour: SOURCE_COLOUR.grid, energyWh: (sums: PointTally) => sums.carGridWh },
] as const;

/** How much of a source's colour is left in the bars of the same days charged at once. */
const AT_ONCE_SHARE = 0.35;

/**
 * The months of a run as bars: energy into the car by source, and beside each, paler, the same month charged at once. Under each
 * month stand the kilometres that its PV energy gives. Several charge points are added up.
 *
 * @param heading  what the chart is about, usually the scenario's name
 */
export function monthsChart(run: Run, atOnce: Run, heading: string): ChartConfiguration<'bar', number[], string[]> {
  const own = run.ledger.months.map((dated) => allPoints(dated.tally));
  const beside = run.ledger.months.map((_, i) => pointsOf(atOnce.ledger.months[i]));
  const used = SOURCES.filter(({ energyWh }) => [...own, ...beside].some((sums) => sums !== undefined && energyWh(sums) > 0));
  return {
    type: 'bar',
    data: {
      labels: run.ledger.months.map((dated, i) => monthLabel(dated, own[i], run.ledger.months.length > 12)),
      datasets: used.flatMap((source) => [ownBars(source, own), besideBars(source, beside)]),
    },
    options: {
      ...STILL,
      layout: { padding: { top: 8, right: 18, bottom: 8, left: 10 } },
      scales: { x: MONTH_AXIS, y: ENERGY_AXIS },
      plugins: {
        ...headings(heading, subtitles(run, atOnce)),
        legend: legendOf({ boxWidth: 14, boxHeight: 12 }),
        tooltip: { callbacks: { label: (item) => `${item.dataset.label}: ${grouped(item.parsed.y ?? 0, 1)} kWh` } },
      },
    },
  };
}

const MONTH_AXIS = {
  stacked: true,
  grid: { display: false },
  border: { color: FAINT_INK },
  ticks: { ...TICKS, autoSkip: false, maxRotation: 0 },
  title: axisTitle('month, and the kilometres that its PV energy gives (full colour)'),
};

const ENERGY_AXIS = {
  stacked: true,
  beginAtZero: true,
  grid: { color: GRID_LINE },
  border: { display: false },
  ticks: TICKS,
  title: axisTitle('energy into the car, kWh a month'),
};

type Source = (typeof SOURCES)[number];
type Bars = ChartDataset<'bar', number[]>;

const ownBars = (source: Source, months: readonly (PointTally | undefined)[]): Bars => ({
  ...bars(source, months),
  label: source.label,
  stack: 'own',
  backgroundColor: source.colour,
});

const besideBars = (source: Source, months: readonly (PointTally | undefined)[]): Bars => ({
  ...bars(source, months),
  label: `${source.label}, if charged at once`,
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

function monthLabel(dated: DatedTally, sums: PointTally | undefined, withYear: boolean): string[] {
  const name = withYear ? `${monthName(dated.month)} ${dated.year}` : monthName(dated.month);
  return [name, `${grouped(sums?.pvKm ?? 0, 0)} km`];
}

function subtitles(run: Run, atOnce: Run): string[] {
  const one = (label: string, sums: PointTally): string => {
    const missed =
      sums.missedKm < 0.5 ? '' : `; ${grouped(sums.missedKm, 0)} of ${grouped(sums.drivenKm, 0)} km charged elsewhere`;
    return (
      `${label}: ${brief(sums.carPvWh / WH_PER_KWH)} kWh from PV (${grouped(solarShare(sums) * 100, 0)} % of all), ` +
      `${grouped(sums.pvKm, 0)} km, ${brief(sums.solarChargingH)} solar charging hours${missed}`
    );
  };
  return [
    one(periodName(run), allPoints(run.ledger.total)),
    one('The same days charged at once (pale bars)', allPoints(atOnce.ledger.total)),
  ];
}
