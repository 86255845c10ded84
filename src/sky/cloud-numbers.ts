/**
 * What clouds are like by the minute: a handful of numbers.
 *
 * They come from public one-minute measurements of the university solar station at Lyngby, Denmark (55.8 N), March, June, September and
 * November 2017. Some were read off the minutes themselves: how long an hour's restlessness and its haze last, how bright the sky is beside
 * the edges of clouds, how the light of a closed cover wanders. The others were moved by seeded trial until hourly means, broken up by
 * this model, gave the restlessness of real hours, the one-minute ramps, spells and distribution of the clear-sky index, and
 * charging (energy from PV, solar hours, starts, phase switches at six settings); then rounded. No measured value is in here.
 *
 * How far a month may be off that took no part: the trial was made without each month in turn, and the month judged by it. Worst of six
 * settings, mean of 24 seeds: energy 2.2 %, solar hours 3.4 %, starts 18 % and switches 40 for 32 in March, a calm month; at most 1.7 %, 2.6 %,
 * 14 % and 7 % (7 for 3 in November) in the others. Trials began with numbers that had seen all four months. A month is also a matter of luck: from
 * seed to seed its starts differ by 5 to 9 %, its switches by 7 to 14 %. Three phases at share 1 in November, 7 kWh, left out.
 */
export const CLOUDS = {
  /** The quickest of five time scales of the way to the sun being open, minutes; each is four times the one before. */
  quickestMin: 1.45,
  /** Their weights go with this power of the scale; it wanders, over so many minutes and with that spread, and is lower under a high sun (more convection, smaller clouds). */
  scalePower: 0.025,
  moodMin: 200,
  moodSpread: 0.66,
  moodWithSun: 1.3,
  /**
   * Hardness of edges: slope of the S-curve; how convection adds to it (as a logarithm); the power of the path through a cloud that it goes
   * with; its spread (as a logarithm). Soft ones are thin high clouds.
   */
  sharpness: 3.2,
  hardWithSun: 2.8,
  slantPower: 0.76,
  sharpnessSpread: 0.4,
  /**
   * Haze: the most of its beam that an interval and both its neighbours may lack for it to count as lasting; what else is lacking is haze by
   * a part that is normal around none, of this spread, and lasts, minutes.
   */
  hazeMost: 0.06,
  hazeSpread: 0.36,
  hazeMin: 400,
  /** Brightness of the sky: time constants, minutes, and weights. */
  brightnessMin: [8, 80],
  brightnessWeights: [0.42, 0.91],
  /** Its spread (as a logarithm) under a closed cover of middling brightness, more under darker ones, and under a clear sky; the power of the beam's share between the two. */
  brightnessSpread: 0.5,
  darkerWanders: 1.2,
  clearSpread: 0.0117,
  clearPower: 6,
  /** The spread itself wanders (as a logarithm). */
  unrestSpread: 0.58,
  /** What an open way to the sun adds to the brightness (as a logarithm): under a closed cover, and by the share of the beam. */
  brightWithBeam: 0.26,
  brightWithBeamByShare: -0.6,
  /** What the edge of a cloud adds (as a logarithm), and how far from it half of that is gone, on the scale of the opening. */
  edgeLight: 0.3,
  edgeWidth: 0.5,
} as const satisfies Record<string, number | readonly number[]>;
