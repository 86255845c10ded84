import { expect, test } from 'vitest';
import { possiblePhases } from '../../src/charging/index.ts';
import { planOf, runPlan } from '../../src/simulate/index.ts';
import { firstDifference, plainCase } from './compare-laws.ts';
import { type HandCase, profilesOf, scenarioOf } from './hand.ts';
import { plainRun } from './plain-law.ts';
import { randomDay } from './random-day.ts';

/** Random days of quarter-hours and five minutes, of a kind. `tests/property/agreement.test.ts` takes two thousand of every kind. */
function* shortDays(count: number, firstSeed: number, isWanted: (hand: HandCase) => boolean): Generator<HandCase> {
  let found = 0;
  for (let seed = firstSeed; found < count; seed++) {
    const hand = randomDay(seed);
    if ((hand.stepS ?? 60) < 300 || !isWanted(hand)) continue;
    const fits = scenarioOf(hand).chargePoints.every(
      ({ charger, vehicle, believes }) => possiblePhases(charger, { ...vehicle, ...believes }).length > 0,
    );
    if (!fits) continue;
    found++;
    yield hand;
  }
}

const byPhase = ({ supply }: HandCase): boolean => supply?.metering === 'per-phase';
const bare = ({ battery, supply }: HandCase): boolean =>
  battery === undefined && supply?.metering === 'net' && supply.exportLimitW === null;

test.each<[string, number, (hand: HandCase) => boolean]>([
  ['nothing but cars', 30, bare],
  ['a battery or an export limit, on one meter', 30, (hand) => !byPhase(hand) && !bare(hand)],
  ['a meter that counts each phase', 30, byPhase],
])('%s: the plain law and the quick one agree in every step of %i days', (_, count, isWanted) => {
  for (const hand of shortDays(count, 900_000, isWanted)) {
    const scenario = scenarioOf(hand);
    const profiles = profilesOf(hand, scenario.grid.steps);
    const run = runPlan(planOf(scenario), profiles);
    expect(firstDifference(run, plainRun(plainCase(scenario, profiles))), JSON.stringify(hand.control)).toBeNull();
  }
});
