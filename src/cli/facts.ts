import type { Catalogue } from '../index.ts';
import { assumptionsOf, type RunFacts } from '../report/index.ts';
import type { Entered } from './door.ts';
import { packageVersion } from './version.ts';

/** What a run is known by: names, version, and everything that was assumed, warnings included. */
export const factsOf = ({ scenario, warnings }: Entered, words: Catalogue): RunFacts => ({
  scenarioName: scenario.name,
  version: packageVersion(),
  pointNames: scenario.chargePoints.map((point) => point.name),
  assumptions: [...assumptionsOf(scenario, words), ...remarksOf(warnings)],
});

/** Warnings as sentences. */
export const remarksOf = (warnings: Entered['warnings']): string[] =>
  warnings.map((warning) => `${warning.problem} ${warning.allowed}`.trimEnd());
