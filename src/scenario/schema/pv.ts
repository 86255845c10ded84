import * as z from 'zod';
import { INVERTER_EFFICIENCY, LOSS_PERCENT, TEMPERATURE_COEFFICIENT_PER_K } from '../defaults.ts';
import { buildingPhases, csvClock, fileName, hints, maxGapMin, monthly, num, shiftMin, text, word } from './common.ts';

const array = z
  .strictObject({
    name: text('What the array is called.').exactOptional(),
    kWp: num(0.05, 1000, 'kWp', 'Rated power of its modules together.'),
    tiltDeg: num(0, 90, 'degrees from the horizontal', 'Tilt: 0 lies flat, 90 stands upright.'),
    azimuthDeg: num(0, 360, 'degrees clockwise from north', 'Where it looks: 90 east, 180 south, 270 west.'),
    temperatureCoefficientPerK: num(
      -0.01,
      0,
      'per kelvin',
      'Change of power per kelvin above 25 °C: -0.0034 is -0.34 %/K.',
    ).default(TEMPERATURE_COEFFICIENT_PER_K),
    lossPercent: num(0, 80, 'percent', 'Soiling, mismatch and wiring, before the inverter.').default(LOSS_PERCENT),
    monthlyLossPercent: monthly(
      num(0, 100, 'percent', 'Loss in a month.'),
      'Further losses by month: snow, leaves, low trees (percent); left out: none.',
    ).exactOptional(),
    mounting: word(['roof', 'open'], 'How well the back is cooled: close to a roof, or in the open.').default('roof'),
    horizonDeg: z
      .array(num(0, 90, 'degrees above the horizontal', 'Height of the skyline.'))
      .min(1)
      .max(360)
      .describe('Height of the skyline at even azimuths, from north clockwise (degrees); left out: flat.')
      .register(hints, { allowed: 'a list of 1 to 360 heights, 0 to 90 degrees' })
      .exactOptional(),
  })
  .describe('One plane of modules.');

const inverter = z
  .strictObject({
    ratedW: num(100, 1_000_000, 'watts', 'Rated AC power; left out: as much as the arrays together.').exactOptional(),
    efficiency: num(0.5, 1, 'share of 1', 'At rated power; lower at part load.').default(INVERTER_EFFICIENCY),
  })
  .describe('The inverter of all arrays.');

const phases = () => buildingPhases('Building phases that PV feeds; left out: all that the grid has.').exactOptional();

const arrays = z
  .strictObject({
    source: z.literal('arrays').describe('PV computed from the weather.'),
    arrays: z
      .array(array)
      .min(1)
      .max(24)
      .describe('The planes of modules.')
      .register(hints, { allowed: 'a list of 1 to 24 arrays' }),
    inverter: inverter.prefault({}),
    phases: phases(),
  })
  .describe('PV from weather and arrays.');

const csv = z
  .strictObject({
    source: z.literal('csv').describe('Measured PV.'),
    file: fileName('A CSV with time,pv_w, plain or as .gz.'),
    clock: csvClock().default('offset'),
    shiftMin: shiftMin().default(0),
    factor: num(0, 1_000_000, 'no unit', 'Every value times this; a file in W per kWp takes the kWp of the roof.').default(1),
    maxGapMin: maxGapMin().default(0),
    phases: phases(),
  })
  .describe('Measured PV from a CSV.');

/** The roof. */
export const pv = z.discriminatedUnion('source', [arrays, csv]).describe('What the roof gives.');
