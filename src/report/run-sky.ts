import type { TimeGrid } from '../base/index.ts';
import type { Site } from '../scenario/index.ts';
import { clearMinutes, clearSkyOf, LINKE_TURBIDITY, sunTrack, type Weather } from '../sky/index.ts';

/** The sky over a run: what came, what a clear sky of usual air would have brought, and by day the one over the other. */
export interface RunSky {
  readonly grid: TimeGrid;
  readonly weather: Weather;
  /** Global on the level under a clear sky, W/m², by the step. */
  readonly clearWPerM2: Float64Array;
  /** By the local day: what it brought under a clear sky, and what it brought of that; NaN where the sun does not rise. */
  readonly clearDay: Float64Array;
  readonly clearness: Float64Array;
}

/** Reckons the sky over a run. */
export function runSky(grid: TimeGrid, weather: Weather, site: Site): RunSky {
  const sun = sunTrack(grid, site.latitudeDeg, site.longitudeDeg);
  const place = clearSkyOf(site.elevationM, LINKE_TURBIDITY);
  const { globalWPerM2 } = clearMinutes(sun, site.elevationM, () => LINKE_TURBIDITY, place);
  const clearDay = new Float64Array(grid.dayMs.length);
  const clearness = clearDay.map((_, d) => {
    let came = 0;
    for (let k = grid.dayStart[d] ?? 0; k < (grid.dayStart[d + 1] ?? 0); k++) {
      came += weather.ghiWPerM2[k] ?? 0;
      clearDay[d] = (clearDay[d] ?? 0) + (globalWPerM2[k] ?? 0);
    }
    return (clearDay[d] ?? 0) > 0 ? came / (clearDay[d] ?? 1) : Number.NaN;
  });
  return { grid, weather, clearWPerM2: globalWPerM2, clearDay, clearness };
}

/** How a day is called by its clearness. */
export type DayKind = 'clear' | 'mixed' | 'overcast';

/** Above and below these a day is clear or overcast. */
const CLEAR_FROM = 0.8;
const OVERCAST_TO = 0.4;

/** @example kindOfDay(0.9) // 'clear' */
export const kindOfDay = (clearness: number): DayKind =>
  clearness >= CLEAR_FROM ? 'clear' : clearness < OVERCAST_TO ? 'overcast' : 'mixed';

/** Days are chosen out of those with at least so much of the longest day's clear sky: light enough to see something. */
const BRIGHT_SHARE = 0.6;

/**
 * A typical day of a kind: of the days of the brighter half of the year, the one in the middle by how much its light jumps from step
 * to step. Null where the run has none of that kind.
 */
export function typicalDay(sky: RunSky, kind: DayKind): number | null {
  const most = sky.clearDay.reduce((a, b) => Math.max(a, b), 0);
  const days = [...sky.clearness.keys()].filter(
    (d) => (sky.clearDay[d] ?? 0) >= BRIGHT_SHARE * most && kindOfDay(sky.clearness[d] ?? Number.NaN) === kind,
  );
  const byJumps = days.map((day) => ({ day, jumps: jumpsOf(sky, day) })).sort((a, b) => a.jumps - b.jumps || a.day - b.day);
  return byJumps[Math.floor(byJumps.length / 2)]?.day ?? null;
}

function jumpsOf({ grid, weather }: RunSky, day: number): number {
  let sum = 0;
  for (let k = (grid.dayStart[day] ?? 0) + 1; k < (grid.dayStart[day + 1] ?? 0); k++)
    sum += Math.abs((weather.ghiWPerM2[k] ?? 0) - (weather.ghiWPerM2[k - 1] ?? 0));
  return sum;
}
