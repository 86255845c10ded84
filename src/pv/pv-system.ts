import { cleared, cosDeg, radOf, sinDeg, type TimeGrid, W_PER_KW } from '../base/index.ts';
import { type Cooling, cellTempFaimanC } from './cell-temperature.ts';
import { ALBEDO, MOUNTINGS } from './defaults.ts';
import { passingShare, passingShareGround, passingShareSky } from './incidence-loss.ts';
import { acPowerW } from './inverter.ts';
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

/** Light on the cells of a plane behind their glass, and how warm they are, by step; zero and 0 °C where there is no light. */
export interface PlaneLight {
  readonly lightWPerM2: Float64Array;
  readonly cellC: Float64Array;
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
  const out = cleared(grid.steps, room);
  // Day by day, so that what one loop writes is still at hand for the next.
  for (let d = 0; d < grid.dayMs.length; d++) {
    const month = new Date(grid.dayMs[d] ?? 0).getUTCMonth();
    const [first, end] = [grid.dayStart[d] ?? 0, grid.dayStart[d + 1] ?? 0];
    for (const [i, array] of arrays.entries()) {
      const light = lights[i];
      if (light === undefined) throw new RangeError(`lights has ${lights.length} planes: must have ${arrays.length}`);
      addDcW(out, array, light, ratedAfterLossW(array, month), first, end);
    }
    invert(out, inverter, first, end);
  }
  return out;
}

/** Adds an array's DC power over some steps. */
function addDcW(out: Float64Array, array: PvArray, light: PlaneLight, ratedW: number, first: number, end: number): void {
  const { lightWPerM2, cellC } = light;
  const coefficient = array.temperatureCoefficientPerK;
  for (let k = first; k < end; k++) {
    const onCells = lightWPerM2[k] ?? 0;
    if (onCells > 0) out[k] = (out[k] ?? 0) + dcPowerW(ratedW, onCells, cellC[k] ?? 0, coefficient);
  }
}

/** From DC to AC in place over some steps. */
function invert(out: Float64Array, { ratedW, efficiency }: PvSystem['inverter'], first: number, end: number): void {
  for (let k = first; k < end; k++) {
    const dcW = out[k] ?? 0;
    if (dcW > 0) out[k] = acPowerW(dcW, ratedW, efficiency);
  }
}

function ratedAfterLossW({ kWp, lossPercent, monthlyLossPercent }: PvArray, month: number): number {
  return kWp * W_PER_KW * (1 - lossPercent / 100) * (1 - (monthlyLossPercent[month] ?? 0) / 100);
}

/** What of Perez' sky is the same for every plane: F1 and F2 of each step, 0 without diffuse light. */
export interface SkyGlow {
  readonly f1: Float64Array;
  readonly f2: Float64Array;
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
  return { f1, f2 };
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

  /** Light and warmth in every step. The hot loop: it allocates nothing. */
  light({ sun, weather, glow }: SkyNumbers, room?: PlaneLight): PlaneLight {
    const steps = weather.ghiWPerM2.length;
    const lightWPerM2 = cleared(steps, room?.lightWPerM2);
    const cellC = cleared(steps, room?.cellC);
    for (let k = 0; k < steps; k++) {
      const ghi = weather.ghiWPerM2[k] ?? 0;
      const cosZenith = sun.cosZenith[k] ?? 0;
      if (ghi <= 0 || cosZenith <= 0) continue;
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
      const light = beam + Math.max(0, diffuse) + ghi * this.ground;
      lightWPerM2[k] = light;
      cellC[k] = cellTempFaimanC(light, weather.airC[k] ?? 0, weather.windMPerS[k] ?? 0, this.cooling);
    }
    return { lightWPerM2, cellC };
  }
}
