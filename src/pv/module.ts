/**
 * DC power of modules in proportion to light, less by temperature (PVWatts).
 *
 * Good for crystalline modules above 200 W/m²; in dim light real ones lose some percent more.
 *
 * @param ratedW  power at 1000 W/m² and 25 °C
 * @param lightWPerM2  what passes the glass, W/m²
 * @param cellC   cell temperature
 * @param temperatureCoefficientPerK  negative: power falls with heat
 * @returns  W, 0 or more
 * @example dcPowerW(5000, 800, 50, -0.0035) // 3650
 * @see dobos2014
 */
export const dcPowerW = (ratedW: number, lightWPerM2: number, cellC: number, temperatureCoefficientPerK: number): number =>
  Math.max(0, (ratedW * lightWPerM2 * (1 + temperatureCoefficientPerK * (cellC - 25))) / 1000);

/**
 * Several losses as one, in percent: what each leaves is multiplied.
 *
 * @example combinedLossPercent([10, 10]) // 19
 * @see dobos2014
 */
export const combinedLossPercent = (lossesPercent: readonly number[]): number =>
  100 * (1 - lossesPercent.reduce((left, loss) => left * (1 - loss / 100), 1));
