import { S_PER_MIN, W_PER_KW, type WallClock, WH_PER_KWH } from '../../base/index.ts';

/** How a language writes numbers, and the few words that stand inside them. */
export interface Marks {
  readonly decimal: string;
  readonly thousands: string;
  /** "and" between the last two of a list. */
  readonly and: string;
  readonly seconds: string;
  readonly minutes: string;
  readonly hours: string;
  /** Numbers 0 to 3 as words before a thing that is counted. */
  readonly counts: readonly [string, string, string, string];
  readonly phase: string;
  readonly phases: string;
  /** The quarters of the sky from north, clockwise. */
  readonly compass: readonly string[];
  /** Monday first; January first. */
  readonly weekdays: readonly string[];
  readonly shortWeekdays: readonly string[];
  readonly shortMonths: readonly string[];
  readonly date: (date: CivilDate) => string;
}

/** A day of the calendar; `month` from 1. */
export type CivilDate = Pick<WallClock, 'year' | 'month' | 'day'>;

/** Numbers, dates and lists as a language writes them. */
export interface Form extends Marks {
  /** Fixed decimals, marks between thousands. */
  fixed(value: number, decimals: number): string;
  /** At most so many decimals, and none that are zero. */
  plain(value: number, decimals: number): string;
  /** Whole numbers, but for small ones, which a decimal keeps apart. */
  brief(value: number): string;
  kw(powerW: number): string;
  kwh(energyWh: number): string;
  amps(currentA: number): string;
  /** A share of 1 as a percentage. */
  percent(share: number): string;
  /** A duration: seconds below two minutes, then minutes, from two hours on hours. */
  lasting(durationS: number): string;
  /** "two phases". */
  onPhases(n: number): string;
  listed(words: readonly string[]): string;
  /** "3 starts", "1 start". */
  counted(n: number, one: string, many: string): string;
  towards(azimuthDeg: number): string;
  /** A time of day on a 24-hour clock. */
  clock(wall: Pick<WallClock, 'hour' | 'minute' | 'second'>): string;
}

/** Puts a language's marks to use. */
export function formOf(marks: Marks): Form {
  const fixed = (value: number, decimals: number): string => fixedText(value, decimals, marks);
  const plain = (value: number, decimals: number): string => {
    const text = fixed(value, decimals);
    return decimals > 0 ? text.replace(trailing(marks.decimal), '') : text;
  };
  const power = (powerW: number, decimals: number): string => `${fixed(powerW / W_PER_KW, decimals)} kW`;
  return {
    ...marks,
    fixed,
    plain,
    brief: (value) => fixed(value, Math.abs(value) < 9.95 ? 1 : 0),
    kw: (powerW) => power(powerW, 2),
    kwh: (energyWh) => `${fixed(energyWh / WH_PER_KWH, Math.abs(energyWh) < 99_950 ? 1 : 0)} kWh`,
    amps: (currentA) => `${plain(currentA, 1)} A`,
    percent: (share) => `${fixed(100 * share, 0)} %`,
    lasting: (durationS) => lastingText(durationS, plain, marks),
    onPhases: (n) => `${marks.counts[n] ?? String(n)} ${n === 1 ? marks.phase : marks.phases}`,
    listed: (words) =>
      words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} ${marks.and} ${words[words.length - 1]}`,
    counted: (n, one, many) => `${fixed(n, 0)} ${n === 1 ? one : many}`,
    towards: (azimuthDeg) => marks.compass[Math.round(azimuthDeg / 45) % 8] ?? '',
    clock: ({ hour, minute, second }) => `${two(hour)}:${two(minute)}${second === 0 ? '' : `:${two(second)}`}`,
  };
}

function fixedText(value: number, decimals: number, { decimal, thousands }: Marks): string {
  const scale = 10 ** decimals;
  const rounded = Math.round(value * scale) / scale;
  const [whole = '', part] = rounded.toFixed(decimals).split('.');
  const marked = whole.replace(/\B(?=(\d{3})+$)/g, thousands);
  return part === undefined ? marked : `${marked}${decimal}${part}`;
}

const trailing = (decimal: string): RegExp => (decimal === '.' ? /\.?0+$/ : /,?0+$/);

function lastingText(durationS: number, plain: Form['plain'], { seconds, minutes, hours }: Marks): string {
  if (durationS < 2 * S_PER_MIN) return `${plain(durationS, 0)} ${seconds}`;
  if (durationS < 7200) return `${plain(durationS / S_PER_MIN, durationS < 600 ? 1 : 0)} ${minutes}`;
  return `${plain(durationS / 3600, 1)} ${hours}`;
}

const two = (n: number): string => (n < 10 ? `0${n}` : `${n}`);

/** Whether two days are the first and the last of one calendar year. */
export const isWholeYear = (from: CivilDate, to: CivilDate): boolean =>
  from.year === to.year && from.month === 1 && from.day === 1 && to.month === 12 && to.day === 31;
