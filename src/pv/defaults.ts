import { OPEN_RACK, ROOF } from './cell-temperature.ts';

/** Ground reflection of grass and gardens (common practice). */
export const ALBEDO = 0.2;
/** Power per kelvin above 25 °C cell temperature (common practice: crystalline modules −0.0030 … −0.0042). */
export const TEMPERATURE_COEFFICIENT_PER_K = -0.0034;
/** Soiling, mismatch, wiring, in percent; shading and snow not included (common practice). */
export const LOSS_PERCENT = 8;
/** Inverter efficiency at rated power (common practice: 0.95 … 0.98). */
export const INVERTER_EFFICIENCY = 0.965;
/** Most roofs carry their modules a hand's breadth above the tiles. */
export const MOUNTING = 'roof';
/** How well the back of the modules is cooled, by mounting. */
export const MOUNTINGS = { roof: ROOF, open: OPEN_RACK } as const;
