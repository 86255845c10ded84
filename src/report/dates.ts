const MONTH_NAMES = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const;

const two = (n: number): string => (n < 10 ? `0${n}` : `${n}`);

/**
 * A local day as ISO 8601.
 *
 * @example isoDay({ year: 2025, month: 6, day: 3 }) // '2025-06-03'
 */
export const isoDay = (date: { year: number; month: number; day: number }): string =>
  `${date.year}-${two(date.month)}-${two(date.day)}`;

/**
 * A local month as ISO 8601.
 *
 * @example isoMonth({ year: 2025, month: 6 }) // '2025-06'
 */
export const isoMonth = (date: { year: number; month: number }): string => `${date.year}-${two(date.month)}`;

/**
 * A month's short English name.
 *
 * @param month  1 … 12
 * @example monthName(6) // 'Jun'
 */
export const monthName = (month: number): string => MONTH_NAMES[month - 1] ?? '';

/**
 * A time of day on a 24-hour clock.
 *
 * @example clockTime({ hour: 7, minute: 5 }) // '07:05'
 */
export const clockTime = (wall: { hour: number; minute: number }): string => `${two(wall.hour)}:${two(wall.minute)}`;
