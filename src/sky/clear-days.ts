import { MS_PER_DAY, MS_PER_S, S_PER_H, WH_PER_KWH } from '../base/index.ts';
import { absoluteAirMass, standardPressurePa } from './air-mass.ts';
import { type ClearSkyPlace, clearGhiWPerM2 } from './clear-sky.ts';
import type { Site } from './place.ts';
import { type Steps, type SunTrack, sunTrack } from './sun.ts';

/** A calendar month of sun, by half hours, to ask clear skies of. */
export interface MonthOfSun {
  readonly days: number;
  readonly sun: SunTrack;
}

const STEP_S = 1800;
const STEPS_A_DAY = MS_PER_DAY / (STEP_S * MS_PER_S);

/** The sun over a month; its days are cut at midnight of the place's own solar time. */
export const monthOfSun = (year: number, month: number, site: Site): MonthOfSun =>
  daysOfSun(Date.UTC(year, month, 1), daysIn(year, month), site);

/** The sun on the 15th of a month alone: a thirtieth of the work. */
export const middleOfMonth = (year: number, month: number, site: Site): MonthOfSun =>
  daysOfSun(Date.UTC(year, month, 15), 1, site);

export const daysIn = (year: number, month: number): number =>
  Math.round((Date.UTC(year, month + 1, 1) - Date.UTC(year, month, 1)) / MS_PER_DAY);

function daysOfSun(firstDayMs: number, days: number, site: Site): MonthOfSun {
  const startMs = firstDayMs - (site.longitudeDeg / 360) * MS_PER_DAY;
  const steps: Steps = { startMs, stepS: STEP_S, steps: days * STEPS_A_DAY };
  return { days, sun: sunTrack(steps, site.latitudeDeg, site.longitudeDeg) };
}

/**
 * Irradiation of each day of a month under a clear sky, kWh/m².
 *
 * @example clearDaysKWhPerM2(monthOfSun(2025, 5, { latitudeDeg: 48.2, longitudeDeg: 16.4, elevationM: 170 }), clearSkyOf(170, 3.5), 170)[20] // 8.1
 * @see ineichenPerez2002
 */
export function clearDaysKWhPerM2({ days, sun }: MonthOfSun, place: ClearSkyPlace, elevationM: number): Float64Array {
  const pressurePa = standardPressurePa(elevationM);
  const out = new Float64Array(days);
  for (let k = 0; k < sun.cosZenith.length; k++) {
    const airMass = absoluteAirMass(sun.airMass[k] ?? 0, pressurePa);
    const clear = clearGhiWPerM2(place, sun.extraterrestrialWPerM2[k] ?? 0, sun.cosZenith[k] ?? 0, airMass);
    const day = Math.floor(k / STEPS_A_DAY);
    out[day] = (out[day] ?? 0) + (clear * STEP_S) / S_PER_H / WH_PER_KWH;
  }
  return out;
}
