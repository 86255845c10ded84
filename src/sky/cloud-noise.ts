import { type Chance, chance, finished, MS_PER_DAY, MS_PER_MIN, type Stages } from '../base/index.ts';
import { CLOUDS } from './cloud-numbers.ts';

/** What clouds do by the minute, whatever their number: a value per minute of daylight, 0 at night. */
export interface CloudNoise {
  /** How near the way to the sun is to being open: standard normal, of all scales from a minute to hours. */
  readonly opening: Float64Array;
  /** How hard the edges of clouds are at that time. */
  readonly sharpness: Float64Array;
  /** How bright the sky is against its mean of the hour: normal, its spread wandering around 1. */
  readonly brightness: Float64Array;
  /** How hazy the gaps are: standard normal, over an hour or so. */
  readonly haze: Float64Array;
}

/** A normal process of first order: it forgets itself with a time constant. */
class Wander {
  value: number;
  private readonly keeps: number;
  private readonly fresh: number;

  constructor(minutes: number, everyMin: number, draw: Chance) {
    this.keeps = Math.exp(-everyMin / minutes);
    this.fresh = Math.sqrt(1 - this.keeps * this.keeps);
    this.value = draw.normal();
  }

  move(draw: Chance): void {
    this.value = this.keeps * this.value + this.fresh * draw.normal();
  }
}

/** Slow processes are moved on once in so many minutes; between, they run straight. */
const SLOW_EVERY_MIN = 5;

/** Several slow processes of that kind, added up with weights. */
class SlowSum {
  private readonly ahead: Wander[];
  private from = 0;
  private rise = 0;

  constructor(minutes: readonly number[], draw: Chance) {
    this.ahead = minutes.map((one) => new Wander(one, SLOW_EVERY_MIN, draw));
  }

  /** To be called at each full stretch of minutes: moves all on, with the weights that hold over it. */
  move(weights: Float64Array, draw: Chance): void {
    let [from, to] = [0, 0];
    for (let j = 0; j < this.ahead.length; j++) {
      const one = this.ahead[j];
      if (one === undefined) continue;
      from += (weights[j] ?? 0) * one.value;
      one.move(draw);
      to += (weights[j] ?? 0) * one.value;
    }
    this.from = from;
    this.rise = to - from;
  }

  /** At a share of the stretch. */
  at(share: number): number {
    return this.from + this.rise * share;
  }
}

/**
 * Seeded noise of clouds. Every solar day has a stream of its own, so that a day looks the same whatever period it is part of.
 *
 * @param startMs     start of the first minute
 * @param cosZenith   of the sun, by the minute; 0 at night
 * @param longitudeDeg  where the solar day changes at midnight
 */
export const cloudNoise = (seed: number, startMs: number, cosZenith: Float64Array, longitudeDeg: number): CloudNoise =>
  finished(cloudNoiseInStages(seed, startMs, cosZenith, longitudeDeg));

/** Days of a stage. */
const STAGE_DAYS = 90;

/** The same in stages. */
export function* cloudNoiseInStages(
  seed: number,
  startMs: number,
  cosZenith: Float64Array,
  longitudeDeg: number,
): Stages<CloudNoise> {
  const minutes = cosZenith.length;
  const noise: CloudNoise = {
    opening: new Float64Array(minutes),
    sharpness: new Float64Array(minutes),
    brightness: new Float64Array(minutes),
    haze: new Float64Array(minutes),
  };
  const solarDay = (k: number): number => Math.floor((startMs + k * MS_PER_MIN) / MS_PER_DAY + longitudeDeg / 360);
  let first = 0;
  for (let days = 1; first < minutes; days++) {
    const day = solarDay(first);
    let end = Math.min(minutes, first + 1440);
    while (solarDay(end - 1) > day) end--;
    writeDay(noise, first, end, cosZenith, chance(seed, `clouds ${day}`));
    first = end;
    if (days % STAGE_DAYS === 0) yield;
  }
  return noise;
}

/** How much the ground is heated beyond the usual, by the cosine of the zenith: a high sun drives cumulus, a low one leaves sheets and fronts alone. */
const convectionUnder = (height: number): number => height ** 4 - 0.15;

/** The lowest sun whose slanting path is reckoned with; below, the earth's curve shortens it. */
const LOWEST = 0.17;

/**
 * How much harder the edges of clouds are than usual. Cumulus has hard edges. And a low sun looks through more of a cloud: its beam goes
 * with exp(−depth / cos z), so what is thin from below is shut from aside (Beer and Lambert; that light has two states, the more so the
 * lower the sun, is Suehrcke and McCormick's finding).
 *
 * @see suehrckeMcCormick1988
 */
const hardeningUnder = (height: number): number =>
  Math.exp(CLOUDS.hardWithSun * convectionUnder(height)) * Math.max(height, LOWEST) ** -CLOUDS.slantPower;

/** Time scales of the way to the sun: each so many times longer than the one before, from puffs to fronts. */
const SCALE_STEP = 4;
const LOG_STEP = Math.log(SCALE_STEP);
const SCALES = 5;
/** So many of them are followed minute by minute. */
const QUICK_SCALES = 2;

/**
 * How near the way to the sun is to being open: a sum of processes of many time scales, each weighted by a power of its scale, since the
 * sizes of clouds follow a power law over four orders (Wood and Field 2011). What the power is wanders: now quick puffs rule, now slow
 * sheets. The whole stays standard normal.
 *
 * @see woodField2011
 */
class ManyScales {
  private readonly puffs: Wander;
  private readonly heaps: Wander;
  private readonly slow: SlowSum;
  private readonly weights = new Float64Array(SCALES);
  private readonly slowWeights = this.weights.subarray(QUICK_SCALES);

  constructor(draw: Chance) {
    const minutes = Array.from({ length: SCALES }, (_, j) => CLOUDS.quickestMin * SCALE_STEP ** j);
    this.puffs = new Wander(minutes[0] ?? 1, 1, draw);
    this.heaps = new Wander(minutes[1] ?? 1, 1, draw);
    this.slow = new SlowSum(minutes.slice(QUICK_SCALES), draw);
  }

  /** To be called at each full stretch of minutes, with the power that holds over it. */
  moveSlow(power: number, draw: Chance): void {
    const { weights } = this;
    const rise = Math.exp(power * LOG_STEP);
    let [weight, squares] = [1, 0];
    for (let j = 0; j < SCALES; j++) {
      weights[j] = weight;
      squares += weight * weight;
      weight *= rise;
    }
    const whole = Math.sqrt(squares);
    for (let j = 0; j < SCALES; j++) weights[j] = (weights[j] ?? 0) / whole;
    this.slow.move(this.slowWeights, draw);
  }

  /** The next minute, at a share of the stretch. */
  next(share: number, draw: Chance): number {
    this.puffs.move(draw);
    this.heaps.move(draw);
    return (this.weights[0] ?? 0) * this.puffs.value + (this.weights[1] ?? 0) * this.heaps.value + this.slow.at(share);
  }
}

function writeDay(noise: CloudNoise, first: number, end: number, cosZenith: Float64Array, draw: Chance): void {
  const clouds = new ManyScales(draw);
  const bright = new SlowSum(CLOUDS.brightnessMin, draw);
  const brightWhole = Math.hypot(...CLOUDS.brightnessWeights);
  const brightWeights = Float64Array.from(CLOUDS.brightnessWeights, (weight) => weight / brightWhole);
  const slow = (minutes: number): Wander => new Wander(minutes, SLOW_EVERY_MIN, draw);
  const air = slow(CLOUDS.hazeMin);
  const [restless, hardness, unrest] = [slow(CLOUDS.moodMin), slow(CLOUDS.moodMin), slow(CLOUDS.moodMin)];
  const moods = [air, restless, hardness, unrest];
  let [sharpness, spread] = [1, 1];
  let minutes = 0;
  for (let k = first; k < end; k++) {
    const height = cosZenith[k] ?? 0;
    if (height <= 0) continue;
    const phase = minutes++ % SLOW_EVERY_MIN;
    if (phase === 0) {
      for (const wander of moods) wander.move(draw);
      clouds.moveSlow(
        CLOUDS.scalePower + CLOUDS.moodSpread * restless.value - CLOUDS.moodWithSun * convectionUnder(height),
        draw,
      );
      bright.move(brightWeights, draw);
      sharpness = CLOUDS.sharpness * Math.exp(CLOUDS.sharpnessSpread * hardness.value) * hardeningUnder(height);
      spread = Math.exp(CLOUDS.unrestSpread * limited(unrest.value, 2) - CLOUDS.unrestSpread ** 2 / 2);
    }
    const share = phase / SLOW_EVERY_MIN;
    noise.opening[k] = clouds.next(share, draw);
    noise.sharpness[k] = sharpness;
    noise.haze[k] = air.value;
    noise.brightness[k] = spread * limited(bright.at(share), 2.5);
  }
}

const limited = (value: number, most: number): number => Math.max(-most, Math.min(most, value));
