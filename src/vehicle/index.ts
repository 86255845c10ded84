/**
 * The car: what reaches its battery, when it is at the charger, how far it drives.
 *
 * In: AC power, the car's losses and capacity; weekly habits or stays, a seed, the time grid, the air. Out: power and energy into
 * the battery, stays, their presence on the steps of a run, consumption by trip; tables of generic cars and weeks.
 * Models: constant standby plus constant conversion efficiency (common practice, held against the automobile-club measurement of
 * 2022); consumption on a straight line through the published cold test; habits with seeded jitter, uniform and symmetric.
 * Left out: rectifier efficiency by current, battery temperature and ageing, heating before departure from the wall (it is taken
 * from the battery), what a public charger gives beyond the trip that needs it.
 * Start reading at `stays.ts`, then `presence.ts` and `battery.ts`.
 */
export * from './battery.ts';
export * from './consumption.ts';
export * from './habits.ts';
export * from './kinds.ts';
export * from './presence.ts';
export * from './stays.ts';
export * from './taper.ts';
