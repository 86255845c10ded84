import type { Scenario } from '../scenario/index.ts';

/** A published method: its key in data/SOURCES.md, and its source in one line. */
export interface MethodSource {
  readonly key: string;
  readonly source: string;
}

const SUN: readonly MethodSource[] = [
  { key: 'meeus1998', source: 'Meeus 1998, Astronomical Algorithms' },
  { key: 'erbs1982', source: 'Erbs, Klein, Duffie 1982, Solar Energy 28' },
];
const ROOF: readonly MethodSource[] = [
  { key: 'perez1990', source: 'Perez, Ineichen, Seals, Michalsky, Stewart 1990, Solar Energy 44' },
  { key: 'faiman2008', source: 'Faiman 2008, Progress in Photovoltaics 16' },
  { key: 'dobos2014', source: 'Dobos 2014, NREL/TP-6A20-62641' },
];
const CHARGING: readonly MethodSource[] = [{ key: 'iec61851', source: 'IEC 61851-1:2017, Annex A' }];

/** Sources of the published methods that a run of a scenario stands on. */
export const methodSources = ({ pv, household }: Scenario): MethodSource[] => [
  ...CHARGING,
  ...(pv.kind === 'arrays' ? [...SUN, ...ROOF] : []),
  ...(household.kind === 'profile' ? [{ key: 'vdew1999', source: 'VDEW 1999, Repräsentative VDEW-Lastprofile' }] : []),
];
