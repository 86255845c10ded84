import { MS_PER_DAY, MS_PER_S } from '../base/index.ts';
import { absoluteAirMass, standardPressurePa } from './air-mass.ts';
import { turbidityOfBeam } from './clear-minutes.ts';
import { clearSkyOf } from './clear-sky.ts';
import { LINKE_TURBIDITY } from './defaults.ts';
import type { Steps, SunTrack } from './sun.ts';

/** A sky is asked how clear it is only while the sun stands higher than this, and the beam has that much, W/m². */
const LEAST_COS = 0.12;
const LEAST_BEAM = 100;
/** Air as clear as this speaks for itself. Where it never was, only an hour counts whose neighbours are as clear: haze lasts, gaps do not. */
const SURELY_CLEAR = 3.3;
const HAZIEST = 5;
const CLEAREST = 1.5;
/** How much hazier the air may have become for each day that nobody saw a clear sky. */
const DRIFT_PER_DAY = 0.12;

/**
 * How clear the air was on each day, from the strongest beam that a coarse record shows on it or on the days around.
 *
 * It is what a gap in the clouds then shows; taken from the record, since it differs by half from day to day and from place to place.
 *
 * @param dayOf  day number of an interval, from 0
 * @param beamWPerM2  direct irradiance by the interval, W/m²
 * @param sun    of the same intervals
 * @returns  Linke turbidity by the day, 1.5 … 5
 */
export function turbidityOfDays(
  days: number,
  dayOf: (interval: number) => number,
  beamWPerM2: Float64Array,
  sun: SunTrack,
  elevationM: number,
): Float64Array {
  const place = clearSkyOf(elevationM, LINKE_TURBIDITY);
  const pressurePa = standardPressurePa(elevationM);
  const seen = beamWPerM2.map((beam, i) => {
    if ((sun.cosZenith[i] ?? 0) < LEAST_COS || beam < LEAST_BEAM) return Infinity;
    const airMass = absoluteAirMass(sun.airMass[i] ?? 0, pressurePa);
    return turbidityOfBeam(place, beam, sun.extraterrestrialWPerM2[i] ?? 0, airMass);
  });
  const out = new Float64Array(days).fill(HAZIEST + 1);
  for (let i = 0; i < seen.length; i++) {
    const here = seen[i] ?? Infinity;
    const lasting = Math.max(here, seen[i - 1] ?? Infinity, seen[i + 1] ?? Infinity);
    const clear = here < SURELY_CLEAR ? here : lasting;
    const day = dayOf(i);
    if (clear < HAZIEST) out[day] = Math.min(out[day] ?? Infinity, clear);
  }
  for (let d = 1; d < days; d++) out[d] = Math.min(out[d] ?? Infinity, (out[d - 1] ?? Infinity) + DRIFT_PER_DAY);
  for (let d = days - 2; d >= 0; d--) out[d] = Math.min(out[d] ?? Infinity, (out[d + 1] ?? Infinity) + DRIFT_PER_DAY);
  return out.map((value) => (value > HAZIEST ? SURELY_CLEAR : Math.max(CLEAREST, value)));
}

/** Turbidity at a moment, on a straight line between the noons of days. */
export function turbidityAt(daily: Float64Array, steps: Steps): (step: number) => number {
  const perDay = MS_PER_DAY / (steps.stepS * MS_PER_S);
  return (step) => {
    const at = Math.max(0, Math.min(daily.length - 1, step / perDay - 0.5));
    const d = Math.floor(at);
    const here = daily[d] ?? SURELY_CLEAR;
    return here + ((daily[d + 1] ?? here) - here) * (at - d);
  };
}
