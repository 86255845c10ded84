import { cosDeg, type Issue, type TimeGrid, wallClockAt } from '../base/index.ts';
import { CLIMATES, clockFit, type NamedClimate, tooSunnyMonths } from '../sky/index.ts';
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

/** Months of a synthetic year that not even the clearest sky could bring at the site. */
export function tooSunnyIssues(monthlyGhiKWhM2: readonly number[], climate: string | undefined, site: Site): Issue[] {
  return tooSunnyMonths(monthlyGhiKWhM2, site).map(({ month, mostKWhPerM2 }) => {
    const most = Math.floor(mostKWhPerM2);
    const found = `${monthlyGhiKWhM2[month]}`;
    return {
      code: 'month-too-sunny',
      path: ['weather', 'monthlyGhiKWhM2', month],
      found: climate === undefined ? found : `${found} (of the climate ${climate})`,
      problem: 'A month cannot bring more than the clearest sky would bring at this place.',
      allowed: `0 to ${most} (kWh/m²)`,
      fix: `write the month's sum on the horizontal, ${most} or less, or correct \`site.latitude\`.`,
    };
  });
}

/** A climate far from the site. */
export function climateWarnings(name: string, site: Site): Issue[] {
  const climate = Object.entries<NamedClimate>(CLIMATES).find(([known]) => known === name)?.[1];
  if (climate === undefined) return [];
  const north = Math.abs(climate.latitude - site.latitudeDeg);
  const east = Math.abs(climate.longitude - site.longitudeDeg) * cosDeg(site.latitudeDeg);
  if (Math.hypot(north, east) <= CLIMATE_NEAR_DEG) return [];
  return [
    {
      code: 'climate-elsewhere',
      path: ['weather', 'climate'],
      found: name,
      problem: `The climate is that of ${climate.latitude}° N ${climate.longitude}° E, the site lies at ${site.latitudeDeg}° N ${site.longitudeDeg}° E.`,
      allowed: "that climate's months under the site's sun",
      fix: 'choose a nearer climate, or write monthlyGhiKWhM2 and monthlyTempC of the site.',
    },
  ];
}

/** A climate may stand for places so far away, degrees of a great circle: about 330 km. */
const CLIMATE_NEAR_DEG = 3;
