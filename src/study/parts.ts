import { modulesOf, type Scenario, type ScenarioInput } from '../scenario/index.ts';
import { houseLoad, type Profiles, type Sky, skyOver, yieldsUnder } from '../simulate/index.ts';

/** What sun and weather bring to the planes of a roof, and the air: made once for all variants under the same sky. */
export interface SkyPart {
  /** Null where the scenario has no weather. */
  readonly airC: Float64Array | null;
  /** Of each array's plane. */
  readonly yields: ReturnType<typeof yieldsUnder>;
}

/** What the house takes: made once for all variants with the same household. */
export type HousePart = Pick<Profiles, 'loadW' | 'loadByPhaseW'>;

/** What decides a part, as text: variants with equal keys share it. */
export interface PartKeys {
  readonly sky: string;
  readonly house: string;
  /** Beside the sky: sizes, losses, inverter. */
  readonly roof: string;
  /** All but the control: variants that agree in it share what they are compared with. */
  readonly family: string;
}

/** The keys of a checked variant. */
export function partKeys(input: ScenarioInput): PartKeys {
  const { site, period, weather, pv, household, grid, control: _, ...rest } = input;
  const planes = pv.source === 'csv' ? [] : pv.arrays.map(modulesOf);
  const { diverter, ...house } = household;
  const balanced = house.source === 'meter' ? pv : null;
  return {
    sky: JSON.stringify([site, period, weather, planes]),
    house: JSON.stringify([site, period, grid.phases, house, balanced]),
    roof: JSON.stringify(pv),
    family: JSON.stringify([grid, diverter, rest]),
  };
}

/**
 * What decides sun and weather alone, without the planes.
 */
export const weatherKey = ({ site, period, weather }: ScenarioInput): string => JSON.stringify([site, period, weather]);

/** What decides the sun. */
export const sunKey = ({ site, period }: ScenarioInput): string => JSON.stringify([site, period]);

/** What planes yield under the sky of a scenario, and its air, in memory that all workers see. */
export function skyPart(scenario: Scenario, sky: Sky | null = skyOver(scenario)): SkyPart {
  const yields = yieldsUnder(() => sky, scenario).map(({ dcWPerKWp, lit }) => ({ dcWPerKWp: shared(dcWPerKWp), lit }));
  return { airC: sky && shared(sky.weather.airC), yields };
}

/** Load of a scenario's house, in memory that all workers see. */
export function housePart(scenario: Scenario): HousePart {
  const { loadW, loadByPhaseW } = houseLoad(scenario);
  const [one, two, three] = loadByPhaseW;
  return { loadW: shared(loadW), loadByPhaseW: [shared(one), shared(two), shared(three)] };
}

function shared(values: Float64Array): Float64Array {
  // A browser page without the right headers has no shared memory, and one thread needs none.
  if (typeof SharedArrayBuffer === 'undefined') return values;
  const copy = new Float64Array(new SharedArrayBuffer(values.byteLength));
  copy.set(values);
  return copy;
}
