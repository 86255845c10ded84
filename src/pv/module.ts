import { W_PER_KW } from '../base/index.ts';

/**
 * DC power of modules for each kWp, in proportion to light, less by temperature (PVWatts).
 *
 * @param lightWPerM2  what passes the glass, W/m²
 * @returns  W per kWp, 0 or more
 * @example dcWPerKWp(800, 50, -0.0035) // 730
 * @see dobos2014
 */
export const dcWPerKWp = (lightWPerM2: number, cellC: number, temperatureCoefficientPerK: number): number =>
  Math.max(0, lightWPerM2 * (1 + temperatureCoefficientPerK * (cellC - 25)));

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
  (ratedW / W_PER_KW) * dcWPerKWp(lightWPerM2, cellC, temperatureCoefficientPerK);

/**
 * Several losses as one, in percent: what each leaves is multiplied.
 *
 * @example combinedLossPercent([10, 10]) // 19
 * @see dobos2014
 */
export const combinedLossPercent = (lossesPercent: readonly number[]): number =>
  100 * (1 - lossesPercent.reduce((left, loss) => left * (1 - loss / 100), 1));
