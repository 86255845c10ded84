import { MS_PER_S } from '../base/index.ts';
import type { Steps, SunTrack } from './sun.ts';
import type { Weather } from './weather.ts';

/**
 * Lays weather of other intervals (an hourly file, minutes) onto the steps of a run, finer or coarser, aligned or not.
 *
 * Within an interval the clearness stays the same: DNI is constant while the sun is up, DHI goes with cos z. The interval's means of GHI and
 * DHI are kept exactly, GHI = DHI + DNI · cos z holds in every step and night is zero. Two exceptions, both at the edge of the
 * night: what a file reports while the sun is down all through the interval is dropped; and where a beam stronger than outside the
 * atmosphere would be needed, the rest becomes diffuse (GHI is still kept). Air and wind run linearly between the middles of the
 * intervals. Steps outside the intervals get no irradiance and the nearest air and wind: whether a file covers a run is for its reader to check.
 *
 * @param from     start, length and number of the intervals
 * @param weather  means over the intervals, made complete
 * @param onto     the steps of the run
 * @param sun      of the steps of the run
 * @throws RangeError  weather or sun of another length than their steps
 */
export function spreadFlat(from: Steps, weather: Weather, onto: Steps, sun: SunTrack): Weather {
  if (weather.ghiWPerM2.length !== from.steps)
    throw new RangeError(`weather has ${weather.ghiWPerM2.length} intervals: must have ${from.steps}`);
  if (sun.cosZenith.length !== onto.steps) throw new RangeError(`sun has ${sun.cosZenith.length} steps: must have ${onto.steps}`);
  const out: Weather = {
    ghiWPerM2: new Float64Array(onto.steps),
    dniWPerM2: new Float64Array(onto.steps),
    dhiWPerM2: new Float64Array(onto.steps),
    airC: linearOnto(from, weather.airC, onto),
    windMPerS: linearOnto(from, weather.windMPerS, onto),
  };
  for (let i = 0; i < from.steps; i++) {
    spreadInterval(overlapOf(from, i, onto), weather.ghiWPerM2[i] ?? 0, weather.dhiWPerM2[i] ?? 0, sun, out);
  }
  for (let k = 0; k < onto.steps; k++) {
    out.ghiWPerM2[k] = (out.dhiWPerM2[k] ?? 0) + (out.dniWPerM2[k] ?? 0) * (sun.cosZenith[k] ?? 0);
  }
  return out;
}

/** Where an interval lies, counted in steps of the run: it begins and ends inside steps. */
interface Overlap {
  readonly begin: number;
  readonly end: number;
}

function overlapOf(from: Steps, i: number, onto: Steps): Overlap {
  const stepMs = onto.stepS * MS_PER_S;
  const intervalMs = from.stepS * MS_PER_S;
  return {
    begin: (from.startMs + i * intervalMs - onto.startMs) / stepMs,
    end: (from.startMs + (i + 1) * intervalMs - onto.startMs) / stepMs,
  };
}

/** Share of step `k` that the interval covers. */
const shareIn = (at: Overlap, k: number): number => Math.max(0, Math.min(at.end, k + 1) - Math.max(at.begin, k));

/** Adds one interval's beam and diffuse to the steps that it touches. */
function spreadInterval(at: Overlap, ghiWPerM2: number, dhiWPerM2: number, sun: SunTrack, out: Weather): void {
  if (ghiWPerM2 <= 0) return;
  const first = Math.max(0, Math.floor(at.begin));
  const last = Math.min(sun.cosZenith.length, Math.ceil(at.end));
  let cosSum = 0;
  for (let k = first; k < last; k++) cosSum += (sun.cosZenith[k] ?? 0) * shareIn(at, k);
  if (cosSum <= 0) return;
  // An interval cut off by the end of the run gives only its part of the energy.
  const covered = Math.min(at.end, sun.cosZenith.length) - Math.max(at.begin, 0);
  const perCos = covered / cosSum;
  const beam = Math.min((ghiWPerM2 - dhiWPerM2) * perCos, sun.extraterrestrialWPerM2[first] ?? 0);
  const diffusePerCos = ghiWPerM2 * perCos - beam;
  for (let k = first; k < last; k++) {
    const cosZenith = sun.cosZenith[k] ?? 0;
    if (cosZenith <= 0) continue;
    const share = shareIn(at, k);
    out.dniWPerM2[k] = (out.dniWPerM2[k] ?? 0) + beam * share;
    out.dhiWPerM2[k] = (out.dhiWPerM2[k] ?? 0) + diffusePerCos * cosZenith * share;
  }
}

/** A quantity without a day's shape: onto longer steps as the mean, else linear between the middles of the intervals; held at the ends. */
export function linearOnto(from: Steps, values: Float64Array, onto: Steps): Float64Array {
  const out = new Float64Array(onto.steps);
  const ratio = onto.stepS / from.stepS;
  const offset = (onto.startMs - from.startMs) / (from.stepS * MS_PER_S);
  const samples = Math.max(1, Math.round(ratio));
  for (let k = 0; k < onto.steps; k++) {
    let sum = 0;
    for (let s = 0; s < samples; s++) sum += linearAt(values, offset + (k + (s + 0.5) / samples) * ratio - 0.5);
    out[k] = sum / samples;
  }
  return out;
}

function linearAt(values: Float64Array, at: number): number {
  const held = Math.min(values.length - 1, Math.max(0, at));
  const i = Math.floor(held);
  const here = values[i] ?? 0;
  return here + ((values[i + 1] ?? here) - here) * (held - i);
}
