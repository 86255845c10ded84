import { cosDeg, MS_PER_DAY, sinDeg } from '../base/index.ts';
import { SOLAR_CONSTANT_W_PER_M2 } from './defaults.ts';

/** Noon of 1 January 2000, where Meeus' series count from. */
const J2000_MS = Date.UTC(2000, 0, 1, 12);
const DAYS_PER_CENTURY = 36_525;

/**
 * Distance of the sun from the Earth, Meeus' low-precision series (chapter 25): an ellipse with the mean anomaly that the position has.
 *
 * Within 0.00007 AU from 1950 to 2099; the moon moves the Earth by up to 0.00003 AU, which is left out.
 *
 * @param atMs  instant, UTC
 * @returns     astronomical units, 0.983 … 1.017
 * @example sunDistanceAu(Date.UTC(2003, 9, 17, 19, 30, 30)) // 0.99654
 * @see meeus1998
 */
export function sunDistanceAu(atMs: number): number {
  const t = (atMs - J2000_MS) / MS_PER_DAY / DAYS_PER_CENTURY;
  const anomalyDeg = 357.52911 + t * (35_999.05029 - 0.0001537 * t);
  const eccentricity = 0.016708634 - t * (0.000042037 + 0.0000001267 * t);
  const centreDeg =
    (1.914602 - t * (0.004817 + 0.000014 * t)) * sinDeg(anomalyDeg) +
    (0.019993 - 0.000101 * t) * sinDeg(2 * anomalyDeg) +
    0.000289 * sinDeg(3 * anomalyDeg);
  return (1.000001018 * (1 - eccentricity * eccentricity)) / (1 + eccentricity * cosDeg(anomalyDeg + centreDeg));
}

/**
 * Irradiance outside the atmosphere on a plane at right angles to the beam: it goes with the square of the distance.
 *
 * @param atMs  instant, UTC
 * @param solarConstantWPerM2  irradiance at 1 AU
 * @example extraterrestrialWPerM2(Date.UTC(2025, 2, 20, 12)) // 1372.2
 * @see meeus1998
 * @see koppLean2011
 */
export const extraterrestrialWPerM2 = (atMs: number, solarConstantWPerM2 = SOLAR_CONSTANT_W_PER_M2): number =>
  solarConstantWPerM2 / sunDistanceAu(atMs) ** 2;
