import { instantOfWall, MS_PER_DAY, MS_PER_H, MS_PER_MIN, MS_PER_S, offsetSAt, type Zone } from '../base/index.ts';
import { dayMsFrom } from './time-text.ts';

/** How the times of a file are written. */
export type CsvClock =
  /** Each carries its own offset. */
  | { readonly kind: 'offset' }
  /** None does: one offset for all. */
  | { readonly kind: 'fixed'; readonly offsetS: number }
  /** None does: the wall clock of a zone. */
  | { readonly kind: 'wall'; readonly zone: Zone };

/** Why a time cannot be read. */
export type TimeTrouble = 'form' | 'no-such-day' | 'lacks-offset' | 'has-offset' | 'left-out-hour';

/** The clock that a checked key means: `offset`, `local`, `+01:00`. */
export function clockOf(key: string, zone: Zone): CsvClock {
  if (key === 'offset') return { kind: 'offset' };
  if (key === 'local') return { kind: 'wall', zone };
  return { kind: 'fixed', offsetS: offsetMinutes(key, 0, key.length) * 60 };
}

/**
 * Reads the times of one column, row after row: ISO 8601 to the minute or finer, `T` or a space between day and time.
 *
 * In the hour that autumn repeats, a wall clock's times are taken as the first pass until they step back, then as the second.
 */
export class TimeReader {
  /** Why the last call gave NaN. */
  trouble: TimeTrouble = 'form';
  private readonly clock: CsvClock;
  private lastMs = -Infinity;
  private date = -1;
  private dayMs = Number.NaN;
  /** Offset of the whole day, or NaN where it changes on or beside it. */
  private dayOffsetS = Number.NaN;

  constructor(clock: CsvClock) {
    this.clock = clock;
  }

  /** The instant written in `text` from `start` to before `end`, UTC ms; NaN, with `trouble` set, where there is none. */
  read(text: string, start: number, end: number): number {
    const wallMs = this.wallOf(text, start, end);
    if (Number.isNaN(wallMs)) return wallMs;
    const offsetAt = this.offsetStart(text, start, end);
    const atMs = offsetAt < end ? this.withOffset(text, offsetAt, end, wallMs) : this.withoutOffset(wallMs);
    if (!Number.isNaN(atMs)) this.lastMs = atMs;
    return atMs;
  }

  /** Day and time as written, as if they were UTC. */
  private wallOf(text: string, start: number, end: number): number {
    if (end - start < 16 || !hasForm(text, start)) return this.fail('form');
    const date = digits(text, start, 4) * 10_000 + digits(text, start + 5, 2) * 100 + digits(text, start + 8, 2);
    if (date !== this.date) this.turnTo(date);
    const hour = digits(text, start + 11, 2);
    const minute = digits(text, start + 14, 2);
    const second = text.charCodeAt(start + 16) === COLON && end - start >= 19 ? digits(text, start + 17, 2) : 0;
    if (!(hour < 24 && minute < 60 && second < 60)) return this.fail('form');
    if (Number.isNaN(this.dayMs)) return this.fail('no-such-day');
    return this.dayMs + hour * MS_PER_H + minute * MS_PER_MIN + second * MS_PER_S;
  }

  private turnTo(date: number): void {
    this.date = date;
    this.dayMs = dayMsFrom(Math.floor(date / 10_000), Math.floor(date / 100) % 100, date % 100) ?? Number.NaN;
    if (this.clock.kind !== 'wall') return;
    const before = offsetSAt(this.clock.zone, this.dayMs - MS_PER_DAY);
    this.dayOffsetS = offsetSAt(this.clock.zone, this.dayMs + 2 * MS_PER_DAY) === before ? before : Number.NaN;
  }

  /** Where the offset begins: after the minutes, seconds and their fraction. */
  private offsetStart(text: string, start: number, end: number): number {
    let at = start + 16;
    if (text.charCodeAt(at) === COLON) at += 3;
    if (text.charCodeAt(at) === POINT) {
      at++;
      while (at < end && isDigit(text.charCodeAt(at))) at++;
    }
    return Math.min(at, end);
  }

  private withOffset(text: string, at: number, end: number, wallMs: number): number {
    const isZ = (text[at] === 'Z' || text[at] === 'z') && end - at === 1;
    const minutes = isZ ? 0 : offsetMinutes(text, at, end);
    if (Number.isNaN(minutes)) return this.fail('form');
    return this.clock.kind === 'offset' ? wallMs - minutes * MS_PER_MIN : this.fail('has-offset');
  }

  private withoutOffset(wallMs: number): number {
    if (this.clock.kind === 'offset') return this.fail('lacks-offset');
    if (this.clock.kind === 'fixed') return wallMs - this.clock.offsetS * MS_PER_S;
    return Number.isNaN(this.dayOffsetS) ? this.onDayOfChange(this.clock.zone, wallMs) : wallMs - this.dayOffsetS * MS_PER_S;
  }

  private onDayOfChange(zone: Zone, wallMs: number): number {
    const first = instantOfWall(zone, this.dayMs, (wallMs - this.dayMs) / MS_PER_S);
    if (first + offsetSAt(zone, first) * MS_PER_S !== wallMs) return this.fail('left-out-hour');
    if (first > this.lastMs) return first;
    const second = wallMs - offsetSAt(zone, wallMs + MS_PER_DAY) * MS_PER_S;
    return second + offsetSAt(zone, second) * MS_PER_S === wallMs ? second : first;
  }

  private fail(trouble: TimeTrouble): number {
    this.trouble = trouble;
    return Number.NaN;
  }
}

const COLON = 58;
const POINT = 46;
const isDigit = (code: number): boolean => code >= 48 && code <= 57;

/** `dddd-dd-dd?dd:dd` from `start`, the sign in the middle a `T` or a space. */
function hasForm(text: string, start: number): boolean {
  const between = text.charCodeAt(start + 10);
  return (
    text.charCodeAt(start + 4) === 45 &&
    text.charCodeAt(start + 7) === 45 &&
    (between === 84 || between === 32 || between === 116) &&
    text.charCodeAt(start + 13) === COLON
  );
}

/** A number of so many digits; NaN where something else stands among them. */
function digits(text: string, start: number, count: number): number {
  let value = 0;
  for (let i = start; i < start + count; i++) {
    const code = text.charCodeAt(i);
    if (!isDigit(code)) return Number.NaN;
    value = value * 10 + code - 48;
  }
  return value;
}

/** Minutes of `+hh:mm`, `+hhmm` or `+hh`; NaN for anything else. */
function offsetMinutes(text: string, start: number, end: number): number {
  const parts = /^([+-])(\d{2})(?::?(\d{2}))?$/.exec(text.slice(start, end));
  if (parts === null) return Number.NaN;
  const minutes = Number(parts[2]) * 60 + Number(parts[3] ?? 0);
  return minutes > 15 * 60 ? Number.NaN : parts[1] === '-' ? -minutes : minutes;
}
