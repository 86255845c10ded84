import { cosDeg } from '../base/index.ts';

/** Global on the level, direct at right angles, diffuse on the level: W/m². */
export interface Irradiance {
  readonly ghiWPerM2: number;
  readonly dniWPerM2: number;
  readonly dhiWPerM2: number;
}

/** What of Ineichen and Perez' clear sky depends on the place alone. Make it with `clearSkyOf`. */
export interface ClearSkyPlace {
  readonly linkeTurbidity: number;
  /** Height terms of the paper: exp(−h/8000) and exp(−h/1250), and a₁ (cg1), a₂ (cg2), b. */
  readonly fh1: number;
  readonly fh2: number;
  readonly cg1: number;
  readonly cg2: number;
  readonly b: number;
  /** Largest part of GHI that can be beam on the level. */
  readonly beamShare: number;
}

/**
 * Prepares the clear sky of a place.
 *
 * @param elevationM      height above sea level, m
 * @param linkeTurbidity  2 very clear … 3.5 usual … 6 hazy
 * @throws RangeError  turbidity below 1
 * @see ineichenPerez2002
 */
export function clearSkyOf(elevationM: number, linkeTurbidity: number): ClearSkyPlace {
  if (!(linkeTurbidity >= 1)) throw new RangeError(`linkeTurbidity = ${linkeTurbidity}: must be 1 or more`);
  const fh1 = Math.exp(-elevationM / 8000);
  return {
    linkeTurbidity,
    fh1,
    fh2: Math.exp(-elevationM / 1250),
    cg1: 5.09e-5 * elevationM + 0.868,
    cg2: 3.92e-5 * elevationM + 0.0387,
    b: 0.664 + 0.163 / fh1,
    beamShare: 1 - (0.1 - 0.2 * Math.exp(-linkeTurbidity)) / (0.1 + 0.882 / fh1),
  };
}

/**
 * Global irradiance on the level under a clear sky, Ineichen and Perez.
 *
 * High, dry places come out a few percent low.
 *
 * @param extraterrestrialWPerM2  outside the atmosphere, at right angles to the beam
 * @param cosZenith   of the true zenith; 0 or less gives 0
 * @param absoluteAirMass  corrected for pressure
 * @param linkeTurbidity   of the moment, where it is not the place's usual one
 * @example clearGhiWPerM2(clearSkyOf(0, 3), 1364, cosDeg(10), 1) // 1038.2
 * @see ineichenPerez2002
 */
export function clearGhiWPerM2(
  place: ClearSkyPlace,
  extraterrestrialWPerM2: number,
  cosZenith: number,
  absoluteAirMass: number,
  linkeTurbidity: number = place.linkeTurbidity,
): number {
  if (cosZenith <= 0) return 0;
  const depth = place.cg2 * absoluteAirMass * (place.fh1 + place.fh2 * (linkeTurbidity - 1));
  return place.cg1 * extraterrestrialWPerM2 * cosZenith * Math.exp(-depth);
}

/**
 * Direct normal irradiance under a clear sky, Ineichen and Perez, bounded as in the paper by what GHI leaves.
 *
 * @param clearGhi  from `clearGhiWPerM2` for the same sun
 * @example clearDniWPerM2(clearSkyOf(0, 3), 1364, cosDeg(10), 1, 1038.1592) // 942.2
 * @see ineichenPerez2002
 */
export function clearDniWPerM2(
  place: ClearSkyPlace,
  extraterrestrialWPerM2: number,
  cosZenith: number,
  absoluteAirMass: number,
  clearGhi: number,
): number {
  if (cosZenith <= 0) return 0;
  const beam = extraterrestrialWPerM2 * place.b * Math.exp(-0.09 * absoluteAirMass * (place.linkeTurbidity - 1));
  return Math.min(beam, (clearGhi * place.beamShare) / cosZenith);
}

/**
 * All three of a clear sky, Ineichen and Perez; GHI = DHI + DNI · cos z.
 *
 * @param zenithDeg  true zenith, degrees
 * @see ineichenPerez2002
 */
export function clearSky(
  place: ClearSkyPlace,
  extraterrestrialWPerM2: number,
  zenithDeg: number,
  absoluteAirMass: number,
): Irradiance {
  const cosZenith = cosDeg(zenithDeg);
  const ghiWPerM2 = clearGhiWPerM2(place, extraterrestrialWPerM2, cosZenith, absoluteAirMass);
  const dniWPerM2 = clearDniWPerM2(place, extraterrestrialWPerM2, cosZenith, absoluteAirMass, ghiWPerM2);
  return { ghiWPerM2, dniWPerM2, dhiWPerM2: ghiWPerM2 - dniWPerM2 * Math.max(0, cosZenith) };
}

/**
 * Global irradiance on the level under a clear sky, Haurwitz: needs nothing but the sun's height.
 *
 * A few percent high under the hazier skies of central Europe. Good for comparing shapes of days.
 *
 * @param cosZenith  of the true zenith; 0 or less gives 0
 * @example clearGhiHaurwitzWPerM2(cosDeg(60)) // 487.9
 * @see haurwitz1945
 */
export const clearGhiHaurwitzWPerM2 = (cosZenith: number): number =>
  cosZenith <= 0 ? 0 : 1098 * cosZenith * Math.exp(-0.059 / cosZenith);
