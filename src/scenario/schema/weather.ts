import * as z from 'zod';
import { CLIMATE_NAMES } from '../../sky/index.ts';
import { SEED } from '../defaults.ts';
import { csvClock, fileName, maxGapMin, monthly, num, seed, shiftMin, word } from './common.ts';

const minutes = () =>
  word(
    ['clouds', 'flat'],
    'For weather in means of more than five minutes: `clouds` breaks them up into seeded minutes and keeps them, `flat` holds them.',
  ).default('clouds');

const synthetic = z
  .strictObject({
    source: z.literal('synthetic').describe('A made-up year with the right monthly sums.'),
    seed: seed('the weather').default(SEED),
    monthlyGhiKWhM2: monthly(
      num(0, 350, 'kWh/m²', 'Sum of a month.'),
      'Irradiation on the horizontal in each month of an average year (kWh/m²).',
    ).exactOptional(),
    monthlyTempC: monthly(num(-50, 50, '°C', 'Mean of a month.'), 'Mean air temperature of each month (°C).').exactOptional(),
    climate: word(
      CLIMATE_NAMES,
      'A place of data/climates.yaml: its tables stand for those of the two that are not written here.',
    ).exactOptional(),
  })
  .describe('A made-up year.');

const epw = z
  .strictObject({
    source: z.literal('epw').describe('A typical year in the EPW format.'),
    file: fileName('The EPW file, plain or as .gz.'),
    seed: seed('the clouds').default(SEED),
    shiftMin: shiftMin().default(0),
    minutes: minutes(),
  })
  .describe('A typical year from an EPW file, laid on the days of the period.');

const csv = z
  .strictObject({
    source: z.literal('csv').describe('Measured weather.'),
    file: fileName('A CSV with time,ghi_w_m2[,dni_w_m2,dhi_w_m2],temp_c[,wind_m_s], plain or as .gz.'),
    seed: seed('the clouds').default(SEED),
    clock: csvClock().default('offset'),
    shiftMin: shiftMin().default(0),
    maxGapMin: maxGapMin().default(0),
    minutes: minutes(),
  })
  .describe('Measured weather from a CSV.');

/** Irradiance and air temperature. */
export const weather = z
  .discriminatedUnion('source', [synthetic, epw, csv])
  .describe('Irradiance and air temperature; not needed when PV is measured and no temperature is wanted (then 10 °C).');
