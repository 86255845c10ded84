import type { ChartConfiguration, Point } from 'chart.js';
import { MS_PER_S, S_PER_H, wallClockAt } from '../base/index.ts';
import { axisTitle, headings, legendOf, STILL, TICKS } from './chart-common.ts';
import { isoDay } from './dates.ts';
import { FAINT_INK, GRID_LINE, INK, OKABE_ITO, paler } from './palette.ts';
import { type DayKind, type RunSky, typicalDay } from './run-sky.ts';

const KINDS: readonly DayKind[] = ['clear', 'mixed', 'overcast'];
/** Hours of a day that are shown: night takes no room. */
const FROM_H = 3;
const TO_H = 22;
const WIDTH_H = TO_H - FROM_H;
const TICK_HOURS = [6, 9, 12, 15, 18];

/**
 * A typical clear, mixed and overcast day side by side, step by step: light on the level, its diffuse part, and a clear sky's.
 *
 * @param heading  what the chart is about, usually the scenario's name
 * @returns        null where the run has none of these days
 */
export function typicalDaysChart(sky: RunSky, heading: string): ChartConfiguration<'line', Point[]> | null {
  const days = KINDS.flatMap((kind) => {
    const day = typicalDay(sky, kind);
    return day === null ? [] : [{ kind, day }];
  });
  if (days.length === 0) return null;
  const drawn = (values: Float64Array): Point[] => days.flatMap(({ day }, i) => [...pointsOf(sky, day, i, values), GAP]);
  const named = days.map(
    ({ kind, day }) =>
      `${kind}: ${dateOf(sky, day)}, ${Math.round((sky.clearness[day] ?? 0) * 100)} % of a clear day of usual haze`,
  );
  return {
    type: 'line',
    data: {
      datasets: [
        {
          ...LINE,
          label: 'clear sky of usual haze',
          data: drawn(sky.clearWPerM2),
          borderColor: INK,
          borderWidth: 1,
          borderDash: [5, 4],
        },
        {
          ...LINE,
          label: 'light on the level',
          data: drawn(sky.weather.ghiWPerM2),
          borderColor: OKABE_ITO.vermillion,
          borderWidth: 1.2,
        },
        {
          ...LINE,
          label: 'of it diffuse',
          data: drawn(sky.weather.dhiWPerM2),
          borderColor: OKABE_ITO.blue,
          borderWidth: 0.8,
          fill: 'origin',
          backgroundColor: paler(OKABE_ITO.skyBlue, 0.5),
        },
      ],
    },
    options: {
      ...STILL,
      spanGaps: false,
      layout: { padding: { top: 8, right: 22, bottom: 8, left: 10 } },
      scales: { x: hourAxis(days.length, sky), y: LIGHT_AXIS },
      plugins: {
        ...headings(`${heading}: typical days`, named.join(' · ')),
        legend: legendOf({ usePointStyle: true, pointStyleWidth: 20, boxHeight: 8 }),
      },
    },
  };
}

const LINE = { pointRadius: 0, fill: false as const, pointStyle: 'line' as const, tension: 0 };
const GAP: Point = { x: Number.NaN, y: Number.NaN };

/** A day's values by the hour on the wall, moved to its place in the row of days. */
function pointsOf({ grid }: RunSky, day: number, place: number, values: Float64Array): Point[] {
  const points: Point[] = [];
  for (let k = grid.dayStart[day] ?? 0; k < (grid.dayStart[day + 1] ?? 0); k++) {
    const { hour, minute } = wallClockAt(grid.zone, grid.startMs + (k + 0.5) * grid.stepS * MS_PER_S);
    const at = hour + minute / 60 + ((k * grid.stepS) % 60) / S_PER_H;
    if (at >= FROM_H && at < TO_H) points.push({ x: place * WIDTH_H + at - FROM_H, y: values[k] ?? 0 });
  }
  return points;
}

const LIGHT_AXIS = {
  beginAtZero: true,
  grid: { color: GRID_LINE },
  border: { display: false },
  ticks: TICKS,
  title: axisTitle('W/m² on the level'),
};

function hourAxis(days: number, { grid }: RunSky) {
  const ticks = Array.from({ length: days }, (_, i) =>
    TICK_HOURS.map((hour) => ({ value: i * WIDTH_H + hour - FROM_H, label: `${String(hour).padStart(2, '0')}:00` })),
  ).flat();
  return {
    type: 'linear' as const,
    min: 0,
    max: days * WIDTH_H,
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
    title: axisTitle(`local time of each day, ${grid.zone.name}`),
  };
}

function dateOf({ grid }: RunSky, day: number): string {
  const date = new Date(grid.dayMs[day] ?? 0);
  return isoDay({ year: date.getUTCFullYear(), month: date.getUTCMonth() + 1, day: date.getUTCDate() });
}
