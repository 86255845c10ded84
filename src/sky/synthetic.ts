import { type Chance, chance, MS_PER_DAY, MS_PER_S, S_PER_MIN, type TimeGrid, WH_PER_KWH } from '../base/index.ts';
import { absoluteAirMass, standardPressurePa } from './air-mass.ts';
import { type ClearSkyPlace, clearDniWPerM2, clearGhiWPerM2, clearSkyOf } from './clear-sky.ts';
import { dailyClearSkyIndex, steepnessForMean } from './daily-clearness.ts';
import { LINKE_TURBIDITY } from './defaults.ts';
import { spreadFlat } from './spread.ts';
import { type Steps, type SunTrack, sunTrack } from './sun.ts';
import type { Weather } from './weather.ts';

/** A place on the ground. */
export interface Site {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly elevationM: number;
}

/** The climate of a place, January to December, and which of its years is meant. */
export interface Climate {
  /** Global irradiation on the level, kWh/m² a month, in an average year. */
  readonly monthlyGhiKWhM2: readonly number[];
  readonly monthlyTempC: readonly number[];
  readonly seed: number;
  readonly linkeTurbidity?: number;
}

/**
 * A year of weather by the minute from twelve monthly sums, simple but honest.
 *
 * - Days: the share of a clear day's irradiation is drawn from an exponential family around the month's mean (Bendt, Collares-Pereira and
 *   Rabl 1981, there for the clearness index), with persistence from day to day (a first-order normal process, Graham et al. 1988).
 * - Minutes: sun and cloud alternate with exponential lengths; the ceiling is the clear sky of Ineichen and Perez, exceeded a little at
 *   the edges of clouds; clouds let through what the day's sum asks for. While the sun shows, beam is the clear sky's less a haze
 *   drawn for the day; all else is diffuse.
 * - Air: the month's mean, a swing with the sun and the day's clearness, fronts that last days. Wind: Rayleigh, hour by hour. Our own numbers.
 *
 * Good for trying a household and for monthly sums on the mean of many seeds (within 3 %). The lengths of cloud gaps are plausible, not
 * fitted to measurements. The seed alone decides: other steps see the same weather.
 *
 * @param climate  twelve sums and temperatures; seed 0, 1, 2 …
 * @param sun      of the steps of the grid, `sunTrack`
 * @throws RangeError  not twelve values, a sum below 0, or a month beyond the clearest sky
 * @see bendt1981
 * @see graham1988
 * @see ineichenPerez2002
 */
export function syntheticWeather(climate: Climate, site: Site, grid: TimeGrid, sun: SunTrack): Weather {
  checkClimate(climate);
  if (grid.stepS === S_PER_MIN) return syntheticMinutes(climate, site, grid, sun);
  const minutes = gridOfMinutes(grid);
  const fine = syntheticMinutes(climate, site, minutes, sunTrack(minutes, site.latitudeDeg, site.longitudeDeg));
  return spreadFlat(minutes, fine, grid, sun);
}

/** The same days in steps of a minute. */
function gridOfMinutes(grid: TimeGrid): TimeGrid {
  const perStep = grid.stepS / S_PER_MIN;
  return {
    ...grid,
    stepS: S_PER_MIN,
    steps: Math.round(grid.steps * perStep),
    dayStart: grid.dayStart.map((k) => Math.round(k * perStep)),
  };
}

function syntheticMinutes(climate: Climate, site: Site, grid: TimeGrid, sun: SunTrack): Weather {
  const place = clearSkyOfClimate(climate, site, grid);
  const days = daysOfClearness(climate, site, place, grid);
  const weather: Weather = {
    ghiWPerM2: new Float64Array(grid.steps),
    dniWPerM2: new Float64Array(grid.steps),
    dhiWPerM2: new Float64Array(grid.steps),
    airC: new Float64Array(grid.steps),
    windMPerS: windOver(chance(climate.seed, 'wind'), grid),
  };
  const sky = new DaySky(place, standardPressurePa(site.elevationM), sun);
  const clouds = chance(climate.seed, 'clouds');
  for (let d = 0; d < days.length; d++) {
    sky.writeDay(weather, grid.dayStart[d] ?? 0, grid.dayStart[d + 1] ?? 0, days[d] ?? 0, clouds);
  }
  writeAir(weather.airC, climate, grid, sun, days);
  return weather;
}

/** How much of yesterday's weather is still there: lag-one correlation of the normal process behind daily clearness. */
const DAY_PERSISTENCE = 0.29;

/** Share of a clear day's irradiation, a value per local day. */
function daysOfClearness(climate: Climate, site: Site, place: ClearSkyPlace, grid: TimeGrid): Float64Array {
  const draw = chance(climate.seed, 'days');
  const out = new Float64Array(grid.dayMs.length);
  const steepness = new Map<number, number>();
  let normal = draw.normal();
  for (let d = 0; d < out.length; d++) {
    const monthStartMs = firstOfMonthMs(grid.dayMs[d] ?? 0);
    let steep = steepness.get(monthStartMs);
    if (steep === undefined) {
      steep = steepnessOfMonth(monthStartMs, climate, site, place);
      steepness.set(monthStartMs, steep);
    }
    out[d] = dailyClearSkyIndex(steep, normal);
    normal = DAY_PERSISTENCE * normal + Math.sqrt(1 - DAY_PERSISTENCE ** 2) * draw.normal();
  }
  return out;
}

function steepnessOfMonth(monthStartMs: number, climate: Climate, site: Site, place: ClearSkyPlace): number {
  const clear = clearMonthKWhPerM2(monthStartMs, site, place);
  return clear > 0 ? steepnessForMean((climate.monthlyGhiKWhM2[new Date(monthStartMs).getUTCMonth()] ?? 0) / clear) : 0;
}

/** The sunniest months of Europe bring about this share of a clear month. */
const SUNNIEST_SHARE = 0.95;
/** The clearest air that is tried, and the share of its clear month that no climate can exceed. */
const LEAST_TURBIDITY = 2;
const TURBIDITY_STEP = 0.25;
const POSSIBLE_SHARE = 1.03;

/**
 * The clear sky of a climate: with the turbidity given or usual, unless a month is sunnier than that allows; then the air is taken as
 * clearer, as it is in the south and high up.
 */
function clearSkyOfClimate(climate: Climate, site: Site, grid: TimeGrid): ClearSkyPlace {
  const months = new Set(Array.from(grid.dayMs, firstOfMonthMs));
  const worst = (place: ClearSkyPlace): number => {
    const shares = Array.from(months, (monthMs) => {
      const wanted = climate.monthlyGhiKWhM2[new Date(monthMs).getUTCMonth()] ?? 0;
      const clear = clearMonthKWhPerM2(monthMs, site, place);
      // Months of polar night have nothing to compare.
      return clear > 1 ? wanted / clear : 0;
    });
    return Math.max(...shares);
  };
  let turbidity = climate.linkeTurbidity ?? LINKE_TURBIDITY;
  let place = clearSkyOf(site.elevationM, turbidity);
  let share = worst(place);
  while (share > SUNNIEST_SHARE && turbidity > LEAST_TURBIDITY) {
    turbidity = Math.max(LEAST_TURBIDITY, turbidity - TURBIDITY_STEP);
    place = clearSkyOf(site.elevationM, turbidity);
    share = worst(place);
  }
  if (share > POSSIBLE_SHARE) {
    throw new RangeError(`monthlyGhiKWhM2: a month has ${share.toFixed(2)} times what the clearest sky gives at this place`);
  }
  return place;
}

const firstOfMonthMs = (dayMs: number): number => Date.UTC(new Date(dayMs).getUTCFullYear(), new Date(dayMs).getUTCMonth(), 1);

const CLEAR_STEP_S = 1800;

/**
 * Irradiation of a calendar month under a clear sky all through, kWh/m², by half hours.
 *
 * @param monthStartMs  first of the month as `Date.UTC`; the zone moves the sum by less than a day's drift
 * @example clearMonthKWhPerM2(Date.UTC(2025, 5, 1), { latitudeDeg: 48.2, longitudeDeg: 16.4, elevationM: 170 }, clearSkyOf(170, 3.5)) // 240.5
 * @see ineichenPerez2002
 */
export function clearMonthKWhPerM2(monthStartMs: number, site: Site, place: ClearSkyPlace): number {
  const date = new Date(monthStartMs);
  const endMs = Date.UTC(date.getUTCFullYear(), date.getUTCMonth() + 1, 1);
  const steps: Steps = { startMs: monthStartMs, stepS: CLEAR_STEP_S, steps: (endMs - monthStartMs) / (CLEAR_STEP_S * MS_PER_S) };
  const sun = sunTrack(steps, site.latitudeDeg, site.longitudeDeg);
  const pressurePa = standardPressurePa(site.elevationM);
  let sum = 0;
  for (let k = 0; k < steps.steps; k++) {
    const airMass = absoluteAirMass(sun.airMass[k] ?? 0, pressurePa);
    sum += clearGhiWPerM2(place, sun.extraterrestrialWPerM2[k] ?? 0, sun.cosZenith[k] ?? 0, airMass);
  }
  return (sum * CLEAR_STEP_S) / 3600 / WH_PER_KWH;
}

// What a day is made of, as shares of the clear sky. Numbers set by eye beside real minutes of Denmark (spring to autumn), not fitted.
/** Above this share of a clear day no cloud passes. */
const CLEAR = 0.94;
/** What a day's clouds let through on the mean is drawn from this range; a day darker than that has no gap. */
const CLOUD_FROM = 0.3;
const CLOUD_TO = 0.65;
/** Least and most that they may be moved to for the day's sum. */
const CLOUD_LEAST = 0.05;
const CLOUD_MOST = 0.85;
/** Gaps outshine the clear sky while a bright edge is near: by this at most (drawn squared, so mostly by little), fading by a share each minute. */
const EDGE_MORE = 0.35;
const EDGE_FADES_PER_MIN = 0.07;
/** What gaps come to on the mean. */
const GAP_MEAN = 1.05;
/** Haze and thin cloud in front of the sun: part of the clear sky's beam that a day's gaps show. */
const BEAM_MEAN = 0.9;
const BEAM_SPREAD = 0.12;
const BEAM_LEAST = 0.6;
const BEAM_MOST = 1.08;
/** Sun and one cloud together, minutes: median, and spread from day to day (log). */
const CYCLE_MEDIAN_MIN = 25;
const CYCLE_LOG_SPREAD = 0.9;
/** A cloud's edge takes about two minutes to pass: share of the way to go in each. */
const EDGE_PER_MIN = 0.6;
/** Thickness of clouds wanders by this share, forgetting itself in about half an hour. */
const THICKNESS_SPREAD = 0.4;
const THICKNESS_KEEPS = 0.97;
const THICKNESS_FRESH = Math.sqrt(1 - THICKNESS_KEEPS ** 2);

/** Writes days of minutes; keeps scratch columns so that no day allocates. */
class DaySky {
  private readonly place: ClearSkyPlace;
  private readonly pressurePa: number;
  private readonly sun: SunTrack;
  private open = new Float64Array(0);
  private gap = new Float64Array(0);
  private cloud = new Float64Array(0);
  private clear = new Float64Array(0);
  private thickness = 0;

  constructor(place: ClearSkyPlace, pressurePa: number, sun: SunTrack) {
    this.place = place;
    this.pressurePa = pressurePa;
    this.sun = sun;
  }

  /** One local day: where the clouds are, how thick they must be for the day's sum, and what arrives. */
  writeDay(weather: Weather, first: number, end: number, dayIndex: number, draw: Chance): void {
    if (this.open.length < end - first) this.resize(end - first);
    const beamIndex = Math.min(BEAM_MOST, Math.max(BEAM_LEAST, BEAM_MEAN + BEAM_SPREAD * draw.normal()));
    this.drawClouds(first, end, dayIndex, draw);
    const cloudIndex = this.cloudIndexFor(end - first, dayIndex);
    for (let k = first; k < end; k++) {
      const clear = this.clear[k - first] ?? 0;
      if (clear <= 0) continue;
      const open = this.open[k - first] ?? 0;
      const through = Math.min(1, cloudIndex * (this.cloud[k - first] ?? 0));
      const beamOnLevel = this.clearBeam(k, clear) * open * beamIndex * (this.sun.cosZenith[k] ?? 0);
      const ghi = Math.max(beamOnLevel, clear * (open * (this.gap[k - first] ?? 0) + (1 - open) * through));
      weather.dniWPerM2[k] = beamOnLevel / (this.sun.cosZenith[k] ?? 1);
      weather.dhiWPerM2[k] = ghi - beamOnLevel;
      weather.ghiWPerM2[k] = ghi;
    }
  }

  private resize(steps: number): void {
    this.open = new Float64Array(steps);
    this.gap = new Float64Array(steps);
    this.cloud = new Float64Array(steps);
    this.clear = new Float64Array(steps);
  }

  /** Fills the day's columns: clear sky, how open the way to the sun is (0 … 1), how bright gaps are, how thin clouds are against their mean. */
  private drawClouds(first: number, end: number, dayIndex: number, draw: Chance): void {
    const cycleMin = CYCLE_MEDIAN_MIN * Math.exp(CYCLE_LOG_SPREAD * draw.normal());
    const shine = shineShare(dayIndex, CLOUD_FROM + (CLOUD_TO - CLOUD_FROM) * draw.uniform());
    const leaveSun = 1 / Math.max(2, cycleMin * shine);
    const leaveCloud = 1 / Math.max(2, cycleMin * (1 - shine));
    let sunny = draw.uniform() < shine;
    let open = sunny ? 1 : 0;
    let gap = gapIndex(dayIndex, draw);
    for (let k = first; k < end; k++) {
      const clear = this.clearGhi(k);
      this.clear[k - first] = clear;
      if (clear <= 0) continue;
      if (shine > 0 && shine < 1 && draw.uniform() < (sunny ? leaveSun : leaveCloud)) {
        sunny = !sunny;
        if (sunny) gap = gapIndex(dayIndex, draw);
      }
      if (dayIndex <= CLEAR) gap += EDGE_FADES_PER_MIN * (1 - gap);
      open += EDGE_PER_MIN * ((sunny ? 1 : 0) - open);
      this.open[k - first] = open;
      this.gap[k - first] = gap;
      this.thickness = THICKNESS_KEEPS * this.thickness + THICKNESS_FRESH * draw.normal();
      this.cloud[k - first] = Math.max(0.15, 1 + THICKNESS_SPREAD * this.thickness);
    }
  }

  /** What the clouds must let through for the day's sum to come out, as far as clouds can. */
  private cloudIndexFor(count: number, dayIndex: number): number {
    let wanted = 0;
    let throughClouds = 0;
    for (let i = 0; i < count; i++) {
      const clear = this.clear[i] ?? 0;
      const open = this.open[i] ?? 0;
      wanted += clear * (dayIndex - open * (this.gap[i] ?? 0));
      throughClouds += clear * (1 - open) * (this.cloud[i] ?? 0);
    }
    if (throughClouds <= 0) return CLOUD_LEAST;
    return Math.min(CLOUD_MOST, Math.max(CLOUD_LEAST, wanted / throughClouds));
  }

  private clearGhi(k: number): number {
    const cosZenith = this.sun.cosZenith[k] ?? 0;
    if (cosZenith <= 0) return 0;
    const airMass = absoluteAirMass(this.sun.airMass[k] ?? 0, this.pressurePa);
    return clearGhiWPerM2(this.place, this.sun.extraterrestrialWPerM2[k] ?? 0, cosZenith, airMass);
  }

  private clearBeam(k: number, clearGhi: number): number {
    const airMass = absoluteAirMass(this.sun.airMass[k] ?? 0, this.pressurePa);
    return clearDniWPerM2(this.place, this.sun.extraterrestrialWPerM2[k] ?? 0, this.sun.cosZenith[k] ?? 0, airMass, clearGhi);
  }
}

/** How bright the next gap is: on a day without clouds as the day is. */
function gapIndex(dayIndex: number, draw: Chance): number {
  const drawn = draw.uniform();
  return dayIndex > CLEAR ? dayIndex : 1 + EDGE_MORE * drawn * drawn;
}

/** Part of the daylight in which the sun shows, so that gaps and clouds of that index give the day's. */
function shineShare(dayIndex: number, cloudIndex: number): number {
  if (dayIndex > CLEAR) return 1;
  return Math.min(1, Math.max(0, (dayIndex - cloudIndex) / (GAP_MEAN - cloudIndex)));
}

// Air: fronts of some kelvin that last days; a swing from dawn to afternoon that a clear sky widens.
const FRONT_SPREAD_K = 3;
const FRONT_KEEPS = 0.75;
const SWING_LEAST_K = 3;
const SWING_CLEAR_K = 9;
const WARMEST_H_AFTER_NOON = 3;

function writeAir(airC: Float64Array, climate: Climate, grid: TimeGrid, sun: SunTrack, days: Float64Array): void {
  const draw = chance(climate.seed, 'air');
  const stepsPerH = 3600 / grid.stepS;
  let front = FRONT_SPREAD_K * draw.normal();
  let lastEndC = Number.NaN;
  for (let d = 0; d < days.length; d++) {
    const first = grid.dayStart[d] ?? 0;
    const end = grid.dayStart[d + 1] ?? 0;
    const meanC = seasonalC(climate.monthlyTempC, grid.dayMs[d] ?? 0) + front;
    const swingK = SWING_LEAST_K + (SWING_CLEAR_K - SWING_LEAST_K) * (days[d] ?? 0);
    const warmest = noonStep(sun, first, end) + WARMEST_H_AFTER_NOON * stepsPerH;
    // The first hours of a day lead over from where yesterday ended.
    let gapK = 0;
    for (let k = first; k < end; k++) {
      const plainC = meanC + (swingK / 2) * Math.cos((2 * Math.PI * (k - warmest)) / (24 * stepsPerH));
      if (k === first && d > 0) gapK = lastEndC - plainC;
      airC[k] = plainC + gapK * Math.max(0, 1 - (k - first) / (6 * stepsPerH));
    }
    lastEndC = airC[end - 1] ?? 0;
    front = FRONT_KEEPS * front + Math.sqrt(1 - FRONT_KEEPS ** 2) * FRONT_SPREAD_K * draw.normal();
  }
}

/** Step of the day in which the sun stands highest; the middle of the day where it does not rise. */
function noonStep(sun: SunTrack, first: number, end: number): number {
  let best = 0;
  let at = (first + end) / 2;
  for (let k = first; k < end; k++) {
    const cosZenith = sun.cosZenith[k] ?? 0;
    if (cosZenith > best) {
      best = cosZenith;
      at = k;
    }
  }
  return at;
}

/** Temperature of the season on a day: linear between the middles of the months. */
function seasonalC(monthlyTempC: readonly number[], dayMs: number): number {
  const date = new Date(dayMs);
  const year = date.getUTCFullYear();
  const month = date.getUTCMonth();
  const lengthDays = (Date.UTC(year, month + 1, 1) - Date.UTC(year, month, 1)) / MS_PER_DAY;
  const at = month + (date.getUTCDate() - 0.5) / lengthDays - 0.5;
  const before = Math.floor(at);
  const here = monthlyTempC[(before + 12) % 12] ?? 0;
  return here + ((monthlyTempC[(before + 13) % 12] ?? 0) - here) * (at - before);
}

const WIND_MEAN_M_PER_S = 2;
const WIND_KEEPS_PER_H = 0.85;

/** Wind: the length of two normal components (Rayleigh) that wander hour by hour, linear between. */
function windOver(draw: Chance, grid: TimeGrid): Float64Array {
  const out = new Float64Array(grid.steps);
  const stepsPerH = 3600 / grid.stepS;
  const scale = WIND_MEAN_M_PER_S / Math.sqrt(Math.PI / 2);
  const fresh = Math.sqrt(1 - WIND_KEEPS_PER_H ** 2);
  let along = draw.normal();
  let across = draw.normal();
  let before = scale * Math.hypot(along, across);
  for (let first = 0; first < grid.steps; first += stepsPerH) {
    along = WIND_KEEPS_PER_H * along + fresh * draw.normal();
    across = WIND_KEEPS_PER_H * across + fresh * draw.normal();
    const after = scale * Math.hypot(along, across);
    for (let k = first; k < Math.min(grid.steps, first + stepsPerH); k++)
      out[k] = before + ((after - before) * (k - first)) / stepsPerH;
    before = after;
  }
  return out;
}

function checkClimate(climate: Climate): void {
  const { monthlyGhiKWhM2, monthlyTempC } = climate;
  if (monthlyGhiKWhM2.length !== 12) throw new RangeError(`monthlyGhiKWhM2 has ${monthlyGhiKWhM2.length} values: must have 12`);
  if (monthlyTempC.length !== 12) throw new RangeError(`monthlyTempC has ${monthlyTempC.length} values: must have 12`);
  for (const sum of monthlyGhiKWhM2) if (!(sum >= 0)) throw new RangeError(`monthlyGhiKWhM2 holds ${sum}: must be 0 or more`);
}
