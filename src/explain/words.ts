import { W_PER_KW } from '../base/index.ts';

/**
 * A power in kilowatts, for people.
 *
 * @example kw(1380) // '1.38 kW'
 */
export const kw = (powerW: number): string => `${(powerW / W_PER_KW).toFixed(2)} kW`;

/** A current, for people: no decimals that say nothing. */
export const amps = (currentA: number): string => `${plain(currentA, 1)} A`;

/** A number with at most so many decimals, and none that are zero. */
export const plain = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)));

/** A duration, for people: seconds below two minutes, then minutes. */
export const lasting = (durationS: number): string => {
  if (durationS < 120) return `${plain(durationS, 0)} s`;
  return `${plain(durationS / 60, 1)} min`;
};

const COUNTS = ['no', 'one', 'two', 'three'];

/** "one phase", "two phases", "three phases". */
export const phasesInWords = (n: number): string => `${COUNTS[n] ?? n} ${n === 1 ? 'phase' : 'phases'}`;

/** Words of a list with commas and an "and". */
export const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`;

const COMPASS = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'];

/** The quarter of the sky that an azimuth from north looks to. */
export const compass = (azimuthDeg: number): string => COMPASS[Math.round(azimuthDeg / 45) % 8] ?? 'north';
