import { MS_PER_S, type TimeGrid } from '../base/index.ts';
import type { Plan, PointPlan, Profiles, Run } from '../simulate/index.ts';
import { at } from './available.ts';
import { storedWh } from './events.ts';

/** Whole days of a run: the first, and the one after the last, from 0. */
export interface DayRange {
  readonly firstDay: number;
  readonly endDay: number;
}

/** All days of a run. */
export const allDays = ({ grid }: Pick<Run, 'grid'>): DayRange => ({ firstDay: 0, endDay: grid.dayMs.length });

/** Steps that a range of days covers: the first, and the one after the last. */
export const stepsOfDays = ({ grid }: Pick<Run, 'grid'>, { firstDay, endDay }: DayRange): [from: number, to: number] => [
  at(grid.dayStart, firstDay),
  at(grid.dayStart, endDay),
];

/**
 * The plan of a few days of a run, or of the same days under another plan: it begins with what was in the batteries of the run on that
 * morning, so that a change of the household shows what it does on these days, not what it did in the weeks before.
 *
 * Counts and pauses that run across the first midnight are forgotten.
 *
 * @param plan  the run's own plan or a variant of it, over the run's whole grid
 */
export function planOfDays(plan: Plan, run: Run, days: DayRange): Plan {
  const [from, to] = stepsOfDays(run, days);
  return {
    ...plan,
    grid: gridOfDays(plan.grid, days),
    dimmedToW: plan.dimmedToW === null ? null : plan.dimmedToW.subarray(from, to),
    battery: plan.battery === null ? null : { ...plan.battery, startWh: batteryWh(plan, run, from) },
    points: plan.points.map((point, i) => pointOfDays(point, run, i, from, to)),
  };
}

/** The profiles of the same days. */
export function profilesOfDays(profiles: Profiles, run: Pick<Run, 'grid'>, days: DayRange): Profiles {
  const [from, to] = stepsOfDays(run, days);
  const [one, two, three] = profiles.loadByPhaseW;
  return {
    pvW: profiles.pvW.subarray(from, to),
    loadW: profiles.loadW.subarray(from, to),
    loadByPhaseW: [one.subarray(from, to), two.subarray(from, to), three.subarray(from, to)],
  };
}

function gridOfDays(grid: TimeGrid, { firstDay, endDay }: DayRange): TimeGrid {
  const from = at(grid.dayStart, firstDay);
  const dayStart = grid.dayStart.slice(firstDay, endDay + 1).map((step) => step - from);
  return {
    ...grid,
    startMs: grid.startMs + from * grid.stepS * MS_PER_S,
    steps: at(dayStart, endDay - firstDay),
    dayStart,
    dayMs: grid.dayMs.slice(firstDay, endDay),
  };
}

/** What the home battery held on that morning, as the same share of the capacity. A battery that the run did not have starts afresh. */
function batteryWh(plan: Plan, run: Run, from: number): number {
  const { battery } = plan;
  if (battery === null) return 0;
  if (run.plan.battery === null || from === 0) return battery.startWh;
  return at(run.columns.batterySoc, from - 1) * battery.capacityWh;
}

function pointOfDays(point: PointPlan, run: Run, i: number, from: number, to: number): PointPlan {
  const { stayStart, stayEnd, km, departS } = point.presence;
  const rows = [...stayStart.keys()].filter((j) => {
    const [start, end] = [at(stayStart, j), at(stayEnd, j)];
    return start < to && (end > from || start >= from);
  });
  const began = (j: number): boolean => at(stayStart, j) < from;
  return {
    ...point,
    car: { ...point.car, startWh: storedWh(run, i, from - 1) },
    presence: {
      ...point.presence,
      ...(Object.fromEntries(
        Object.entries(point.presence).map(([name, values]) => [name, rows.map((j) => at(values as Float64Array, j))]),
      ) as object),
      stayStart: Int32Array.from(rows, (j) => Math.max(0, at(stayStart, j) - from)),
      stayEnd: Int32Array.from(rows, (j) => Math.min(to, at(stayEnd, j)) - from),
      km: Float64Array.from(rows, (j) => (began(j) ? 0 : at(km, j))),
      departS: Float64Array.from(rows, (j) => at(departS, j) - from * run.grid.stepS),
    },
  };
}
