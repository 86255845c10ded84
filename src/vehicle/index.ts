/**
 * The car: what reaches its battery, when it is at the charger, how far it drives.
 *
 * In: AC power, the car's losses and capacity; weekly habits or stays, a seed, the time grid. Out: power and energy into the
 * battery, stays, and their presence on the steps of a run.
 * Models: constant standby plus constant conversion efficiency (common practice, held against the automobile-club measurement of
 * 2022); habits with seeded jitter, uniform and symmetric.
 * Left out: taper near full, rectifier efficiency by current, battery temperature and ageing, heating before departure, long
 * trips, holidays, charging elsewhere.
 * Start reading at `stays.ts`, then `presence.ts` and `battery.ts`.
 */
export * from './battery.ts';
export * from './presence.ts';
export * from './stays.ts';
