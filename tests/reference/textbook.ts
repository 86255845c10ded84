/**
 * What the examples of Duffie & Beckman, chapters 1 and 2, take for granted, and our own sun where it stands as theirs does.
 * The book reckons the declination of a day by Cooper, up to 0.7 degrees from the true one; so the day is chosen by the declination.
 */
import { cosDeg, MS_PER_DAY, S_PER_H, sinDeg } from '../../src/base/index.ts';
import { sunAngles, sunTimes } from '../../src/sky/index.ts';

/** Cooper 1969: declination on a day of the year, degrees. */
export const cooperDeg = (day: number): number => 23.45 * sinDeg((360 * (284 + day)) / 365);
/** The book's eccentricity factor of a day of the year. */
export const eccentricity = (day: number): number => 1 + 0.033 * cosDeg((360 * day) / 365);
/** Klein 1977: the day of each month that stands for it. */
export const MEAN_DAYS: readonly number[] = [17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344];

/** Seen from the pole, the sun's zenith angle is what its declination lacks to 90. */
const declinationDeg = (atMs: number): number => 90 - sunAngles(atMs, 90, 0).zenithDeg;

/** When our sun has a declination, between the solstices of December 2024 and June 2025. */
export function whenDeclinationIs(wantedDeg: number): number {
  let [fromMs, toMs] = [Date.UTC(2024, 11, 22), Date.UTC(2025, 5, 21)];
  while (toMs - fromMs > 1000) {
    const middleMs = (fromMs + toMs) / 2;
    if (declinationDeg(middleMs) < wantedDeg) fromMs = middleMs;
    else toMs = middleMs;
  }
  return fromMs;
}

/** Our sun at a declination and a solar hour, seen from a place of that latitude and from whatever longitude has that hour then. */
export function sunAtHour(latitudeDeg: number, wantedDeg: number, solarHour: number): ReturnType<typeof sunAngles> {
  const atMs = whenDeclinationIs(wantedDeg);
  const noonMs = sunTimes(Math.floor(atMs / MS_PER_DAY) * MS_PER_DAY + MS_PER_DAY / 2, 0, 0).noonMs;
  const greenwichHour = 12 + (atMs - noonMs) / (1000 * S_PER_H);
  return sunAngles(atMs, latitudeDeg, 15 * (solarHour - greenwichHour));
}
