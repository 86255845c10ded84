import { S_PER_H } from '../base/index.ts';
import { reaches, type StateName, stateName } from '../charging/index.ts';
import type { Run } from '../simulate/index.ts';
import { at, houseOnPhaseW, houseW, type PointSurplus } from './available.ts';

/**
 * Where a step of a run falls, for one charge point: the first of these that applies. `dark`: the roof gives nothing. `charging`: power
 * flows. `short`: too little surplus for the lowest threshold. `delay`: proving, resting, waking, switching. `held`: a limit.
 * `refused`: the car takes nothing of what is offered.
 */
export const LINKS = ['dark', 'charging', 'short', 'away', 'full', 'delay', 'held', 'refused'] as const;
/** One of them. */
export type LinkName = (typeof LINKS)[number];

/** What a step counts in each link, in whole numbers, so that links add up exactly however they are put together. */
export interface LinkSum {
  steps: number;
  /** PV of the roof, what of it the house took itself, and what of it went into this car, mW summed over the steps. */
  pvMw: number;
  houseMw: number;
  carMw: number;
  /** Steps times the part of the car's power that came from PV, and from the home battery, in millionths. */
  pvParts: number;
  batteryParts: number;
}

/** The sums of all links over a stretch of time. */
export interface Chain {
  readonly stepS: number;
  readonly links: Readonly<Record<LinkName, LinkSum>>;
}

const LINK_OF: Record<StateName, LinkName> = {
  away: 'away',
  full: 'full',
  short: 'delay',
  proving: 'delay',
  resting: 'delay',
  waking: 'delay',
  switching: 'delay',
  surplus: 'charging',
  topped: 'charging',
  ceiling: 'charging',
  bridging: 'charging',
  must: 'charging',
  'at-once': 'charging',
  'held-fuse': 'held',
  'held-imbalance': 'held',
  'held-contract': 'held',
  'held-dimmed': 'held',
  refusing: 'refused',
  'gave-up': 'refused',
};

/** Where a step of a charge point falls. */
export function linkOf(run: Run, point: number, { leastW }: PointSurplus, k: number): LinkName {
  const car = run.columns.points[point];
  const rules = run.plan.points[point]?.rules;
  if (car === undefined || rules === undefined) throw new RangeError(`point = ${point}: no such charge point`);
  if (at(run.columns.pvW, k) <= 0) return 'dark';
  if (at(car.powerW, k) > 0) return 'charging';
  if (!reaches(at(leastW, k), rules.least.thresholdW)) return 'short';
  return LINK_OF[stateName(at(car.state, k))];
}

/** Where the hours and the PV energy of a stretch of time went, for one charge point. */
export function chainOf(run: Run, point: number, surplus: PointSurplus, fromStep: number, toStep: number): Chain {
  const links = emptyLinks();
  for (let k = fromStep; k < toStep; k++) addStep(links[linkOf(run, point, surplus, k)], run, point, k);
  return { stepS: run.grid.stepS, links };
}

/** Chains of stretches put together. */
export function sumOfChains(chains: readonly Chain[]): Chain {
  const links = emptyLinks();
  for (const chain of chains) {
    for (const name of LINKS) {
      for (const key of SUM_KEYS) links[name][key] += chain.links[name][key];
    }
  }
  return { stepS: chains[0]?.stepS ?? 0, links };
}

const SUM_KEYS = ['steps', 'pvMw', 'houseMw', 'carMw', 'pvParts', 'batteryParts'] as const;
const emptySum = (): LinkSum => ({ steps: 0, pvMw: 0, houseMw: 0, carMw: 0, pvParts: 0, batteryParts: 0 });
const emptyLinks = (): Record<LinkName, LinkSum> => ({
  dark: emptySum(),
  charging: emptySum(),
  short: emptySum(),
  away: emptySum(),
  full: emptySum(),
  delay: emptySum(),
  held: emptySum(),
  refused: emptySum(),
});

function addStep(sum: LinkSum, run: Run, point: number, k: number): void {
  const car = run.columns.points[point];
  const pvMw = milli(at(run.columns.pvW, k));
  const carMw = milli(at(car?.pvW, k));
  sum.steps++;
  sum.pvMw += pvMw;
  sum.carMw += carMw;
  // Rounding must not let the house and the car take more than there is.
  sum.houseMw += Math.min(milli(houseFromPvW(run, k)), pvMw - carMw);
  const powerW = at(car?.powerW, k);
  if (powerW === 0) return;
  sum.pvParts += Math.round((1e6 * at(car?.pvW, k)) / powerW);
  sum.batteryParts += Math.round((1e6 * at(car?.batteryW, k)) / powerW);
}

const milli = (powerW: number): number => Math.round(1000 * powerW);

/** PV that the house takes as it is made, W; phase by phase where the meter counts so. */
function houseFromPvW(run: Run, k: number): number {
  const { plan, columns } = run;
  if (!plan.perPhase) return Math.min(at(columns.pvW, k), at(houseW(run), k));
  let sumW = 0;
  for (let p = 0; p < 3; p++) sumW += Math.min((plan.pvShare[p] ?? 0) * at(columns.pvW, k), houseOnPhaseW(run, p, k));
  return sumW;
}

/** A row of the chain as people read it: hours, and kWh of PV. `less` rows are taken off, the others are what is left. */
export interface ChainRow {
  readonly name: RowName;
  readonly less: boolean;
  readonly hours: number;
  readonly energyWh: number;
}

/** The rows of a chain. */
export type RowName =
  | 'daylight'
  | 'house'
  | 'short'
  | 'away'
  | 'full'
  | 'delay'
  | 'held'
  | 'refused'
  | 'charging'
  | 'grid-part'
  | 'battery-part'
  | 'left-over'
  | 'solar';

/**
 * A chain as rows from the hours of daylight down to the solar charging hours, and from the roof's energy down to what of it went into
 * the car. Each row that is taken off leaves the next.
 */
export function rowsOfChain({ stepS, links }: Chain): ChainRow[] {
  const hour = stepS / S_PER_H;
  const wh = (mw: number): number => (mw / 1000) * hour;
  const lit = LINKS.filter((name) => name !== 'dark');
  const sum = (key: (typeof SUM_KEYS)[number]): number => lit.reduce((total, name) => total + links[name][key], 0);
  const spare = (name: LinkName): number => links[name].pvMw - links[name].houseMw;
  const { charging } = links;
  const row = (name: RowName, less: boolean, steps: number, mw: number): ChainRow => ({
    name,
    less,
    hours: steps * hour,
    energyWh: wh(mw),
  });
  const gridParts = charging.steps * 1e6 - charging.pvParts - charging.batteryParts;
  return [
    row('daylight', false, sum('steps'), sum('pvMw')),
    row('house', true, 0, sum('houseMw')),
    ...(['short', 'away', 'full', 'delay', 'held', 'refused'] as const).map((name) =>
      row(name, true, links[name].steps, spare(name)),
    ),
    row('charging', false, charging.steps, spare('charging')),
    row('grid-part', true, gridParts / 1e6, 0),
    row('battery-part', true, charging.batteryParts / 1e6, 0),
    row('left-over', true, 0, spare('charging') - charging.carMw),
    row('solar', false, charging.pvParts / 1e6, charging.carMw),
  ];
}
