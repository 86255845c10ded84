import {
  chargedAtOnce,
  type MoneyBeside,
  makeProfiles,
  moneyBeside,
  type ProfilesWithWeather,
  pricesOf,
  type Run,
  type Scenario,
  simulate,
  withoutCars,
} from '../index.ts';
import type { Progress } from './progress.ts';

/** A scenario run as it is, and charged at once, on the same weather and house. */
export interface BothRuns {
  readonly run: Run;
  readonly atOnce: Run;
  readonly profiles: ProfilesWithWeather;
  /** What the year costs, beside the same days charged at once and without a car; null without a tariff. */
  readonly money: MoneyBeside | null;
}

/** Parts of the work that `runBoth` reports. */
export const RUN_PARTS = 3;

/** Runs a scenario and its baseline, telling how far it is. */
export async function runBoth(scenario: Scenario, progress: Progress): Promise<BothRuns> {
  await progress.at(0, 'weather, roof and house');
  const profiles = makeProfiles(scenario);
  await progress.at(1, 'charging from surplus');
  const run = simulate(scenario, profiles);
  await progress.at(2, 'charging at once');
  const atOnce = simulate(chargedAtOnce(scenario), profiles);
  const { tariff } = scenario;
  const noCar = tariff === null ? null : simulate(withoutCars(scenario), profiles);
  const money = tariff && noCar && moneyBeside(run, atOnce, noCar, tariff, pricesOf(tariff, scenario.grid));
  await progress.at(RUN_PARTS, 'results');
  return { run, atOnce, profiles, money };
}
