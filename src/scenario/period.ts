import { type Checked, failed, MS_PER_DAY, passed, type TimeGrid, timeGrid, type Zone } from '../base/index.ts';
import type { ScenarioInput } from './schema.ts';
import { dayMsOf } from './time-text.ts';

/** First day and number of days of a checked period; where no number is given, to the end of that calendar year. */
export function daysOf({ start, days }: ScenarioInput['period']): { firstMs: number; days: number } {
  const firstMs = dayMsOf(start) ?? Number.NaN;
  const yearEndMs = Date.UTC(new Date(firstMs).getUTCFullYear() + 1, 0, 1);
  return { firstMs, days: days ?? Math.round((yearEndMs - firstMs) / MS_PER_DAY) };
}

/** Instants that surely enclose a checked scenario's period, whatever its zone: what a face needs to ask its platform for the zone. */
export function periodMs(input: ScenarioInput): { fromMs: number; toMs: number } {
  const { firstMs, days } = daysOf(input.period);
  return { fromMs: firstMs - MS_PER_DAY, toMs: firstMs + (days + 1) * MS_PER_DAY };
}

/** The steps of the run. */
export function gridOf(input: ScenarioInput, zone: Zone): Checked<TimeGrid> {
  const { firstMs, days } = daysOf(input.period);
  try {
    return passed(timeGrid(firstMs, days, input.period.stepS, zone));
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return failed([
      {
        code: 'step-across-midnight',
        path: ['period', 'stepS'],
        found: `${input.period.stepS}`,
        problem: `In ${zone.name} a midnight of this period falls inside a step.`,
        allowed: '5 to 3600, a divisor of 3600 (seconds)',
        fix: 'write 900 or less.',
      },
    ]);
  }
}
