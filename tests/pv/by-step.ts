import type { PlaneYield } from '../../src/pv/index.ts';

/** What a plane gives per kWp with a value for every step: 0 where there is no light. */
export function byStep({ dcWPerKWp, lit }: PlaneYield, steps: number): Float64Array {
  const out = new Float64Array(steps);
  let at = 0;
  for (let i = 0; i < lit.length; i += 2) for (let k = lit[i]!; k < lit[i + 1]!; k++) out[k] = dcWPerKWp[at++]!;
  if (at !== dcWPerKWp.length) throw new RangeError(`${dcWPerKWp.length} values for ${at} steps with light`);
  return out;
}
