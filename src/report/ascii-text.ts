import { shortNumber } from './numbers.ts';

/** Whole numbers up to this are written digit by digit: as doubles they are exact, and as text the shortest. */
const MOST_SCALED = 1e15;
const MOST_WHOLE = 2 ** 31;
const SCALES = Array.from({ length: 10 }, (_, decimals) => 10 ** decimals);
const ZERO = 0x30;
const MINUS = 0x2d;
const POINT = 0x2e;

/**
 * Text of plain letters and digits, written as bytes into memory that is used again: of a year of minutes there are 70 MB, and strings would
 * take four times as long.
 */
export class AsciiText {
  private readonly bytes: Uint8Array;
  private at = 0;

  /** @param most  bytes that it can hold; beyond that nothing is kept, so take what is there before */
  constructor(most: number) {
    this.bytes = new Uint8Array(most);
  }

  get length(): number {
    return this.at;
  }

  /** What was written since the last time, as bytes of its own. */
  take(): Uint8Array<ArrayBuffer> {
    const taken = this.bytes.slice(0, this.at);
    this.at = 0;
    return taken as Uint8Array<ArrayBuffer>;
  }

  text(text: string): void {
    for (let i = 0; i < text.length; i++) this.bytes[this.at++] = text.charCodeAt(i);
  }

  /**
   * A number as `shortNumber` writes it.
   *
   * @throws RangeError  value not finite
   */
  number(value: number, decimals: number): void {
    const scale = SCALES[decimals] ?? Number.NaN;
    const rounded = Math.round(value * scale);
    const scaled = Math.abs(rounded);
    const whole = Math.floor(scaled / scale);
    if (!(scaled < MOST_SCALED && whole < MOST_WHOLE)) {
      this.text(shortNumber(value, decimals));
      return;
    }
    if (rounded < 0) this.bytes[this.at++] = MINUS;
    this.digits(whole, 1);
    const part = scaled - whole * scale;
    if (part === 0) return;
    this.bytes[this.at++] = POINT;
    this.digits(part, decimals);
    while (this.bytes[this.at - 1] === ZERO) this.at--;
  }

  /**
   * A whole number with zeros in front.
   *
   * @param value  0 or more, below 2 ** 31
   */
  digits(value: number, least: number): void {
    let count = least;
    while (count < 10 && value >= (SCALES[count] ?? Infinity)) count++;
    let rest = value | 0;
    for (let i = this.at + count - 1; i >= this.at; i--) {
      const tenth = (rest / 10) | 0;
      this.bytes[i] = ZERO + rest - 10 * tenth;
      rest = tenth;
    }
    this.at += count;
  }
}
