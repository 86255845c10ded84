import { absoluteAirMass, standardPressurePa } from './air-mass.ts';
import { type ClearSkyPlace, clearGhiWPerM2, clearSkyOf } from './clear-sky.ts';
import { LINKE_TURBIDITY } from './defaults.ts';
import type { SunTrack } from './sun.ts';

/** A clear sky by the minute; 0 at night. */
export interface ClearMinutes {
  readonly cosZenith: Float64Array;
  /** Global on the level, W/m²; near the horizon at least a part of the light outside the atmosphere, so that there is a measure for every minute of day. */
  readonly globalWPerM2: Float64Array;
  /** Direct at right angles to the beam, W/m², under the air of that day. */
  readonly beamWPerM2: Float64Array;
  readonly extraterrestrialWPerM2: Float64Array;
}

/** The faintest that a clear sky is taken for: a part of the light outside the atmosphere on the level. */
const FAINTEST_SHARE = 0.25;

/** Global light is never taken for that of still clearer air than this. */
const CLEAREST_GLOBAL = 2;

/**
 * The clear sky over minutes, after Ineichen and Perez.
 *
 * @param turbidityOf  Linke turbidity at a minute
 * @see ineichenPerez2002
 */
export function clearMinutes(sun: SunTrack, elevationM: number, turbidityOf: (minute: number) => number): ClearMinutes {
  const place = clearSkyOf(elevationM, LINKE_TURBIDITY);
  const minutes = sun.cosZenith.length;
  const globalWPerM2 = new Float64Array(minutes);
  const beamWPerM2 = new Float64Array(minutes);
  const pressurePa = standardPressurePa(elevationM);
  for (let k = 0; k < minutes; k++) {
    const cosZenith = sun.cosZenith[k] ?? 0;
    if (cosZenith <= 0) continue;
    const outside = sun.extraterrestrialWPerM2[k] ?? 0;
    const airMass = absoluteAirMass(sun.airMass[k] ?? 0, pressurePa);
    const turbidity = turbidityOf(k);
    const global = clearGhiWPerM2(place, outside, cosZenith, airMass, Math.max(CLEAREST_GLOBAL, turbidity));
    globalWPerM2[k] = Math.max(global, FAINTEST_SHARE * outside * cosZenith);
    beamWPerM2[k] = clearBeamWPerM2(place, outside, airMass, turbidity);
  }
  return { cosZenith: sun.cosZenith, globalWPerM2, beamWPerM2, extraterrestrialWPerM2: sun.extraterrestrialWPerM2 };
}

/** Beam of Ineichen and Perez at a turbidity, not bounded by the global light. */
const clearBeamWPerM2 = (place: ClearSkyPlace, outsideWPerM2: number, airMass: number, linkeTurbidity: number): number =>
  outsideWPerM2 * place.b * Math.exp(-0.09 * airMass * (linkeTurbidity - 1));

/** Linke turbidity at which a clear beam would be as strong as this one: the same formula solved for it. */
export const turbidityOfBeam = (place: ClearSkyPlace, beamWPerM2: number, outsideWPerM2: number, airMass: number): number =>
  1 - Math.log(beamWPerM2 / (outsideWPerM2 * place.b)) / (0.09 * airMass);
