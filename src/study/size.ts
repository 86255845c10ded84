import type { ScenarioInput } from '../scenario/index.ts';
import { type Keys, roofKWp, roofTimes } from './household.ts';
import { expectationOf } from './quantiles.ts';
import { type TrialResult, trialsOf } from './robust.ts';
import type { Ask } from './task.ts';
import type { Want } from './want.ts';
import { sound, yearsOf } from './years.ts';

/** What is sized: the roof, the home battery, or the minimum starting current (of charger and car). */
export type Dimension = 'roof' | 'battery' | 'minimum';

/** Whether the usual year must reach it, or nine years of ten. */
export type Certainty = 'usual' | 'nine-of-ten';

/** A size and what it comes to. */
export interface Sized {
  /** kWp, kWh or A. */
  readonly size: number;
  readonly value: number;
  readonly holds: boolean;
}

/** The least that reaches a wish along one dimension. */
export interface SizeAnswer {
  readonly dimension: Dimension;
  readonly unit: 'kWp' | 'kWh' | 'A';
  readonly from: number;
  readonly to: number;
  readonly step: number;
  /** The smallest roof or battery that reaches it; of minima the highest, since a low one asks more of car and charger. Null: none in range. */
  readonly found: Sized | null;
  /** The proof: one step less (for minima one more) fails. Null where the answer is the end of the range, or there is none. */
  readonly neighbour: Sized | null;
  /** What comes closest where nothing in range reaches it. */
  readonly closest: Sized;
  /** Every size looked at, in order. */
  readonly seen: readonly Sized[];
  readonly trials: readonly TrialResult[];
}

/** A dimension with its range. */
export interface SizeRange {
  readonly dimension: Dimension;
  readonly unit: 'kWp' | 'kWh' | 'A';
  readonly from: number;
  readonly to: number;
  readonly step: number;
  readonly keysAt: (size: number) => Keys;
}

/** A home battery of which only the size is asked: charge and discharge at half its capacity an hour, feeding the car too. */
const BATTERY_RATE_PER_H = 0.5;

/** The ranges in which sizes are looked for; a dimension that the scenario can not vary is left out. */
export function sizeRanges(input: ScenarioInput): SizeRange[] {
  const ranges: SizeRange[] = [];
  const kWp = roofKWp(input);
  if (kWp !== null)
    ranges.push({ dimension: 'roof', unit: 'kWp', from: 1, to: 30, step: 0.1, keysAt: (size) => roofTimes(input, size / kWp) });
  ranges.push({ dimension: 'battery', unit: 'kWh', from: 0, to: 30, step: 0.5, keysAt: (size) => batteryKeys(input, size) });
  ranges.push({ dimension: 'minimum', unit: 'A', from: 6, to: 16, step: 1, keysAt: (size) => minimumKeys(input, size) });
  return ranges;
}

function batteryKeys({ battery }: ScenarioInput, capacityKWh: number): Keys {
  if (capacityKWh === 0) return { battery: null };
  const rateW = BATTERY_RATE_PER_H * capacityKWh * 1000;
  if (battery === undefined) return { battery: { capacityKWh, maxChargeW: rateW, maxDischargeW: rateW, dischargeToCar: true } };
  return { 'battery.capacityKWh': capacityKWh, 'battery.maxChargeW': rateW, 'battery.maxDischargeW': rateW };
}

const minimumKeys = ({ chargePoints }: ScenarioInput, currentA: number): Keys =>
  Object.fromEntries(
    chargePoints.flatMap((point, i) => {
      const { charger, vehicle } = point;
      const fitting = Math.min(currentA, charger.maxCurrentA, vehicle.maxCurrentA);
      return [
        [`chargePoints[${i}].charger.minCurrentA`, 6],
        [`chargePoints[${i}].vehicle.minCurrentA`, fitting],
        ...(point.believes?.minCurrentA === undefined ? [] : [[`chargePoints[${i}].believes.minCurrentA`, fitting]]),
      ];
    }),
  );

/** Sizes looked at first, over the whole range; the stretch in which the wish is first met is then halved down to a step. */
const FIRST_LOOK = 12;

/**
 * The least size along a dimension that reaches a wish, with its neighbour that does not.
 *
 * Exact to a step where the value rises or falls with the size throughout; else the first crossing that a dozen sizes show.
 */
export async function studySize(
  input: ScenarioInput,
  range: SizeRange,
  { want, certainty, years }: { want: Want; certainty: Certainty; years: number },
  ask: Ask,
): Promise<SizeAnswer> {
  const search = new SizeSearch(range, want, certainty, years, ask);
  const found = await search.run();
  const { dimension, unit, from, to, step } = range;
  const trials: TrialResult[] = [];
  for (const { trial, keys, people } of trialsOf(input).slice(1)) {
    if (found === null) break;
    const [again] = await search.tryAt([found.size], keys, people);
    trials.push({ trial, survives: again?.holds ?? false, answer: String(again?.value) });
  }
  const seen = search.inOrder();
  return {
    dimension,
    unit,
    from,
    to,
    step,
    found,
    neighbour: found === null ? null : search.before(found.size),
    closest: seen.reduce((a, b) => (gap(b, want) < gap(a, want) ? b : a)),
    seen,
    trials,
  };
}

const gap = ({ value }: Sized, want: Want): number => (want.atLeast ? want.value - value : value - want.value);

/** Whether a value reaches a wish. */
export const reaches = (value: number, want: Want): boolean => (want.atLeast ? value >= want.value : value <= want.value);

class SizeSearch {
  /** Number of steps from the easy end (the small roof, the high minimum) to a size, and what it came to. */
  private readonly known = new Map<number, Sized>();
  private readonly steps: number;
  private readonly range: SizeRange;
  private readonly want: Want;
  private readonly certainty: Certainty;
  private readonly years: number;
  private readonly ask: Ask;

  constructor(range: SizeRange, want: Want, certainty: Certainty, years: number, ask: Ask) {
    this.range = range;
    this.want = want;
    this.certainty = certainty;
    this.years = years;
    this.ask = ask;
    this.steps = Math.round((range.to - range.from) / range.step);
  }

  async run(): Promise<Sized | null> {
    const first = Array.from({ length: FIRST_LOOK + 1 }, (_, i) => Math.round((i * this.steps) / FIRST_LOOK));
    await this.look([...new Set(first)]);
    const order = [...this.known.keys()].sort((a, b) => a - b);
    let holds = order.find((i) => this.known.get(i)?.holds);
    if (holds === undefined) return null;
    let fails = order[order.indexOf(holds) - 1] ?? -1;
    while (fails >= 0 && holds - fails > 1) {
      const middle = Math.floor((holds + fails) / 2);
      await this.look([middle]);
      if (this.known.get(middle)?.holds) holds = middle;
      else fails = middle;
    }
    return this.known.get(holds) ?? null;
  }

  /** The size a step before one that holds: it fails, or there is none. */
  before(size: number): Sized | null {
    return this.known.get(this.stepOf(size) - 1) ?? null;
  }

  inOrder(): Sized[] {
    return [...this.known.values()].sort((a, b) => a.size - b.size);
  }

  async tryAt(sizes: readonly number[], keys: Keys = {}, people = 0): Promise<Sized[]> {
    const { years, want } = this;
    const results = await this.ask(
      sizes.flatMap((size) => yearsOf(years, { ...this.range.keysAt(size), ...keys }, people)),
      { outputs: [want.output], monthly: [] },
    );
    return sizes.map((size, i) => {
      const values = results.slice(i * years, (i + 1) * years).map((result) => sound(result).values[want.output]);
      if (!values.every((value) => typeof value === 'number'))
        throw new RangeError(`want: the scenario says nothing of ${want.output}`);
      const { usual, inNineOfTen } = expectationOf(values, want.atLeast ? 'more' : 'less');
      const value = this.certainty === 'usual' ? usual : inNineOfTen;
      return { size, value, holds: reaches(value, want) };
    });
  }

  private async look(steps: readonly number[]): Promise<void> {
    const found = await this.tryAt(steps.map((i) => this.sizeAt(i)));
    steps.forEach((i, at) => {
      const sized = found[at];
      if (sized !== undefined) this.known.set(i, sized);
    });
  }

  private sizeAt(i: number): number {
    const { dimension, from, to, step } = this.range;
    return Number((dimension === 'minimum' ? to - i * step : from + i * step).toFixed(6));
  }

  private stepOf(size: number): number {
    const { dimension, from, to, step } = this.range;
    return Math.round((dimension === 'minimum' ? to - size : size - from) / step);
  }
}
