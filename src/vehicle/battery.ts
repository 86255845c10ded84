import { S_PER_H } from '../base/index.ts';

/**
 * Power that reaches the car's battery while it draws AC power.
 *
 * Two losses: the car's electronics take a constant power as long as it charges, and the rectifier a share of the rest. So the
 * smallest currents waste the largest part. Good for means over minutes between the minimum current and full power; leaves out
 * temperature, the taper near full, and that rectifiers convert a little worse at low current.
 *
 * @param acPowerW   power drawn at the charger, W, 0 or more
 * @param standbyW   what the car's own electronics take while it charges, W, 0 or more
 * @param conversionEfficiency  of what is left, 0 … 1
 * @returns          power into the battery, W, 0 or more
 * @example dcPowerW(1380, 180, 0.94) // 1128
 * @example dcPowerW(11040, 180, 0.94) // 10208.4
 */
export function dcPowerW(acPowerW: number, standbyW: number, conversionEfficiency: number): number {
  const afterStandbyW = acPowerW - standbyW;
  return afterStandbyW > 0 ? afterStandbyW * conversionEfficiency : 0;
}

/**
 * Energy that the battery lacks for a state of charge.
 *
 * @param soc        state of charge, 0 … 1
 * @param targetSoc  wanted, 0 … 1
 * @param capacityWh usable capacity, Wh
 * @returns          Wh into the battery, 0 where the target is already reached
 * @example energyMissingWh(0.1, 0.8, 60000) // 42000
 */
export function energyMissingWh(soc: number, targetSoc: number, capacityWh: number): number {
  return targetSoc > soc ? (targetSoc - soc) * capacityWh : 0;
}

/**
 * How long an energy takes to reach the battery at constant AC power.
 *
 * @param missingWh  energy into the battery, Wh, 0 or more
 * @returns          s; 0 for nothing missing, Infinity where standby eats all the power
 * @example chargeTimeS(1128, 1380, 180, 0.94) // 3600
 */
export function chargeTimeS(missingWh: number, acW: number, standbyW: number, conversionEfficiency: number): number {
  return missingWh > 0 ? (missingWh / dcPowerW(acW, standbyW, conversionEfficiency)) * S_PER_H : 0;
}

/**
 * Energy drawn at the charger until an energy is in the battery, at constant AC power.
 *
 * @param missingWh  energy into the battery, Wh, 0 or more
 * @returns          Wh at the charger; 0 for nothing missing, Infinity where standby eats all the power
 * @example acEnergyWh(42000, 11040, 0, 0.9) // 46666.667
 */
export function acEnergyWh(missingWh: number, acW: number, standbyW: number, conversionEfficiency: number): number {
  return (chargeTimeS(missingWh, acW, standbyW, conversionEfficiency) / S_PER_H) * acW;
}

/** What a trip took from the battery, and the kilometres and the energy that had to come from elsewhere: a public charger. */
export interface TripDemand {
  readonly usedWh: number;
  readonly missedKm: number;
  readonly publicWh: number;
}

/**
 * What a trip takes from the battery, taken off on arrival. A trip that the battery cannot cover leaves it empty, and the rest of
 * the way is driven on what a public charger gives, just enough to come home.
 *
 * @param storedWh  energy in the battery before the trip, Wh, 0 or more
 * @param km        distance, km, 0 or more
 * @param whPerKm   consumption from the battery, with its temperature factor, more than 0
 * @example tripDemand(30000, 46, 170).usedWh // 7820
 * @example tripDemand(5000, 100, 200).missedKm // 75
 * @example tripDemand(5000, 100, 200).publicWh // 15000
 */
export function tripDemand(storedWh: number, km: number, whPerKm: number): TripDemand {
  const neededWh = km * whPerKm;
  if (neededWh <= storedWh) return { usedWh: neededWh, missedKm: 0, publicWh: 0 };
  return { usedWh: storedWh, missedKm: km - storedWh / whPerKm, publicWh: neededWh - storedWh };
}

/**
 * Whether the driver plugs the car in on arrival: some do so only when it needs it.
 *
 * @param soc              state of charge on arrival, 0 … 1
 * @param plugInBelowSoc   plugged in below this; 1 or more: always
 * @example plugsIn(0.55, 0.6) // true
 * @example plugsIn(1, 1) // true
 */
export const plugsIn = (soc: number, plugInBelowSoc: number): boolean => plugInBelowSoc >= 1 || soc < plugInBelowSoc;
