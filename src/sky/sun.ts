import { getPosition, getTimes } from 'suncalc';
import { cosDeg, degOf, MS_PER_DAY, MS_PER_H, MS_PER_S, radOf, sinDeg, type TimeGrid } from '../base/index.ts';
import { relativeAirMass } from './air-mass.ts';
import { extraterrestrialWPerM2 } from './extraterrestrial.ts';

/** Where the sun stands, by geometry: refraction left out. */
export interface SunAngles {
  /** From the vertical, degrees. */
  readonly zenithDeg: number;
  /** Clockwise from north, degrees, 0 … 360. */
  readonly azimuthDeg: number;
}

/** Evenly spaced stretches of time: the steps of a run, or the intervals of a weather file. */
export type Steps = Pick<TimeGrid, 'startMs' | 'stepS' | 'steps'>;

/**
 * The sun over the steps of a run, a value per step. While the sun is below the horizon the vector is zero, the zenith 90 and the air mass 0.
 *
 * `east`, `north` and `cosZenith` are the components of the unit vector towards the sun. In steps over ten minutes they are its mean
 * over the step, the time below the horizon counting as zero, so that direct normal irradiance times the vector is exact on any plane
 * that the sun does not leave in the step.
 */
export interface SunTrack {
  readonly east: Float64Array;
  readonly north: Float64Array;
  readonly cosZenith: Float64Array;
  readonly zenithDeg: Float64Array;
  /** Relative optical air mass at sea level (Kasten & Young 1989). */
  readonly airMass: Float64Array;
  /** Irradiance outside the atmosphere at right angles to the beam, W/m². */
  readonly extraterrestrialWPerM2: Float64Array;
}

/**
 * Where the sun stands, without refraction.
 *
 * The position comes from suncalc 2 (Meeus, low precision: about 0.01 degrees), which adds refraction to the altitude; it is taken off
 * again exactly, because irradiance models are written for the true zenith.
 *
 * @param atMs  instant, UTC
 * @param latitudeDeg   north counts up, −90 … 90
 * @param longitudeDeg  east counts up, −180 … 180
 * @throws RangeError  place out of range, or not a number
 * @example sunAngles(Date.UTC(2025, 5, 21, 10), 48.2082, 16.3738).zenithDeg // 27.18
 * @see meeus1998
 */
export function sunAngles(atMs: number, latitudeDeg: number, longitudeDeg: number): SunAngles {
  checkPlace(latitudeDeg, longitudeDeg);
  const seen = getPosition(new Date(atMs), latitudeDeg, longitudeDeg);
  return { zenithDeg: 90 - trueAltitudeDeg(seen.altitude), azimuthDeg: seen.azimuth };
}

/**
 * Zenith at which the sun is seen, refraction included (Saemundsson's formula as in Meeus, eq. 16.4).
 *
 * Good to 0.002 degrees above 15 degrees of altitude; near the horizon weather moves it by more. Below the horizon the value of the horizon is used.
 *
 * @param zenithDeg    true zenith, degrees
 * @param pressurePa   air pressure, Pa
 * @param airC         air temperature, °C
 * @example apparentZenithDeg(82.5861, 101325, 12) // 82.47
 * @see saemundsson1986
 */
export function apparentZenithDeg(zenithDeg: number, pressurePa = 101_325, airC = 10): number {
  const altitudeDeg = Math.max(0, 90 - zenithDeg);
  const arcMin = 1.02 / Math.tan(radOf(altitudeDeg + 10.3 / (altitudeDeg + 5.11)));
  return zenithDeg - ((arcMin / 60) * (pressurePa / 101_000) * 283) / (273 + airC);
}

// suncalc's own refraction, its constants in radians: Meeus 16.4, and the value of the horizon for everything below it.
const suncalcRefractionRad = (trueRad: number): number => {
  const h = Math.max(0, trueRad);
  return 0.0002967 / Math.tan(h + 0.00312536 / (h + 0.08901179));
};

/** Takes suncalc's refraction off: solves apparent = true + refraction(true). Each round shrinks the error at least sixfold. */
function trueAltitudeDeg(apparentDeg: number): number {
  const apparentRad = radOf(apparentDeg);
  let trueRad = apparentRad - suncalcRefractionRad(apparentRad);
  for (let round = 0; round < 12; round++) trueRad = apparentRad - suncalcRefractionRad(trueRad);
  return degOf(trueRad);
}

/** Sunrise, noon and sunset of one day; rise and set are missing where the sun stays up or down all day. */
export interface SunTimes {
  readonly riseMs: number | undefined;
  readonly noonMs: number;
  readonly setMs: number | undefined;
}

/**
 * Sunrise and sunset (upper edge on a flat horizon, refraction 34′ included) and noon of the solar day around an instant.
 *
 * @param atMs  an instant of that day, UTC
 * @throws RangeError  place out of range
 * @example (sunTimes(Date.UTC(2025, 5, 21, 12), 48.2082, 16.3738).noonMs - Date.UTC(2025, 5, 21)) / MS_PER_H // 10.9396
 * @see meeus1998
 */
export function sunTimes(atMs: number, latitudeDeg: number, longitudeDeg: number): SunTimes {
  checkPlace(latitudeDeg, longitudeDeg);
  const times = getTimes(new Date(atMs), latitudeDeg, longitudeDeg);
  return { riseMs: times.sunrise?.getTime(), noonMs: times.solarNoon.getTime(), setMs: times.sunset?.getTime() };
}

// Steps up to this long take the sun of their middle; longer ones the mean over pieces of at most half of it.
const MIDDLE_UP_TO_S = 600;
const PIECE_S = 300;

/**
 * The sun over the steps of a run.
 *
 * suncalc is asked once an hour; between, hour angle and declination run linearly, which moves the sun by less than 0.001 degrees.
 * Steps up to ten minutes take the sun of their middle. In longer ones the middle is a poor stand-in (an hour around sunrise has a
 * middle below the horizon and half an hour of sun), so the vector towards the sun is averaged over pieces of five minutes.
 *
 * @param steps  start, length and number of the steps
 * @throws RangeError  place out of range
 * @example sunTrack({ startMs: Date.UTC(2025, 5, 21, 10) - 30000, stepS: 60, steps: 1 }, 48.2082, 16.3738).zenithDeg[0] // 27.18
 * @see meeus1998
 */
export function sunTrack(steps: Steps, latitudeDeg: number, longitudeDeg: number): SunTrack {
  checkPlace(latitudeDeg, longitudeDeg);
  const pieces = steps.stepS <= MIDDLE_UP_TO_S ? 1 : Math.ceil(steps.stepS / PIECE_S);
  const fine = sunVectors(steps, pieces, latitudeDeg, longitudeDeg);
  const { east, north, up } = pieces === 1 ? fine : meanVectors(fine, pieces, steps.steps);
  const zenithDeg = new Float64Array(steps.steps);
  const airMass = new Float64Array(steps.steps);
  for (let k = 0; k < steps.steps; k++) {
    const z = zenithOfVectorDeg(east[k] ?? 0, north[k] ?? 0, up[k] ?? 0);
    zenithDeg[k] = z;
    airMass[k] = z < 90 ? relativeAirMass(z) : 0;
  }
  return { east, north, cosZenith: up, zenithDeg, airMass, extraterrestrialWPerM2: extraterrestrialOver(steps) };
}

const zenithOfVectorDeg = (east: number, north: number, up: number): number =>
  up > 0 ? degOf(Math.atan2(Math.sqrt(east * east + north * north), up)) : 90;

interface Vectors {
  readonly east: Float64Array;
  readonly north: Float64Array;
  readonly up: Float64Array;
}

const noVectors = (count: number): Vectors => ({
  east: new Float64Array(count),
  north: new Float64Array(count),
  up: new Float64Array(count),
});

/** Vectors at the middles of all pieces of all steps; zero at night. */
function sunVectors(steps: Steps, pieces: number, latitudeDeg: number, longitudeDeg: number): Vectors {
  const pieceMs = (steps.stepS * MS_PER_S) / pieces;
  const count = steps.steps * pieces;
  const knots = equatorialKnots(steps.startMs, count * pieceMs, latitudeDeg, longitudeDeg);
  const out = noVectors(count);
  const sinLat = sinDeg(latitudeDeg);
  const cosLat = cosDeg(latitudeDeg);
  for (let i = 0; i < count; i++) {
    const at = ((i + 0.5) * pieceMs) / MS_PER_H;
    const k = Math.floor(at);
    const share = at - k;
    const hourAngle = betweenAngles(knots.hourAngleRad, k, share);
    const sinDec = between(knots.sinDeclination, k, share);
    const cosDec = between(knots.cosDeclination, k, share);
    const cosHour = Math.cos(hourAngle);
    const up = sinLat * sinDec + cosLat * cosDec * cosHour;
    if (up <= 0) continue;
    out.up[i] = up;
    out.east[i] = -cosDec * Math.sin(hourAngle);
    out.north[i] = cosLat * sinDec - sinLat * cosDec * cosHour;
  }
  return out;
}

const between = (values: Float64Array, k: number, share: number): number => {
  const here = values[k] ?? 0;
  return here + ((values[k + 1] ?? 0) - here) * share;
};

/** Between two hour angles of −π … π; past the seam the sun has gone on, not back. */
const betweenAngles = (values: Float64Array, k: number, share: number): number => {
  const here = values[k] ?? 0;
  const ahead = (values[k + 1] ?? 0) - here;
  return here + (ahead < 0 ? ahead + 2 * Math.PI : ahead) * share;
};

/** Hour angle and declination at every full hour after the start. */
function equatorialKnots(startMs: number, lengthMs: number, latitudeDeg: number, longitudeDeg: number) {
  const count = Math.ceil(lengthMs / MS_PER_H) + 2;
  const hourAngleRad = new Float64Array(count);
  const sinDeclination = new Float64Array(count);
  const cosDeclination = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const { zenithDeg, azimuthDeg } = sunAngles(startMs + k * MS_PER_H, latitudeDeg, longitudeDeg);
    const up = cosDeg(zenithDeg);
    const north = sinDeg(zenithDeg) * cosDeg(azimuthDeg);
    const east = sinDeg(zenithDeg) * sinDeg(azimuthDeg);
    const sinDec = sinDeg(latitudeDeg) * up + cosDeg(latitudeDeg) * north;
    hourAngleRad[k] = Math.atan2(-east, cosDeg(latitudeDeg) * up - sinDeg(latitudeDeg) * north);
    sinDeclination[k] = sinDec;
    cosDeclination[k] = Math.sqrt(Math.max(0, 1 - sinDec * sinDec));
  }
  return { hourAngleRad, sinDeclination, cosDeclination };
}

function meanVectors(fine: Vectors, pieces: number, count: number): Vectors {
  const out = noVectors(count);
  for (let i = 0; i < count * pieces; i++) {
    const k = Math.floor(i / pieces);
    out.east[k] = (out.east[k] ?? 0) + (fine.east[i] ?? 0) / pieces;
    out.north[k] = (out.north[k] ?? 0) + (fine.north[i] ?? 0) / pieces;
    out.up[k] = (out.up[k] ?? 0) + (fine.up[i] ?? 0) / pieces;
  }
  return out;
}

/** Constant over each day of UTC, as at its noon: it moves by less than 0.06 % a day. */
function extraterrestrialOver(steps: Steps): Float64Array {
  const out = new Float64Array(steps.steps);
  const stepMs = steps.stepS * MS_PER_S;
  let k = 0;
  while (k < steps.steps) {
    const atMs = steps.startMs + (k + 0.5) * stepMs;
    const dayEndMs = (Math.floor(atMs / MS_PER_DAY) + 1) * MS_PER_DAY;
    const end = Math.min(steps.steps, Math.max(k + 1, Math.ceil((dayEndMs - steps.startMs) / stepMs - 0.5)));
    out.fill(extraterrestrialWPerM2(dayEndMs - MS_PER_DAY / 2), k, end);
    k = end;
  }
  return out;
}

/** Day of the year at an instant, by UTC; 1 January is 1. */
export function dayOfYearAt(atMs: number): number {
  const newYearMs = Date.UTC(new Date(atMs).getUTCFullYear(), 0, 1);
  return Math.floor((atMs - newYearMs) / MS_PER_DAY) + 1;
}

function checkPlace(latitudeDeg: number, longitudeDeg: number): void {
  if (!(Math.abs(latitudeDeg) <= 90)) throw new RangeError(`latitudeDeg = ${latitudeDeg}: must lie in −90 … 90`);
  if (!(Math.abs(longitudeDeg) <= 180)) throw new RangeError(`longitudeDeg = ${longitudeDeg}: must lie in −180 … 180`);
}
