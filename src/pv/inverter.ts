/** Efficiency at rated power of the inverter that the curve was fitted to. */
const CURVE_EFFICIENCY = 0.9637;

/**
 * AC power of an inverter at part load (PVWatts), clipped at its rated power, 0 below what it needs itself (0.6 % of its DC rating).
 *
 * @param dcW     power from the arrays, 0 or more
 * @param ratedW  AC rating
 * @param efficiency  at rated power
 * @throws RangeError  rating or efficiency not above 0
 * @example acPowerW(50, 95, 0.95) // 47.608
 * @see dobos2014
 */
export function acPowerW(dcW: number, ratedW: number, efficiency: number): number {
  if (!(ratedW > 0)) throw new RangeError(`ratedW = ${ratedW}: must be above 0`);
  if (!(efficiency > 0)) throw new RangeError(`efficiency = ${efficiency}: must be above 0`);
  const ratedDcW = ratedW / efficiency;
  const load = dcW / ratedDcW;
  const acW = (efficiency / CURVE_EFFICIENCY) * ratedDcW * (-0.0162 * load * load + 0.9858 * load - 0.0059);
  return dcW >= ratedDcW ? ratedW : Math.min(ratedW, Math.max(0, acW));
}
