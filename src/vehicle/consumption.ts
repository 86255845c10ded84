/** Air at which consumption is stated, where neither heating nor cooling is on, °C. */
const MILD_FROM_C = 20;
const MILD_TO_C = 25;
/** Air of the published cold test (20 °F), °C. */
export const COLD_TEST_C = -6.7;
/** More consumption for each K above `MILD_TO_C`. From memory. */
const COOLING_PER_K = 0.01;
/** Colder than this nothing is known; the factor stays, °C. */
const COLDEST_C = -25;

/**
 * Consumption at an air temperature against mild weather: a straight line from 1 at 20 °C to `coldFactor` at -6.7 °C and on to -25 °C,
 * level to 25 °C, then 1 % for each K.
 *
 * The published measurement of a car with a resistive heater at -6.7 °C against 22 °C: 2.0 in town, 1.4 on the highway, 1.25 at speed,
 * 1.1 without the heater. So 1.5 is a mix of trips, 1.25 a car with a heat pump on long ones, 2 short trips in town.
 *
 * @param airC        °C
 * @param coldFactor  at -6.7 °C, 1 or more; 1: temperature plays no part in the cold
 * @example consumptionFactor(-6.7, 1.5) // 1.5
 * @example consumptionFactor(22, 1.5) // 1
 * @example consumptionFactor(35, 1.5) // 1.1
 * @see anl2013cold
 */
export function consumptionFactor(airC: number, coldFactor: number): number {
  return airC > MILD_TO_C ? 1 + COOLING_PER_K * (airC - MILD_TO_C) : 1 + (coldFactor - 1) * coldShare(airC);
}

/**
 * How much heating is wanted at an air temperature: 0 from 20 °C on, 1 at -6.7 °C.
 *
 * @example coldShare(6.65) // 0.5
 */
export const coldShare = (airC: number): number =>
  Math.max(0, (MILD_FROM_C - Math.max(COLDEST_C, airC)) / (MILD_FROM_C - COLD_TEST_C));

/** What a trip takes from the battery, by the air it is driven in. */
export interface Consumption {
  /** In mild weather, out of the battery, Wh per km. */
  readonly whPerKm: number;
  /** At -6.7 °C against 20 °C. */
  readonly coldFactor: number;
  /** Heating before the departure at -6.7 °C, in proportion at other temperatures, out of the battery, Wh; 0: none. */
  readonly preheatWh: number;
}

/**
 * Mean consumption of a trip from the battery, heating before its departure included.
 *
 * @param km    more than 0
 * @param airC  mean air of the trip, °C
 * @returns     Wh per km
 * @example tripWhPerKm({ whPerKm: 170, coldFactor: 1.5, preheatWh: 1000 }, 50, -6.7) // 275
 * @example tripWhPerKm({ whPerKm: 170, coldFactor: 1.5, preheatWh: 1000 }, 50, 20) // 170
 * @see anl2013cold
 */
export function tripWhPerKm({ whPerKm, coldFactor, preheatWh }: Consumption, km: number, airC: number): number {
  const preheat = km > 0 ? (preheatWh * Math.min(1.5, coldShare(airC))) / km : 0;
  return whPerKm * consumptionFactor(airC, coldFactor) + preheat;
}
