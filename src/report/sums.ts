import { addPoint, emptyPointTally, type PointTally, type Tally } from '../simulate/index.ts';

/** All charge points of a tally together: energies, hours, counts and kilometres added up. */
export function allPoints(tally: Pick<Tally, 'points'>): PointTally {
  const sum = emptyPointTally();
  for (const point of tally.points) addPoint(sum, point);
  return sum;
}

/**
 * The part of the energy into the car that came from PV; 0 where nothing was charged.
 *
 * @returns  share, 0 … 1
 */
export const solarShare = (point: PointTally): number => (point.carWh > 0 ? point.carPvWh / point.carWh : 0);
