import { type LineFigures, lineFigures } from './lines.ts';
import type { PointPlan } from './plan.ts';
import type { DatedTally, PointColumns, Run } from './results.ts';

/** What a run means for the installation: fuse, phases, contactors, batteries, and what the driver missed. */
export interface Figures extends LineFigures {
  /** Energy into all cars, and where it came from, Wh. */
  readonly carWh: number;
  readonly carPvWh: number;
  readonly carBatteryWh: number;
  readonly carGridWh: number;
  /** PV in the cars that would have been curtailed without them, Wh. */
  readonly rescuedWh: number;
  /** Highest power of all charge points together, each with its car, VA. */
  readonly ratedVA: number;
  /** Energy out of the home battery by its capacity; null where there is none. */
  readonly batteryCycles: number | null;
  readonly missedKm: number;
  readonly points: readonly PointFigures[];
}

/** The same for one charge point. */
export interface PointFigures {
  /** On the most phases at the highest current of charger and car, VA. */
  readonly ratedVA: number;
  readonly startsPerDay: PerDay;
  /** How often the contactor closes: at each start, and once more at each phase switch. */
  readonly closingsPerDay: PerDay;
  readonly breakOffs: number;
  /** Departures within the run, where something must be in the battery by then, and those that lacked some of it, in order. */
  readonly departures: number;
  readonly missedDepartures: readonly MissedDeparture[];
}

/** A count a day: mean, 95th percentile (nearest rank: the smallest count that 95 % of the days do not exceed), and the worst day. */
export interface PerDay {
  readonly mean: number;
  readonly p95: number;
  readonly worst: number;
}

/** A departure with less in the battery than it was meant to have. */
export interface MissedDeparture {
  /** First step without the car. */
  readonly step: number;
  readonly shortWh: number;
  /** The same on the road, at the car's stated consumption. */
  readonly shortKm: number;
}

/** Less than this is not missed, Wh. */
const SAME_WH = 0.01;

/** The figures of a run; nothing of its steps is kept. */
export function figuresOf(run: Run): Figures {
  const { plan, ledger } = run;
  const { points: cars, batteryOutWh, rescuedWh } = ledger.total;
  const points = plan.points.map((point, i) => pointFigures(point, run, i));
  const total = (of: (car: (typeof cars)[number]) => number): number => cars.reduce((sum, car) => sum + of(car), 0);
  return {
    carWh: total(({ carWh }) => carWh),
    carPvWh: total(({ carPvWh }) => carPvWh),
    carBatteryWh: total(({ carBatteryWh }) => carBatteryWh),
    carGridWh: total(({ carGridWh }) => carGridWh),
    rescuedWh,
    ...lineFigures(run),
    ratedVA: points.reduce((sum, { ratedVA }) => sum + ratedVA, 0),
    batteryCycles: plan.battery && batteryOutWh / plan.battery.oneWayShare / plan.battery.capacityWh,
    missedKm: total(({ missedKm }) => missedKm),
    points,
  };
}

function pointFigures(point: PointPlan, run: Run, i: number): PointFigures {
  const { most } = point.rules;
  const ofDay = (count: (sums: DatedTally['tally']['points'][number]) => number): PerDay =>
    perDay(run.ledger.days.map(({ tally }) => count(tally.points[i]!)));
  return {
    ratedVA: most.wPerA * most.maxA,
    startsPerDay: ofDay(({ starts }) => starts),
    closingsPerDay: ofDay(({ starts, switches }) => starts + switches),
    breakOffs: run.ledger.total.points[i]!.breakOffs,
    ...departuresOf(point, run.columns.points[i]!, run.grid.steps, run.grid.stepS),
  };
}

/**
 * Mean, 95th percentile and worst of a count on each day.
 *
 * @param counts  one a day, at least one day
 * @example perDay([0, 1, 2, 5]) // { mean: 2, p95: 5, worst: 5 }
 */
export function perDay(counts: readonly number[]): PerDay {
  const sorted = Float64Array.from(counts).sort();
  const mean = sorted.reduce((sum, count) => sum + count, 0) / sorted.length;
  return { mean, p95: sorted[Math.ceil(0.95 * sorted.length) - 1]!, worst: sorted[sorted.length - 1]! };
}

/** Departures after stays of at least a step: shorter ones leave nothing to charge in. */
function departuresOf({ presence, needs, car }: PointPlan, { soc }: PointColumns, steps: number, stepS: number) {
  const missedDepartures: MissedDeparture[] = [];
  let departures = 0;
  for (let i = 0; i < presence.stayEnd.length && needs.departureWh > 0; i++) {
    const step = presence.stayEnd[i]!;
    if (step <= presence.stayStart[i]! || presence.departS[i]! > steps * stepS) continue;
    departures++;
    const shortWh = needs.departureWh - soc[step - 1]! * car.capacityWh;
    if (shortWh > SAME_WH) missedDepartures.push({ step, shortWh, shortKm: shortWh / car.whPerKm });
  }
  return { departures, missedDepartures };
}
