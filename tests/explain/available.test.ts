import { expect, test } from 'vitest';
import { surplusOfPoints } from '../../src/explain/index.ts';
import { randomRuns } from './random-runs.ts';

test('surplusOfPoints: what the law compared, at every start, stall, switch and hold of 500 random runs, to 1e-6 W', () => {
  let compared = 0;
  for (const { run } of randomRuns(500)) {
    const surplus = surplusOfPoints(run);
    for (const event of run.events) {
      if (!['start', 'stall', 'switch', 'hold', 'break-off'].includes(event.event)) continue;
      const { rules } = run.plan.points[event.point]!;
      const own = surplus[event.point]!;
      const onMost =
        event.event === 'switch' ||
        (event.event !== 'stall' && rules.switches && (event.phasesTo || event.phasesFrom) === rules.most.n);
      const expected = (onMost ? own.mostW : own.leastW)[event.step]!;
      expect(Math.abs(expected - event.surplusW), `${event.event} at ${event.step}`).toBeLessThan(1e-6);
      compared++;
    }
  }
  expect(compared).toBeGreaterThan(5000);
});
