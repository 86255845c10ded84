import type { TimeGrid } from '../base/index.ts';
import type { Site } from '../scenario/index.ts';
import { clearMinutes, LINKE_TURBIDITY, sunTrack, type Weather } from '../sky/index.ts';

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
  const { globalWPerM2 } = clearMinutes(sun, site.elevationM, () => LINKE_TURBIDITY);
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
 * A typical day of a kind, out of the brighter half of the year: of clear days the smoothest among the clearer half of them, of others the
 * one in the middle by how much its light jumps. Null where the run has none of that kind.
 */
export function typicalDay(sky: RunSky, kind: DayKind): number | null {
  const most = sky.clearDay.reduce((a, b) => Math.max(a, b), 0);
  const days = [...sky.clearness.keys()].filter(
    (d) => (sky.clearDay[d] ?? 0) >= BRIGHT_SHARE * most && kindOfDay(sky.clearness[d] ?? Number.NaN) === kind,
  );
  // Light thrown by the edges of broken clouds can make up for their shadows: only smoothness tells that a day was clear.
  const clearer = [...days].sort((a, b) => (sky.clearness[b] ?? 0) - (sky.clearness[a] ?? 0) || a - b);
  const asked = kind === 'clear' ? clearer.slice(0, Math.ceil(days.length / 2)) : days;
  const byJumps = asked.map((day) => ({ day, jumps: jumpsOf(sky, day) })).sort((a, b) => a.jumps - b.jumps || a.day - b.day);
  return byJumps[kind === 'clear' ? 0 : Math.floor(byJumps.length / 2)]?.day ?? null;
}

/** How much the light of a day moves from step to step beside what a clear sky's would, W/m² summed up. */
function jumpsOf({ grid, weather, clearWPerM2 }: RunSky, day: number): number {
  const off = (k: number): number => (weather.ghiWPerM2[k] ?? 0) - (clearWPerM2[k] ?? 0);
  let sum = 0;
  for (let k = (grid.dayStart[day] ?? 0) + 1; k < (grid.dayStart[day + 1] ?? 0); k++) sum += Math.abs(off(k) - off(k - 1));
  return sum;
}
