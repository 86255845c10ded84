import {
  type Chance,
  chance,
  MS_PER_DAY,
  MS_PER_S,
  offsetSAt,
  roomFor,
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
  type DayKind,
  heats,
  LAMPS,
  SCREENS,
  SPREAD,
} from './appliances.ts';
import { darknessShare, dayLengthH, winterness } from './daylight.ts';
import { countOf, hourOf } from './draws.ts';
import { heatPumpYear, hotWaterYear } from './heat.ts';
import type { KeepSheet, Sheet } from './sheet.ts';

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
  /** Public holidays, which are lived like Sundays: local dates as `Date.UTC`. */
  readonly daysOff: ReadonlySet<number>;
  /** Stretches with nobody in, first and last local date as `Date.UTC`. */
  readonly holidays: readonly Holiday[];
  /** Electricity for hot water and of a heat pump in a year, Wh; 0: there is none. */
  readonly hotWaterWh: number;
  readonly heatPumpWh: number;
}

/** Days from one date to another, both included: local dates as `Date.UTC`. */
export interface Holiday {
  readonly firstMs: number;
  readonly lastMs: number;
}

/** A calendar year of minutes, not yet scaled: what appliances draw per phase, and what is spread over the house. W. */
export interface HouseYear {
  /** The year's minutes. */
  readonly minutes: TimeGrid;
  readonly appliances: readonly [Sheet, Sheet, Sheet];
  readonly spread: Sheet;
  /** A storage heater of hot water, and a heat pump as a share of its power; null where there is none. */
  readonly hotWater: Sheet | null;
  readonly heatPump: Sheet | null;
}

/**
 * One calendar year by the minute. Each day has its own streams of chance, named after its date, so a day is the same in whichever
 * run it is met; a run that goes on past midnight goes on, also from the last evening of the year before.
 *
 * @param room  sheets that nobody needs any more, used where they fit: for appliances by phase
 * @param keep  hands out what is spread over the house as it was made before, or makes it
 */
export function houseYear(
  plan: YearPlan,
  year: number,
  zone: Zone,
  room: readonly Float64Array[] = [],
  keep: KeepSheet = (_, make) => make(),
): HouseYear {
  const firstDayMs = Date.UTC(year, 0, 1);
  const dayCount = Math.round((Date.UTC(year + 1, 0, 1) - firstDayMs) / MS_PER_DAY);
  const minutes = timeGrid(firstDayMs, dayCount, 60, zone);
  // From the last evening of the year before on.
  const days = Array.from({ length: dayCount + 1 }, (_, i) =>
    dayOf(plan, firstDayMs + (i - 1) * MS_PER_DAY, (i - 1) * MINUTES_PER_DAY),
  );
  // What stood in used room is written over, day by day, by whoever writes.
  const written = (write: (sheet: Sheet) => void, used?: Float64Array): Sheet => {
    const sheet = { valuesW: roomFor(dayCount * MINUTES_PER_DAY, used), sumW: 0 };
    write(sheet);
    return onRealMinutes(sheet, minutes);
  };
  const appliancesOn = (phase: number): Sheet => written((sheet) => applianceYear(plan, days, phase, sheet), room[phase]);
  return {
    minutes,
    appliances: [appliancesOn(0), appliancesOn(1), appliancesOn(2)],
    spread: keep(spreadKey(plan, minutes), (used) => written((sheet) => spreadYear(plan, days, minutes, sheet), used)),
    hotWater: plan.hotWaterWh > 0 ? written((sheet) => hotWaterYear(plan, days, sheet)) : null,
    heatPump: plan.heatPumpWh > 0 ? written((sheet) => heatPumpYear(plan, days, sheet)) : null,
  };
}

/** What appliances draw on a phase. A use may run on into the next day: that is cleared just before, while it is about to be used. */
function applianceYear(plan: YearPlan, days: readonly Day[], phase: number, sheet: Sheet): void {
  const isHere = ({ name }: { readonly name: string }): boolean => (plan.phaseOf.get(name) ?? 0) === phase;
  const used = APPLIANCES.filter(isHere);
  const cooling = COLD_APPLIANCES.filter(isHere);
  for (const day of days) {
    const nextDay = day.firstMinute + MINUTES_PER_DAY;
    sheet.valuesW.fill(0, nextDay, nextDay + MINUTES_PER_DAY);
    for (const appliance of used) useAppliance(sheet, appliance, plan, day);
    if (day.firstMinute < 0) continue;
    for (const cold of cooling) runCold(sheet, cold, plan, day);
  }
}

/** What the spread load of a year is made of: not the consumption, which only says how often appliances run. */
const spreadKey = ({ people, seed, latitudeDeg, daysOff, holidays }: YearPlan, { startMs, zone }: TimeGrid): string =>
  JSON.stringify([people, seed, latitudeDeg, [...daysOff], holidays, startMs, zone]);

/** What is spread over the house; lamps follow the sun, whose noon moves with the clocks. */
function spreadYear(plan: YearPlan, days: readonly Day[], minutes: TimeGrid, sheet: Sheet): void {
  const { zone } = minutes;
  const standardOffsetS = Math.min(...zone.changes.map((change) => change.offsetS));
  for (const day of days.slice(1)) {
    const noonMs = stepStartMs(minutes, minutes.dayStart[day.firstMinute / MINUTES_PER_DAY] ?? 0) + MS_PER_DAY / 2;
    addSpread(sheet, plan, day, 12 + (offsetSAt(zone, noonMs) - standardOffsetS) / S_PER_H);
  }
}

/** A day as it is lived. */
export interface Day {
  /** Whole days since 1970: the name of the date in streams of chance. */
  readonly key: number;
  /** Index of its first minute in the year of 1440-minute days. */
  readonly firstMinute: number;
  readonly kind: DayKind;
  readonly winterness: number;
  readonly lengthH: number;
  /** How much is going on at home, around 1; 0 on holidays. */
  readonly bustle: number;
}

const kindOf = (weekday: number): DayKind => (weekday === 6 ? 'sunday' : weekday === 5 ? 'saturday' : 'workday');

function dayOf(plan: YearPlan, dayMs: number, firstMinute: number): Day {
  const { weekday, dayOfYear } = wallClockAt(UTC, dayMs);
  const key = dayMs / MS_PER_DAY;
  const away = plan.holidays.some(({ firstMs, lastMs }) => firstMs <= dayMs && dayMs <= lastMs);
  return {
    key,
    firstMinute,
    kind: plan.daysOff.has(dayMs) ? 'sunday' : kindOf(weekday),
    winterness: winterness(dayOfYear, plan.latitudeDeg),
    lengthH: dayLengthH(dayOfYear, plan.latitudeDeg),
    bustle: away ? 0 : 0.6 + 0.8 * chance(plan.seed, `house/bustle/${key}`).uniform(),
  };
}

/** All uses of an appliance that begin on a day. */
function useAppliance(sheet: Sheet, appliance: Appliance, plan: YearPlan, day: Day): void {
  const luck = chance(plan.seed, `house/${appliance.name}/${day.key}`);
  const usual = appliance.usesPerDay + appliance.usesPerPersonDay * plan.people;
  const season = 1 + appliance.seasonSwing * day.winterness;
  const uses = countOf(luck, usual * plan.activity * season * day.bustle * appliance.dayFactor[day.kind]);
  const hours = appliance.hours[day.kind];
  for (let use = 0; use < uses; use++) {
    const start = day.firstMinute + hourOf(luck, hours) * MINUTES_PER_H + Math.floor(luck.uniform() * MINUTES_PER_H);
    runOnce(sheet, appliance, start, luck);
  }
}

/** One use: its stages one after the other, each up to a fifth shorter or longer. Minutes outside the year are dropped. */
function runOnce(sheet: Sheet, appliance: Appliance, start: number, luck: Chance): void {
  const { valuesW } = sheet;
  let minute = start;
  for (const stage of appliance.stages) {
    const length = Math.max(1, Math.round(stage.minutes * (0.8 + 0.4 * luck.uniform())));
    let heating = 0;
    for (let m = 0; m < length; m++, minute++) {
      if (minute < 0 || minute >= valuesW.length || !heats(stage, m)) continue;
      valuesW[minute] = (valuesW[minute] ?? 0) + stage.powerW;
      heating++;
    }
    sheet.sumW += heating * stage.powerW;
  }
}

/** A compressor's day: from a chance point of its cycle on, each on and off up to a fifth shorter or longer. */
function runCold(sheet: Sheet, cold: ColdAppliance, plan: YearPlan, day: Day): void {
  const { valuesW } = sheet;
  const luck = chance(plan.seed, `house/${cold.name}/${day.key}`);
  const powerW = cold.powerW * plan.activity;
  // A warm kitchen lengthens the run by an eighth.
  const onMin = cold.onMin * (1 - 0.125 * day.winterness);
  const vary = (minutes: number): number => Math.round(minutes * (0.8 + 0.4 * luck.uniform()));
  let minute = -Math.floor(luck.uniform() * (onMin + cold.offMin));
  while (minute < MINUTES_PER_DAY) {
    const on = Math.max(0, minute);
    const off = Math.min(MINUTES_PER_DAY, minute + vary(onMin));
    for (let m = day.firstMinute + on; m < day.firstMinute + off; m++) valuesW[m] = (valuesW[m] ?? 0) + powerW;
    sheet.sumW += Math.max(0, off - on) * powerW;
    minute = off + vary(cold.offMin);
  }
}

const SPREAD_BY_MINUTE = {
  workday: { screens: byMinute(SCREENS.workday), lamps: byMinute(LAMPS.workday) },
  saturday: { screens: byMinute(SCREENS.saturday), lamps: byMinute(LAMPS.saturday) },
  sunday: { screens: byMinute(SCREENS.sunday), lamps: byMinute(LAMPS.sunday) },
};

/** A day of what is spread over the house: standing load, heating pump, screens, lamps. */
function addSpread(sheet: Sheet, plan: YearPlan, day: Day, noonH: number): void {
  const { valuesW } = sheet;
  const luck = chance(plan.seed, `house/spread/${day.key}`);
  const { screens, lamps } = SPREAD_BY_MINUTE[day.kind];
  const standingW = SPREAD.standingW + SPREAD.standingPerPersonW * plan.people;
  const pumpW = SPREAD.heatingPumpW * Math.max(0, day.winterness);
  const lampsW = (SPREAD.lampsW + SPREAD.lampsPerPersonW * plan.people) * day.bustle;
  const screensSeason = 1 + SPREAD.screensSeasonSwing * day.winterness;
  const allScreensW = (SPREAD.screensW + SPREAD.screensPerPersonW * plan.people) * day.bustle * screensSeason;
  const steadyW = standingW + pumpW;
  let sumW = 0;
  for (let block = 0; block < MINUTES_PER_DAY; block += SCREEN_BLOCK_MIN) {
    const screensW = allScreensW * (0.5 + luck.uniform());
    for (let m = block; m < block + SCREEN_BLOCK_MIN; m++) {
      const darkW = lampsW * darknessShare(m / MINUTES_PER_H, noonH, day.lengthH);
      const valueW = steadyW + screensW * (screens[m] ?? 0) + darkW * (lamps[m] ?? 0);
      valuesW[day.firstMinute + m] = valueW;
      sumW += valueW;
    }
  }
  sheet.sumW += sumW;
}

/** Percent at each full hour, as a share at each minute. */
function byMinute(hourPercent: readonly number[]): Float64Array {
  return Float64Array.from({ length: MINUTES_PER_DAY }, (_, m) => {
    const hour = Math.floor(m / MINUTES_PER_H);
    const part = (m % MINUTES_PER_H) / MINUTES_PER_H;
    return ((hourPercent[hour] ?? 0) * (1 - part) + (hourPercent[(hour + 1) % 24] ?? 0) * part) / 100;
  });
}

/**
 * From days of 1440 minutes on the wall to the minutes that pass: the spring gap is left out, the autumn hour comes twice.
 *
 * North of the equator a year loses its hour first: then no minute moves to a later place, and all move on the sheet they stand on
 * (fresh memory costs more than the model that writes it).
 */
function onRealMinutes(sheet: Sheet, minutes: TimeGrid): Sheet {
  const { valuesW: wallW } = sheet;
  const { dayStart, steps } = minutes;
  const neverLater = dayStart.every((first, d) => first <= d * MINUTES_PER_DAY);
  const realW = neverLater && steps === wallW.length ? wallW : new Float64Array(steps);
  let { sumW } = sheet;
  for (let d = 0; d < minutes.dayMs.length; d++) {
    const first = dayStart[d] ?? 0;
    const end = dayStart[d + 1] ?? first;
    const wallFirst = d * MINUTES_PER_DAY;
    const wallDayW = wallW.subarray(wallFirst, wallFirst + MINUTES_PER_DAY);
    if (end - first === MINUTES_PER_DAY) {
      if (realW !== wallW || first !== wallFirst) realW.set(wallDayW, first);
      continue;
    }
    sumW -= sumOf(wallDayW);
    for (let k = first; k < end; k++) realW[k] = wallDayW[wallMinute(minutes, d, k)] ?? 0;
    sumW += sumOf(realW.subarray(first, end));
  }
  return { valuesW: realW, sumW };
}

const sumOf = (valuesW: Float64Array): number => valuesW.reduce((sum, value) => sum + value, 0);

/** Minute of its local day that the wall shows at minute `k` of the year, kept within the day. */
function wallMinute(minutes: TimeGrid, d: number, k: number): number {
  const atMs = stepStartMs(minutes, k);
  const localMs = atMs + offsetSAt(minutes.zone, atMs) * MS_PER_S;
  return Math.min(MINUTES_PER_DAY - 1, Math.max(0, Math.floor((localMs - (minutes.dayMs[d] ?? 0)) / 60_000)));
}
