/**
 * What stands in a house, how often it is used and when. Own estimates from common practice, invented for this model: typical
 * ratings and habits, tuned so that an average household has the daily shape of the published standard profile (its share of the
 * evening, its night minimum, its seasons). Not measured data.
 */

/** A stretch of an appliance's run. Where it has a thermostat, it is off for `offMin` after every `onMin`. */
export interface Stage {
  readonly minutes: number;
  readonly powerW: number;
  readonly onMin?: number;
  readonly offMin?: number;
}

/** Something that is switched on for a while, on a circuit of its own. */
export interface Appliance {
  readonly name: string;
  /** Uses on an average day: a household's, and more for every person. */
  readonly usesPerDay: number;
  readonly usesPerPersonDay: number;
  /** Times the uses on Saturday and Sunday. */
  readonly weekendFactor: number;
  /** 0.2: a fifth more uses in mid-January, a fifth fewer in mid-July. */
  readonly seasonSwing: number;
  /** How likely each hour of the local day is, from midnight on, in any unit. */
  readonly workdayHours: readonly number[];
  readonly weekendHours: readonly number[];
  readonly stages: readonly Stage[];
}

/** A compressor that goes on and off around the clock. */
export interface ColdAppliance {
  readonly name: string;
  readonly powerW: number;
  readonly onMin: number;
  readonly offMin: number;
}

// biome-ignore format: a column an hour
const HOURS = {
  //                0  1  2  3  4  5  6  7  8  9 10 11 12 13 14 15 16 17 18 19 20 21 22 23
  mealsWorkday:   [ 0, 0, 0, 0, 0, 0, 2, 3, 2, 2, 3, 8,11, 6, 2, 1, 2, 6, 9, 8, 4, 1, 0, 0],
  mealsWeekend:   [ 0, 0, 0, 0, 0, 0, 0, 1, 3, 4, 4, 9,11, 5, 2, 1, 2, 5,10, 8, 3, 1, 0, 0],
  kettleWorkday:  [ 0, 0, 0, 0, 0, 2, 8, 9, 5, 3, 3, 2, 3, 3, 3, 4, 4, 4, 5, 6, 6, 4, 2, 1],
  kettleWeekend:  [ 0, 0, 0, 0, 0, 0, 2, 6,10, 9, 6, 4, 4, 5, 5, 6, 5, 4, 5, 6, 6, 4, 2, 1],
  choresWorkday:  [ 0, 0, 0, 0, 0, 0, 2, 4, 6, 8, 8, 7, 6, 6, 5, 5, 5, 6, 6, 5, 4, 2, 1, 0],
  choresWeekend:  [ 0, 0, 0, 0, 0, 0, 1, 3, 6, 9,10, 9, 6, 6, 6, 5, 5, 5, 5, 4, 3, 2, 1, 0],
  dishesWorkday:  [ 0, 0, 0, 0, 0, 0, 1, 3, 3, 3, 2, 1, 3, 8, 5, 2, 1, 2, 4, 8, 9, 6, 3, 1],
  dishesWeekend:  [ 0, 0, 0, 0, 0, 0, 0, 1, 2, 4, 3, 2, 3, 8, 6, 2, 1, 2, 5, 8, 9, 6, 3, 1],
  morningWorkday: [ 0, 0, 0, 0, 0, 3, 9, 9, 4, 1, 0, 0, 0, 0, 0, 0, 0, 1, 1, 2, 2, 2, 1, 0],
  morningWeekend: [ 0, 0, 0, 0, 0, 0, 2, 5, 9, 9, 5, 2, 1, 0, 0, 0, 1, 1, 2, 2, 1, 1, 1, 0],
};

const RING: readonly Stage[] = [
  { minutes: 6, powerW: 1800 },
  { minutes: 16, powerW: 1800, onMin: 1, offMin: 2 },
];

export const APPLIANCES: readonly Appliance[] = [
  {
    // The hob hangs on two phases: each half is an appliance.
    name: 'hob-left',
    usesPerDay: 0.35,
    usesPerPersonDay: 0.25,
    weekendFactor: 1.15,
    seasonSwing: 0.15,
    workdayHours: HOURS.mealsWorkday,
    weekendHours: HOURS.mealsWeekend,
    stages: RING,
  },
  {
    name: 'hob-right',
    usesPerDay: 0.2,
    usesPerPersonDay: 0.2,
    weekendFactor: 1.15,
    seasonSwing: 0.15,
    workdayHours: HOURS.mealsWorkday,
    weekendHours: HOURS.mealsWeekend,
    stages: RING,
  },
  {
    name: 'oven',
    usesPerDay: 0.1,
    usesPerPersonDay: 0.06,
    weekendFactor: 1.6,
    seasonSwing: 0.2,
    workdayHours: HOURS.mealsWorkday,
    weekendHours: HOURS.mealsWeekend,
    stages: [
      { minutes: 11, powerW: 2300 },
      { minutes: 35, powerW: 2300, onMin: 2, offMin: 4 },
    ],
  },
  {
    name: 'kettle',
    usesPerDay: 0.6,
    usesPerPersonDay: 0.7,
    weekendFactor: 1.05,
    seasonSwing: 0.15,
    workdayHours: HOURS.kettleWorkday,
    weekendHours: HOURS.kettleWeekend,
    stages: [{ minutes: 3, powerW: 2100 }],
  },
  {
    name: 'small kitchen heat',
    usesPerDay: 0.5,
    usesPerPersonDay: 0.5,
    weekendFactor: 1.05,
    seasonSwing: 0.1,
    workdayHours: HOURS.morningWorkday,
    weekendHours: HOURS.morningWeekend,
    stages: [{ minutes: 4, powerW: 1000 }],
  },
  {
    name: 'washing machine',
    usesPerDay: 0.05,
    usesPerPersonDay: 0.14,
    weekendFactor: 1.5,
    seasonSwing: 0.1,
    workdayHours: HOURS.choresWorkday,
    weekendHours: HOURS.choresWeekend,
    stages: [
      { minutes: 5, powerW: 100 },
      { minutes: 14, powerW: 2000 },
      { minutes: 65, powerW: 250, onMin: 3, offMin: 2 },
      { minutes: 8, powerW: 450 },
    ],
  },
  {
    name: 'tumble dryer',
    usesPerDay: 0,
    usesPerPersonDay: 0.07,
    weekendFactor: 1.4,
    seasonSwing: 0.35,
    workdayHours: HOURS.choresWorkday,
    weekendHours: HOURS.choresWeekend,
    stages: [{ minutes: 75, powerW: 1100, onMin: 12, offMin: 2 }],
  },
  {
    name: 'dishwasher',
    usesPerDay: 0.15,
    usesPerPersonDay: 0.15,
    weekendFactor: 1.15,
    seasonSwing: 0.1,
    workdayHours: HOURS.dishesWorkday,
    weekendHours: HOURS.dishesWeekend,
    stages: [
      { minutes: 8, powerW: 80 },
      { minutes: 14, powerW: 2000 },
      { minutes: 45, powerW: 90 },
      { minutes: 13, powerW: 2000 },
      { minutes: 20, powerW: 20 },
    ],
  },
  {
    name: 'hair and iron',
    usesPerDay: 0.1,
    usesPerPersonDay: 0.25,
    weekendFactor: 1,
    seasonSwing: 0.15,
    workdayHours: HOURS.morningWorkday,
    weekendHours: HOURS.morningWeekend,
    stages: [{ minutes: 7, powerW: 1500, onMin: 2, offMin: 1 }],
  },
  {
    name: 'vacuum cleaner',
    usesPerDay: 0.2,
    usesPerPersonDay: 0.05,
    weekendFactor: 1.5,
    seasonSwing: 0.1,
    workdayHours: HOURS.choresWorkday,
    weekendHours: HOURS.choresWeekend,
    stages: [{ minutes: 14, powerW: 800 }],
  },
];

export const COLD_APPLIANCES: readonly ColdAppliance[] = [
  { name: 'fridge', powerW: 80, onMin: 16, offMin: 30 },
  { name: 'freezer', powerW: 75, onMin: 18, offMin: 34 },
];

/** The loads that are spread over the whole house and all its phases: what always runs, the screens, the lamps. */
export const SPREAD = {
  /** Standby, router, controls; W, and more for every person. */
  standingW: 35,
  standingPerPersonW: 12,
  /** Heating pump and fan in mid-January, none in summer. */
  heatingPumpW: 60,
  /** Screens and small electronics when all are in use. */
  screensW: 130,
  screensPerPersonW: 85,
  /** 0.1: a tenth more screens in mid-January, a tenth less in mid-July. */
  screensSeasonSwing: 0.12,
  /** All lamps that are on together on a dark evening. */
  lampsW: 80,
  lampsPerPersonW: 55,
} as const;

/** Share of the screens and small electronics in use at each full hour of the local day; between them a straight line. */
export const SCREENS_WORKDAY = [30, 12, 5, 4, 4, 8, 24, 36, 42, 46, 48, 50, 54, 55, 52, 52, 54, 60, 68, 78, 86, 88, 76, 54];
export const SCREENS_WEEKEND = [40, 20, 8, 5, 4, 5, 10, 20, 32, 42, 48, 52, 56, 56, 54, 54, 56, 62, 72, 84, 94, 96, 84, 60];
/** Share of the lamps wanted at each full hour if it is dark: who is in and awake. */
export const LAMPS_WORKDAY = [12, 5, 3, 3, 4, 18, 50, 55, 40, 30, 28, 28, 30, 30, 32, 40, 55, 75, 90, 98, 96, 85, 60, 30];
export const LAMPS_WEEKEND = [20, 8, 4, 3, 3, 6, 20, 38, 50, 48, 42, 40, 40, 40, 42, 50, 62, 78, 90, 96, 95, 86, 66, 40];

/** Energy of one use at rated power, Wh. */
export function energyPerUseWh(appliance: Appliance): number {
  let energyWh = 0;
  for (const stage of appliance.stages) energyWh += (stage.powerW * minutesOn(stage)) / 60;
  return energyWh;
}

/** Uses a year at the typical consumption of a household of so many people. */
export function usesPerYear(appliance: Appliance, people: number): number {
  const weekly = 5 + 2 * appliance.weekendFactor;
  return (appliance.usesPerDay + appliance.usesPerPersonDay * people) * weekly * (365 / 7);
}

/** Mean power of a compressor, W. */
export const coldMeanW = (cold: ColdAppliance): number => (cold.powerW * cold.onMin) / (cold.onMin + cold.offMin);

/** Whether a stage's thermostat is closed in its minute `m`. */
export function heats(stage: Stage, m: number): boolean {
  if (stage.onMin === undefined || stage.offMin === undefined) return true;
  return m % (stage.onMin + stage.offMin) < stage.onMin;
}

function minutesOn(stage: Stage): number {
  let on = 0;
  for (let m = 0; m < stage.minutes; m++) if (heats(stage, m)) on += 1;
  return on;
}
