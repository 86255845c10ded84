import { expect, test } from 'vitest';
import { possiblePhases, State, stateName } from '../../src/charging/index.ts';
import { planOf, runPlan } from '../../src/simulate/index.ts';
import { firstDifference, plainCase } from '../simulate/compare-laws.ts';
import { profilesOf, scenarioOf } from '../simulate/hand.ts';
import { plainRun } from '../simulate/plain-law.ts';
import { randomDay } from '../simulate/random-day.ts';
import { casesOf } from '../tools/thorough.ts';

const DAYS = casesOf(2000);

test(`a second implementation, written from the text alone, agrees step by step on ${DAYS} random days`, () => {
  const differences: string[] = [];
  const reached = new Set<number>();
  let compared = 0;
  for (let seed = 0; compared < DAYS; seed++) {
    const hand = randomDay(seed);
    const scenario = scenarioOf(hand);
    // The door refuses chargers and cars that can not charge together.
    const fits = scenario.chargePoints.every(
      ({ charger, vehicle, believes }) => possiblePhases(charger, { ...vehicle, ...believes }).length > 0,
    );
    if (!fits) continue;
    const profiles = profilesOf(hand, scenario.grid.steps);
    const run = runPlan(planOf(scenario), profiles);
    const difference = firstDifference(run, plainRun(plainCase(scenario, profiles)));
    if (difference !== null) differences.push(`seed ${seed}, ${difference}`);
    for (const car of run.columns.points) for (const code of car.state) reached.add(code);
    compared++;
  }
  expect(differences.slice(0, 5)).toEqual([]);
  // A comparison that never met a state would prove nothing about it.
  expect(
    Object.values(State)
      .filter((code) => !reached.has(code))
      .map(stateName),
  ).toEqual([]);
});
