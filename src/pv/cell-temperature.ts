/** Heat that a module gives off: `u0` W/(m²·K) in still air, `u1` W·s/(m³·K) more for each m/s of wind. */
export interface Cooling {
  readonly u0: number;
  readonly u1: number;
}

/**
 * Modules with air all around, Faiman's means of seven types.
 *
 * @see faiman2008
 */
export const OPEN_RACK: Cooling = { u0: 25, u1: 6.84 };

/**
 * Modules close above a roof: Faiman's form fitted to the close-roof row of King, Boyson and Kratochvil 2004
 * (a = −2.98, b = −0.0471, cell 1 K above the back), within 4 % for winds of 0 … 8 m/s.
 *
 * @see king2004
 */
export const ROOF: Cooling = { u0: 19.1, u1: 1.15 };

/**
 * Cell temperature in steady state, Faiman's two-factor model.
 *
 * Good for half-hour means. Overstates swings within minutes of a cloud edge: the module's own heat capacity is left out.
 *
 * @param poaWPerM2  irradiance in the plane of the array, W/m², 0 or more
 * @param windMPerS  wind at module height, m/s, 0 or more
 * @returns          cell temperature, °C, never below `airC`
 * @throws RangeError  irradiance or wind negative or not a number
 * @example cellTempFaimanC(800, 20, 1, OPEN_RACK) // 45.126
 * @see faiman2008
 */
export function cellTempFaimanC(poaWPerM2: number, airC: number, windMPerS: number, cooling: Cooling): number {
  if (!(poaWPerM2 >= 0)) throw new RangeError(`poaWPerM2 = ${poaWPerM2}: must be 0 or more`);
  if (!(windMPerS >= 0)) throw new RangeError(`windMPerS = ${windMPerS}: must be 0 or more`);
  return airC + poaWPerM2 / (cooling.u0 + cooling.u1 * windMPerS);
}
