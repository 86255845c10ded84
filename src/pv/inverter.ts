/** Efficiency at rated power of the inverter that the curve was fitted to. */
const CURVE_EFFICIENCY = 0.9637;

/** What of an inverter's curve is the same at any load. */
export interface InverterCurve {
  readonly ratedW: number;
  readonly ratedDcW: number;
  readonly scaleW: number;
}

/**
 * The curve of an inverter, for whoever asks half a million loads of it: two of three divisions are done once.
 *
 * @throws RangeError  rating or efficiency not above 0
 */
export function inverterCurve(ratedW: number, efficiency: number): InverterCurve {
  if (!(ratedW > 0)) throw new RangeError(`ratedW = ${ratedW}: must be above 0`);
  if (!(efficiency > 0)) throw new RangeError(`efficiency = ${efficiency}: must be above 0`);
  const ratedDcW = ratedW / efficiency;
  return { ratedW, ratedDcW, scaleW: (efficiency / CURVE_EFFICIENCY) * ratedDcW };
}

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
export const acPowerW = (dcW: number, ratedW: number, efficiency: number): number =>
  acOnCurveW(inverterCurve(ratedW, efficiency), dcW);

/** The same on a curve. */
export function acOnCurveW({ ratedW, ratedDcW, scaleW }: InverterCurve, dcW: number): number {
  const load = dcW / ratedDcW;
  const acW = scaleW * (-0.0162 * load * load + 0.9858 * load - 0.0059);
  return dcW >= ratedDcW ? ratedW : Math.min(ratedW, Math.max(0, acW));
}
