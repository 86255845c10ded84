import * as z from 'zod';
import { BATTERY_START_SOC, PEOPLE, ROUND_TRIP_EFFICIENCY, SEED } from '../defaults.ts';
import {
  buildingPhases,
  csvClock,
  daysOff,
  fileName,
  flag,
  hints,
  maxGapMin,
  num,
  seed,
  shiftMin,
  stretch,
  whole,
  word,
} from './common.ts';

const phaseSplit = () =>
  z
    .array(num(0, 1, 'share of 1', 'Share of a phase.'))
    .length(3)
    .describe('How the load spreads over the building phases 1, 2, 3; left out: thirds, or all on phase 1 of a one-phase grid.')
    .register(hints, { allowed: '3 shares that add up to 1' })
    .exactOptional();

const diverter = () =>
  z
    .strictObject({
      maxW: num(0, 20_000, 'watts', 'Power of the rod.'),
      dailyKWh: num(0, 100, 'kWh a day', 'What the tank takes at most.'),
      priority: word(['car', 'diverter'], 'Who is served first.').default('car'),
    })
    .describe('A hot-water rod that eats surplus; left out: none.')
    .exactOptional();

const publicHolidays = () => daysOff('Public holidays, which count as Sundays.').default([]);

/** How loads coarser than five minutes become minutes. */
const minutes = () =>
  word(
    ['spikes', 'flat'],
    'For values more than five minutes apart: `spikes` breaks them up into the pulses of a real house (seeded, the energy of every ' +
      'interval kept), `flat` holds them, which shows more steady surplus than there is.',
  ).default('spikes');

const synthetic = z
  .strictObject({
    source: z.literal('synthetic').describe('A made-up household.'),
    annualKWh: num(0, 200_000, 'kWh a year', 'Use of the house without cars.'),
    people: whole(1, 20, 'people', 'Who lives there.').default(PEOPLE),
    seed: seed('the household').default(SEED),
    hotWaterKWh: num(0, 20_000, 'kWh a year', 'Electricity for hot water, on top of annualKWh: a storage heater.').default(0),
    heatPumpKWh: num(0, 100_000, 'kWh a year', 'Electricity of a heat pump, on top of annualKWh; follows the season.').default(0),
    daysOff: publicHolidays(),
    holidays: z
      .array(z.strictObject(stretch()).describe('A stretch with nobody in.'))
      .max(100)
      .describe('Stretches with nobody in: only what always runs.')
      .register(hints, { allowed: 'a list of { from: YYYY-MM-DD, to: YYYY-MM-DD }' })
      .default([]),
    phaseSplit: phaseSplit(),
    diverter: diverter(),
  })
  .describe('A made-up household.');

const csv = z
  .strictObject({
    source: z.literal('csv').describe('A measured household.'),
    file: fileName('A CSV with time,load_w or time,l1_w,l2_w,l3_w, plain or as .gz; without cars.'),
    clock: csvClock().default('offset'),
    shiftMin: shiftMin().default(0),
    maxGapMin: maxGapMin().default(0),
    minutes: minutes(),
    seed: seed('the spikes').default(SEED),
    phaseSplit: phaseSplit(),
    diverter: diverter(),
  })
  .describe('A measured household from a CSV.');

const meter = z
  .strictObject({
    source: z.literal('meter').describe('The house is what balances the meter.'),
    file: fileName(
      'A CSV with time,import_w,export_w[,car_w,battery_w], plain or as .gz; battery_w is positive while it charges.',
    ),
    clock: csvClock().default('offset'),
    shiftMin: shiftMin().default(0),
    maxGapMin: maxGapMin().default(0),
    minutes: minutes(),
    seed: seed('the spikes').default(SEED),
    phaseSplit: phaseSplit(),
    diverter: diverter(),
  })
  .describe('A household reckoned from the meter, beside measured PV.');

const profile = z
  .strictObject({
    source: z.literal('profile').describe('A standard profile: the mean of many homes, without the spikes of one.'),
    file: fileName(
      'A CSV with hour,winter_workday,winter_saturday,winter_sunday,transition_workday,…,summer_sunday: the values of a day from ' +
        'hour 0 on, in any unit.',
    ),
    annualKWh: num(0, 200_000, 'kWh a year', 'Use of the house without cars; the profile is scaled to it.'),
    dynamic: flag('Times the published factor of the day of the year (households in central Europe).').default(false),
    daysOff: publicHolidays(),
    phaseSplit: phaseSplit(),
    diverter: diverter(),
  })
  .describe('A standard profile with three kinds of day and three seasons.');

/** What the house uses without cars. */
export const household = z
  .discriminatedUnion('source', [synthetic, csv, meter, profile])
  .describe('What the house uses without cars.');

/** The home battery. */
export const battery = z
  .strictObject({
    capacityKWh: num(0.1, 1000, 'kWh', 'Usable capacity.'),
    maxChargeW: num(0, 1_000_000, 'watts', 'Most it takes, AC.'),
    maxDischargeW: num(0, 1_000_000, 'watts', 'Most it gives, AC.'),
    roundTripEfficiency: num(0.3, 1, 'share of 1', 'Out of what went in; split evenly between in and out.').default(
      ROUND_TRIP_EFFICIENCY,
    ),
    startSoc: num(0, 1, 'share of 1', 'State of charge at the start.').default(BATTERY_START_SOC),
    phases: buildingPhases('Building phases it works on; left out: all that the grid has.').exactOptional(),
    priority: z
      .union([
        word(['battery', 'car'], 'Who takes surplus first.'),
        z
          .strictObject({ batteryUntilSoc: num(0, 1, 'share of 1', 'Up to here the battery comes first.') })
          .describe('The battery first up to a state of charge, then the car.'),
      ])
      .describe('Who takes surplus first.')
      .register(hints, { allowed: 'battery, car, or { batteryUntilSoc: 0 to 1 }' })
      .default('battery'),
    dischargeToCar: flag('Whether the battery may feed cars. One that watches the meter does unless it is kept from it.'),
  })
  .describe('The home battery; left out: none.');
