import * as z from 'zod';
import { GRID_PHASES, MAIN_FUSE_A, SETTLEMENT_MIN, VOLTAGE_V } from '../defaults.ts';
import { COUNTRY_CODES } from '../grid-rules.ts';
import { csvClock, fileName, hints, num, timeOfDay, weekdays, whole, word } from './common.ts';

/** A stretch of the day, on some days and in some months. */
const window = () => ({
  days: weekdays('Days of the week on which it begins; left out: all.').exactOptional(),
  from: timeOfDay('Begin.'),
  to: timeOfDay('End; at or before the begin means on the next day.'),
  months: z
    .array(whole(1, 12, 'months', 'A month.'))
    .min(1)
    .describe('Months in which it begins, 1 to 12; left out: all.')
    .register(hints, { allowed: 'a list out of 1 to 12' })
    .exactOptional(),
});

const dimmingWindow = z.strictObject(window());

/** The house's connection to the grid. */
export const grid = z
  .strictObject({
    phases: z
      .literal([1, 3])
      .describe('Phases of the house connection.')
      .register(hints, { allowed: '1 or 3' })
      .default(GRID_PHASES),
    voltageV: num(100, 260, 'volts', 'Phase to neutral.').default(VOLTAGE_V),
    mainFuseA: num(6, 400, 'amperes per phase', 'Main fuse.').default(MAIN_FUSE_A),
    imbalanceLimitA: num(
      0,
      400,
      'amperes',
      'Largest difference between the phases that chargers may cause; left out: no limit.',
    ).exactOptional(),
    exportLimitW: num(0, 1_000_000, 'watts', 'Most that may be exported; left out: no limit.').exactOptional(),
    metering: word(['net', 'per-phase'], 'How the meter counts: the phases summed (net), or each for itself.').default('net'),
    contractW: num(0, 1_000_000, 'watts', 'Contracted import; left out: none.').exactOptional(),
    dimming: z
      .strictObject({
        toW: num(0, 1_000_000, 'watts', 'Limit on all chargers together.'),
        windows: z.array(dimmingWindow).min(1).describe('When it holds.').register(hints, { allowed: 'a list of windows' }),
      })
      .describe("The operator's power limit on all chargers together; left out: none.")
      .exactOptional(),
    country: word(
      COUNTRY_CODES,
      'Country by its two letters: fills limits that are left out from data/grid-rules.yaml.',
    ).exactOptional(),
  })
  .describe("The house's connection to the grid.");

const price = (about: string) => num(-100, 100, 'currency per kWh', about);

const band = z.strictObject({ ...window(), price: price('Price in this band.') });

const pricePerKWh = (about: string) =>
  z
    .union([
      price('One price at all times.'),
      z.array(band).min(1).max(100).describe('Prices by time of day, day of the week and month.'),
      z
        .strictObject({ file: fileName('A CSV with time,price, plain or as .gz.'), clock: csvClock().default('offset') })
        .describe('Prices from a file.'),
    ])
    .describe(about)
    .register(hints, { allowed: 'a number, a list of bands, or { file: … }' });

/** Prices. */
export const tariff = z
  .strictObject({
    currency: z
      .string()
      .regex(/^[A-Z]{3}$/)
      .describe('Currency by its three letters.')
      .register(hints, { allowed: 'three capital letters, such as EUR' }),
    importPerKWh: pricePerKWh('Price of imported energy.'),
    exportPerKWh: pricePerKWh('What exported energy earns.'),
    publicPerKWh: price('What a kWh costs that had to be charged elsewhere.').exactOptional(),
    settlementMin: z
      .literal([0, 5, 10, 15, 30, 60])
      .describe(
        'Minutes over which import and export are settled against each other before they are priced; 0: not at all, each is counted as it flows.',
      )
      .register(hints, { allowed: '0, 5, 10, 15, 30 or 60 (minutes)' })
      .default(SETTLEMENT_MIN),
  })
  .describe('Prices; left out: no money in the results.');
