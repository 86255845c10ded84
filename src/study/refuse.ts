import { type Issue, S_PER_MIN } from '../base/index.ts';
import type { ScenarioInput } from '../scenario/index.ts';

/**
 * Why no verdict can rest on a scenario; empty where one can.
 *
 * Longer steps hide the clouds that start and stall charging: hourly means promise a tenth too much on one phase and a tenth too
 * little on three.
 */
export function unfitForVerdict({ period }: ScenarioInput): Issue[] {
  if (period.stepS <= S_PER_MIN) return [];
  return [
    {
      code: 'step-too-long-for-verdict',
      path: ['period', 'stepS'],
      found: `${period.stepS}`,
      problem: 'Steps this long hide the clouds that start and stall charging, so no verdict can rest on them.',
      allowed: '5 to 60 (seconds)',
      fix: 'write 60, or use `run` or `hours`, which take any step.',
    },
  ];
}
