import * as z from 'zod';
import { ELEVATION_M, STEP_S } from '../defaults.ts';
import { hints, localDay, num, text, whole } from './common.ts';

/** Where the household is. */
export const site = z
  .strictObject({
    latitude: num(-90, 90, 'degrees north', 'Latitude of the roof; south is negative.'),
    longitude: num(-180, 180, 'degrees east', 'Longitude of the roof; west is negative.'),
    elevationM: num(-450, 6000, 'metres above the sea', 'Height of the site.').default(ELEVATION_M),
    timeZone: text('Time zone of the site by its IANA name, for example Europe/Vienna.').register(hints, {
      allowed: 'an IANA name such as Europe/Vienna',
    }),
  })
  .describe('Where the household is.');

/** The days that are simulated. */
export const period = z
  .strictObject({
    start: localDay('First local day of the run.'),
    days: whole(1, 1100, 'days', 'Whole local days; left out: to the end of that calendar year.').exactOptional(),
    stepS: whole(5, 3600, 'seconds', 'Length of a step, a divisor of 3600. Verdicts need 60 or less.')
      .register(hints, { allowed: '5 to 3600, a divisor of 3600 (seconds)' })
      .default(STEP_S),
  })
  .describe('The days that are simulated.');
