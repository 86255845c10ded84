import type { PlaneLight } from '../../src/pv/index.ts';

/** Light and warmth of a plane with a value for every step: 0 where there is no light. */
export function byStep({ lightWPerM2, cellC, lit }: PlaneLight, steps: number): Pick<PlaneLight, 'lightWPerM2' | 'cellC'> {
  const out = { lightWPerM2: new Float64Array(steps), cellC: new Float64Array(steps) };
  let at = 0;
  for (let i = 0; i < lit.length; i += 2) {
    for (let k = lit[i]!; k < lit[i + 1]!; k++, at++) {
      out.lightWPerM2[k] = lightWPerM2[at]!;
      out.cellC[k] = cellC[at]!;
    }
  }
  if (at !== lightWPerM2.length || at !== cellC.length)
    throw new RangeError(`${lightWPerM2.length} values for ${at} steps with light`);
  return out;
}
