import * as z from 'zod';
import { HABITS, VEHICLE_KINDS } from '../../vehicle/index.ts';
import {
  COLD_FACTOR,
  CONVERSION_EFFICIENCY,
  CURRENT_STEP_A,
  MIN_CURRENT_A,
  SEED,
  STANDBY_W,
  START_LAG_S,
  START_SOC,
  TARGET_SOC,
} from '../defaults.ts';
import {
  buildingPhases,
  csvClock,
  daysOff,
  fileName,
  flag,
  hints,
  num,
  seed,
  stretch,
  text,
  timeOfDay,
  weekdays,
  whole,
  word,
} from './common.ts';

/** The names of a table, at least one. */
const namesOf = <Name extends string>(table: Readonly<Record<Name, unknown>>): readonly [Name, ...Name[]] =>
  Object.keys(table) as [Name, ...Name[]];

const minCurrentA = (about: string) => num(6, 32, 'amperes per phase', about);
const maxCurrentA = (about: string) => num(6, 80, 'amperes per phase', about);

/** A minimum that may differ with the number of phases. */
const minCurrentByPhases = (about: string) =>
  z
    .union([
      minCurrentA('The same on any number of phases.'),
      z
        .strictObject({
          1: minCurrentA('On one phase.').default(MIN_CURRENT_A),
          2: minCurrentA('On two phases.').default(MIN_CURRENT_A),
          3: minCurrentA('On three phases.').default(MIN_CURRENT_A),
        })
        .describe('By the number of phases it draws on.'),
    ])
    .describe(about)
    .register(hints, { allowed: '6 to 32 (amperes per phase), or { 1: …, 2: …, 3: … }' });

const charger = z
  .strictObject({
    phases: z
      .literal([1, 3, 'switchable'])
      .describe('Phases the charger puts on the cable: 1, 3, or switchable between the two while a car is plugged in.')
      .register(hints, { allowed: '1, 3 or switchable' }),
    maxCurrentA: maxCurrentA('Most it offers.'),
    minCurrentA: minCurrentA('Least it offers; 6 by IEC 61851-1.').default(MIN_CURRENT_A),
    currentStepA: num(0.1, 8, 'amperes', 'Steps in which it can set the current.').default(CURRENT_STEP_A),
    wiring: buildingPhases(
      "Building phases on the charger's terminals, first to last; left out: [1, 2, 3], or [1] on a one-phase grid.",
    ).exactOptional(),
    wiringAsBuilt: buildingPhases('The same as it really is; left out: like wiring.').exactOptional(),
    checksPhases: flag('Breaks off when current shows on a phase where it expects none.').default(false),
  })
  .describe('The charger.');

const vehiclePhases = (about: string) => z.literal([1, 2, 3]).describe(about).register(hints, { allowed: '1, 2 or 3' });

/** The car. With `kind` the keys that have no default may be left out: `expandNames` fills them in before this is asked. */
export const vehicle = z
  .strictObject({
    kind: word(
      namesOf(VEHICLE_KINDS),
      'A generic car of data/vehicles.yaml: its numbers stand for the keys that are not written here.',
    ).exactOptional(),
    batteryKWh: num(1, 300, 'kWh', 'Usable capacity.'),
    phases: vehiclePhases('Phases its own charger can draw on.'),
    maxCurrentA: maxCurrentA('Most it draws.'),
    minCurrentA: minCurrentByPhases('Least at which it charges at all.').default(MIN_CURRENT_A),
    standbyW: num(0, 2000, 'watts', 'What its own electronics take while it charges.').default(STANDBY_W),
    conversionEfficiency: num(0.5, 1, 'share of 1', 'Of its charger, after standby.').default(CONVERSION_EFFICIENCY),
    startLagS: num(0, 3600, 'seconds', 'From the offer until it draws.').default(START_LAG_S),
    kWhPer100km: num(5, 100, 'kWh per 100 km', 'Use on the road, out of the battery.'),
    coldFactor: num(
      1,
      3,
      'no unit',
      'Use at -7 °C against 20 °C, on a straight line between: 1.25 with a heat pump on long trips, 2 on short ones in town. Without weather it plays no part.',
    ).default(COLD_FACTOR),
    preheatKWh: num(
      0,
      10,
      'kWh',
      'Heating before the departure at -7 °C, in proportion when it is milder, out of the battery.',
    ).default(0),
    startSoc: num(0, 1, 'share of 1', 'State of charge at the start.').default(START_SOC),
    targetSoc: num(0.05, 1, 'share of 1', 'Where charging ends.').default(TARGET_SOC),
    taperFromSoc: num(
      0.5,
      0.99,
      'share of 1',
      'From here on it takes less and less, down to its minimum; left out: full current to the end.',
    ).exactOptional(),
    givesUpAfter: whole(1, 1000, 'interruptions', 'In one stay, until it accepts no more; left out: never.').exactOptional(),
  })
  .describe('The car.');

const believes = z
  .strictObject({
    phases: vehiclePhases('Phases that the controller takes the car to have; left out: the truth.').exactOptional(),
    minCurrentA: minCurrentByPhases('Minimum that the controller takes it to have; left out: the truth.').exactOptional(),
  })
  .describe('What the controller takes for granted about the car; left out: the truth.');

const trip = z
  .strictObject({
    days: weekdays('Days of the week on which it leaves.'),
    leave: timeOfDay('When it leaves.'),
    return: timeOfDay('When it is back; earlier than leaving means on the next day.'),
    km: num(0, 3000, 'kilometres', 'Driven in between.'),
    jitterMin: num(0, 240, 'minutes', 'How far leaving and coming back stray from the clock (seeded).').default(0),
  })
  .describe('A journey that comes back every week.');

const needs = () => ({
  floorKm: num(0, 2000, 'kilometres', 'Below this range it charges at once.').default(0),
  departureKm: num(0, 2000, 'kilometres', 'Range that must be in the battery when it leaves.').default(0),
});

const longTrips = () =>
  z
    .strictObject({
      perMonth: num(0, 31, 'a month', 'How often, on average.'),
      km: num(0, 3000, 'kilometres', 'How far, there and back in a day.'),
    })
    .describe('Longer trips now and then, on days that the week leaves free; left out: none.');

const holiday = z
  .strictObject({
    ...stretch(),
    km: num(0, 10_000, 'kilometres', 'Driven in all; with 0 the car stays at home.').default(0),
  })
  .describe('A stretch without the trips of the week.');

/** A week by its trips. With `habit` they may be left out: `expandNames` fills them in before this is asked. */
export const weekly = z
  .strictObject({
    source: z.literal('weekly').describe('Weekly habits by the clock on the wall.'),
    seed: seed('the trips').default(SEED),
    habit: word(
      namesOf(HABITS),
      'A week of data/habits.yaml: its trips stand for the keys `trips` and `longTrips` if they are not written here.',
    ).exactOptional(),
    trips: z.array(trip).min(1).max(50).describe('Journeys of a week.').register(hints, { allowed: 'a list of 1 to 50 trips' }),
    longTrips: longTrips().exactOptional(),
    daysOff: daysOff('Days without the trips of the week, such as public holidays.').default([]),
    holidays: z
      .array(holiday)
      .max(100)
      .describe('Stretches without the trips of the week.')
      .register(hints, { allowed: 'a list of { from: YYYY-MM-DD, to: YYYY-MM-DD, km: 0 to 10000 }' })
      .default([]),
    plugInBelowSoc: num(0, 1, 'share of 1', 'It is plugged in on arrival only below this state of charge; 1: always.').default(1),
    ...needs(),
  })
  .describe('Weekly habits.');

const stays = z
  .strictObject({
    source: z.literal('csv').describe('Stays as they were recorded.'),
    file: fileName('A CSV with arrive,depart,km: plugged in from arrive to depart, km driven since the last departure.'),
    clock: csvClock().default('offset'),
    ...needs(),
  })
  .describe('Recorded stays from a CSV.');

const always = z
  .strictObject({
    source: z.literal('always').describe('Plugged in throughout, never driven.'),
    ...needs(),
  })
  .describe('Plugged in throughout, never driven.');

/** A charger with the car that uses it. */
export const chargePoint = z
  .strictObject({
    name: text('What the charge point is called.').exactOptional(),
    charger,
    vehicle,
    believes: believes.exactOptional(),
    usage: z.discriminatedUnion('source', [weekly, stays, always]).describe('When the car is plugged in and what it drives.'),
  })
  .describe('A charger with the car that uses it.');
