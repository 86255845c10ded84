/** 10 to the power of its index. Up to 22 these are exact, so that one division rounds correctly. */
const POWERS = Array.from({ length: 23 }, (_, n) => 10 ** n);

/**
 * The number written in `text` from `start` to before `end`; NaN where there is none. Digits with an optional sign, decimals and
 * exponent; no thousands marks, no infinity, no words. Gives the same as `Number`, several times faster for short decimals.
 *
 * @param decimalCode  character code of the decimal mark
 */
export function numberAt(text: string, start: number, end: number, decimalCode: number): number {
  let at = start;
  const sign = text.charCodeAt(at);
  if (sign === 45 || sign === 43) at++;
  let mantissa = 0;
  let digits = 0;
  let decimals = -1;
  for (; at < end; at++) {
    const code = text.charCodeAt(at);
    if (code >= 48 && code <= 57) {
      mantissa = mantissa * 10 + code - 48;
      digits++;
      if (decimals >= 0) decimals++;
    } else if (code === decimalCode && decimals < 0) decimals = 0;
    else break;
  }
  if (at < end || digits > 15) return slowly(text.slice(start, end), decimalCode);
  if (digits === 0) return Number.NaN;
  const value = decimals > 0 ? mantissa / (POWERS[decimals] ?? Number.NaN) : mantissa;
  return sign === 45 ? -value : value;
}

/** No number needs more characters; and the pattern below takes hours for millions of digits. */
const MOST_CHARS = 400;

function slowly(written: string, decimalCode: number): number {
  if (written.length > MOST_CHARS) return Number.NaN;
  const plain = decimalCode === 46 ? written : written.replace(String.fromCharCode(decimalCode), '.');
  const value = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?$/.test(plain) ? Number(plain) : Number.NaN;
  return Number.isFinite(value) ? value : Number.NaN;
}
