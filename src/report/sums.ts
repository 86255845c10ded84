import type { PointTally, Tally } from '../simulate/index.ts';

const NOTHING: PointTally = {
  carWh: 0,
  carPvWh: 0,
  carBatteryWh: 0,
  carGridWh: 0,
  storedWh: 0,
  storedPvWh: 0,
  solarChargingH: 0,
  chargingH: 0,
  starts: 0,
  stalls: 0,
  switches: 0,
  holds: 0,
  breakOffs: 0,
  drivenKm: 0,
  pvKm: 0,
  missedKm: 0,
  publicWh: 0,
};

/** All charge points of a tally together: energies, hours, counts and kilometres added up. */
export function allPoints(tally: Pick<Tally, 'points'>): PointTally {
  const sum = { ...NOTHING };
  for (const point of tally.points) {
    for (const key of Object.keys(NOTHING) as (keyof PointTally)[]) sum[key] += point[key];
  }
  return sum;
}

/**
 * The part of the energy into the car that came from PV; 0 where nothing was charged.
 *
 * @returns  share, 0 … 1
 */
export const solarShare = (point: PointTally): number => (point.carWh > 0 ? point.carPvWh / point.carWh : 0);
