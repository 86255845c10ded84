/**
 * What a car must have in its battery whatever the sun does (rule 11): a floor, and enough for the next departure. Energies in Wh into
 * the battery, neither above the target at which charging ends; 0 asks for nothing.
 */
export interface Needs {
  readonly floorWh: number;
  readonly departureWh: number;
  /** Power into the battery at the highest current of charger and vehicle on the most phases, W. */
  readonly highestStoredW: number;
  /** Lag and pause that a start may still cost, always both, s. */
  readonly delayS: number;
}

/** Part of the charging time that is kept in hand before a departure. */
const TIME_IN_HAND = 1.1;

/**
 * The energy that must be charged for now, Wh; 0 where nothing must.
 *
 * It begins below the floor, or when the time left to the departure is short, and ends when that energy is in: it does not flicker.
 *
 * @param mustWh     what had to be charged for in the step before, 0 at a plug-in
 * @param storedWh   energy in the battery now
 * @param timeLeftS  until the departure, s; Infinity where none is known
 * @example mustChargeForWh({ floorWh: 5000, departureWh: 0, highestStoredW: 3290, delayS: 120 }, 0, 4000, Infinity) // 5000
 * @example mustChargeForWh({ floorWh: 0, departureWh: 13290, highestStoredW: 3290, delayS: 120 }, 0, 10000, 4080) // 13290
 * @example mustChargeForWh({ floorWh: 0, departureWh: 13290, highestStoredW: 3290, delayS: 120 }, 0, 10000, 4081) // 0
 */
export function mustChargeForWh(needs: Needs, mustWh: number, storedWh: number, timeLeftS: number): number {
  let forWh = mustWh;
  if (storedWh < needs.floorWh && needs.floorWh > forWh) forWh = needs.floorWh;
  const missingWh = needs.departureWh - storedWh;
  if (missingWh > 0 && needs.departureWh > forWh) {
    if (timeLeftS <= mustStartS(needs, storedWh)) forWh = needs.departureWh;
  }
  return storedWh >= forWh ? 0 : forWh;
}

/**
 * How long before a departure charging for it must begin with so much in the battery.
 *
 * @param storedWh  energy in the battery
 * @returns         s; -Infinity where nothing is missing
 * @example mustStartS({ floorWh: 0, departureWh: 13290, highestStoredW: 3290, delayS: 120 }, 10000) // 4080
 */
export function mustStartS(needs: Needs, storedWh: number): number {
  const missingWh = needs.departureWh - storedWh;
  return missingWh > 0 ? TIME_IN_HAND * ((missingWh / needs.highestStoredW) * 3600) + needs.delayS : -Infinity;
}
