import { cosDeg } from '../base/index.ts';

const SEA_LEVEL_PA = 101_325;

/**
 * Relative optical air mass: how much more air the beam crosses than straight down, at sea level.
 *
 * Good down to the horizon, where it reaches 37.9. Beyond 90 degrees the value of the horizon is given.
 *
 * @param zenithDeg  true zenith, degrees
 * @example relativeAirMass(80) // 5.586
 * @see kastenYoung1989
 */
export function relativeAirMass(zenithDeg: number): number {
  const z = Math.min(90, zenithDeg);
  return 1 / (cosDeg(z) + 0.50572 * (96.07995 - z) ** -1.6364);
}

/**
 * Air pressure at a height by the international standard atmosphere (troposphere, so up to 11 km).
 *
 * @param elevationM  height above sea level, m
 * @example standardPressurePa(1000) // 89875
 * @see icao1993
 */
export const standardPressurePa = (elevationM: number): number => SEA_LEVEL_PA * (1 - 2.25577e-5 * elevationM) ** 5.25588;

/**
 * Air mass with the thinner air of a high place: in proportion to pressure.
 *
 * @example absoluteAirMass(2, 90000) // 1.776
 * @see kastenYoung1989
 */
export const absoluteAirMass = (relative: number, pressurePa: number): number => (relative * pressurePa) / SEA_LEVEL_PA;
