import { assumptionsOf, type RunFacts } from '../report/index.ts';
import type { Entered } from './door.ts';
import { packageVersion } from './version.ts';

/** What a run is known by: names, version, and everything that was assumed, warnings included. */
export const factsOf = ({ scenario, warnings }: Entered): RunFacts => ({
  scenarioName: scenario.name,
  version: packageVersion(),
  pointNames: scenario.chargePoints.map((point) => point.name),
  assumptions: [...assumptionsOf(scenario), ...warnings.map((warning) => `${warning.problem} ${warning.allowed}`.trimEnd())],
});
