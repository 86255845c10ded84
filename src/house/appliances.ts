/**
 * What stands in a house, how often it is used and when. Own estimates from common practice, invented for this model: typical
 * ratings and habits, tuned so that an average household has the daily shape of the published standard profile (its share of the
 * evening, its night minimum, its seasons). Not measured data.
 */

/** Kinds of day: Monday to Friday, Saturday, Sunday; a public holiday is a Sunday. */
export type DayKind = 'workday' | 'saturday' | 'sunday';
/** A value for each kind of day. */
export type ByDay<T> = Readonly<Record<DayKind, T>>;

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
  /** Times the uses on such a day. */
  readonly dayFactor: ByDay<number>;
  /** 0.2: a fifth more uses in mid-January, a fifth fewer in mid-July. */
  readonly seasonSwing: number;
  /** How likely each hour of the local day is, from midnight on, in any unit. */
  readonly hours: ByDay<readonly number[]>;
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
  //             0  1  2  3  4  5  6  7  8  9 10 11 12 13 14 15 16 17 18 19 20 21 22 23
  meals: {
    workday:   [ 0, 0, 0, 0, 0, 0, 2, 4, 3, 3, 4,11,14, 7, 2, 1, 2, 6, 9, 7, 3, 1, 0, 0],
    saturday:  [ 0, 0, 0, 0, 0, 0, 1, 2, 3, 4, 6,11,12, 8, 4, 3, 4, 8,10, 6, 2, 1, 0, 0],
    sunday:    [ 0, 0, 0, 0, 0, 0, 0, 0, 3, 8,13,18,17, 7, 2, 1, 1, 3, 7, 7, 2, 1, 0, 0],
  },
  kettle: {
    workday:   [ 0, 0, 0, 0, 0, 2, 8,10, 7, 5, 4, 3, 3, 3, 3, 4, 4, 4, 5, 5, 5, 4, 2, 1],
    saturday:  [ 0, 0, 0, 0, 0, 1, 3, 6, 9, 9, 6, 4, 4, 5, 5, 6, 6, 5, 5, 5, 4, 3, 2, 1],
    sunday:    [ 0, 0, 0, 0, 0, 0, 1, 3, 9,12, 9, 5, 4, 5, 6, 7, 5, 4, 4, 5, 5, 3, 2, 1],
  },
  chores: {
    workday:   [ 0, 0, 0, 0, 0, 0, 2, 6, 9,10, 9, 8, 7, 7, 6, 5, 4, 5, 5, 4, 3, 2, 1, 0],
    saturday:  [ 0, 0, 0, 0, 0, 0, 1, 4, 8,10,10, 9, 8, 8, 8, 7, 6, 5, 4, 3, 2, 1, 1, 0],
    sunday:    [ 0, 0, 0, 0, 0, 0, 0, 1, 5,10,14,13,10, 7, 5, 4, 4, 4, 4, 4, 3, 2, 1, 0],
  },
  dishes: {
    workday:   [ 1, 0, 0, 0, 0, 0, 1, 4, 4, 3, 2, 2, 4, 9, 5, 2, 1, 2, 4, 7, 8, 6, 3, 1],
    saturday:  [ 1, 0, 0, 0, 0, 0, 0, 1, 3, 4, 3, 2, 4, 8, 6, 3, 2, 3, 6, 7, 6, 5, 3, 1],
    sunday:    [ 1, 0, 0, 0, 0, 0, 0, 1, 2, 4, 5, 5,10,12, 5, 2, 1, 1, 3, 6, 6, 5, 3, 1],
  },
  morning: {
    workday:   [ 0, 0, 0, 0, 0, 2, 8,10, 6, 2, 1, 0, 0, 0, 0, 0, 0, 1, 1, 2, 2, 2, 1, 0],
    saturday:  [ 0, 0, 0, 0, 0, 0, 2, 6, 9, 8, 4, 2, 1, 0, 0, 1, 2, 3, 3, 2, 1, 1, 0, 0],
    sunday:    [ 0, 0, 0, 0, 0, 0, 0, 1, 7,11, 9, 4, 1, 0, 0, 0, 1, 1, 2, 2, 1, 1, 1, 0],
  },
};

/** Boils at full power, then simmers: a ring that clicks on and off within the minute is a third of its power in minutes. */
const RING: readonly Stage[] = [
  { minutes: 6, powerW: 1800 },
  { minutes: 16, powerW: 600 },
];

export const APPLIANCES: readonly Appliance[] = [
  {
    // The hob hangs on two phases: each half is an appliance.
    name: 'hob-left',
    usesPerDay: 0.35,
    usesPerPersonDay: 0.25,
    dayFactor: { workday: 1, saturday: 1.15, sunday: 1.3 },
    seasonSwing: 0.15,
    hours: HOURS.meals,
    stages: RING,
  },
  {
    name: 'hob-right',
    usesPerDay: 0.2,
    usesPerPersonDay: 0.2,
    dayFactor: { workday: 1, saturday: 1.15, sunday: 1.4 },
    seasonSwing: 0.15,
    hours: HOURS.meals,
    stages: RING,
  },
  {
    name: 'oven',
    usesPerDay: 0.1,
    usesPerPersonDay: 0.06,
    dayFactor: { workday: 1, saturday: 1.5, sunday: 2.0 },
    seasonSwing: 0.2,
    hours: HOURS.meals,
    stages: [
      { minutes: 11, powerW: 2300 },
      { minutes: 35, powerW: 2300, onMin: 2, offMin: 4 },
    ],
  },
  {
    name: 'kettle',
    usesPerDay: 0.6,
    usesPerPersonDay: 0.7,
    dayFactor: { workday: 1, saturday: 1.1, sunday: 1.05 },
    seasonSwing: 0.15,
    hours: HOURS.kettle,
    stages: [{ minutes: 3, powerW: 2100 }],
  },
  {
    name: 'small kitchen heat',
    usesPerDay: 0.5,
    usesPerPersonDay: 0.5,
    dayFactor: { workday: 1, saturday: 1.1, sunday: 1.05 },
    seasonSwing: 0.1,
    hours: HOURS.morning,
    stages: [{ minutes: 4, powerW: 1000 }],
  },
  {
    name: 'washing machine',
    usesPerDay: 0.05,
    usesPerPersonDay: 0.14,
    dayFactor: { workday: 1, saturday: 1.7, sunday: 0.9 },
    seasonSwing: 0.1,
    hours: HOURS.chores,
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
    dayFactor: { workday: 1, saturday: 1.7, sunday: 0.8 },
    seasonSwing: 0.35,
    hours: HOURS.chores,
    stages: [{ minutes: 75, powerW: 1100, onMin: 12, offMin: 2 }],
  },
  {
    name: 'dishwasher',
    usesPerDay: 0.15,
    usesPerPersonDay: 0.15,
    dayFactor: { workday: 1, saturday: 1.2, sunday: 1.2 },
    seasonSwing: 0.1,
    hours: HOURS.dishes,
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
    dayFactor: { workday: 1, saturday: 1.2, sunday: 0.9 },
    seasonSwing: 0.15,
    hours: HOURS.morning,
    stages: [{ minutes: 7, powerW: 1500, onMin: 2, offMin: 1 }],
  },
  {
    name: 'vacuum cleaner',
    usesPerDay: 0.2,
    usesPerPersonDay: 0.05,
    dayFactor: { workday: 1, saturday: 2.0, sunday: 0.6 },
    seasonSwing: 0.1,
    hours: HOURS.chores,
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
  standingW: 30,
  standingPerPersonW: 10.5,
  /** Heating pump and fan in mid-January, none in summer. */
  heatingPumpW: 34,
  /** Screens and small electronics when all are in use. */
  screensW: 98,
  screensPerPersonW: 64,
  /** 0.1: a tenth more screens in mid-January, a tenth less in mid-July. */
  screensSeasonSwing: 0.12,
  /** All lamps that are on together on a dark evening. */
  lampsW: 60,
  lampsPerPersonW: 41,
} as const;

/** Percent of the screens and small electronics in use at each full hour of the local day; between them a straight line. */
// biome-ignore format: a column an hour
export const SCREENS: ByDay<readonly number[]> = {
  //          0   1   2   3   4   5   6   7   8   9  10  11  12  13  14  15  16  17  18  19  20  21  22  23
  workday:  [34, 14,  6,  4,  4,  8, 26, 44, 52, 54, 55, 56, 60, 60, 57, 56, 58, 62, 66, 72, 74, 74, 68, 52],
  saturday: [42, 22, 10,  6,  4,  5, 12, 26, 42, 56, 62, 66, 70, 72, 72, 70, 70, 74, 76, 74, 70, 66, 62, 56],
  sunday:   [50, 28, 12,  6,  5,  4,  6, 12, 32, 54, 66, 74, 76, 72, 68, 64, 62, 62, 66, 72, 76, 74, 66, 54],
};
/** Percent of the lamps wanted at each full hour if it is dark: who is in and awake. */
// biome-ignore format: a column an hour
export const LAMPS: ByDay<readonly number[]> = {
  workday:  [14,  6,  3,  3,  4, 14, 48, 60, 48, 34, 30, 28, 30, 30, 32, 42, 60, 82, 94, 96, 86, 72, 52, 30],
  saturday: [20,  9,  4,  3,  3,  5, 18, 38, 50, 50, 44, 40, 40, 40, 44, 54, 70, 92, 99, 96, 80, 64, 52, 36],
  sunday:   [24, 11,  5,  3,  3,  4, 10, 26, 48, 54, 48, 42, 42, 40, 42, 48, 58, 72, 82, 84, 78, 68, 52, 32],
};

/** Energy of one use at rated power, Wh. */
export function energyPerUseWh(appliance: Appliance): number {
  let energyWh = 0;
  for (const stage of appliance.stages) energyWh += (stage.powerW * minutesOn(stage)) / 60;
  return energyWh;
}

/** Uses a year at the typical consumption of a household of so many people. */
export function usesPerYear(appliance: Appliance, people: number): number {
  const { workday, saturday, sunday } = appliance.dayFactor;
  const weekly = 5 * workday + saturday + sunday;
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
