/** Steps of the calendar's colour scale above nothing. */
export const LEVELS = 6;

/** Less than this into the car in a day counts as nothing, Wh. */
const NOTHING_WH = 50;

/**
 * The step of a day on the scale that ends with the best day.
 *
 * @returns 0 … LEVELS
 * @example levelOf(5000, 20_000) // 2
 */
export const levelOf = (carPvWh: number, topWh: number): number =>
  // The best day is 6 times itself by itself, which one time in fifteen is a hair above 6.
  carPvWh < NOTHING_WH ? 0 : Math.min(LEVELS, Math.max(1, Math.ceil((LEVELS * carPvWh) / topWh)));
