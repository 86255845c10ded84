import { type Issue, type TimeGrid, wallClockAt } from '../base/index.ts';
import { clockFit } from '../sky/index.ts';
import { pathText } from './issue-text.ts';
import type { EpwPlace } from './read-epw.ts';
import type { Site } from './scenario.ts';
import type { WeatherSeries } from './series.ts';

/** A weather file may be made for a place so far away, degrees of latitude or longitude. */
const NEAR_DEG = 0.5;

/** What an EPW file's own place and zone say against the scenario's. */
export function epwPlaceWarnings(place: EpwPlace, site: Site, grid: TimeGrid, file: string): Issue[] {
  const warnings: Issue[] = [];
  const base = { path: ['weather', 'file'], found: file };
  const away = Math.max(Math.abs(place.latitudeDeg - site.latitudeDeg), Math.abs(place.longitudeDeg - site.longitudeDeg));
  if (away > NEAR_DEG) {
    warnings.push({
      ...base,
      code: 'epw-elsewhere',
      problem: `The file is for ${place.latitudeDeg}° N ${place.longitudeDeg}° E, the site lies at ${site.latitudeDeg}° N ${site.longitudeDeg}° E.`,
      allowed: "the file's weather and the site's sun",
      fix: 'use a file for the site, or write its coordinates at `site` if the roof is there.',
    });
  }
  const standardH = standardOffsetS(grid) / 3600;
  if (Math.abs(standardH - place.offsetH) > 0.01) {
    warnings.push({
      ...base,
      code: 'epw-other-zone',
      problem: `The file's clock is UTC${signed(place.offsetH)}, the standard time of ${grid.zone.name} is UTC${signed(standardH)}.`,
      allowed: "the file's own clock",
      fix: 'correct the zone in the first line of the file or site.timeZone; where both are right, nothing needs to be done.',
    });
  }
  return warnings;
}

/** Standard time is the least offset of the year (daylight saving adds to it). */
function standardOffsetS(grid: TimeGrid): number {
  const { year } = wallClockAt(grid.zone, grid.startMs);
  const months = Array.from({ length: 12 }, (_, month) => wallClockAt(grid.zone, Date.UTC(year, month, 15)).offsetS);
  return Math.min(...months);
}

const signed = (hours: number): string => `${hours < 0 ? '-' : '+'}${Math.abs(hours)}`;

/**
 * Whether the file's light fits the sun better at another clock, by more than 15 minutes.
 *
 * @param shiftMin  what the scenario shifts it by already
 */
export function clockWarnings(series: WeatherSeries, shiftMin: number, site: Site): Issue[] {
  const steps = { startMs: series.atMs[0] ?? 0, stepS: series.intervalS, steps: series.atMs.length };
  const fit = clockFit(steps, series.ghiWPerM2, site.latitudeDeg, site.longitudeDeg);
  if (fit.verdict !== 'off') return [];
  const best = Math.round(shiftMin + fit.bestShiftMin);
  const path = ['weather', 'file'];
  return [
    {
      code: 'weather-clock-off',
      path,
      found: series.file,
      problem: `The light in this file does not fit the sun at its own times: it fits best ${Math.abs(fit.bestShiftMin)} min ${fit.bestShiftMin > 0 ? 'later' : 'earlier'}, judged on ${fit.days} days.`,
      allowed: `the file's times${shiftMin === 0 ? '' : ` and shiftMin: ${shiftMin}`}, as they are`,
      fix: `write \`shiftMin: ${best}\` beside \`${pathText(path)}\`, or correct the place or the zone if those are wrong.`,
    },
  ];
}
