import { type Chance, chance, MS_PER_S, S_PER_H, S_PER_MIN } from '../base/index.ts';
import { hourOf } from './draws.ts';
import type { PhaseLoads } from './synthetic.ts';

/** A load known as means over intervals longer than a minute. */
export interface CoarseLoad {
  /** Start of the first interval, UTC ms. */
  readonly startMs: number;
  /** Length of an interval, a whole number of minutes, s. */
  readonly intervalS: number;
  /** Mean of each interval, W, 0 or more. */
  readonly meanW: Float64Array;
}

/** A kettle, a ring of the hob, an oven's heater, a washing machine's, a pump or tool: power, minutes, how often. Common practice. */
const PULSES = [
  { powerW: 2100, minutes: 3, weight: 5 },
  { powerW: 1800, minutes: 6, weight: 4 },
  { powerW: 2300, minutes: 2, weight: 4 },
  { powerW: 2000, minutes: 14, weight: 4 },
  { powerW: 1100, minutes: 12, weight: 3 },
  { powerW: 1000, minutes: 4, weight: 3 },
  { powerW: 600, minutes: 15, weight: 5 },
] as const;
const WEIGHTS = PULSES.map(({ weight }) => weight);
/** Up to so much above the quietest interval nearby is lamps, screens and compressors, W; of what is more this part is pulses. Set by eye. */
const EVEN_W = 150;
const PULSE_SHARE = 0.9;
/** The quietest interval is looked for so far on either side. */
const QUIET_REACH_S = 4 * S_PER_H;
/** Tries to find room for a pulse, and pulses tried for an interval. */
const PLACES = 3;
const MOST_PULSES = 200;

/**
 * A coarse load with the spikes of a real house: minutes that keep the energy of every interval.
 *
 * What an interval takes above the quietest one within four hours is broken up into pulses of ordinary appliances, each on one
 * phase; the rest is spread evenly. Good for surplus statistics (starts, stalls, self-consumption) from quarter-hour and hourly
 * meters; the minute in which a spike falls is invented. Interval by interval seeded by its own instant, so a part of a series is
 * that part but for the first and last four hours, where the quietest interval is looked for among fewer.
 *
 * @param shares  part of the load on building phases 1, 2, 3: of the even rest exactly, of pulses on average; adds up to 1
 * @param seed    whole number, 0 or more
 * @returns       a value per minute of the series and phase, W, 0 or more
 * @throws RangeError  an interval that is no whole number of minutes
 */
export function withSpikes(load: CoarseLoad, shares: readonly [number, number, number], seed: number): PhaseLoads {
  const perInterval = load.intervalS / S_PER_MIN;
  if (!(Number.isInteger(perInterval) && perInterval >= 1)) throw new RangeError(`intervalS = ${load.intervalS}: whole minutes`);
  const { meanW } = load;
  const quietW = quietestNearby(meanW, Math.ceil(QUIET_REACH_S / load.intervalS));
  const minutes = (): Float64Array => new Float64Array(meanW.length * perInterval);
  const loads: PhaseLoads = [minutes(), minutes(), minutes()];
  for (let i = 0; i < meanW.length; i++) {
    const mean = meanW[i] ?? 0;
    const luck = chance(seed, `house/spikes/${load.startMs + i * load.intervalS * MS_PER_S}`);
    const from = i * perInterval;
    const pulsesW = PULSE_SHARE * (mean - (quietW[i] ?? 0) - EVEN_W);
    const pulseWmin = addPulses(loads, from, perInterval, pulsesW * perInterval, shares, luck);
    const restW = mean - pulseWmin / perInterval;
    for (const [phase, toW] of loads.entries()) {
      const evenW = restW * (shares[phase] ?? 0);
      for (let m = from; m < from + perInterval; m++) toW[m] = (toW[m] ?? 0) + evenW;
    }
  }
  return loads;
}

/** The smallest value within `reach` places on either side. */
function quietestNearby(values: Float64Array, reach: number): Float64Array {
  return values.map((_, i) => {
    let least = Infinity;
    const last = Math.min(values.length - 1, i + reach);
    for (let k = Math.max(0, i - reach); k <= last; k++) least = Math.min(least, values[k] ?? Infinity);
    return least;
  });
}

/** Fills an interval with pulses until no more of them fit into the energy. Returns what they take, W·min. */
function addPulses(
  loads: PhaseLoads,
  from: number,
  length: number,
  energyWmin: number,
  shares: readonly number[],
  luck: Chance,
): number {
  let left = energyWmin;
  for (let n = 0; n < MOST_PULSES && left > 0; n++) {
    const pulse = PULSES[hourOf(luck, WEIGHTS)] ?? PULSES[0];
    const powerW = pulse.powerW * (0.9 + 0.2 * luck.uniform());
    const minutes = Math.min(length, Math.floor(left / powerW), Math.ceil(pulse.minutes * (0.6 + 0.8 * luck.uniform())));
    // Most often the last one does not fit; what is left goes to the even rest.
    if (minutes < 1) break;
    const toW = loads[hourOf(luck, shares)] ?? loads[0];
    const start = from + roomFor(loads, from, length, minutes, luck);
    for (let m = start; m < start + minutes; m++) toW[m] = (toW[m] ?? 0) + powerW;
    left -= powerW * minutes;
  }
  return energyWmin > 0 ? energyWmin - left : 0;
}

/** A minute at which a pulse begins: of a few by chance the one with the least going on. */
function roomFor(loads: PhaseLoads, from: number, length: number, minutes: number, luck: Chance): number {
  let best = 0;
  let bestW = Infinity;
  for (let n = 0; n < PLACES; n++) {
    const start = Math.floor(luck.uniform() * (length - minutes + 1));
    let busyW = 0;
    for (let m = from + start; m < from + start + minutes; m++)
      busyW += (loads[0][m] ?? 0) + (loads[1][m] ?? 0) + (loads[2][m] ?? 0);
    if (busyW >= bestW) continue;
    best = start;
    bestW = busyW;
  }
  return best;
}
