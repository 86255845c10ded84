import type { Scenario } from '../scenario/index.ts';

/**
 * A name given by a user, kept to itself in a sentence: whichever way its letters run, and whatever marks of direction it holds, the
 * words around it stay where they are (Unicode: first strong isolate … pop directional isolate).
 */
export const isolated = (name: string): string => `\u2068${name.replace(DIRECTION_MARKS, '')}\u2069`;

/** Marks that would reach beyond the name: embeddings, overrides, isolates and their ends, and control characters. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const DIRECTION_MARKS = /[\u0000-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069]/g;

/** A scenario whose names can stand in any sentence. */
export const withIsolatedNames = (scenario: Scenario): Scenario => ({
  ...scenario,
  name: isolated(scenario.name),
  chargePoints: scenario.chargePoints.map((point) => ({ ...point, name: isolated(point.name) })),
  pv: scenario.pv.kind === 'measured' ? { ...scenario.pv, series: withIsolatedFile(scenario.pv.series) } : scenario.pv,
  household: withIsolatedHousehold(scenario.household),
});

const withIsolatedFile = <T extends { readonly file: string }>(series: T): T => ({ ...series, file: isolated(series.file) });

function withIsolatedHousehold(household: Scenario['household']): Scenario['household'] {
  switch (household.kind) {
    case 'measured':
      return { ...household, series: withIsolatedFile(household.series) };
    case 'measured-phases':
      return { ...household, series: withIsolatedFile(household.series) };
    case 'profile':
      return withIsolatedFile(household);
    case 'synthetic':
      return household;
  }
}
