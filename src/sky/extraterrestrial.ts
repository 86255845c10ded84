import { SOLAR_CONSTANT_W_PER_M2 } from './defaults.ts';

/**
 * Irradiance outside the atmosphere on a plane at right angles to the beam: Spencer's series for the distance of the sun.
 *
 * Within 1.3 W/m² of the true distance.
 *
 * @param dayOfYear  1 … 366
 * @param solarConstantWPerM2  irradiance at 1 AU
 * @example extraterrestrialWPerM2(300, 1366.1) // 1383.6
 * @see spencer1971
 * @see koppLean2011
 */
export function extraterrestrialWPerM2(dayOfYear: number, solarConstantWPerM2 = SOLAR_CONSTANT_W_PER_M2): number {
  const turn = (2 * Math.PI * (dayOfYear - 1)) / 365;
  const distanceFactor =
    1.00011 +
    0.034221 * Math.cos(turn) +
    0.00128 * Math.sin(turn) +
    0.000719 * Math.cos(2 * turn) +
    0.000077 * Math.sin(2 * turn);
  return solarConstantWPerM2 * distanceFactor;
}
