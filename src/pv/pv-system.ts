import { cosDeg, radOf, roomFor, sinDeg, type TimeGrid } from '../base/index.ts';
import { type Cooling, cellTempFaimanC } from './cell-temperature.ts';
import { ALBEDO, MOUNTINGS } from './defaults.ts';
import { passingShare, passingShareGround, passingShareSky } from './incidence-loss.ts';
import { acOnCurveW, type InverterCurve, inverterCurve } from './inverter.ts';
import { dcWPerKWp } from './module.ts';
import {
  groundOnPlaneWPerM2,
  isotropicDiffuseWPerM2,
  perezBin,
  perezClearness,
  perezF1,
  perezF2,
  perezSunRatio,
} from './plane.ts';
import { behindSkyline, openSkyShare, skylineTangents } from './skyline.ts';

/** Modules of one plane. */
export interface PvArray {
  readonly kWp: number;
  readonly tiltDeg: number;
  /** Clockwise from north. */
  readonly azimuthDeg: number;
  readonly temperatureCoefficientPerK: number;
  /** Soiling, mismatch, wiring. */
  readonly lossPercent: number;
  readonly mounting: keyof typeof MOUNTINGS;
  /** Height of the skyline at even azimuths from north, clockwise; fewer than two: flat. */
  readonly horizonDeg: readonly number[];
  /** Snow, leaves, low trees, by month on top of `lossPercent`; empty: none. */
  readonly monthlyLossPercent: readonly number[];
}

/** Arrays that feed one inverter. */
export interface PvSystem {
  readonly arrays: readonly PvArray[];
  readonly inverter: { readonly ratedW: number; readonly efficiency: number };
  readonly albedo?: number;
}

/** The sun by step, as numbers: the vector towards it (zero at night), its zenith, relative air mass, light outside the atmosphere. */
export interface SunNumbers {
  readonly east: Float64Array;
  readonly north: Float64Array;
  readonly cosZenith: Float64Array;
  readonly zenithDeg: Float64Array;
  readonly airMass: Float64Array;
  readonly extraterrestrialWPerM2: Float64Array;
}

/** The weather by step, as numbers: complete, nothing negative, GHI = DHI + DNI · cos z. */
export interface WeatherNumbers {
  readonly ghiWPerM2: Float64Array;
  readonly dniWPerM2: Float64Array;
  readonly dhiWPerM2: Float64Array;
  readonly airC: Float64Array;
  readonly windMPerS: Float64Array;
}

/**
 * AC power of a PV system, a mean per step.
 *
 * Perez 1990 and ground on each plane; the physical glass for beam and the sun's glow, and at Brandemuehl and Beckman's angles for sky and ground;
 * a skyline blocks beam and glow when the sun stands behind it and takes its share of the even sky and of the horizon; Faiman's cell temperature;
 * PVWatts' modules and inverter. Left out: dim-light losses, partial shading within an array, snow (but for monthly losses), angle-dependent soiling.
 *
 * @param grid  steps and local days, for the months
 * @returns  W, 0 … rated
 * @throws RangeError  sun or weather of another length than the grid
 * @see perez1990
 * @see deSoto2006
 * @see faiman2008
 * @see dobos2014
 */
export function pvPowerW(system: PvSystem, grid: TimeGrid, sun: SunNumbers, weather: WeatherNumbers): Float64Array {
  return powerOfPlanesW(system, grid, planeYields(system.arrays, grid, sun, weather, system.albedo));
}

/** Modules of a plane: where they stand, how they are cooled, what heat takes of them. All that decides what each kWp of them gives. */
export type Plane = Pick<PvArray, 'tiltDeg' | 'azimuthDeg' | 'mounting' | 'horizonDeg' | 'temperatureCoefficientPerK'>;

/** What the modules of a plane give for each kWp: a value for each step with light, one stretch after the other. */
export interface PlaneYield {
  /** DC power before losses, W per kWp. */
  readonly dcWPerKWp: Float64Array;
  /** Those stretches of steps, in pairs of the first and the one after the last. The nights between would take as much memory again. */
  readonly lit: readonly number[];
}

/**
 * The costly half of `pvPowerW`: what does not depend on how many modules stand on a plane, nor on what follows them.
 *
 * @param glow  of this sun and weather; whoever turns planes under one sky makes it once
 * @param room  what other planes gave that nobody needs any more, used where it fits
 */
export function planeYields(
  planes: readonly Plane[],
  grid: Pick<TimeGrid, 'steps'>,
  sun: SunNumbers,
  weather: WeatherNumbers,
  albedo = ALBEDO,
  glow: SkyGlow = skyGlow(sun, weather),
  room: readonly PlaneYield[] = [],
): PlaneYield[] {
  if (sun.cosZenith.length !== grid.steps) throw new RangeError(`sun has ${sun.cosZenith.length} steps: must have ${grid.steps}`);
  if (weather.ghiWPerM2.length !== grid.steps)
    throw new RangeError(`weather has ${weather.ghiWPerM2.length} steps: must have ${grid.steps}`);
  return planes.map((plane, i) => new ModulePlane(plane, albedo).yieldUnder({ sun, weather, glow }, room[i]));
}

/**
 * The other half of `pvPowerW`: how many modules, losses and inverter.
 *
 * @param yields  of each array's plane, in the order of the arrays
 * @param room    power that nobody needs any more, used if it fits
 */
export function powerOfPlanesW(
  { arrays, inverter }: PvSystem,
  grid: TimeGrid,
  yields: readonly PlaneYield[],
  room?: Float64Array,
): Float64Array {
  const planes = arrays.map((array, i) => {
    const found = yields[i];
    if (found === undefined) throw new RangeError(`yields has ${yields.length} planes: must have ${arrays.length}`);
    return { array, wPerKWp: found.dcWPerKWp };
  });
  const curve = inverterCurve(inverter.ratedW, inverter.efficiency);
  const out = roomFor(grid.steps, room);
  const lit = yields[0]?.lit ?? [];
  let stretch = 0;
  // Steps with light before the stretch at hand.
  let litBefore = 0;
  // Day by day, so that what one loop writes is still at hand for the next.
  for (let d = 0; d < grid.dayMs.length; d++) {
    const month = new Date(grid.dayMs[d] ?? 0).getUTCMonth();
    const [dayFirst, dayEnd] = [grid.dayStart[d] ?? 0, grid.dayStart[d + 1] ?? 0];
    out.fill(0, dayFirst, dayEnd);
    // A day holds several stretches under a dark sky, and beyond the polar circle a stretch holds several days.
    for (; stretch < lit.length; stretch += 2) {
      const [litFirst, litEnd] = [lit[stretch] ?? 0, lit[stretch + 1] ?? 0];
      const first = Math.max(dayFirst, litFirst);
      const end = Math.min(dayEnd, litEnd);
      const at = litBefore - litFirst;
      planes.forEach(({ array, wPerKWp }, i) => {
        const layDcW = i === 0 ? setDcW : addDcW;
        layDcW(out, wPerKWp, kWpAfterLoss(array, month), first, end, at);
      });
      invert(out, curve, first, end);
      if (litEnd > dayEnd) break;
      litBefore += litEnd - litFirst;
    }
  }
  return out;
}

/** An array's DC power over some steps; what its plane gives in a step stands `at` places on from its number. */
function setDcW(out: Float64Array, wPerKWp: Float64Array, kWp: number, first: number, end: number, at: number): void {
  for (let k = first; k < end; k++) out[k] = kWp * (wPerKWp[at + k] ?? 0);
}

/** The same, added to what is there. */
function addDcW(out: Float64Array, wPerKWp: Float64Array, kWp: number, first: number, end: number, at: number): void {
  for (let k = first; k < end; k++) out[k] = (out[k] ?? 0) + kWp * (wPerKWp[at + k] ?? 0);
}

/** From DC to AC in place over some steps. */
function invert(out: Float64Array, curve: InverterCurve, first: number, end: number): void {
  for (let k = first; k < end; k++) out[k] = acOnCurveW(curve, out[k] ?? 0);
}

function kWpAfterLoss({ kWp, lossPercent, monthlyLossPercent }: PvArray, month: number): number {
  return kWp * (1 - lossPercent / 100) * (1 - (monthlyLossPercent[month] ?? 0) / 100);
}

/**
 * What of the sky is the same for every plane: a value for each step with light, one stretch after the other, W/m². All that
 * divides is in it: a plane multiplies and adds.
 */
export interface SkyGlow {
  /** What comes evenly from all of the sky, and from a band at the horizon (below 0 where that is darker). */
  readonly even: Float64Array;
  readonly horizon: Float64Array;
  /** What comes from the sun itself, and from around it, on a plane that looks at it. */
  readonly beam: Float64Array;
  readonly aroundSun: Float64Array;
  /** How much warmer than the air a cell gets for each W/m² of light on it, K: one list for each way of mounting, made when first asked for. */
  readonly warming: (mounting: PvArray['mounting']) => Float64Array;
  /** Stretches of steps with the sun up and light, in pairs of the first and the one after the last: planes pass by the nights. */
  readonly lit: readonly number[];
}

/**
 * Perez' sky over all steps with light.
 *
 * @see perez1990
 */
export function skyGlow(sun: SunNumbers, weather: WeatherNumbers): SkyGlow {
  const lit = litStretches(sun, weather);
  const steps = countOf(lit);
  const list = (): Float64Array => new Float64Array(steps);
  const [even, horizon, beam, aroundSun] = [list(), list(), list(), list()];
  forLit(lit, (k, at) => {
    beam[at] = weather.dniWPerM2[k] ?? 0;
    const dhi = weather.dhiWPerM2[k] ?? 0;
    const zenithRad = radOf(sun.zenithDeg[k] ?? 90);
    const brightness = (dhi * (sun.airMass[k] ?? 0)) / (sun.extraterrestrialWPerM2[k] ?? 1);
    const bin = perezBin(perezClearness(dhi, weather.dniWPerM2[k] ?? 0, zenithRad));
    const f1 = perezF1(bin, brightness, zenithRad);
    even[at] = dhi * (1 - f1);
    horizon[at] = dhi * perezF2(bin, brightness, zenithRad);
    aroundSun[at] = dhi * f1 * perezSunRatio(1, sun.cosZenith[k] ?? 0);
  });
  const warmings = new Map<PvArray['mounting'], Float64Array>();
  const warming = (mounting: PvArray['mounting']): Float64Array => {
    const made = warmings.get(mounting) ?? warmingOver(lit, weather, MOUNTINGS[mounting]);
    warmings.set(mounting, made);
    return made;
  };
  return { even, horizon, beam, aroundSun, warming, lit };
}

function warmingOver(lit: readonly number[], { windMPerS }: WeatherNumbers, cooling: Cooling): Float64Array {
  const warmingK = new Float64Array(countOf(lit));
  forLit(lit, (k, at) => {
    warmingK[at] = cellTempFaimanC(1, 0, windMPerS[k] ?? 0, cooling);
  });
  return warmingK;
}

/** Steps in some stretches. */
function countOf(stretches: readonly number[]): number {
  let steps = 0;
  for (let i = 0; i < stretches.length; i += 2) steps += (stretches[i + 1] ?? 0) - (stretches[i] ?? 0);
  return steps;
}

/** Each step in some stretches, and its place among them. */
function forLit(stretches: readonly number[], visit: (k: number, at: number) => void): void {
  let at = 0;
  for (let i = 0; i < stretches.length; i += 2) for (let k = stretches[i] ?? 0; k < (stretches[i + 1] ?? 0); k++) visit(k, at++);
}

function litStretches({ cosZenith }: SunNumbers, { ghiWPerM2 }: WeatherNumbers): number[] {
  const lit: number[] = [];
  let wasLit = false;
  for (let k = 0; k < ghiWPerM2.length; k++) {
    const isLit = (ghiWPerM2[k] ?? 0) > 0 && (cosZenith[k] ?? 0) > 0;
    if (isLit !== wasLit) lit.push(k);
    wasLit = isLit;
  }
  if (wasLit) lit.push(ghiWPerM2.length);
  return lit;
}

/** All that a plane needs to know of the sky. */
interface SkyNumbers {
  readonly sun: SunNumbers;
  readonly weather: WeatherNumbers;
  readonly glow: SkyGlow;
}

/** What a plane sees of the sun, and how much its cells warm up, as in `SkyGlow`. */
type SeenSun = Pick<SkyGlow, 'beam' | 'aroundSun'> & { readonly warming: Float64Array };

/** One plane with all that does not change from step to step. */
class ModulePlane {
  private readonly normalEast: number;
  private readonly normalNorth: number;
  private readonly normalUp: number;
  /** Per W/m² of DHI: the even sky, the horizon band, as they arrive on the cells; per W/m² of GHI: the ground. */
  private readonly evenSky: number;
  private readonly horizonBand: number;
  private readonly ground: number;
  private readonly skyline: Float64Array | undefined;
  private readonly mounting: PvArray['mounting'];
  private readonly temperatureCoefficientPerK: number;

  constructor(plane: Plane, albedo: number) {
    const { tiltDeg, azimuthDeg, horizonDeg } = plane;
    const hasSkyline = horizonDeg.length >= 2 && horizonDeg.some((height) => height > 0);
    const openSky = hasSkyline ? openSkyShare(horizonDeg, tiltDeg, azimuthDeg) : 1;
    const passingSky = passingShareSky(tiltDeg) * openSky;
    this.normalEast = sinDeg(tiltDeg) * sinDeg(azimuthDeg);
    this.normalNorth = sinDeg(tiltDeg) * cosDeg(azimuthDeg);
    this.normalUp = cosDeg(tiltDeg);
    this.evenSky = isotropicDiffuseWPerM2(1, tiltDeg) * passingSky;
    this.horizonBand = sinDeg(tiltDeg) * passingSky;
    this.ground = groundOnPlaneWPerM2(1, tiltDeg, albedo) * passingShareGround(tiltDeg);
    this.skyline = hasSkyline ? skylineTangents(horizonDeg) : undefined;
    this.mounting = plane.mounting;
    this.temperatureCoefficientPerK = plane.temperatureCoefficientPerK;
  }

  /** What the modules give in every step with light. */
  yieldUnder(sky: SkyNumbers, room?: PlaneYield): PlaneYield {
    const { lit } = sky.glow;
    const seen = this.seenOf(sky);
    const out = roomFor(countOf(lit), room?.dcWPerKWp);
    let litBefore = 0;
    for (let i = 0; i < lit.length; i += 2) {
      const [first, end] = [lit[i] ?? 0, lit[i + 1] ?? 0];
      this.yieldOver(first, end, sky, seen, out, litBefore - first);
      litBefore += end - first;
    }
    return { dcWPerKWp: out, lit };
  }

  /** Sun and glow as far as the skyline leaves them. That is looked at beforehand: the loop below goes faster without a call. */
  private seenOf({ sun, glow }: SkyNumbers): SeenSun {
    const { skyline } = this;
    const warming = glow.warming(this.mounting);
    if (skyline === undefined) return { beam: glow.beam, aroundSun: glow.aroundSun, warming };
    const [beam, aroundSun] = [glow.beam.slice(), glow.aroundSun.slice()];
    forLit(glow.lit, (k, at) => {
      if (behindSkyline(skyline, sun.east[k] ?? 0, sun.north[k] ?? 0, sun.cosZenith[k] ?? 0)) beam[at] = aroundSun[at] = 0;
    });
    return { beam, aroundSun, warming };
  }

  /** The hot loop: it allocates nothing. */
  private yieldOver(
    first: number,
    end: number,
    { sun, weather, glow }: SkyNumbers,
    { beam, aroundSun, warming }: SeenSun,
    out: Float64Array,
    at: number,
  ): void {
    const { normalEast, normalNorth, normalUp, evenSky, horizonBand, ground, temperatureCoefficientPerK } = this;
    const { east, north, cosZenith } = sun;
    const { ghiWPerM2, airC } = weather;
    const { even, horizon } = glow;
    for (let k = first, i = at + first; k < end; k++, i++) {
      const cosIncidence = normalEast * (east[k] ?? 0) + normalNorth * (north[k] ?? 0) + normalUp * (cosZenith[k] ?? 0);
      let direct = 0;
      let diffuse = evenSky * (even[i] ?? 0) + horizonBand * (horizon[i] ?? 0);
      if (cosIncidence > 0) {
        const passing = cosIncidence * passingShare(cosIncidence);
        direct = (beam[i] ?? 0) * passing;
        diffuse += (aroundSun[i] ?? 0) * passing;
      }
      const light = direct + Math.max(0, diffuse) + (ghiWPerM2[k] ?? 0) * ground;
      const cellC = (airC[k] ?? 0) + light * (warming[i] ?? 0);
      out[i] = dcWPerKWp(light, cellC, temperatureCoefficientPerK);
    }
  }
}
