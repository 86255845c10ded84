import * as z from 'zod';
import { chargePoint } from './schema/charge-point.ts';
import { hints, text } from './schema/common.ts';
import { control } from './schema/control.ts';
import { grid, tariff } from './schema/grid.ts';
import { battery, household } from './schema/household.ts';
import { pv } from './schema/pv.ts';
import { period, site } from './schema/site.ts';
import { weather } from './schema/weather.ts';

/**
 * A scenario as a user writes it: the one source of truth for its keys, their ranges, units and defaults. Types, the JSON Schema for
 * editors and the error texts come from here. One small file a section stands in `schema/`.
 */
export const scenarioSchema = z
  .strictObject({
    name: text('What the scenario is called.').default('Unnamed'),
    site,
    period,
    grid: grid.prefault({}),
    tariff: tariff.exactOptional(),
    weather: weather.exactOptional(),
    pv,
    household,
    battery: battery.exactOptional(),
    chargePoints: z
      .array(chargePoint)
      .min(1)
      .max(6)
      .describe('Chargers with their cars, one to six, in the order in which they are served.')
      .register(hints, { allowed: 'a list of 1 to 6 charge points' }),
    control: control.prefault({}),
  })
  .describe('One household: its site, roof, load, chargers and cars.');

/** A scenario in the user's keys and units, checked, with defaults filled in. */
export type ScenarioInput = z.output<typeof scenarioSchema>;

/** A scenario as it may be written: keys with defaults may be left out. */
export type ScenarioDraft = z.input<typeof scenarioSchema>;
