import { cosDeg } from '../base/index.ts';

/**
 * Part of the light that passes the glass against straight on, ASHRAE's one-number form. Reaches 0 already at 87.3 degrees.
 *
 * Here to check and compare; the chain uses the physical model.
 *
 * @param cosIncidence  0 or less gives 0
 * @param b0  0.05 for plain glass
 * @example passingShareAshrae(cosDeg(60)) // 0.95
 * @see ashrae1977
 */
export const passingShareAshrae = (cosIncidence: number, b0 = 0.05): number =>
  cosIncidence <= 0 ? 0 : Math.max(0, 1 - b0 * (1 / cosIncidence - 1));

/** Glass of a usual module: refractive index, extinction per metre, thickness. */
const GLASS_INDEX = 1.526;
const GLASS_EXTINCTION_PER_M = 4;
const GLASS_M = 0.002;
const PER_INDEX_SQUARED = 1 / (GLASS_INDEX * GLASS_INDEX);

/**
 * Part of the light that passes the glass against straight on: reflection at one surface (Fresnel) and absorption (Bouguer), as De Soto,
 * Klein and Beckman have it. Written in cosines; no coating.
 *
 * @param cosIncidence  0 or less gives 0
 * @example passingShare(cosDeg(67.5)) // 0.8894
 * @see deSoto2006
 */
export function passingShare(cosIncidence: number): number {
  if (cosIncidence <= 0) return 0;
  return transmitted(cosIncidence) * PER_STRAIGHT_ON;
}

function transmitted(cosIncidence: number): number {
  const n = GLASS_INDEX;
  const cosInside = Math.sqrt(1 - (1 - cosIncidence * cosIncidence) * PER_INDEX_SQUARED);
  // Fresnel's two parts, (across − / across +)² and (along − / along +)², and the way through the glass over one denominator: a year of minutes
  // waits for its divisions.
  const across = cosIncidence + n * cosInside;
  const along = n * cosIncidence + cosInside;
  const acrossPart = (cosIncidence - n * cosInside) * along;
  const alongPart = (n * cosIncidence - cosInside) * across;
  const fresnel = 2 * across * across * along * along;
  const perAll = 1 / (fresnel * cosInside);
  const reflected = (acrossPart * acrossPart + alongPart * alongPart) * cosInside * perAll;
  return (1 - reflected) * expOfMinus(GLASS_EXTINCTION_PER_M * GLASS_M * fresnel * perAll);
}

const PER_STRAIGHT_ON = 1 / transmitted(1);

/** e to the power of −x for x up to 0.011, the way through 2 mm of glass: the first term left out is below 3e-15. */
function expOfMinus(x: number): number {
  return 1 - x * (1 - x * (1 / 2 - x * (1 / 6 - x * (1 / 24 - x * (1 / 120)))));
}

/**
 * Angle at which all of the even sky's light may be thought to meet a tilted plane, degrees.
 *
 * @example skyIncidenceDeg(30) // 56.88
 * @see brandemuehlBeckman1980
 */
export const skyIncidenceDeg = (tiltDeg: number): number => 59.7 - 0.1388 * tiltDeg + 0.001497 * tiltDeg * tiltDeg;

/**
 * The same for light from the ground.
 *
 * @example groundIncidenceDeg(30) // 75.06
 * @see brandemuehlBeckman1980
 */
export const groundIncidenceDeg = (tiltDeg: number): number => 90 - 0.5788 * tiltDeg + 0.002693 * tiltDeg * tiltDeg;

/**
 * Part of the even sky's light that passes the glass: the physical model at the effective angle.
 *
 * @example passingShareSky(30) // 0.9601
 * @see brandemuehlBeckman1980
 */
export const passingShareSky = (tiltDeg: number): number => passingShare(cosDeg(skyIncidenceDeg(tiltDeg)));

/** The same for light from the ground; 0 for a level plane, which sees none. */
export const passingShareGround = (tiltDeg: number): number => passingShare(cosDeg(groundIncidenceDeg(tiltDeg)));
