import {
  type Chance,
  chance,
  MS_PER_DAY,
  MS_PER_S,
  offsetSAt,
  S_PER_H,
  stepStartMs,
  type TimeGrid,
  timeGrid,
  UTC,
  wallClockAt,
  type Zone,
} from '../base/index.ts';
import {
  APPLIANCES,
  type Appliance,
  COLD_APPLIANCES,
  type ColdAppliance,
  heats,
  LAMPS_WEEKEND,
  LAMPS_WORKDAY,
  SCREENS_WEEKEND,
  SCREENS_WORKDAY,
  SPREAD,
} from './appliances.ts';
import { darknessShare, dayLengthH, winterness } from './daylight.ts';

const MINUTES_PER_DAY = 1440;
const MINUTES_PER_H = 60;
/** Screens are switched and change their power about so often. */
const SCREEN_BLOCK_MIN = 10;

/** Who lives there, and on which building phase (0 … 2) each appliance hangs. */
export interface YearPlan {
  readonly people: number;
  readonly seed: number;
  readonly latitudeDeg: number;
  /** Uses against those of a typical household of this size. */
  readonly activity: number;
  readonly phaseOf: ReadonlyMap<string, 0 | 1 | 2>;
}

/** A calendar year of minutes, not yet scaled: what appliances draw per phase, and what is spread over the house. W. */
export interface HouseYear {
  /** The year's minutes. */
  readonly minutes: TimeGrid;
  readonly applianceW: readonly [Float64Array, Float64Array, Float64Array];
  readonly spreadW: Float64Array;
}

/**
 * One calendar year by the minute. Each day has its own streams of chance, named after its date, so a day is the same in whichever
 * run it is met; a run that goes on past midnight goes on, also from the last evening of the year before.
 */
export function houseYear(plan: YearPlan, year: number, zone: Zone): HouseYear {
  const firstDayMs = Date.UTC(year, 0, 1);
  const days = Math.round((Date.UTC(year + 1, 0, 1) - firstDayMs) / MS_PER_DAY);
  const minutes = timeGrid(firstDayMs, days, 60, zone);
  const wall = (): Float64Array => new Float64Array(days * MINUTES_PER_DAY);
  const applianceW = [wall(), wall(), wall()] as const;
  const spreadW = wall();
  const circuitW = (name: string): Float64Array => applianceW[plan.phaseOf.get(name) ?? 0];
  const standardOffsetS = Math.min(...zone.changes.map((change) => change.offsetS));
  for (let d = -1; d < days; d++) {
    const day = dayOf(plan, firstDayMs + d * MS_PER_DAY, d * MINUTES_PER_DAY);
    for (const appliance of APPLIANCES) useAppliance(circuitW(appliance.name), appliance, plan, day);
    if (d < 0) continue;
    for (const cold of COLD_APPLIANCES) runCold(circuitW(cold.name), cold, plan, day);
    const dstH = (offsetSAt(zone, stepStartMs(minutes, minutes.dayStart[d] ?? 0) + MS_PER_DAY / 2) - standardOffsetS) / S_PER_H;
    addSpread(spreadW, plan, day, 12 + dstH);
  }
  const real = (w: Float64Array): Float64Array => onRealMinutes(w, minutes);
  return { minutes, applianceW: [real(applianceW[0]), real(applianceW[1]), real(applianceW[2])], spreadW: real(spreadW) };
}

interface Day {
  /** Whole days since 1970: the name of the date in streams of chance. */
  readonly key: number;
  /** Index of its first minute in the year of 1440-minute days. */
  readonly firstMinute: number;
  readonly weekend: boolean;
  readonly winterness: number;
  readonly lengthH: number;
  /** How much is going on at home, around 1: some days nobody is in. */
  readonly bustle: number;
}

function dayOf(plan: YearPlan, dayMs: number, firstMinute: number): Day {
  const { weekday, dayOfYear } = wallClockAt(UTC, dayMs);
  const key = dayMs / MS_PER_DAY;
  return {
    key,
    firstMinute,
    weekend: weekday >= 5,
    winterness: winterness(dayOfYear, plan.latitudeDeg),
    lengthH: dayLengthH(dayOfYear, plan.latitudeDeg),
    bustle: 0.6 + 0.8 * chance(plan.seed, `house/bustle/${key}`).uniform(),
  };
}

/** All uses of an appliance that begin on a day. */
function useAppliance(toW: Float64Array, appliance: Appliance, plan: YearPlan, day: Day): void {
  const luck = chance(plan.seed, `house/${appliance.name}/${day.key}`);
  const usual = appliance.usesPerDay + appliance.usesPerPersonDay * plan.people;
  const season = 1 + appliance.seasonSwing * day.winterness;
  const uses = countOf(luck, usual * plan.activity * season * day.bustle * (day.weekend ? appliance.weekendFactor : 1));
  const hours = day.weekend ? appliance.weekendHours : appliance.workdayHours;
  for (let use = 0; use < uses; use++) {
    const start = day.firstMinute + hourOf(luck, hours) * MINUTES_PER_H + Math.floor(luck.uniform() * MINUTES_PER_H);
    runOnce(toW, appliance, start, luck);
  }
}

/** One use: its stages one after the other, each up to a fifth shorter or longer. Minutes outside the year are dropped. */
function runOnce(toW: Float64Array, appliance: Appliance, start: number, luck: Chance): void {
  let minute = start;
  for (const stage of appliance.stages) {
    const length = Math.max(1, Math.round(stage.minutes * (0.8 + 0.4 * luck.uniform())));
    for (let m = 0; m < length; m++, minute++) {
      if (minute >= 0 && minute < toW.length && heats(stage, m)) toW[minute] = (toW[minute] ?? 0) + stage.powerW;
    }
  }
}

/** A compressor's day: from a chance point of its cycle on, each on and off up to a fifth shorter or longer. */
function runCold(toW: Float64Array, cold: ColdAppliance, plan: YearPlan, day: Day): void {
  const luck = chance(plan.seed, `house/${cold.name}/${day.key}`);
  const powerW = cold.powerW * plan.activity;
  // A warm kitchen lengthens the run by an eighth.
  const onMin = cold.onMin * (1 - 0.125 * day.winterness);
  const vary = (minutes: number): number => Math.round(minutes * (0.8 + 0.4 * luck.uniform()));
  let minute = -Math.floor(luck.uniform() * (onMin + cold.offMin));
  while (minute < MINUTES_PER_DAY) {
    const off = Math.min(MINUTES_PER_DAY, minute + vary(onMin));
    for (let m = Math.max(0, minute); m < off; m++) toW[day.firstMinute + m] = (toW[day.firstMinute + m] ?? 0) + powerW;
    minute = off + vary(cold.offMin);
  }
}

const WORKDAY = { screens: byMinute(SCREENS_WORKDAY), lamps: byMinute(LAMPS_WORKDAY) };
const WEEKEND = { screens: byMinute(SCREENS_WEEKEND), lamps: byMinute(LAMPS_WEEKEND) };

/** A day of what is spread over the house: standing load, heating pump, screens, lamps. */
function addSpread(toW: Float64Array, plan: YearPlan, day: Day, noonH: number): void {
  const luck = chance(plan.seed, `house/spread/${day.key}`);
  const { screens, lamps } = day.weekend ? WEEKEND : WORKDAY;
  const standingW = SPREAD.standingW + SPREAD.standingPerPersonW * plan.people;
  const pumpW = SPREAD.heatingPumpW * Math.max(0, day.winterness);
  const lampsW = (SPREAD.lampsW + SPREAD.lampsPerPersonW * plan.people) * day.bustle;
  const screensSeason = 1 + SPREAD.screensSeasonSwing * day.winterness;
  const allScreensW = (SPREAD.screensW + SPREAD.screensPerPersonW * plan.people) * day.bustle * screensSeason;
  let screensW = 0;
  for (let m = 0; m < MINUTES_PER_DAY; m++) {
    if (m % SCREEN_BLOCK_MIN === 0) {
      screensW = allScreensW * (0.5 + luck.uniform());
    }
    const darkW = lampsW * darknessShare(m / MINUTES_PER_H, noonH, day.lengthH);
    toW[day.firstMinute + m] = standingW + pumpW + screensW * (screens[m] ?? 0) + darkW * (lamps[m] ?? 0);
  }
}

/** Percent at each full hour, as a share at each minute. */
function byMinute(hourPercent: readonly number[]): Float64Array {
  return Float64Array.from({ length: MINUTES_PER_DAY }, (_, m) => {
    const hour = Math.floor(m / MINUTES_PER_H);
    const part = (m % MINUTES_PER_H) / MINUTES_PER_H;
    return ((hourPercent[hour] ?? 0) * (1 - part) + (hourPercent[(hour + 1) % 24] ?? 0) * part) / 100;
  });
}

/** A whole number with Poisson's distribution (Knuth's product of uniforms; for means up to some ten). */
function countOf(luck: Chance, mean: number): number {
  const floor = Math.exp(-mean);
  let count = 0;
  for (let product = luck.uniform(); product > floor; product *= luck.uniform()) count += 1;
  return count;
}

/** An hour of the day, each as likely as its weight. */
function hourOf(luck: Chance, weights: readonly number[]): number {
  let left = luck.uniform() * weights.reduce((sum, weight) => sum + weight, 0);
  for (let hour = 0; hour < weights.length; hour++) {
    left -= weights[hour] ?? 0;
    if (left < 0) return hour;
  }
  return weights.length - 1;
}

/** From days of 1440 minutes on the wall to the minutes that pass: the spring gap is left out, the autumn hour comes twice. */
function onRealMinutes(wallW: Float64Array, minutes: TimeGrid): Float64Array {
  const realW = new Float64Array(minutes.steps);
  for (let d = 0; d < minutes.dayMs.length; d++) {
    const first = minutes.dayStart[d] ?? 0;
    const end = minutes.dayStart[d + 1] ?? first;
    const wallFirst = d * MINUTES_PER_DAY;
    if (end - first === MINUTES_PER_DAY) realW.set(wallW.subarray(wallFirst, wallFirst + MINUTES_PER_DAY), first);
    else for (let k = first; k < end; k++) realW[k] = wallW[wallFirst + wallMinute(minutes, d, k)] ?? 0;
  }
  return realW;
}

/** Minute of its local day that the wall shows at minute `k` of the year, kept within the day. */
function wallMinute(minutes: TimeGrid, d: number, k: number): number {
  const atMs = stepStartMs(minutes, k);
  const localMs = atMs + offsetSAt(minutes.zone, atMs) * MS_PER_S;
  return Math.min(MINUTES_PER_DAY - 1, Math.max(0, Math.floor((localMs - (minutes.dayMs[d] ?? 0)) / 60_000)));
}
