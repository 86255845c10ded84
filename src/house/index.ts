/**
 * The house: what it draws without the car.
 *
 * In: annual consumption, people, a seed, shares per phase, the time grid; or meter readings, coarse means, a standard profile.
 * Out: watts per building phase and step.
 * Models: bottom-up and seeded, appliances by their habits (ratings and habits are own estimates from common practice); the
 * balance of the meter; the published standard profile with its factor of the day; a hot-water rod that takes surplus.
 * Left out: the weather of the run (a heat pump follows the season only), the rod's tank.
 * Start reading at `synthetic.ts`, then `year.ts`; the tables are in `appliances.ts`.
 */
export type { ByDay, DayKind } from './appliances.ts';
export * from './balance.ts';
export * from './home-battery.ts';
export { type CoarseLoad, withSpikes } from './refine.ts';
export * from './rod.ts';
export type { KeepSheet, Sheet } from './sheet.ts';
export {
  dynamicFactor,
  type ProfileOptions,
  type Season,
  type StandardProfile,
  seasonOf,
  standardProfileW,
} from './standard-profile.ts';
export { type HeldValues, meansOnSteps } from './steps.ts';
export {
  type HouseholdOptions,
  type Loads,
  type PhaseLoads,
  sumOf,
  syntheticHousehold,
  syntheticLoads,
  typicalAnnualWh,
} from './synthetic.ts';
export type { Holiday } from './year.ts';
