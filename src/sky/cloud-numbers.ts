/**
 * What clouds are like by the minute: a handful of numbers, fitted.
 *
 * Fitted to public one-minute measurements of the university solar station at Lyngby, Denmark (55.8 N), March and June 2017: their
 * hourly means were broken up by this model, and the numbers moved by seeded trial until charging (energy from PV, solar hours,
 * starts, phase switches at six settings), one-minute ramps and the distribution of the clear-sky index came out as with the
 * minutes themselves. September 2017 was kept for checking, and November but for `LOW_SUN` in cloud-noise.ts. No measured value is in here.
 */
export const CLOUDS = {
  /** Time constants of the way to the sun being open, minutes, and their weights; the first two are quick passages, the others sheets and fronts. */
  openingMin: [1.86, 1.97, 38.6, 188],
  openingWeights: [0.337, 0.214, 0.229, 0.902],
  /** Mood: for an hour or so quick passages or slow sheets rule. Its time constant, minutes; how far it goes (as a logarithm); how a high sun (more convection) moves it. */
  moodMin: 105,
  moodSpread: 2.78,
  moodWithSun: 3.29,
  /** Hardness of edges: slope of the S-curve, and its spread (as a logarithm). Soft ones are thin high clouds. */
  sharpness: 4.14,
  sharpnessSpread: 0.575,
  /** Beam in a gap over the strongest mean of an interval that the record shows around. */
  gapBeam: 0.886,
  /** Brightness of the sky: time constants, minutes, and weights. */
  brightnessMin: [26.2, 31.2, 87.5],
  brightnessWeights: [0.556, 0.677, 1.76],
  /** Its correlation with the opening. */
  brightWithOpening: 0.0426,
  /** Its spread (as a logarithm) under a closed cover of middling brightness, more under darker ones, and under a clear sky; the power of the beam's share between the two. */
  brightnessSpread: 0.649,
  darkerWanders: 1,
  clearSpread: 0.0146,
  clearPower: 4.25,
  /** The spread itself wanders (as a logarithm). */
  unrestSpread: 0.6,
  /** What an open way to the sun adds to the brightness (as a logarithm): under a closed cover, and by the share of the beam. */
  brightWithBeam: 0.492,
  brightWithBeamByShare: -0.455,
} as const satisfies Record<string, number | readonly number[]>;
