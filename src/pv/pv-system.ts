import { cosDeg, radOf, roomFor, sinDeg, type TimeGrid, W_PER_KW } from '../base/index.ts';
import { type Cooling, cellTempFaimanC } from './cell-temperature.ts';
import { ALBEDO, MOUNTINGS } from './defaults.ts';
import { passingShare, passingShareGround, passingShareSky } from './incidence-loss.ts';
import { acOnCurveW, type InverterCurve, inverterCurve } from './inverter.ts';
import { dcPowerW } from './module.ts';
import {
  beamOnPlaneWPerM2,
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
  return powerOfPlanesW(system, grid, planeLights(system.arrays, grid, sun, weather, system.albedo));
}

/** Where modules stand and how they are cooled: all that decides how much light reaches their cells and how warm they get. */
export type Plane = Pick<PvArray, 'tiltDeg' | 'azimuthDeg' | 'mounting' | 'horizonDeg'>;

/** Light on the cells of a plane behind their glass, and how warm they are: a value for each step with light, one stretch after the other. */
export interface PlaneLight {
  readonly lightWPerM2: Float64Array;
  readonly cellC: Float64Array;
  /** Those stretches of steps, in pairs of the first and the one after the last. The nights between would take as much memory again. */
  readonly lit: readonly number[];
}

/**
 * The costly half of `pvPowerW`: what does not depend on how many modules stand on a plane, nor on what follows them.
 *
 * @param glow  of this sun and weather; whoever turns planes under one sky makes it once
 * @param room  light on other planes that nobody needs any more, used where it fits
 */
export function planeLights(
  planes: readonly Plane[],
  grid: Pick<TimeGrid, 'steps'>,
  sun: SunNumbers,
  weather: WeatherNumbers,
  albedo = ALBEDO,
  glow: SkyGlow = skyGlow(sun, weather),
  room: readonly PlaneLight[] = [],
): PlaneLight[] {
  if (sun.cosZenith.length !== grid.steps) throw new RangeError(`sun has ${sun.cosZenith.length} steps: must have ${grid.steps}`);
  if (weather.ghiWPerM2.length !== grid.steps)
    throw new RangeError(`weather has ${weather.ghiWPerM2.length} steps: must have ${grid.steps}`);
  return planes.map((plane, i) => new ModulePlane(plane, albedo).light({ sun, weather, glow }, room[i]));
}

/**
 * The other half of `pvPowerW`: modules, losses and inverter.
 *
 * @param lights  of each array's plane, in the order of the arrays
 * @param room    power that nobody needs any more, used if it fits
 */
export function powerOfPlanesW(
  { arrays, inverter }: PvSystem,
  grid: TimeGrid,
  lights: readonly PlaneLight[],
  room?: Float64Array,
): Float64Array {
  const planes = arrays.map((array, i) => {
    const light = lights[i];
    if (light === undefined) throw new RangeError(`lights has ${lights.length} planes: must have ${arrays.length}`);
    return { array, light };
  });
  const curve = inverterCurve(inverter.ratedW, inverter.efficiency);
  const out = roomFor(grid.steps, room);
  const lit = lights[0]?.lit ?? [];
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
      for (const { array, light } of planes) addDcW(out, array, light, ratedAfterLossW(array, month), first, end, at);
      invert(out, curve, first, end);
      if (litEnd > dayEnd) break;
      litBefore += litEnd - litFirst;
    }
  }
  return out;
}

/** Adds an array's DC power over some steps; the light of a step stands `at` places on from its number. */
function addDcW(
  out: Float64Array,
  { temperatureCoefficientPerK }: PvArray,
  { lightWPerM2, cellC }: PlaneLight,
  ratedW: number,
  first: number,
  end: number,
  at: number,
): void {
  for (let k = first; k < end; k++)
    out[k] = (out[k] ?? 0) + dcPowerW(ratedW, lightWPerM2[at + k] ?? 0, cellC[at + k] ?? 0, temperatureCoefficientPerK);
}

/** From DC to AC in place over some steps. */
function invert(out: Float64Array, curve: InverterCurve, first: number, end: number): void {
  for (let k = first; k < end; k++) out[k] = acOnCurveW(curve, out[k] ?? 0);
}

function ratedAfterLossW({ kWp, lossPercent, monthlyLossPercent }: PvArray, month: number): number {
  return kWp * W_PER_KW * (1 - lossPercent / 100) * (1 - (monthlyLossPercent[month] ?? 0) / 100);
}

/** What of the sky is the same for every plane. */
export interface SkyGlow {
  /** F1 and F2 of Perez for each step, 0 without diffuse light. */
  readonly f1: Float64Array;
  readonly f2: Float64Array;
  /** Stretches of steps with the sun up and light, in pairs of the first and the one after the last: planes pass by the nights. */
  readonly lit: readonly number[];
}

/**
 * Perez' sky over all steps.
 *
 * @see perez1990
 */
export function skyGlow(sun: SunNumbers, weather: WeatherNumbers): SkyGlow {
  const steps = sun.cosZenith.length;
  const f1 = new Float64Array(steps);
  const f2 = new Float64Array(steps);
  for (let k = 0; k < steps; k++) {
    const dhi = weather.dhiWPerM2[k] ?? 0;
    if (dhi <= 0) continue;
    const zenithRad = radOf(sun.zenithDeg[k] ?? 90);
    const brightness = (dhi * (sun.airMass[k] ?? 0)) / (sun.extraterrestrialWPerM2[k] ?? 1);
    const bin = perezBin(perezClearness(dhi, weather.dniWPerM2[k] ?? 0, zenithRad));
    f1[k] = perezF1(bin, brightness, zenithRad);
    f2[k] = perezF2(bin, brightness, zenithRad);
  }
  return { f1, f2, lit: litStretches(sun, weather) };
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
  private readonly cooling: Cooling;

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
    this.cooling = MOUNTINGS[plane.mounting];
  }

  /** Light and warmth in every step with light. */
  light(sky: SkyNumbers, room?: PlaneLight): PlaneLight {
    const { lit } = sky.glow;
    let steps = 0;
    for (let i = 0; i < lit.length; i += 2) steps += (lit[i + 1] ?? 0) - (lit[i] ?? 0);
    const out = { lightWPerM2: roomFor(steps, room?.lightWPerM2), cellC: roomFor(steps, room?.cellC), lit };
    let litBefore = 0;
    for (let i = 0; i < lit.length; i += 2) {
      const [first, end] = [lit[i] ?? 0, lit[i + 1] ?? 0];
      this.lightOver(first, end, sky, out, litBefore - first);
      litBefore += end - first;
    }
    return out;
  }

  /** The hot loop: it allocates nothing. */
  private lightOver(
    first: number,
    end: number,
    { sun, weather, glow }: SkyNumbers,
    { lightWPerM2, cellC }: PlaneLight,
    at: number,
  ): void {
    for (let k = first; k < end; k++) {
      const cosZenith = sun.cosZenith[k] ?? 0;
      const dhi = weather.dhiWPerM2[k] ?? 0;
      const east = sun.east[k] ?? 0;
      const north = sun.north[k] ?? 0;
      const f1 = glow.f1[k] ?? 0;
      const f2 = glow.f2[k] ?? 0;
      const cosIncidence = this.normalEast * east + this.normalNorth * north + this.normalUp * cosZenith;
      let beam = 0;
      let diffuse = dhi * (this.evenSky * (1 - f1) + this.horizonBand * f2);
      if (cosIncidence > 0 && !(this.skyline && behindSkyline(this.skyline, east, north, cosZenith))) {
        const passing = passingShare(cosIncidence);
        beam = beamOnPlaneWPerM2(weather.dniWPerM2[k] ?? 0, cosIncidence) * passing;
        diffuse += dhi * f1 * perezSunRatio(cosIncidence, cosZenith) * passing;
      }
      const light = beam + Math.max(0, diffuse) + (weather.ghiWPerM2[k] ?? 0) * this.ground;
      lightWPerM2[at + k] = light;
      cellC[at + k] = cellTempFaimanC(light, weather.airC[k] ?? 0, weather.windMPerS[k] ?? 0, this.cooling);
    }
  }
}
