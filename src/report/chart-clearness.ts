import type { ChartConfiguration, Point } from 'chart.js';
import { axisTitle, headings, legendOf, STILL, TICKS } from './chart-common.ts';
import { isoDay, monthName } from './dates.ts';
import { FAINT_INK, GRID_LINE, INK, OKABE_ITO } from './palette.ts';
import { type DayKind, kindOfDay, type RunSky } from './run-sky.ts';

/** Kinds of day, each with a colour and a mark of its own. */
const KINDS: readonly {
  readonly kind: DayKind;
  readonly label: string;
  readonly colour: string;
  readonly mark: 'circle' | 'rect' | 'triangle';
}[] = [
  { kind: 'clear', label: 'clear day (from 80 %)', colour: OKABE_ITO.orange, mark: 'circle' },
  { kind: 'mixed', label: 'mixed day', colour: OKABE_ITO.skyBlue, mark: 'rect' },
  { kind: 'overcast', label: 'overcast day (below 40 %)', colour: OKABE_ITO.blue, mark: 'triangle' },
];
/** Days that a point of the line is the mean of. */
const MEAN_DAYS = 31;

/**
 * Every day of a run as a mark: what it brought on the level over what a clear sky would have brought, and a line through the mean of
 * a month around each day.
 *
 * @param heading  what the chart is about, usually the scenario's name
 */
export function clearnessChart(sky: RunSky, heading: string): ChartConfiguration<'line', Point[]> {
  const points = [...sky.clearness].flatMap((share, day): Point[] => (Number.isNaN(share) ? [] : [{ x: day, y: share * 100 }]));
  const counts = KINDS.map(
    ({ kind, label }) => `${points.filter(({ y }) => kindOfDay((y ?? 0) / 100) === kind).length} × ${label}`,
  );
  return {
    type: 'line',
    data: {
      datasets: [
        ...(points.length > MEAN_DAYS ? [{ ...LINE, label: `mean of ${MEAN_DAYS} days`, data: runningMean(points) }] : []),
        ...KINDS.map(({ kind, label, colour, mark }) => ({
          label,
          data: points.filter(({ y }) => kindOfDay((y ?? 0) / 100) === kind),
          showLine: false,
          pointStyle: mark,
          pointRadius: 3.5,
          backgroundColor: colour,
          borderColor: colour,
        })),
      ],
    },
    options: {
      ...STILL,
      layout: { padding: { top: 8, right: 22, bottom: 8, left: 10 } },
      scales: { x: dayAxis(sky), y: SHARE_AXIS },
      plugins: {
        ...headings(`${heading}: the sun of every day`, counts.join(', ')),
        legend: legendOf({ usePointStyle: true, boxHeight: 8 }),
      },
    },
  };
}

const LINE = { borderColor: INK, borderWidth: 2, pointRadius: 0, fill: false, pointStyle: 'line' } as const;

const SHARE_AXIS = {
  beginAtZero: true,
  suggestedMax: 110,
  grid: { color: GRID_LINE },
  border: { display: false },
  ticks: TICKS,
  title: axisTitle('light on the level over that of a clear sky, %'),
};

function runningMean(points: readonly Point[]): Point[] {
  const half = (MEAN_DAYS - 1) / 2;
  return points.map(({ x }, i) => {
    const near = points.slice(Math.max(0, i - half), i + half + 1);
    return { x, y: near.reduce((sum, { y }) => sum + (y ?? 0), 0) / near.length };
  });
}

/** Days from the first; the firsts of months are written where there are any, else every day. */
function dayAxis({ grid }: RunSky) {
  const dates = [...grid.dayMs].map((dayMs) => new Date(dayMs));
  const firsts = dates.flatMap((date, day) =>
    date.getUTCDate() === 1 ? [{ value: day, label: monthName(date.getUTCMonth() + 1) }] : [],
  );
  const days = dates.map((date, value) => ({ value, label: dayText(date) }));
  const ticks = firsts.length > 1 ? firsts : days.filter((_, i) => i % Math.ceil(days.length / 12) === 0);
  return {
    type: 'linear' as const,
    min: -0.5,
    max: dates.length - 0.5,
    grid: { color: GRID_LINE },
    border: { color: FAINT_INK },
    afterBuildTicks: (axis: { ticks: { value: number }[] }) => {
      axis.ticks = ticks.map(({ value }) => ({ value }));
    },
    ticks: {
      ...TICKS,
      autoSkip: false,
      maxRotation: 0,
      callback: (value: number | string) => ticks.find((tick) => tick.value === value)?.label ?? '',
    },
    title: axisTitle('day'),
  };
}

const dayText = (date: Date): string =>
  isoDay({ year: date.getUTCFullYear(), month: date.getUTCMonth() + 1, day: date.getUTCDate() });
