import type { Irradiance } from './clear-sky.ts';

/** Below this height the split between beam and diffuse is noise: all is taken as diffuse. */
const BEAM_UP_TO_ZENITH_DEG = 87;
/** Floor of cos z where the clearness is reckoned, so that the horizon does not divide by nothing. */
const COS_FLOOR = 0.065;

/**
 * Diffuse part of hourly GHI, after Erbs, Klein and Duffie.
 *
 * Made for hourly means in the middle latitudes; for single minutes it is right on the mean only: it takes a bright gap
 * between clouds for a clear sky. Has steps of 0.0003 where its pieces meet.
 *
 * @param clearness  GHI over extraterrestrial irradiance on the level (kt), 0 … 1
 * @returns  diffuse share of GHI, 0 … 1
 * @example erbsDiffuseShare(0.5) // 0.6591
 * @see erbs1982
 */
export function erbsDiffuseShare(clearness: number): number {
  const k = clearness;
  if (k <= 0.22) return 1 - 0.09 * k;
  if (k > 0.8) return 0.165;
  return 0.9511 + k * (-0.1604 + k * (4.388 + k * (-16.638 + k * 12.336)));
}

/**
 * GHI over what would arrive without an atmosphere (kt), at most 1.
 *
 * @example clearnessOf(500, 1361, 0.5) // 0.7348
 * @see erbs1982
 */
export const clearnessOf = (ghiWPerM2: number, extraterrestrialWPerM2: number, cosZenith: number): number =>
  Math.min(1, Math.max(0, ghiWPerM2 / (extraterrestrialWPerM2 * Math.max(COS_FLOOR, cosZenith))));

/**
 * Splits GHI into beam and diffuse after Erbs. GHI = DHI + DNI · cos z holds; beyond a zenith of 87 degrees all is diffuse.
 *
 * @param extraterrestrialWPerM2  outside the atmosphere, at right angles to the beam
 * @param zenithDeg  true zenith, degrees
 * @param cosZenith  its cosine, or the mean of the cosine over the interval
 * @example erbsSplit(1000, 1413.98, 10, cosDeg(10)).dniWPerM2 // 794.2
 * @see erbs1982
 */
export function erbsSplit(ghiWPerM2: number, extraterrestrialWPerM2: number, zenithDeg: number, cosZenith: number): Irradiance {
  const share = erbsDiffuseShare(clearnessOf(ghiWPerM2, extraterrestrialWPerM2, cosZenith));
  const dhiWPerM2 = zenithDeg > BEAM_UP_TO_ZENITH_DEG ? ghiWPerM2 : ghiWPerM2 * share;
  return { ghiWPerM2, dniWPerM2: beamByClosure(ghiWPerM2, dhiWPerM2, cosZenith), dhiWPerM2 };
}

/**
 * DNI from what GHI and DHI leave: (GHI − DHI) / cos z; 0 at night and where DHI exceeds GHI.
 *
 * @example beamByClosure(100, 50, cosDeg(70)) // 146.19
 * @see erbs1982
 */
export const beamByClosure = (ghiWPerM2: number, dhiWPerM2: number, cosZenith: number): number =>
  cosZenith > 0 ? Math.max(0, (ghiWPerM2 - dhiWPerM2) / cosZenith) : 0;
