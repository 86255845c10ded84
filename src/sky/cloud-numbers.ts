/**
 * What clouds are like by the minute: a handful of numbers.
 *
 * They come from public one-minute measurements of the university solar station at Lyngby, Denmark (55.8 N), March, June, September and
 * November 2017. Some were read off the minutes themselves: how long an hour's restlessness and its haze last, how bright the sky is beside
 * the edges of clouds, how the light of a closed cover wanders. The others were moved by seeded trial until hourly means, broken up by
 * this model, gave the restlessness of real hours, the one-minute ramps, spells and distribution of the clear-sky index, and
 * charging (energy from PV, solar hours, starts, phase switches at six settings); then rounded. No measured value is in here.
 *
 * Veils come from what hourly means say of their minutes: hours of March and September that are like the hours beside them wander by 0.06 to
 * 0.10 of a clear sky a minute, a model without veils by 0.12; those of June wander as much as it does.
 *
 * How far a month may be off that took no part: the trial was made without each month in turn, and the month judged by it. Worst of six
 * settings, mean of 24 seeds: energy 2.3 % (September), solar hours 3.1 % (November), starts 16 % and switches 16 % (March); ramps of the 95th
 * percentile 27 % in March, 21 % in November. Trials began with numbers that had seen all four months. On 40 seeds that no trial had seen, all
 * four months: energy 2.1 %, hours 2.9 %, starts 15 %, switches 18 %, ramps 21 %. A month is also a matter of luck: from seed to seed its
 * starts differ by 5 to 9 %, its switches by 7 to 14 %. Three phases at share 1 in November, 7 kWh, left out. From half and quarter hours, mean
 * of 20 seeds: energy 1.8 %, hours 3.0 %, starts 14 %, switches 20 %, ramps 23 %; from ten minutes ramps of September 36 %.
 */
export const CLOUDS = {
  /** The quickest of five time scales of the way to the sun being open, minutes; each is four times the one before. */
  quickestMin: 1.49,
  /** Their weights go with this power of the scale; it wanders, over so many minutes and with that spread, and is lower under a high sun (more convection, smaller clouds). */
  scalePower: 0.003,
  moodMin: 200,
  moodSpread: 0.647,
  moodWithSun: 1.3,
  /**
   * Hardness of edges: slope of the S-curve; how convection adds to it (as a logarithm); the power of the path through a cloud that it goes
   * with; its spread (as a logarithm). Soft ones are thin high clouds.
   */
  sharpness: 3.48,
  hardWithSun: 2.75,
  slantPower: 0.76,
  sharpnessSpread: 0.4,
  /**
   * Haze: the most of its beam that an interval and both its neighbours may lack for it to count as lasting; what else is lacking is haze by
   * a part that is normal around none, of this spread, and lasts, minutes.
   */
  hazeMost: 0.06,
  hazeSpread: 0.384,
  hazeMin: 400,
  /**
   * Under a calm sky: what is added to that part where hours are alike (on the scale of its spread), and taken off where they are not; how much
   * of the clear beam they may differ by to count as alike; and the height of the noon sun (cosine of its zenith) from which on no sky is calm.
   */
  veilsWhereEven: 2.35,
  cloudsWhereUneven: 0.36,
  evenWithin: 0.15,
  stirringHeight: 0.84,
  /** Where an hour comes in several intervals: how much more even it counts if these are alike, and what they may be off their mean for that. */
  alsoEvenInside: 0.5,
  alikeWithin: 0.07,
  /** Brightness of the sky: time constants, minutes, and weights. */
  brightnessMin: [8, 80],
  brightnessWeights: [0.42, 0.91],
  /** Its spread (as a logarithm) under a closed cover of middling brightness, more under darker ones, and under a clear sky; the power of the beam's share between the two. */
  brightnessSpread: 0.5,
  darkerWanders: 1.2,
  clearSpread: 0.0115,
  clearPower: 6,
  /** The spread itself wanders (as a logarithm). */
  unrestSpread: 0.56,
  /** What an open way to the sun adds to the brightness (as a logarithm): under a closed cover, and by the share of the beam. */
  brightWithBeam: 0.267,
  brightWithBeamByShare: -0.59,
  /** What the edge of a cloud adds (as a logarithm), and how far from it half of that is gone, on the scale of the opening. */
  edgeLight: 0.3,
  edgeWidth: 0.5,
} as const satisfies Record<string, number | readonly number[]>;
