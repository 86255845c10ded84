import { type Checked, failed, type Issue, MS_PER_DAY, passed, S_PER_MIN, type TimeGrid } from '../base/index.ts';
import { foundText } from './issue-text.ts';
import { type CsvSource, readPricesCsv } from './measured.ts';
import type { Price, Tariff } from './scenario.ts';
import { WEEKDAYS } from './schema/common.ts';
import type { ScenarioInput } from './schema.ts';
import { windowOf } from './supply.ts';

type TariffInput = NonNullable<ScenarioInput['tariff']>;
type PriceInput = TariffInput['importPerKWh'];
type BandInput = Extract<PriceInput, readonly unknown[]>[number];
type Path = readonly (string | number)[];

/** Keys of a tariff that hold a price over time. */
export const PRICE_KEYS = ['importPerKWh', 'exportPerKWh'] as const;

/**
 * Prices in the core's form; those in files are read.
 *
 * @param csv  a file with what the scenario says about it
 */
export function tariffOf(
  tariff: TariffInput,
  grid: TimeGrid,
  csv: (path: Path, section: { file: string; clock: string }) => CsvSource,
): Checked<Tariff> {
  const [importPrice, exportPrice] = PRICE_KEYS.map((key) =>
    priceOf(tariff[key], (section) => csv(['tariff', key, 'file'], section), grid),
  );
  if (!importPrice?.ok || !exportPrice?.ok)
    return failed([importPrice, exportPrice].flatMap((part) => (part?.ok === false ? part.issues : [])));
  const { currency, publicPerKWh = null, settlementMin } = tariff;
  const settlementS = settlementMin * S_PER_MIN;
  const whole = { currency, importPrice: importPrice.value, exportPrice: exportPrice.value, publicPerKWh, settlementS };
  return passed(whole, [...importPrice.warnings, ...exportPrice.warnings, ...perMWhWarnings(whole)]);
}

function priceOf(
  price: PriceInput,
  csv: (section: { file: string; clock: string }) => CsvSource,
  grid: TimeGrid,
): Checked<Price> {
  if (typeof price === 'number') return passed({ kind: 'flat', perKWh: price });
  if (Array.isArray(price))
    return passed({ kind: 'bands', bands: price.map((band) => ({ ...windowOf(band), perKWh: band.price })) });
  const series = readPricesCsv(csv(price), grid);
  return series.ok ? passed({ kind: 'measured', series: series.value }, series.warnings) : series;
}

/** Currencies of which a kWh costs far less than 2, and a MWh far more. */
const DEAR_CURRENCIES = ['CHF', 'EUR', 'GBP', 'USD'];

/** Exchanges trade by the MWh: a file from there, unchanged, makes every kWh a thousand times as dear. */
function perMWhWarnings({ currency, importPrice, exportPrice }: Tariff): Issue[] {
  if (!DEAR_CURRENCIES.includes(currency)) return [];
  return [importPrice, exportPrice].flatMap((price, i) => {
    if (price.kind !== 'measured') return [];
    const { file, columns } = price.series;
    const mean = columns.perKWh.reduce((sum, perKWh) => sum + perKWh, 0) / columns.perKWh.length;
    if (Math.abs(mean) < 2) return [];
    const problem = `The prices in ${file} are ${Number(mean.toPrecision(3))} ${currency} on average, which looks like the price of a MWh.`;
    const fix = 'divide the prices in the file by 1000 if they are per MWh.';
    return [
      {
        code: 'price-per-mwh',
        path: ['tariff', PRICE_KEYS[i] ?? ''],
        found: file,
        problem,
        allowed: 'per kWh, as the key says',
        fix,
      },
    ];
  });
}

/** What does not fit together in a tariff: bands that leave a moment open or hold at once, and a settlement that the meter or the steps forbid. */
export function tariffIssues({ tariff, grid, period }: Partial<ScenarioInput>): Issue[] {
  if (tariff === undefined) return [];
  const bands = PRICE_KEYS.flatMap((key) => {
    const price = tariff[key];
    return Array.isArray(price) ? bandIssues(price, ['tariff', key]) : [];
  });
  return [...bands, ...settlementIssues(tariff, grid, period)];
}

function settlementIssues(
  { settlementMin }: TariffInput,
  grid: ScenarioInput['grid'] | undefined,
  period: ScenarioInput['period'] | undefined,
): Issue[] {
  const base = { path: ['tariff', 'settlementMin'], found: `${settlementMin}` };
  if (settlementMin > 0 && grid?.metering === 'per-phase') {
    const problem =
      'A meter that counts each phase for itself keeps import and export apart; nothing is settled against each other.';
    return [
      {
        ...base,
        code: 'settlement-per-phase',
        problem,
        allowed: '0, or grid.metering: net',
        fix: 'remove the line, or correct grid.metering.',
      },
    ];
  }
  const stepS = period?.stepS ?? S_PER_MIN;
  const settlementS = settlementMin * S_PER_MIN;
  if (settlementS <= stepS || settlementS % stepS === 0) return [];
  const problem = `${settlementMin} min are no whole number of steps of ${stepS} s.`;
  return [
    {
      ...base,
      code: 'settlement-across-steps',
      problem,
      allowed: 'whole steps, or 0',
      fix: 'write another period.stepS, such as 60.',
    },
  ];
}

const MIN_PER_DAY = 1440;

/** A day of a month as bands see it: its own weekday and month, and the month of the day before, from which a band may still run. */
interface KindOfDay {
  readonly weekday: number;
  readonly month: number;
  readonly monthBefore: number;
}

/** Every kind of day there is: each weekday in the middle of a month, and as the first of one. */
const KINDS_OF_DAY: readonly KindOfDay[] = Array.from({ length: 12 * 7 * 2 }, (_, i) => {
  const month = (i % 12) + 1;
  const weekday = Math.floor(i / 12) % 7;
  return { weekday, month, monthBefore: i < 12 * 7 ? month : ((month + 10) % 12) + 1 };
});

/** The first moment without a price, and each pair of bands that hold at once, once. */
function bandIssues(bands: readonly BandInput[], path: Path): Issue[] {
  const windows = bands.map(windowOf);
  const edgesMin = [...new Set([0, ...windows.flatMap(({ fromS, toS }) => [fromS / S_PER_MIN, toS / S_PER_MIN])])].sort(
    (a, b) => a - b,
  );
  const overlaps = new Map<number, Issue>();
  let gap: Issue | null = null;
  for (const day of KINDS_OF_DAY) {
    edgesMin.forEach((fromMin, e) => {
      const [first, second] = windows.flatMap((window, i) => (holdsOn(window, day, fromMin * S_PER_MIN) ? [i] : []));
      const moment = momentText(day, fromMin, edgesMin[e + 1] ?? MIN_PER_DAY);
      if (first === undefined) gap ??= gapIssue(moment, path);
      else if (second !== undefined && !overlaps.has(second))
        overlaps.set(second, overlapIssue(bands, first, second, moment, path));
    });
  }
  return gap === null ? [...overlaps.values()] : [gap, ...overlaps.values()];
}

/** Whether a window holds at a second of such a day, begun on it or on the day before. */
function holdsOn({ weekdays, months, fromS, toS }: ReturnType<typeof windowOf>, day: KindOfDay, atS: number): boolean {
  const overNight = toS <= fromS;
  if (weekdays.includes(day.weekday) && months.includes(day.month) && atS >= fromS && (overNight || atS < toS)) return true;
  return overNight && weekdays.includes((day.weekday + 6) % 7) && months.includes(day.monthBefore) && atS < toS;
}

function momentText({ weekday, month, monthBefore }: KindOfDay, fromMin: number, toMin: number): string {
  const when = monthBefore === month ? `in ${MONTH_NAMES[month - 1]}` : `when it is the first of ${MONTH_NAMES[month - 1]}`;
  return `on ${WEEKDAYS[weekday]} from ${clockText(fromMin)} to ${clockText(toMin)} ${when}`;
}

const MONTH_NAMES = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];
const clockText = (minutes: number): string => new Date(minutes * (MS_PER_DAY / MIN_PER_DAY)).toISOString().slice(11, 16);

const gapIssue = (moment: string, path: Path): Issue => ({
  code: 'bands-leave-gap',
  path,
  found: '',
  problem: `No band has a price ${moment}.`,
  allowed: 'bands that cover every minute of every week, each once',
  fix: 'add a band, or let one beside it run longer; one over midnight belongs to the day and month in which it begins.',
});

function overlapIssue(bands: readonly BandInput[], first: number, second: number, moment: string, path: Path): Issue {
  const problem = `Two bands hold ${moment}: this one, and number ${first + 1} of the list, from ${bands[first]?.from}.`;
  const fix = 'correct the times, days or months of one of the two.';
  return {
    code: 'bands-overlap',
    path: [...path, second, 'from'],
    found: foundText(bands[second]?.from),
    problem,
    allowed: 'bands that cover every minute of every week, each once',
    fix,
  };
}
