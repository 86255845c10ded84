import { finished, type Stages } from '../base/index.ts';
import type { ClearMinutes } from './clear-minutes.ts';
import type { CloudNoise } from './cloud-noise.ts';
import { CLOUDS } from './cloud-numbers.ts';

/** What clouds left of the light in each interval of so many minutes; the first begins with the first minute. */
export interface CloudTargets {
  readonly minutesEach: number;
  /** Means over the interval, W/m²: beam on the level, and diffuse. */
  readonly beamWPerM2: Float64Array;
  readonly diffuseWPerM2: Float64Array;
}

/** Light by the minute. GHI = DHI + DNI · cos z. */
export interface LightMinutes {
  readonly ghiWPerM2: Float64Array;
  readonly dniWPerM2: Float64Array;
  readonly dhiWPerM2: Float64Array;
}

/**
 * Clouds by the minute that give the light of every interval.
 *
 * The way to the sun is open by a share between 0 and 1: an S-curve over noise plus a line that runs on through the middles of the
 * intervals. The line is moved until the beam of each interval comes out. So a clear hour beside a half-clear one has its clouds at
 * the right end, a front passes once, and a half-clear hour among others like it is broken throughout. What an interval lacks of its
 * beam is partly haze and veils, which dim the gaps, and mostly clouds: even a bright hour has its short dark passages. Where the sun does not
 * climb high, hours that are alike are more often veiled: nothing there brings up a field of small clouds. Diffuse light wanders
 * about a line of its own, is dimmed by a closed cover and by a clear sky, is brightest at the edges of clouds, and is held below
 * 1.5 times a clear sky where its mean allows.
 *
 * Means are kept: beam, diffuse and global of every interval, but for what falls while the sun is down all through it, and
 * for a beam stronger than outside the atmosphere, the rest of which becomes diffuse.
 */
export const cloudMinutes = (targets: CloudTargets, clear: ClearMinutes, noise: CloudNoise): LightMinutes =>
  finished(cloudMinutesInStages(targets, clear, noise));

/** The same in stages. */
export function* cloudMinutesInStages(targets: CloudTargets, clear: ClearMinutes, noise: CloudNoise): Stages<LightMinutes> {
  const field = new CloudField(targets, clear, noise);
  field.solveOpenings();
  yield;
  field.openEvery();
  yield;
  field.solveBrightness();
  yield;
  return field.light();
}

/** Beyond these the S-curve is as good as open or shut. */
const MOST_OFFSET = 3.2;
/** Where nothing is lacking but haze, the line may go up further by so much. */
const SURELY_CLEAR_RISE = 1.5;
/** Of what an interval lacks, haze takes at least and at most so much: now and then a gap is clearer than the clearest interval around. */
const LEAST_HAZE = -0.1;
const MOST_HAZE = 0.95;
/** Three intervals that lack no more than this can be haze altogether, if the middle one is at most so much off the line between its neighbours. */
const EVEN_HAZE = 0.15;
const OFF_THE_LINE = 0.013;
const DEEP_IN_CLOUD = -9;
const MOST_SHARE = 0.995;
const LEAST_SHARE = 0.002;
const SWEEPS = 7;
/** How far the line may move in one. */
const MOST_STEP = 0.6;
/** While the line is moved, every third minute stands for its neighbours. */
const LOOKS_EVERY = 3;
const BRIGHTNESS_SWEEPS = 3;
const GAIN_SWEEPS = 2;
/** Light beyond so many times a clear sky is spread over the other minutes of the interval. */
const BRIGHTEST = 1.48;
/** From here on light is pressed together towards that. */
const BRIGHT_KNEE = 1.25;
const DARKEST = 0.03;
const LEAST_LEVEL = 0.01;

class CloudField {
  private readonly targets: CloudTargets;
  private readonly clear: ClearMinutes;
  private readonly noise: CloudNoise;
  private readonly minutes: number;
  private readonly each: number;
  private readonly intervals: number;
  /** Sums over the minutes of an interval under a clear sky: beam on the level, global. */
  private readonly clearBeam: Float64Array;
  private readonly clearGlobal: Float64Array;
  /** Share of the clear beam that each interval wants, within what the S-curve gives; and how bright its sky is. */
  private readonly share: Float64Array;
  private readonly bright: Float64Array;
  /** Beam over the clear beam of the day's air. */
  private readonly clearness: Float64Array;
  /** Highest sun, as the cosine of its zenith. */
  private readonly height: Float64Array;
  /** The two lines, at the middles of the intervals. */
  private readonly offset: Float64Array;
  private readonly most: Float64Array;
  private readonly level: Float64Array;
  /** By the minute: a line drawn out, how far inside a gap the sun stands (below 0: inside a cloud), how open that leaves its way, and how bright the sky is. */
  private readonly line: Float64Array;
  private readonly depth: Float64Array;
  private readonly open: Float64Array;
  private readonly sky: Float64Array;
  private readonly ripple: Float64Array;
  /** Of the interval that was looked at last. */
  private mean = 0;
  private slope = 0;

  constructor(targets: CloudTargets, clear: ClearMinutes, noise: CloudNoise) {
    this.targets = targets;
    this.clear = clear;
    this.noise = noise;
    this.each = targets.minutesEach;
    this.intervals = targets.beamWPerM2.length;
    this.minutes = this.intervals * this.each;
    if (clear.cosZenith.length !== this.minutes)
      throw new RangeError(`clear sky of ${clear.cosZenith.length} minutes: must have ${this.minutes}`);
    const perInterval = (): Float64Array => new Float64Array(this.intervals);
    [this.clearBeam, this.clearGlobal, this.share, this.bright] = [perInterval(), perInterval(), perInterval(), perInterval()];
    [this.offset, this.most, this.level] = [perInterval(), perInterval(), perInterval()];
    this.clearness = perInterval();
    this.height = perInterval();
    this.line = new Float64Array(this.minutes);
    this.depth = new Float64Array(this.minutes).fill(DEEP_IN_CLOUD);
    this.open = new Float64Array(this.minutes);
    this.sky = new Float64Array(this.minutes);
    this.ripple = new Float64Array(this.minutes);
    this.sumClear();
  }

  private sumClear(): void {
    const { cosZenith, beamWPerM2, globalWPerM2 } = this.clear;
    for (let i = 0; i < this.intervals; i++) {
      let [beam, global, height] = [0, 0, 0];
      for (let k = i * this.each; k < (i + 1) * this.each; k++) {
        beam += (beamWPerM2[k] ?? 0) * (cosZenith[k] ?? 0);
        global += globalWPerM2[k] ?? 0;
        height = Math.max(height, cosZenith[k] ?? 0);
      }
      this.height[i] = height;
      this.clearBeam[i] = beam;
      this.clearGlobal[i] = global;
      this.clearness[i] = beam > 0 ? ((this.targets.beamWPerM2[i] ?? 0) * this.each) / beam : 0;
      this.bright[i] = global > 0 ? ((this.targets.diffuseWPerM2[i] ?? 0) * this.each) / global : 0;
    }
    for (let i = 0; i < this.intervals; i++) {
      const index = (this.clearness[i] ?? 0) / this.gapBeam(i);
      const share = Math.min(MOST_SHARE, Math.max(LEAST_SHARE, index));
      this.share[i] = share;
      this.most[i] = MOST_OFFSET + (index > MOST_SHARE ? SURELY_CLEAR_RISE : 0);
      this.offset[i] = index > MOST_SHARE ? (this.most[i] ?? 0) : Math.max(-MOST_OFFSET, 0.55 * Math.log(share / (1 - share)));
      this.level[i] = Math.max(LEAST_LEVEL, this.bright[i] ?? 0);
    }
  }

  /**
   * How strong the beam of a gap is beside the day's clearest. Of what an interval lacks beyond lasting haze, a part is haze and veils
   * before the gaps, and the rest clouds.
   */
  private gapBeam(i: number): number {
    const [own, lasting] = [this.lacks(i, i), this.lastingHaze(i)];
    const air = this.noise.haze[i * this.each + Math.floor(this.each / 2)] ?? 0;
    const drawn =
      CLOUDS.hazeSpread * (air + this.calm(i) * (CLOUDS.veilsWhereEven * this.evenness(i) - CLOUDS.cloudsWhereUneven));
    return 1 - lasting - Math.max(LEAST_HAZE, Math.min(MOST_HAZE, drawn)) * (own - lasting);
  }

  /** How little the sun of a day stirs up: 1 where it hardly rises, 0 from the height on at which fields of small clouds come up at noon. */
  private calm(i: number): number {
    const half = Math.round(720 / this.each);
    let noon = 0;
    for (let j = Math.max(0, i - half); j <= Math.min(this.intervals - 1, i + half); j++)
      noon = Math.max(noon, this.height[j] ?? 0);
    return Math.max(0, 1 - (noon / CLOUDS.stirringHeight) ** 4);
  }

  /**
   * How much the hour around an interval is like those before and after: 1 with the same part of the clear beam, near 0 with quite another.
   * Where the hour has several intervals these tell more: they may be alike too.
   */
  private evenness(i: number): number {
    const hour = Math.max(1, Math.round(60 / this.each));
    const own = this.clearnessAround(i, hour);
    let [sum, count] = [0, 0];
    for (const j of [i - hour, i + hour]) {
      if (!this.isDay(j)) continue;
      sum += Math.abs(own - this.clearnessAround(j, hour));
      count++;
    }
    const even = count === 0 ? 0 : Math.exp(-((sum / count / CLOUDS.evenWithin) ** 2));
    return hour === 1
      ? even
      : even + CLOUDS.alsoEvenInside * Math.exp(-((this.unrestAround(i, hour, own) / CLOUDS.alikeWithin) ** 2));
  }

  /** Clearness of the hour around the middle of an interval. */
  private clearnessAround(i: number, hour: number): number {
    let [sum, weights] = [0, 0];
    this.aroundHour(i, hour, (clearness, weight) => {
      sum += weight * clearness;
      weights += weight;
    });
    return weights === 0 ? (this.clearness[i] ?? 0) : sum / weights;
  }

  /** How far the intervals of that hour are off its mean, in the mean. */
  private unrestAround(i: number, hour: number, mean: number): number {
    let [sum, weights] = [0, 0];
    this.aroundHour(i, hour, (clearness, weight) => {
      sum += weight * Math.abs(clearness - mean);
      weights += weight;
    });
    return weights === 0 ? 0 : sum / weights;
  }

  /** The intervals of the hour around one, by day: of an even number, half of the first and half of the last. */
  private aroundHour(i: number, hour: number, visit: (clearness: number, weight: number) => void): void {
    const reach = Math.floor(hour / 2);
    for (let j = i - reach; j <= i + reach; j++)
      if (this.isDay(j)) visit(this.clearness[j] ?? 0, Math.abs(j - i) * 2 === hour ? 0.5 : 1);
  }

  /** What haze takes from an interval. Haze comes and goes slowly: a little that its neighbours lack too, or more of it that lies on a line between theirs. */
  private lastingHaze(i: number): number {
    const [before, own, after] = [this.lacks(i - 1, i), this.lacks(i, i), this.lacks(i + 1, i)];
    const isEven = Math.max(before, own, after) <= EVEN_HAZE && own <= (before + after) / 2 + OFF_THE_LINE;
    return isEven ? own : Math.min(CLOUDS.hazeMost, before, own, after);
  }

  /** What the beam of an interval lacks beside the day's clearest; one without sun speaks like the other. */
  private lacks(i: number, other: number): number {
    return Math.max(0, 1 - (this.clearness[i] || (this.clearness[other] ?? 0)));
  }

  /** Enough sun in an interval to steer by. */
  private isDay(i: number): boolean {
    return (this.clearBeam[i] ?? 0) > this.each;
  }

  /** Night has no line of its own: it holds that of the nearest interval of day. */
  private holdAtNight(knots: Float64Array): void {
    for (let i = 1; i < this.intervals; i++) if (!this.isDay(i) && this.isDay(i - 1)) knots[i] = knots[i - 1] ?? 0;
    for (let i = this.intervals - 2; i >= 0; i--) if (!this.isDay(i) && this.isDay(i + 1)) knots[i] = knots[i + 1] ?? 0;
  }

  /** Draws a line through the middles of the intervals. */
  private drawLine(knots: Float64Array): void {
    this.holdAtNight(knots);
    const { each, line } = this;
    const half = each / 2;
    for (let i = 0; i < this.intervals; i++) {
      if ((this.clearGlobal[i] ?? 0) <= 0) continue;
      const here = knots[i] ?? 0;
      const rise = (here - (knots[i - 1] ?? here)) / each;
      const climb = ((knots[i + 1] ?? here) - here) / each;
      for (let m = 0; m < each; m++) {
        const from = m + 0.5 - half;
        line[i * each + m] = here + from * (from < 0 ? rise : climb);
      }
    }
  }

  /** Moves the line of openings, all intervals at once and again, towards the share that each wants. */
  solveOpenings(): void {
    const { offset, share } = this;
    for (let sweep = 0; sweep < SWEEPS; sweep++) {
      this.drawLine(offset);
      for (let i = 0; i < this.intervals; i++) {
        if (!this.isDay(i)) continue;
        const wanted = share[i] ?? 0;
        let step = -MOST_STEP;
        // Without any beam the line goes down as far as it may.
        if (wanted >= MOST_SHARE) step = MOST_STEP;
        else if (wanted > LEAST_SHARE) {
          this.meanOpening(i, 0, LOOKS_EVERY);
          step = Math.max(-MOST_STEP, Math.min(MOST_STEP, (wanted - this.mean) / Math.max(0.05, this.slope)));
        }
        offset[i] = Math.max(-MOST_OFFSET, Math.min(this.most[i] ?? MOST_OFFSET, (offset[i] ?? 0) + 0.9 * step));
      }
    }
    this.drawLine(offset);
  }

  /** Mean of the opening in an interval, weighted by the clear beam, and how it grows as the line is raised. Fills `depth` and `open` where it looks. */
  private meanOpening(i: number, raised: number, every: number): void {
    const { beamWPerM2, cosZenith } = this.clear;
    const { sharpness, opening } = this.noise;
    let [sum, growth, whole] = [0, 0, 0];
    for (let k = i * this.each; k < (i + 1) * this.each; k += every) {
      const weight = (beamWPerM2[k] ?? 0) * (cosZenith[k] ?? 0);
      if (weight <= 0) continue;
      const hard = sharpness[k] ?? 0;
      const depth = (opening[k] ?? 0) + (this.line[k] ?? 0) + raised;
      const open = 1 / (1 + Math.exp(-hard * depth));
      this.depth[k] = depth;
      this.open[k] = open;
      whole += weight;
      sum += weight * open;
      growth += weight * hard * open * (1 - open);
    }
    this.mean = whole > 0 ? sum / whole : 0;
    this.slope = whole > 0 ? growth / whole : 0;
  }

  /** What the common line could not bring, each interval corrects by a small shift of its own. */
  openEvery(): void {
    for (let i = 0; i < this.intervals; i++) {
      if ((this.clearBeam[i] ?? 0) <= 0 || (this.targets.beamWPerM2[i] ?? 0) <= 0) {
        this.open.fill(0, i * this.each, (i + 1) * this.each);
        this.depth.fill(DEEP_IN_CLOUD, i * this.each, (i + 1) * this.each);
        continue;
      }
      let raised = 0;
      for (let round = 0; round < 4; round++) {
        this.meanOpening(i, raised, 1);
        const miss = (this.share[i] ?? 0) - this.mean;
        // What is surely clear is not clouded to meet the S-curve's end.
        if ((this.share[i] ?? 0) >= MOST_SHARE && miss < 0) break;
        if (Math.abs(miss) < 2e-3) break;
        raised += Math.max(-0.5, Math.min(0.5, miss / Math.max(0.03, this.slope)));
      }
    }
  }

  /** Moves the line of brightness until the diffuse light of each interval comes out. */
  solveBrightness(): void {
    const { level, sky, line, ripple } = this;
    this.writeRipple();
    for (let sweep = 0; sweep <= BRIGHTNESS_SWEEPS; sweep++) {
      this.drawLine(level);
      for (let i = 0; i < this.intervals; i++) {
        const whole = this.clearGlobal[i] ?? 0;
        if (whole <= 0) continue;
        let sum = 0;
        for (let k = i * this.each; k < (i + 1) * this.each; k++) {
          const bright = (line[k] ?? 0) * (ripple[k] ?? 0);
          sky[k] = bright;
          sum += (this.clear.globalWPerM2[k] ?? 0) * bright;
        }
        if (sweep < BRIGHTNESS_SWEEPS)
          level[i] = Math.max(LEAST_LEVEL, (level[i] ?? 0) * (0.2 + (0.8 * (this.bright[i] ?? 0) * whole) / sum));
      }
    }
  }

  /** How far the sky of a minute is from its line: thick cover wanders most, a clear sky hardly, and the edges of clouds shine. */
  private writeRipple(): void {
    const { share, level, open, depth, line, ripple, noise } = this;
    const spread = level.map((bright, i) => {
      const cover = CLOUDS.brightnessSpread * Math.exp(-CLOUDS.darkerWanders * (Math.min(0.8, bright) - 0.35));
      return CLOUDS.clearSpread + (cover - CLOUDS.clearSpread) * (1 - (share[i] ?? 0) ** CLOUDS.clearPower);
    });
    this.drawLine(spread);
    for (let i = 0; i < this.intervals; i++) {
      if ((this.clearGlobal[i] ?? 0) <= 0) continue;
      const withBeam = CLOUDS.brightWithBeam + CLOUDS.brightWithBeamByShare * (share[i] ?? 0);
      for (let k = i * this.each; k < (i + 1) * this.each; k++) {
        const away = (depth[k] ?? 0) / CLOUDS.edgeWidth;
        const edge = CLOUDS.edgeLight / (1 + away * away);
        ripple[k] = Math.exp((line[k] ?? 0) * (noise.brightness[k] ?? 0) + withBeam * (open[k] ?? 0) + edge);
      }
    }
  }

  /** The light that comes of it, with every mean made exact. */
  light(): LightMinutes {
    const out: LightMinutes = {
      ghiWPerM2: new Float64Array(this.minutes),
      dniWPerM2: new Float64Array(this.minutes),
      dhiWPerM2: new Float64Array(this.minutes),
    };
    const gain = this.solveGains();
    for (let i = 0; i < this.intervals; i++) {
      if ((this.clearGlobal[i] ?? 0) <= 0) continue;
      const beam = this.writeBeam(out.dniWPerM2, gain, i);
      const { beamWPerM2, diffuseWPerM2 } = this.targets;
      this.writeDiffuse(out, i, ((beamWPerM2[i] ?? 0) + (diffuseWPerM2[i] ?? 0)) * this.each - beam);
    }
    return out;
  }

  /** Moves a line of gains until the beam of each interval comes out: how strong the beam is where nothing is before the sun. */
  private solveGains(): Float64Array {
    const { beamWPerM2, cosZenith } = this.clear;
    const gain = new Float64Array(this.intervals).fill(1);
    for (let sweep = 0; sweep < GAIN_SWEEPS; sweep++) {
      this.drawLine(gain);
      for (let i = 0; i < this.intervals; i++) {
        if (!this.isDay(i) || (this.targets.beamWPerM2[i] ?? 0) <= 0) continue;
        let sum = 0;
        for (let k = i * this.each; k < (i + 1) * this.each; k++)
          sum += (this.line[k] ?? 0) * (this.open[k] ?? 0) * (beamWPerM2[k] ?? 0) * (cosZenith[k] ?? 0);
        const wanted = (this.targets.beamWPerM2[i] ?? 0) * this.each;
        if (sum > 0) gain[i] = Math.max(0.2, Math.min(2, ((gain[i] ?? 1) * wanted) / sum));
      }
    }
    this.drawLine(gain);
    return this.line;
  }

  /** Beam of an interval, scaled to its mean; at most what comes in from space. Gives the sum of the beam on the level. */
  private writeBeam(dniWPerM2: Float64Array, gain: Float64Array, i: number): number {
    const { beamWPerM2, cosZenith, extraterrestrialWPerM2 } = this.clear;
    const [first, end] = [i * this.each, (i + 1) * this.each];
    let whole = 0;
    for (let k = first; k < end; k++) {
      const dni = (gain[k] ?? 0) * (this.open[k] ?? 0) * (beamWPerM2[k] ?? 0);
      dniWPerM2[k] = dni;
      whole += dni * (cosZenith[k] ?? 0);
    }
    if (whole <= 0) return 0;
    const factor = ((this.targets.beamWPerM2[i] ?? 0) * this.each) / whole;
    let sum = 0;
    for (let k = first; k < end; k++) {
      const dni = Math.min(factor * (dniWPerM2[k] ?? 0), extraterrestrialWPerM2[k] ?? 0);
      dniWPerM2[k] = dni;
      sum += dni * (cosZenith[k] ?? 0);
    }
    return sum;
  }

  /** Diffuse light of an interval, scaled to its sum, what is too bright for a minute handed to the others; then GHI. */
  private writeDiffuse({ ghiWPerM2, dniWPerM2, dhiWPerM2 }: LightMinutes, i: number, wanted: number): void {
    const { cosZenith, globalWPerM2 } = this.clear;
    const [first, end] = [i * this.each, (i + 1) * this.each];
    for (let k = first; k < end; k++) dhiWPerM2[k] = (this.sky[k] ?? 0) * (globalWPerM2[k] ?? 0);
    const most = (k: number): number => {
      const global = globalWPerM2[k] ?? 0;
      return Math.max(DARKEST * global, BRIGHTEST * global - (dniWPerM2[k] ?? 0) * (cosZenith[k] ?? 0));
    };
    scaleTo(dhiWPerM2, first, end, wanted);
    for (let k = first; k < end; k++) {
      const global = globalWPerM2[k] ?? 0;
      const beam = (dniWPerM2[k] ?? 0) * (cosZenith[k] ?? 0);
      const index = ((dhiWPerM2[k] ?? 0) + beam) / global;
      if (index > BRIGHT_KNEE) dhiWPerM2[k] = Math.max(DARKEST * global, pressed(index) * global - beam);
    }
    scaleTo(dhiWPerM2, first, end, wanted);
    for (let round = 0; round < 6; round++) {
      let over = 0;
      let below = 0;
      for (let k = first; k < end; k++) {
        const [dhi, top] = [dhiWPerM2[k] ?? 0, most(k)];
        if (dhi <= top) below += dhi;
        else {
          over += dhi - top;
          dhiWPerM2[k] = top;
        }
      }
      if (over < 1e-9 || below <= 0) break;
      const factor = 1 + over / below;
      for (let k = first; k < end; k++) if ((dhiWPerM2[k] ?? 0) < most(k)) dhiWPerM2[k] = (dhiWPerM2[k] ?? 0) * factor;
    }
    scaleTo(dhiWPerM2, first, end, wanted);
    for (let k = first; k < end; k++) ghiWPerM2[k] = (dhiWPerM2[k] ?? 0) + (dniWPerM2[k] ?? 0) * (cosZenith[k] ?? 0);
  }
}

/** An index beyond the knee, brought below the brightest. */
function pressed(index: number): number {
  const room = BRIGHTEST - BRIGHT_KNEE;
  return BRIGHT_KNEE + room * (1 - Math.exp((BRIGHT_KNEE - index) / room));
}

/** Multiplies a stretch of values so that they add up to a sum. */
function scaleTo(values: Float64Array, first: number, end: number, wanted: number): void {
  let sum = 0;
  for (let k = first; k < end; k++) sum += values[k] ?? 0;
  const factor = sum > 0 ? wanted / sum : 0;
  for (let k = first; k < end; k++) values[k] = (values[k] ?? 0) * factor;
}
