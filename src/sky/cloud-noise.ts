import { type Chance, chance, MS_PER_DAY, MS_PER_MIN } from '../base/index.ts';
import { CLOUDS } from './cloud-numbers.ts';

/** What clouds do by the minute, whatever their number: a value per minute of daylight, 0 at night. */
export interface CloudNoise {
  /** How near the way to the sun is to being open: standard normal, of all scales from a minute to hours. */
  readonly opening: Float64Array;
  /** How hard the edges of clouds are at that time. */
  readonly sharpness: Float64Array;
  /** How bright the sky is against its mean of the hour: normal, its spread wandering around 1. */
  readonly brightness: Float64Array;
  /** How clear the air in gaps is against the day's clearest: standard normal, over hours. */
  readonly gap: Float64Array;
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

/** A process of that kind whose values are asked for minute by minute. */
class SlowWander {
  private readonly ahead: Wander;
  private from: number;

  constructor(minutes: number, draw: Chance) {
    this.ahead = new Wander(minutes, SLOW_EVERY_MIN, draw);
    this.from = this.ahead.value;
    this.ahead.move(draw);
  }

  /** To be called at each full stretch of minutes. */
  move(draw: Chance): void {
    this.from = this.ahead.value;
    this.ahead.move(draw);
  }

  at(share: number): number {
    return this.from + (this.ahead.value - this.from) * share;
  }
}

/**
 * Seeded noise of clouds. Every solar day has a stream of its own, so that a day looks the same whatever period it is part of.
 *
 * @param startMs     start of the first minute
 * @param cosZenith   of the sun, by the minute; 0 at night
 * @param longitudeDeg  where the solar day changes at midnight
 */
export function cloudNoise(seed: number, startMs: number, cosZenith: Float64Array, longitudeDeg: number): CloudNoise {
  const minutes = cosZenith.length;
  const noise: CloudNoise = {
    opening: new Float64Array(minutes),
    sharpness: new Float64Array(minutes),
    brightness: new Float64Array(minutes),
    gap: new Float64Array(minutes),
  };
  const solarDay = (k: number): number => Math.floor((startMs + k * MS_PER_MIN) / MS_PER_DAY + longitudeDeg / 360);
  let first = 0;
  while (first < minutes) {
    const day = solarDay(first);
    let end = Math.min(minutes, first + 1440);
    while (solarDay(end - 1) > day) end--;
    writeDay(noise, first, end, cosZenith, chance(seed, `clouds ${day}`));
    first = end;
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

function writeDay(noise: CloudNoise, first: number, end: number, cosZenith: Float64Array, draw: Chance): void {
  const [quickMin, passingMin, sheetMin, frontMin] = CLOUDS.openingMin;
  const [w0, w1, w2, w3] = CLOUDS.openingWeights;
  const [v0, v1, v2] = CLOUDS.brightnessWeights;
  const [quick, passing] = [new Wander(quickMin, 1, draw), new Wander(passingMin, 1, draw)];
  const slow = (minutes: number): SlowWander => new SlowWander(minutes, draw);
  const [sheet, front] = [slow(sheetMin), slow(frontMin)];
  const [bright, brighter, brightest] = [
    slow(CLOUDS.brightnessMin[0]),
    slow(CLOUDS.brightnessMin[1]),
    slow(CLOUDS.brightnessMin[2]),
  ];
  const air = slow(CLOUDS.gapMin);
  const [restless, hardness, unrest] = [slow(CLOUDS.moodMin), slow(CLOUDS.moodMin), slow(CLOUDS.moodMin)];
  const all = [sheet, front, air, bright, brighter, brightest, restless, hardness, unrest];
  const brightScale = Math.sqrt(1 - CLOUDS.brightWithOpening ** 2) / Math.hypot(v0, v1, v2);
  let [mood, sharpness, spread, gap] = [1, 1, 1, 0];
  let minutes = 0;
  for (let k = first; k < end; k++) {
    const height = cosZenith[k] ?? 0;
    if (height <= 0) continue;
    const phase = minutes++ % SLOW_EVERY_MIN;
    if (phase === 0) {
      for (const wander of all) wander.move(draw);
      gap = air.at(0);
      mood = Math.exp(CLOUDS.moodSpread * (restless.at(0) + CLOUDS.moodWithSun * convectionUnder(height)));
      sharpness = CLOUDS.sharpness * Math.exp(CLOUDS.sharpnessSpread * hardness.at(0)) * hardeningUnder(height);
      spread = Math.exp(CLOUDS.unrestSpread * Math.max(-2, Math.min(2, unrest.at(0))) - CLOUDS.unrestSpread ** 2 / 2);
    }
    quick.move(draw);
    passing.move(draw);
    const share = phase / SLOW_EVERY_MIN;
    // The mood decides whether quick passages or slow sheets rule; the whole stays standard normal.
    const [a, b] = [w0 * mood, w1 * mood];
    const whole = a * quick.value + b * passing.value + w2 * sheet.at(share) + w3 * front.at(share);
    const opening = whole / Math.sqrt(a * a + b * b + w2 * w2 + w3 * w3);
    const own = v0 * bright.at(share) + v1 * brighter.at(share) + v2 * brightest.at(share);
    noise.opening[k] = opening;
    noise.sharpness[k] = sharpness;
    noise.gap[k] = gap;
    noise.brightness[k] = spread * Math.max(-2.5, Math.min(2.5, CLOUDS.brightWithOpening * opening + brightScale * own));
  }
}
