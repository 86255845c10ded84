/**
 * What clouds are like by the minute: a handful of numbers, fitted.
 *
 * Fitted to public one-minute measurements of the university solar station at Lyngby, Denmark (55.8 N), March, June and November 2017:
 * their hourly means were broken up by this model, and all numbers but `SLOW_EVERY_MIN` and the limits of light moved by seeded trial until
 * charging (energy from PV, solar hours, starts, phase switches at six settings), one-minute ramps, spells and the distribution of the
 * clear-sky index came out as with the minutes themselves: the mean of fits to March and June and to all three, then moved by hand, by
 * a fifth or so, until all three months held together. September 2017 was in no fit, but it was seen: the round numbers that the fits began
 * with came from a trial with all four months, and how sharp clouds are was weighed with its distribution in sight. No measured value is in here.
 *
 * How far a month may be off that took no part: the model was fitted to each pair of the four months and judged by the two others. Worst of
 * the twelve: energy 2.9 %, solar hours 4.1 %, starts 23 % (March, always too many: it was a calm month), switches 12 beside 32.
 * Three phases at share 1 in November, 7 kWh, left out.
 */
export const CLOUDS = {
  /** Time constants of the way to the sun being open, minutes, and their weights; the first two are quick passages, the others sheets and fronts. */
  openingMin: [1.38, 4.12, 56, 228],
  openingWeights: [0.416, 0.304, 0.208, 0.858],
  /** Mood: for an hour or so quick passages or slow sheets rule. Its time constant, minutes; how far it goes (as a logarithm); how a high sun (more convection) moves it. */
  moodMin: 93.8,
  moodSpread: 2.49,
  moodWithSun: 3.3,
  /**
   * Hardness of edges: slope of the S-curve; how convection adds to it (as a logarithm); the power of the path through a cloud that it goes
   * with; its spread (as a logarithm). Soft ones are thin high clouds.
   */
  sharpness: 3.02,
  hardWithSun: 1.4,
  slantPower: 0.79,
  sharpnessSpread: 0.576,
  /** Beam in a gap over the strongest mean of an interval that the record shows around; its spread (as a logarithm) and time constant, minutes: haze and veils come and go. */
  gapBeam: 0.893,
  gapSpread: 0.0674,
  gapMin: 106,
  /** Brightness of the sky: time constants, minutes, and weights. */
  brightnessMin: [7.99, 24, 83.6],
  brightnessWeights: [0.457, 0.669, 2.52],
  /** Its correlation with the opening. */
  brightWithOpening: 0.0882,
  /** Its spread (as a logarithm) under a closed cover of middling brightness, more under darker ones, and under a clear sky; the power of the beam's share between the two. */
  brightnessSpread: 0.616,
  darkerWanders: 1.2,
  clearSpread: 0.0111,
  clearPower: 3.51,
  /** The spread itself wanders (as a logarithm). */
  unrestSpread: 0.586,
  /** What an open way to the sun adds to the brightness (as a logarithm): under a closed cover, and by the share of the beam. */
  brightWithBeam: 0.467,
  brightWithBeamByShare: -0.606,
} as const satisfies Record<string, number | readonly number[]>;
