import { cosDeg, radOf, sinDeg } from '../base/index.ts';

/** The sky of one step, as models of the tilted plane want it. */
export interface SkyOnPlane {
  readonly dhiWPerM2: number;
  readonly dniWPerM2: number;
  /** Outside the atmosphere, at right angles to the beam. */
  readonly extraterrestrialWPerM2: number;
  /** Relative, at sea level. */
  readonly airMass: number;
  readonly zenithDeg: number;
  readonly tiltDeg: number;
  /** Cosine of the angle between sun and the plane's normal. */
  readonly cosIncidence: number;
}

/** Sky diffuse irradiance on a plane and its parts, W/m². */
export interface DiffuseParts {
  readonly totalWPerM2: number;
  readonly isotropicWPerM2: number;
  readonly circumsolarWPerM2: number;
  readonly horizonWPerM2: number;
}

/**
 * Cosine of the angle between the sun and a plane's normal; negative when the sun stands behind the plane.
 *
 * @param tiltDeg     0 level … 90 upright
 * @param azimuthDeg  where the plane looks, clockwise from north
 * @param zenithDeg   of the sun
 * @param sunAzimuthDeg  clockwise from north
 * @example cosIncidence(90, 0, 30, 60) // 0.25
 * @see duffieBeckman2013
 */
export const cosIncidence = (tiltDeg: number, azimuthDeg: number, zenithDeg: number, sunAzimuthDeg: number): number =>
  cosDeg(tiltDeg) * cosDeg(zenithDeg) + sinDeg(tiltDeg) * sinDeg(zenithDeg) * cosDeg(sunAzimuthDeg - azimuthDeg);

/**
 * Direct irradiance on a plane, W/m²: 0 with the sun behind it.
 *
 * @example beamOnPlaneWPerM2(800, 0.5) // 400
 * @see duffieBeckman2013
 */
export const beamOnPlaneWPerM2 = (dniWPerM2: number, cosIncidence: number): number => dniWPerM2 * Math.max(0, cosIncidence);

/**
 * Part of the sky that a plane sees: (1 + cos tilt) / 2.
 *
 * @example skyViewShare(60) // 0.75
 * @see liuJordan1963
 */
export const skyViewShare = (tiltDeg: number): number => (1 + cosDeg(tiltDeg)) / 2;

/**
 * Sky diffuse on a plane under an evenly bright sky. Low for planes towards the sun; a lower bound to compare with.
 *
 * @example isotropicDiffuseWPerM2(100, 40) // 88.302
 * @see liuJordan1963
 */
export const isotropicDiffuseWPerM2 = (dhiWPerM2: number, tiltDeg: number): number => dhiWPerM2 * skyViewShare(tiltDeg);

/**
 * Reflected from level ground onto a plane, W/m².
 *
 * @param albedo  reflected share, 0.2 for grass, 0.6 and more for snow
 * @example groundOnPlaneWPerM2(1000, 45, 0.2) // 29.289
 * @see liuJordan1963
 */
export const groundOnPlaneWPerM2 = (ghiWPerM2: number, tiltDeg: number, albedo: number): number =>
  (ghiWPerM2 * albedo * (1 - cosDeg(tiltDeg))) / 2;

// Where cos z divides, it is floored, so that the horizon does not blow up the sun's own glow.
const RB_COS_FLOOR = 0.01745;

/**
 * Sky diffuse on a plane, Hay and Davies: part of it comes from around the sun, in proportion to DNI over extraterrestrial.
 *
 * Here to check and compare; the chain uses Perez.
 *
 * @see hayDavies1980
 */
export function hayDaviesDiffuse(sky: SkyOnPlane): DiffuseParts {
  const anisotropy = sky.dniWPerM2 / sky.extraterrestrialWPerM2;
  const rb = Math.max(0, sky.cosIncidence) / Math.max(RB_COS_FLOOR, cosDeg(sky.zenithDeg));
  const isotropicWPerM2 = (1 - anisotropy) * isotropicDiffuseWPerM2(sky.dhiWPerM2, sky.tiltDeg);
  const circumsolarWPerM2 = sky.dhiWPerM2 * anisotropy * rb;
  return { totalWPerM2: isotropicWPerM2 + circumsolarWPerM2, isotropicWPerM2, circumsolarWPerM2, horizonWPerM2: 0 };
}

/**
 * Sky diffuse on a plane, Reindl and others: Hay and Davies with a brighter horizon under clear skies (also called HDKR).
 *
 * Here to check and compare; the chain uses Perez.
 *
 * @param ghiWPerM2  global irradiance on the level, above 0
 * @see reindl1990
 */
export function reindlDiffuse(sky: SkyOnPlane, ghiWPerM2: number): DiffuseParts {
  const hayDavies = hayDaviesDiffuse(sky);
  const beamShare = (sky.dniWPerM2 * cosDeg(sky.zenithDeg)) / ghiWPerM2;
  const brightening = Math.sqrt(Math.max(0, beamShare)) * sinDeg(sky.tiltDeg / 2) ** 3;
  const horizonWPerM2 = hayDavies.isotropicWPerM2 * brightening;
  return { ...hayDavies, horizonWPerM2, totalWPerM2: hayDavies.totalWPerM2 + horizonWPerM2 };
}

/** Perez 1990, table 1: upper ends of the bins of sky clearness ε; the eighth has none. */
const CLEARNESS_BIN_ENDS = [1.065, 1.23, 1.5, 1.95, 2.8, 4.5, 6.2] as const;

/** Perez 1990, table 6, all sites composite: a row f11 f12 f13 f21 f22 f23 for each bin of ε. */
export const PEREZ_1990 = Float64Array.of(
  ...[-0.008, 0.588, -0.062, -0.06, 0.072, -0.022],
  ...[0.13, 0.683, -0.151, -0.019, 0.066, -0.029],
  ...[0.33, 0.487, -0.221, 0.055, -0.064, -0.026],
  ...[0.568, 0.187, -0.295, 0.109, -0.152, -0.014],
  ...[0.873, -0.392, -0.362, 0.226, -0.462, 0.001],
  ...[1.132, -1.237, -0.412, 0.288, -0.823, 0.056],
  ...[1.06, -1.6, -0.359, 0.264, -1.127, 0.131],
  ...[0.678, -0.327, -0.25, 0.156, -1.377, 0.251],
);

/**
 * Sky clearness ε of Perez: 1 overcast … 6 and more clear.
 *
 * @param zenithRad  of the sun, radians
 * @example perezClearness(118.45831879, 939.95469881, radOf(10.56413562)) // 8.883
 * @see perez1990
 */
export function perezClearness(dhiWPerM2: number, dniWPerM2: number, zenithRad: number): number {
  // A product, not a power: it is called half a million times a year.
  const zenithTerm = 1.041 * zenithRad * zenithRad * zenithRad;
  return ((dhiWPerM2 + dniWPerM2) / dhiWPerM2 + zenithTerm) / (1 + zenithTerm);
}

/**
 * Bin of the sky clearness, 1 … 8.
 *
 * @example perezBin(2.884) // 6
 * @see perez1990
 */
export function perezBin(clearness: number): number {
  let bin = 1;
  for (const end of CLEARNESS_BIN_ENDS) if (clearness >= end) bin++;
  return bin;
}

const coefficient = (bin: number, column: number): number => PEREZ_1990[(bin - 1) * 6 + column] ?? 0;

/**
 * F1 of Perez: share of the sky's light that comes from around the sun, 0 or more.
 *
 * @param brightness  Δ = DHI · air mass / extraterrestrial
 * @example perezF1(6, 0.2324, radOf(82.85457)) // 0.2487
 * @see perez1990
 */
export const perezF1 = (bin: number, brightness: number, zenithRad: number): number =>
  Math.max(0, coefficient(bin, 0) + coefficient(bin, 1) * brightness + coefficient(bin, 2) * zenithRad);

/**
 * F2 of Perez: how much brighter (or, below 0, darker) the horizon is.
 *
 * @example perezF2(6, 0.2324, radOf(82.85457)) // 0.1777
 * @see perez1990
 */
export const perezF2 = (bin: number, brightness: number, zenithRad: number): number =>
  coefficient(bin, 3) + coefficient(bin, 4) * brightness + coefficient(bin, 5) * zenithRad;

const COS_85 = cosDeg(85);

/**
 * Height of the sun's own glow on a plane against on the level, a/b of Perez; cos z is floored at 85 degrees.
 *
 * @example perezSunRatio(0.5, 0.25) // 2
 * @see perez1990
 */
export const perezSunRatio = (cosIncidence: number, cosZenith: number): number =>
  Math.max(0, cosIncidence) / Math.max(COS_85, cosZenith);

/**
 * Sky diffuse on a plane, Perez 1990: an even sky, a glow around the sun, a band at the horizon.
 *
 * Best of the common models in most comparisons. In minutes in which cloud edges outshine a clear sky its horizon can turn the sum negative;
 * the total is then 0 (the parts are given as they are).
 *
 * @see perez1990
 */
export function perezDiffuse(sky: SkyOnPlane): DiffuseParts {
  if (sky.dhiWPerM2 <= 0) return { totalWPerM2: 0, isotropicWPerM2: 0, circumsolarWPerM2: 0, horizonWPerM2: 0 };
  const zenithRad = radOf(sky.zenithDeg);
  const bin = perezBin(perezClearness(sky.dhiWPerM2, sky.dniWPerM2, zenithRad));
  const brightness = (sky.dhiWPerM2 * sky.airMass) / sky.extraterrestrialWPerM2;
  const f1 = perezF1(bin, brightness, zenithRad);
  const isotropicWPerM2 = isotropicDiffuseWPerM2(sky.dhiWPerM2, sky.tiltDeg) * (1 - f1);
  const circumsolarWPerM2 = sky.dhiWPerM2 * f1 * perezSunRatio(sky.cosIncidence, cosDeg(sky.zenithDeg));
  const horizonWPerM2 = sky.dhiWPerM2 * perezF2(bin, brightness, zenithRad) * sinDeg(sky.tiltDeg);
  const totalWPerM2 = Math.max(0, isotropicWPerM2 + circumsolarWPerM2 + horizonWPerM2);
  return { totalWPerM2, isotropicWPerM2, circumsolarWPerM2, horizonWPerM2 };
}
