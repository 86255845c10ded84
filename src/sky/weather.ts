import { WIND_M_PER_S } from './defaults.ts';
import { erbsSplit } from './diffuse.ts';
import type { SunTrack } from './sun.ts';

/** Weather over evenly spaced steps, means over the step. GHI = DHI + DNI · cos z in every one; nothing is negative; night is zero. */
export interface Weather {
  /** Global irradiance on the level, W/m². */
  readonly ghiWPerM2: Float64Array;
  /** Direct irradiance at right angles to the beam, W/m², while the sun is up. */
  readonly dniWPerM2: Float64Array;
  /** Diffuse irradiance on the level, W/m². */
  readonly dhiWPerM2: Float64Array;
  readonly airC: Float64Array;
  readonly windMPerS: Float64Array;
}

/** Weather as a file gives it. A column, or a single value (NaN), of DNI, DHI, GHI or wind may be missing; air temperature may not. */
export interface MeasuredWeather {
  readonly ghiWPerM2: Float64Array;
  readonly dniWPerM2?: Float64Array;
  readonly dhiWPerM2?: Float64Array;
  readonly airC: Float64Array;
  readonly windMPerS?: Float64Array;
}

/** Complete weather, and how well what was measured agreed with itself. */
export interface CompletedWeather {
  readonly weather: Weather;
  /** Mean of |GHI − DHI − DNI · cos z| over daylight steps in which all three were measured, W/m²; 0 where there were none. */
  readonly closureGapWPerM2: number;
  /** Daylight steps whose GHI could not be known: not measured, nor DNI and DHI. They were taken as dark. */
  readonly unknownSteps: number;
}

/**
 * Makes measured irradiance complete, sound and consistent.
 *
 * - Negative values (offsets of instruments at night) and all of the night become 0.
 * - GHI and DHI are kept as measured (DHI at most GHI) and DNI follows from them: on means over any interval this keeps the energy on
 *   the level, which DNI · cos z of means does not. DNI beyond what comes in from space is turned into DHI.
 * - Without DHI, it is what the measured DNI leaves of GHI; without both, Erbs splits GHI. Without GHI it is the sum of the two.
 *
 * @param measured  columns over the same steps as `sun`
 * @param sun       of those steps, `sunTrack`
 * @throws RangeError  a column of another length
 * @see erbs1982
 */
export function completeIrradiance(measured: MeasuredWeather, sun: SunTrack): CompletedWeather {
  const steps = sun.cosZenith.length;
  checkLengths(measured, steps);
  const weather: Weather = {
    ghiWPerM2: new Float64Array(steps),
    dniWPerM2: new Float64Array(steps),
    dhiWPerM2: new Float64Array(steps),
    airC: measured.airC.slice(),
    windMPerS: Float64Array.from({ length: steps }, (_, k) => knownOr(measured.windMPerS?.[k], WIND_M_PER_S)),
  };
  let gapSum = 0;
  let gapCount = 0;
  let unknownSteps = 0;
  for (let k = 0; k < steps; k++) {
    const cosZenith = sun.cosZenith[k] ?? 0;
    if (cosZenith <= 0) continue;
    const ghi = notNegative(measured.ghiWPerM2[k]);
    const dhi = notNegative(measured.dhiWPerM2?.[k]);
    const dni = notNegative(measured.dniWPerM2?.[k]);
    const gap = Math.abs(ghi - dhi - dni * cosZenith);
    if (gap >= 0) {
      gapSum += gap;
      gapCount++;
    }
    const extraterrestrial = sun.extraterrestrialWPerM2[k] ?? 0;
    const known = dni >= 0 ? Math.min(dni, extraterrestrial) : dni;
    const global = ghi >= 0 ? ghi : dhi + known * cosZenith;
    if (!(global >= 0)) {
      unknownSteps++;
      continue;
    }
    const diffuse = diffuseOf(global, dhi, known, sun, k);
    const beam = Math.min((global - diffuse) / cosZenith, extraterrestrial);
    weather.dniWPerM2[k] = beam;
    weather.dhiWPerM2[k] = Math.max(0, global - beam * cosZenith);
    weather.ghiWPerM2[k] = global;
  }
  return { weather, closureGapWPerM2: gapCount > 0 ? gapSum / gapCount : 0, unknownSteps };
}

/** DHI, 0 … GHI, from what is known of it. */
function diffuseOf(ghi: number, dhi: number, dni: number, sun: SunTrack, k: number): number {
  const cosZenith = sun.cosZenith[k] ?? 0;
  if (dhi >= 0) return Math.min(dhi, ghi);
  if (dni >= 0) return Math.max(0, ghi - dni * cosZenith);
  return erbsSplit(ghi, sun.extraterrestrialWPerM2[k] ?? 0, sun.zenithDeg[k] ?? 90, cosZenith).dhiWPerM2;
}

/** The value, at least 0; NaN where it is missing, which no comparison lets pass. */
const notNegative = (value: number | undefined): number => (value === undefined ? Number.NaN : Math.max(0, value));
const knownOr = (value: number | undefined, otherwise: number): number =>
  value === undefined || Number.isNaN(value) ? otherwise : Math.max(0, value);

function checkLengths(measured: MeasuredWeather, steps: number): void {
  for (const [name, column] of Object.entries(measured)) {
    if (column.length !== steps)
      throw new RangeError(`${name} has ${column.length} values: must have ${steps}, one a step of the sun`);
  }
}
