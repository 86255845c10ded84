/** A day's irradiation over a clear day's: the darkest and the brightest that come (the clear sky's turbidity is a mean, so 1 can be passed). */
const DARKEST = 0.07;
const BRIGHTEST = 1.06;

/**
 * Mean of the exponential family on darkest … brightest with a given steepness.
 *
 * @see bendt1981
 */
function meanOf(steepness: number): number {
  const span = BRIGHTEST - DARKEST;
  const a = steepness * span;
  // Two terms that both grow beyond bounds: near 0 their series says more than their difference.
  if (Math.abs(a) < 1e-3) return DARKEST + span * (0.5 + a / 12);
  return DARKEST + span * (1 / (1 - Math.exp(-a)) - 1 / a);
}

/**
 * Steepness of the exponential family of daily clearness whose mean is given: the density goes with exp(steepness · index).
 *
 * Bendt and others found the family for the clearness index; here it is laid over the clear-sky index, which takes the season's
 * sun height out. Means beyond what the family reaches give the nearest one it does.
 *
 * @param mean  mean index of the month, 0 … 1
 * @example steepnessForMean(0.565) // 0
 * @see bendt1981
 */
export function steepnessForMean(mean: number): number {
  let low = -200;
  let high = 200;
  for (let round = 0; round < 60; round++) {
    const middle = (low + high) / 2;
    if (meanOf(middle) < mean) low = middle;
    else high = middle;
  }
  return Math.abs(low) < 1e-9 ? 0 : (low + high) / 2;
}

/**
 * A day's irradiation over a clear day's, from a standard normal number: quantile of the exponential family.
 *
 * @param steepness  from `steepnessForMean`
 * @param normal     standard normal; 0 gives the median
 * @example dailyClearSkyIndex(0, 0) // 0.565
 * @see bendt1981
 */
export function dailyClearSkyIndex(steepness: number, normal: number): number {
  const u = normalShareBelow(normal);
  const span = BRIGHTEST - DARKEST;
  const a = steepness * span;
  if (Math.abs(a) < 1e-6) return DARKEST + span * u;
  // ln(1 − u + u·e^a)/a, written so that neither end of the steepness overflows.
  return a > 0
    ? BRIGHTEST + (span * Math.log(u + (1 - u) * Math.exp(-a))) / a
    : DARKEST + (span * Math.log(1 - u + u * Math.exp(a))) / a;
}

/**
 * Share of a standard normal distribution below a value; error at most 7.5e-8.
 *
 * @example normalShareBelow(1) // 0.8413
 * @see abramowitzStegun1964
 */
export function normalShareBelow(x: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(x));
  const poly = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const above = (poly * Math.exp((-x * x) / 2)) / Math.sqrt(2 * Math.PI);
  return x >= 0 ? 1 - above : above;
}
