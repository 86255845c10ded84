import { chance } from '../base/index.ts';
import type { ByDay } from './appliances.ts';
import { countOf, hourOf } from './draws.ts';
import type { Sheet } from './sheet.ts';
import type { Day, YearPlan } from './year.ts';

const MINUTES_PER_DAY = 1440;
const MINUTES_PER_H = 60;

/** A storage heater of hot water: its element, and what one draw (a shower, a sink of dishes) makes it heat again. Common practice. */
const ELEMENT_W = 2000;
const DRAW_WH = 700;
// biome-ignore format: a column an hour
const DRAW_HOURS: ByDay<readonly number[]> = {
  //          0  1  2  3  4  5  6  7  8  9 10 11 12 13 14 15 16 17 18 19 20 21 22 23
  workday:  [ 0, 0, 0, 0, 0, 3,10,10, 5, 3, 2, 2, 3, 3, 2, 2, 3, 4, 6, 8, 8, 6, 3, 1],
  saturday: [ 0, 0, 0, 0, 0, 1, 3, 6, 9, 9, 7, 4, 3, 3, 3, 3, 4, 6, 8, 7, 6, 5, 3, 1],
  sunday:   [ 0, 0, 0, 0, 0, 0, 2, 4, 8,10, 8, 5, 4, 4, 3, 3, 3, 4, 6, 7, 7, 5, 3, 1],
};

/**
 * Minutes of an electric storage heater in a year of 1440-minute days, W: it heats after every draw, one draw after the other.
 * Own estimate from common practice; the caller scales it to the year's energy, which moves the element's 2 kW by a few percent.
 */
export function hotWaterYear({ seed, hotWaterWh }: YearPlan, days: readonly Day[], sheet: Sheet): void {
  const { valuesW } = sheet;
  let heatsUntil = 0;
  for (const day of days) {
    const luck = chance(seed, `house/hot water/${day.key}`);
    const draws = countOf(luck, (day.bustle * hotWaterWh) / 365 / DRAW_WH);
    const starts = Array.from({ length: draws }, () => hourOf(luck, DRAW_HOURS[day.kind]) * MINUTES_PER_H + luck.uniform() * 60);
    for (const start of starts.sort((a, b) => a - b)) {
      const from = Math.max(heatsUntil, day.firstMinute + Math.floor(start));
      heatsUntil = from + Math.round((DRAW_WH / ELEMENT_W) * MINUTES_PER_H * (0.5 + luck.uniform()));
      // Minutes outside the year are dropped.
      const [first, end] = [Math.max(0, from), Math.min(valuesW.length, heatsUntil)];
      if (end <= first) continue;
      valuesW.fill(ELEMENT_W, first, end);
      sheet.sumW += ELEMENT_W * (end - first);
    }
  }
}

/** Middle of Europe, from memory: mean of the year, half the swing between January and July, and the weather's own moods, K. */
const MEAN_AIR_C = 9.5;
const SWING_K = 10;
const MOODS_K = 3;
/** Houses are heated on days below this mean; at `FULL_AIR_C` the pump never rests. Hot water takes `WATER_SHARE` of it all year. */
const HEATING_LIMIT_C = 15;
const FULL_AIR_C = -12;
const WATER_SHARE = 0.12;
/** One run and one rest, give or take three tenths, min. */
const CYCLE_MIN = 50;

/**
 * Minutes of a heat pump in a year of 1440-minute days, as a share of its power, 0 or 1: runs and rests, longer runs on colder days.
 * It follows the season and a mood of its own from day to day, not the weather of the run: the load of the house is the same
 * whichever weather meets it. Own estimate; the caller scales it to the year's energy, which sets the power.
 */
export function heatPumpYear(plan: YearPlan, days: readonly Day[], sheet: Sheet): void {
  for (const day of days) {
    if (day.firstMinute < 0) continue;
    const luck = chance(plan.seed, `house/heat pump/${day.key}`);
    const airC = MEAN_AIR_C - SWING_K * day.winterness + MOODS_K * luck.normal();
    const heat = Math.max(0, HEATING_LIMIT_C - airC) / (HEATING_LIMIT_C - FULL_AIR_C);
    const runMin = Math.min(1, heat + WATER_SHARE) * CYCLE_MIN;
    for (let at = -luck.uniform() * CYCLE_MIN; at < MINUTES_PER_DAY; ) {
      const vary = 0.7 + 0.6 * luck.uniform();
      const from = Math.max(0, Math.round(at));
      const until = Math.min(MINUTES_PER_DAY, Math.round(at + vary * runMin));
      if (until > from) {
        sheet.valuesW.fill(1, day.firstMinute + from, day.firstMinute + until);
        sheet.sumW += until - from;
      }
      at += vary * CYCLE_MIN;
    }
  }
}
