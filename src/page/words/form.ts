/** Numbers, dates and amounts of money in the reader's form. */
export interface Form {
  n(value: number, decimals?: number): string;
  /** A share of 1 as percent. */
  percent(share: number): string;
  money(value: number, currency: string, decimals?: number): string;
  /** `Monday, 21 June 2025` */
  longDay(year: number, month: number, day: number): string;
  /** `Jun` */
  monthShort(month: number): string;
  monthLong(month: number): string;
}

/** @param locale  such as `en-GB` */
export function formOf(locale: string): Form {
  const numbers = new Map<number, Intl.NumberFormat>();
  const dated = (options: Intl.DateTimeFormatOptions) => new Intl.DateTimeFormat(locale, { ...options, timeZone: 'UTC' });
  const whole = dated({ weekday: 'long', day: 'numeric', month: 'long', year: 'numeric' });
  const short = dated({ month: 'short' });
  const long = dated({ month: 'long' });
  const n = (value: number, decimals = 0): string => {
    const format =
      numbers.get(decimals) ??
      new Intl.NumberFormat(locale, { minimumFractionDigits: decimals, maximumFractionDigits: decimals });
    numbers.set(decimals, format);
    return format.format(Math.abs(value) < 0.5 * 10 ** -decimals ? 0 : value);
  };
  return {
    n,
    percent: (share) => `${n(share * 100)}\u00a0%`,
    money: (value, currency, decimals = 0) => `${n(value, decimals)}\u00a0${currency}`,
    longDay: (year, month, day) => whole.format(Date.UTC(year, month - 1, day)),
    monthShort: (month) => short.format(Date.UTC(2025, month - 1, 1)).replace('.', ''),
    monthLong: (month) => long.format(Date.UTC(2025, month - 1, 1)),
  };
}
