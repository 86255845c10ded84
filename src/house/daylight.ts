import { cosDeg, degOf, radOf, sinDeg } from '../base/index.ts';

/** Half an hour on either side of sunrise and sunset in which lamps come on one after the other. */
const DUSK_HALF_H = 0.5;

/**
 * Hours from sunrise to sunset, for lamps: declination by Cooper's formula, flat horizon, no refraction.
 *
 * Good to a quarter of an hour up to 60 degrees. Not for irradiance: `sky` has the sun for that.
 *
 * @param dayOfYear    1 … 366
 * @param latitudeDeg  degrees north, -90 … 90
 * @returns            h, 0 in polar night and 24 in polar day
 * @example dayLengthH(172, 48.2) // 15.87
 * @see cooper1969
 */
export function dayLengthH(dayOfYear: number, latitudeDeg: number): number {
  const declinationDeg = 23.45 * sinDeg((360 * (284 + dayOfYear)) / 365);
  const cosSunset = (-sinDeg(latitudeDeg) * sinDeg(declinationDeg)) / (cosDeg(latitudeDeg) * cosDeg(declinationDeg));
  return (2 * degOf(Math.acos(Math.min(1, Math.max(-1, cosSunset))))) / 15;
}

/**
 * How much of the lighting is wanted for want of daylight.
 *
 * @param hour     hour of the local day
 * @param noonH    hour at which the sun is highest
 * @param lengthH  from sunrise to sunset, h
 * @returns        0 by day … 1 by night, half at sunrise and sunset
 * @example darknessShare(18, 12, 12) // 0.5
 */
export function darknessShare(hour: number, noonH: number, lengthH: number): number {
  const afterSunsetH = Math.abs(hour - noonH) - lengthH / 2;
  return Math.min(1, Math.max(0, 0.5 + (0.5 * afterSunsetH) / DUSK_HALF_H));
}

/**
 * Where in the cold season a day lies: 1 in mid-January, -1 in mid-July, the other way round south of the equator.
 *
 * @example winterness(15, 48) // 1
 */
export function winterness(dayOfYear: number, latitudeDeg: number): number {
  return Math.cos(radOf((360 * (dayOfYear - 15)) / 365)) * (latitudeDeg < 0 ? -1 : 1);
}
