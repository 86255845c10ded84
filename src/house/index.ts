/**
 * The house: what it draws without the car.
 *
 * In: annual consumption, people, a seed, shares per phase, the time grid. Out: watts per building phase and step.
 * Model: bottom-up and seeded, appliances by their habits; ratings and habits are own estimates from common practice.
 * Left out: holidays, weather, heat pump, electric hot water, standard profiles, the home battery.
 * Start reading at `synthetic.ts`, then `year.ts`; the tables are in `appliances.ts`.
 */
export { type HouseholdOptions, type PhaseLoads, syntheticHousehold, typicalAnnualWh } from './synthetic.ts';
