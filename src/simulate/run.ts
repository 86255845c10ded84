import type { Scenario } from '../scenario/index.ts';
import { type Buffers, columnsOf, freshColumns } from './columns.ts';
import { tally } from './ledger.ts';
import { runLoop } from './loop.ts';
import { type Plan, type Profiles, planOf } from './plan.ts';
import { makeProfiles, type ProfilesWithWeather } from './profiles.ts';
import type { Run } from './results.ts';

/**
 * Runs a plan over its profiles: columns, what happened, and the sums.
 *
 * @param profiles  as many values as the plan's grid has steps, finite and 0 or more
 * @param buffers   made by `freshColumns` for a plan of the same shape; overwritten
 * @throws RangeError  a profile of another length
 */
export function runPlan(plan: Plan, profiles: Profiles, buffers: Buffers = freshColumns(plan, profiles)): Run {
  const { steps } = plan.grid;
  for (const values of [profiles.pvW, profiles.loadW, ...profiles.loadByPhaseW]) {
    if (values.length !== steps) throw new RangeError(`profile of ${values.length} values: the grid has ${steps} steps`);
  }
  const { events, drives } = runLoop(plan, profiles, buffers);
  const columns = columnsOf(plan, buffers);
  const ledger = tally(plan, plan.isPlain ? { ...buffers, meter: null } : buffers, events, drives);
  return { grid: plan.grid, plan, profiles, columns, events, drives, ledger };
}

/**
 * Runs a scenario; `profiles` may be handed in where several variants share them. Without weather every drive is one in mild air.
 */
export const simulate = (scenario: Scenario, profiles: Profiles & Partial<WithWeather> = makeProfiles(scenario)): Run =>
  runPlan(planOf(scenario, profiles.weather?.airC ?? null), profiles);

type WithWeather = Pick<ProfilesWithWeather, 'weather'>;
