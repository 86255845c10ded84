import * as z from 'zod';

/** What the error texts need beside the rules themselves. Kept apart so that the JSON Schema stays free of it. */
export interface Hint {
  /** What is allowed, in words with its unit: `6 to 32 (amperes per phase)`. */
  readonly allowed: string;
}

/** The hint of a schema node. */
export const hints = z.registry<Hint>();

/** A number in a range, ends included. `unit` in words: `amperes per phase`. */
export const num = (min: number, max: number, unit: string, about: string) =>
  z
    .number()
    .min(min)
    .max(max)
    .describe(withUnit(about, unit))
    .register(hints, { allowed: `${min} to ${max} (${unit})` });

/** A whole number in a range, ends included. */
export const whole = (min: number, max: number, unit: string, about: string) =>
  z
    .int()
    .min(min)
    .max(max)
    .describe(withUnit(about, unit))
    .register(hints, { allowed: `${min} to ${max}, whole (${unit})` });

/** A word out of a list. */
export const word = <const T extends readonly string[]>(words: T, about: string) =>
  z
    .enum(words)
    .describe(about)
    .register(hints, { allowed: words.join(', ') });

/** One line without control characters: an SVG that held them could not be opened, and a terminal would obey them. */
const ONE_LINE = /^[^\p{Cc}]{0,200}$/u;

/** Text that is not empty. */
export const text = (about: string) =>
  z.string().min(1).regex(ONE_LINE).describe(about).register(hints, { allowed: 'a text on one line, up to 200 characters' });

/** Yes or no. */
export const flag = (about: string) => z.boolean().describe(about).register(hints, { allowed: 'true or false' });

/** A file, relative to the scenario's. */
export const fileName = (about: string) =>
  z
    .string()
    .min(1)
    .regex(ONE_LINE)
    .describe(about)
    .register(hints, { allowed: 'the name of a file, looked for from the folder of the scenario file' });

/** A seed of chance. */
export const seed = (about: string) =>
  whole(0, 4_294_967_295, 'no unit', `Seed of ${about}: the same seed gives the same numbers on every machine.`);

/** A time of day on the wall. */
export const timeOfDay = (about: string) =>
  z
    .string()
    .regex(/^([01]\d|2[0-3]):[0-5]\d$/)
    .describe(withUnit(about, 'HH:MM, on the wall'))
    .register(hints, { allowed: '"00:00" to "23:59", in quotes' });

/** A local day. */
export const localDay = (about: string) =>
  z
    .string()
    .regex(/^\d{4}-\d{2}-\d{2}$/)
    .describe(withUnit(about, 'YYYY-MM-DD'))
    .register(hints, { allowed: 'a day as YYYY-MM-DD, 1950 to 2099' });

/** Names of the weekdays, Monday first as in `WallClock.weekday`. */
export const WEEKDAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;

/** Days of the week. */
export const weekdays = (about: string) =>
  z
    .array(word(WEEKDAYS, 'A day of the week.'))
    .min(1)
    .describe(about)
    .register(hints, { allowed: `a list out of ${WEEKDAYS.join(', ')}` });

/** Twelve numbers, January first. */
export const monthly = (item: ReturnType<typeof num>, about: string) =>
  z.array(item).length(12).describe(about).register(hints, { allowed: '12 numbers, January to December' });

/** One of the building's phases. */
export const buildingPhase = () =>
  z.literal([1, 2, 3]).describe('A phase of the building.').register(hints, { allowed: '1, 2 or 3' });

/** Building phases in some order. */
export const buildingPhases = (about: string) =>
  z
    .array(buildingPhase())
    .min(1)
    .max(3)
    .describe(about)
    .register(hints, { allowed: 'a list of 1 to 3 different phases out of 1, 2, 3' });

/** How a measured file writes its times. */
export const csvClock = () =>
  z
    .string()
    .regex(/^(offset|local|[+-](0\d|1[0-4]):[0-5]\d)$/)
    .describe(
      'How the times in the file are written: `offset` (each carries its own offset or Z), `local` (the wall clock of site.timeZone, ' +
        'daylight saving included), or one offset for all, such as "+01:00", for a logger that never changes its clock.',
    )
    .register(hints, { allowed: 'offset, local, or one offset such as "+01:00"' });

/** Longest gap that is bridged. */
export const maxGapMin = () =>
  num(
    0,
    1440,
    'minutes',
    'Gaps in the file up to this long are bridged by a straight line and reported; longer ones are errors.',
  );

/** A list of single days. */
export const daysOff = (about: string) =>
  z.array(localDay('A day.')).max(1000).describe(about).register(hints, { allowed: 'a list of days as YYYY-MM-DD' });

/** First and last day of a stretch. */
export const stretch = () => ({ from: localDay('First day.'), to: localDay('Last day, included.') });

/** Correction of a clock that is off. */
export const shiftMin = () =>
  num(
    -1440,
    1440,
    'minutes',
    'Added to the times in the file, for a clock that is off or for stamps at the end of each interval. Where the shift leaves the first or last minutes of the file open, the nearest value is taken.',
  );

/** A sentence with its unit before the full stop. */
const withUnit = (about: string, unit: string): string => `${about.replace(/\.$/, '')} (${unit}).`;
