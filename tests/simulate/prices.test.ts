import { expect, test } from 'vitest';
import { type TimeGrid, timeGrid, UTC, type Zone } from '../../src/base/index.ts';
import type { Price, PriceBand, Tariff } from '../../src/scenario/index.ts';
import { pricesOf } from '../../src/simulate/index.ts';

const HOUR = 3600;
const ALL_DAYS = [0, 1, 2, 3, 4, 5, 6];
const ALL_MONTHS = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];

const band = (fromH: number, toH: number, perKWh: number, rest: Partial<PriceBand> = {}): PriceBand => ({
  fromS: fromH * HOUR,
  toS: toH * HOUR,
  perKWh,
  weekdays: ALL_DAYS,
  months: ALL_MONTHS,
  ...rest,
});

function importOn(importPrice: Price, grid: TimeGrid): number[] {
  const tariff: Tariff = {
    currency: 'EUR',
    importPrice,
    exportPrice: { kind: 'flat', perKWh: -0.01 },
    publicPerKWh: null,
    settlementS: 0,
  };
  const prices = pricesOf(tariff, grid);
  expect(prices.exportPerKWh.every((price) => price === -0.01)).toBe(true);
  return [...prices.importPerKWh];
}

/** Local date as `Date.UTC`. */
const day = (month: number, date: number): number => Date.UTC(2025, month - 1, date);
const times = (count: number, price: number): number[] => Array.from({ length: count }, () => price);

test('prices: one price at all times, negative ones too', () => {
  expect(importOn({ kind: 'flat', perKWh: -0.05 }, timeGrid(day(6, 2), 1, HOUR, UTC))).toEqual(times(24, -0.05));
});

test('prices: bands by the clock, one of them over midnight', () => {
  const bands = [band(22, 6, 0.2), band(6, 22, 0.3)];
  const expected = [...times(6, 0.2), ...times(16, 0.3), ...times(2, 0.2)];
  expect(importOn({ kind: 'bands', bands }, timeGrid(day(6, 2), 2, HOUR, UTC))).toEqual([...expected, ...expected]);
});

test('prices: a band over midnight belongs to the day on which it begins', () => {
  // Friday 6 June and Saturday 7 June: the night that begins on Friday is dear until Saturday 6:00.
  const bands = [band(22, 6, 0.9, { weekdays: [4] }), band(22, 6, 0.1, { weekdays: [0, 1, 2, 3, 5, 6] }), band(6, 22, 0.5)];
  const expected = [...times(6, 0.1), ...times(16, 0.5), ...times(8, 0.9), ...times(16, 0.5), ...times(2, 0.1)];
  expect(importOn({ kind: 'bands', bands }, timeGrid(day(6, 6), 2, HOUR, UTC))).toEqual(expected);
});

test('prices: bands by month', () => {
  const bands = [band(0, 0, 0.4, { months: [1, 2, 3, 4, 5] }), band(0, 0, 0.2, { months: [6, 7, 8, 9, 10, 11, 12] })];
  const expected = [...times(24, 0.4), ...times(24, 0.2)];
  expect(importOn({ kind: 'bands', bands }, timeGrid(day(5, 31), 2, HOUR, UTC))).toEqual(expected);
});

// On 30 March 2025 the clocks of Vienna jump from 2:00 to 3:00, at 1:00 UTC; on 26 October from 3:00 back to 2:00.
const VIENNA: Zone = {
  name: 'Europe/Vienna',
  changes: [
    { fromMs: -Infinity, offsetS: HOUR },
    { fromMs: Date.UTC(2025, 2, 30, 1), offsetS: 2 * HOUR },
    { fromMs: Date.UTC(2025, 9, 26, 1), offsetS: HOUR },
  ],
};

test('prices: on days when the clocks change a band lasts as long as the wall shows it', () => {
  const bands = [band(0, 4, 0.1), band(4, 0, 0.3)];
  expect(importOn({ kind: 'bands', bands }, timeGrid(day(3, 30), 1, HOUR, VIENNA))).toEqual([
    ...times(3, 0.1),
    ...times(20, 0.3),
  ]);
  expect(importOn({ kind: 'bands', bands }, timeGrid(day(10, 26), 1, HOUR, VIENNA))).toEqual([
    ...times(5, 0.1),
    ...times(20, 0.3),
  ]);
});

test('prices: from a file, held over its intervals; a step across two of them takes their mean', () => {
  const grid = timeGrid(day(6, 2), 1, 2 * 1800, UTC);
  const startMs = Date.UTC(2025, 5, 2);
  const perKWh = Float64Array.from({ length: 48 }, (_, i) => (i === 0 ? 0.1 : i === 1 ? 0.3 : 0.25));
  const atMs = Float64Array.from({ length: 48 }, (_, i) => startMs + i * 1_800_000);
  const price: Price = { kind: 'measured', series: { file: 'prices.csv', intervalS: 1800, atMs, columns: { perKWh } } };
  expect(importOn(price, grid)).toEqual([0.2, ...times(23, 0.25)]);
});
