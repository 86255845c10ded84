import type { ScenarioInput } from '../scenario/index.ts';
import type { Json } from './key-path.ts';

/** Values by key path. */
export type Keys = Readonly<Record<string, Json>>;

/**
 * Keys for a roof so many times as large, everything on it in proportion.
 *
 * @param factor  above 0
 */
export function roofTimes({ pv }: ScenarioInput, factor: number): Keys {
  if (pv.source === 'csv') return { 'pv.factor': pv.factor * factor };
  const arrays = pv.arrays.map(({ kWp }, i) => [`pv.arrays[${i}].kWp`, tidy(kWp * factor)] as const);
  const { ratedW } = pv.inverter;
  return { ...Object.fromEntries(arrays), ...(ratedW === undefined ? {} : { 'pv.inverter.ratedW': tidy(ratedW * factor) }) };
}

/** Power of the modules, kWp; null where PV is measured. */
export const roofKWp = ({ pv }: ScenarioInput): number | null =>
  pv.source === 'csv' ? null : pv.arrays.reduce((sum, { kWp }) => sum + kWp, 0);

/** Keys for so many times the kilometres, every weekly trip in proportion; null where the trips come from a file or there are none. */
export function mileageTimes({ chargePoints }: ScenarioInput, factor: number): Keys | null {
  const keys: Record<string, Json> = {};
  for (const [i, { usage }] of chargePoints.entries()) {
    if (usage.source !== 'weekly') continue;
    keys[`chargePoints[${i}].usage.trips`] = usage.trips.map((trip) => ({ ...trip, km: tidy(trip.km * factor) }));
    if (usage.longTrips !== undefined)
      keys[`chargePoints[${i}].usage.longTrips`] = { ...usage.longTrips, km: tidy(usage.longTrips.km * factor) };
  }
  return Object.keys(keys).length === 0 ? null : keys;
}

/** The delays at one end of the ranges in which installations are found (design page, table of defaults). */
export type Pace = 'slow' | 'quick';

const DELAYS: Readonly<Record<Pace, Keys>> = {
  slow: {
    'control.startDelayS': 300,
    'control.stopDelayS': 600,
    'control.switchUpDelayS': 900,
    'control.switchDownDelayS': 600,
    'control.switchPauseS': 300,
    'control.restartPauseS': 900,
    'control.smoothingS': 60,
  },
  quick: {
    'control.startDelayS': 60,
    'control.stopDelayS': 60,
    'control.switchUpDelayS': 60,
    'control.switchDownDelayS': 60,
    'control.switchPauseS': 10,
    'control.restartPauseS': 60,
    'control.smoothingS': 10,
  },
};
const LAG_S: Readonly<Record<Pace, number>> = { slow: 120, quick: 5 };

/** Keys for an installation whose delays all lie at the slow or the quick end. */
export const delaysAt = ({ chargePoints }: ScenarioInput, pace: Pace): Keys => ({
  ...DELAYS[pace],
  ...Object.fromEntries(chargePoints.map((_, i) => [`chargePoints[${i}].vehicle.startLagS`, LAG_S[pace]])),
});

/** Rid of the last digits that a product of decimals leaves behind. */
const tidy = (value: number): number => Number(value.toPrecision(9));
