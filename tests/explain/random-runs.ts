import { possiblePhases } from '../../src/charging/index.ts';
import type { Scenario } from '../../src/scenario/index.ts';
import { type Plan, type Profiles, planOf, type Run, runPlan } from '../../src/simulate/index.ts';
import { type HandCase, profilesOf, scenarioOf } from '../simulate/hand.ts';
import { randomDay } from '../simulate/random-day.ts';

/** A random household over a day, run. */
export interface RandomRun {
  readonly hand: HandCase;
  readonly scenario: Scenario;
  readonly plan: Plan;
  readonly profiles: Profiles;
  readonly run: Run;
}

/** A household run by hand's rules, or null where the door would refuse it. */
export function runOf(hand: HandCase): RandomRun | null {
  const scenario = scenarioOf(hand);
  const fits = scenario.chargePoints.every(
    ({ charger, vehicle, believes }) => possiblePhases(charger, { ...vehicle, ...believes }).length > 0,
  );
  if (!fits) return null;
  const profiles = profilesOf(hand, scenario.grid.steps);
  const plan = planOf(scenario);
  return { hand, scenario, plan, profiles, run: runPlan(plan, profiles) };
}

/** Random households of the whole law, one after the other. */
export function* randomRuns(count: number, firstSeed = 400_000): Generator<RandomRun> {
  let found = 0;
  for (let seed = firstSeed; found < count; seed++) {
    const made = runOf(randomDay(seed));
    if (made === null) continue;
    found++;
    yield made;
  }
}
