/** A home battery. Power limits are AC; losses are split evenly between in and out. */
export interface HomeBattery {
  readonly capacityWh: number;
  readonly startWh: number;
  readonly maxChargeW: number;
  readonly maxDischargeW: number;
  /** Square root of the round trip: what is left after going in, or out. */
  readonly oneWayShare: number;
  /** It comes before the cars up to this energy: the whole capacity, a part, or 0 where cars come first. */
  readonly firstToWh: number;
  readonly dischargesToCar: boolean;
}

/**
 * AC power that a battery can take in, a mean over the step.
 *
 * @param storedWh  energy in it
 * @param upToWh    the energy to which it may be filled
 * @returns         W, 0 or more
 * @example chargeLimitW({ capacityWh: 8000, startWh: 0, maxChargeW: 4000, maxDischargeW: 4000, oneWayShare: 0.95, firstToWh: 8000, dischargesToCar: false }, 7981, 8000, 1 / 60) // 1200
 */
export function chargeLimitW(battery: HomeBattery, storedWh: number, upToWh: number, stepH: number): number {
  const room = Math.max(0, upToWh - storedWh) / (battery.oneWayShare * stepH);
  return Math.min(battery.maxChargeW, room);
}

/**
 * AC power that a battery can give, a mean over the step.
 *
 * @returns  W, 0 or more
 * @example dischargeLimitW({ capacityWh: 8000, startWh: 0, maxChargeW: 4000, maxDischargeW: 4000, oneWayShare: 0.95, firstToWh: 8000, dischargesToCar: false }, 20, 1 / 60) // 1140
 */
export const dischargeLimitW = (battery: HomeBattery, storedWh: number, stepH: number): number =>
  Math.min(battery.maxDischargeW, (storedWh * battery.oneWayShare) / stepH);

/**
 * Energy in a battery after a step.
 *
 * @param powerW  AC, charging counts up, discharging down
 * @returns       Wh, 0 … capacity
 */
export function storedAfterWh(battery: HomeBattery, storedWh: number, powerW: number, stepH: number): number {
  const addedWh = powerW > 0 ? powerW * battery.oneWayShare * stepH : (powerW / battery.oneWayShare) * stepH;
  return Math.min(battery.capacityWh, Math.max(0, storedWh + addedWh));
}
