import { expect, test } from 'vitest';
import { timeGrid, UTC, type Zone } from '../../src/base/index.ts';
import type { DayWindow } from '../../src/scenario/index.ts';
import { eachStretchIn } from '../../src/simulate/day-windows.ts';
import { dimmedTo } from '../../src/simulate/dimming.ts';

const HOUR = 3600;
const ALL = { weekdays: [0, 1, 2, 3, 4, 5, 6], months: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12] };
const JUNE_MS = Date.UTC(2025, 5, 2);
/** On 30 March 2025 the clocks of Vienna jump from 2:00 to 3:00. */
const VIENNA: Zone = {
  name: 'Europe/Vienna',
  changes: [
    { fromMs: -Infinity, offsetS: HOUR },
    { fromMs: Date.UTC(2025, 2, 30, 1), offsetS: 2 * HOUR },
  ],
};

function stretches(windows: readonly DayWindow[], grid = timeGrid(JUNE_MS, 1, 60, UTC)): [number, number, number][] {
  const found: [number, number, number][] = [];
  eachStretchIn(windows, grid, (window, from, end) => found.push([windows.indexOf(window), from, end]));
  return found;
}
const window = (fromS: number, toS: number, rest: Partial<DayWindow> = {}): DayWindow => ({ fromS, toS, ...ALL, ...rest });

test('a step belongs to the window in which it begins', () => {
  expect(stretches([window(60, 180)])).toEqual([[0, 1, 3]]);
  expect(stretches([window(100, 200)])).toEqual([[0, 2, 4]]);
  expect(stretches([window(61, 119)])).toEqual([]);
  expect(stretches([window(0, 86_400)])).toEqual([[0, 0, 1440]]);
});

test('over midnight: the evening of its day and the morning of the next, in list order', () => {
  expect(stretches([window(79_200, 21_600), window(0, 600)])).toEqual([
    [0, 1320, 1440],
    [0, 0, 360],
    [1, 0, 10],
  ]);
  // From midnight to midnight: the whole day, once.
  expect(stretches([window(0, 0)])).toEqual([[0, 0, 1440]]);
  // It begins on Mondays, and 2 June is one; on Sundays only, the morning is left.
  expect(stretches([window(79_200, 21_600, { weekdays: [0] })])).toEqual([[0, 1320, 1440]]);
  expect(stretches([window(79_200, 21_600, { weekdays: [6] })])).toEqual([[0, 0, 360]]);
});

test('by month, on several days', () => {
  const twoDays = timeGrid(Date.UTC(2025, 4, 31), 2, HOUR, UTC);
  expect(stretches([window(0, HOUR, { months: [6] })], twoDays)).toEqual([[0, 24, 25]]);
  expect(stretches([window(0, HOUR)], twoDays)).toEqual([
    [0, 0, 1],
    [0, 24, 25],
  ]);
});

test('when the clocks change, by what the wall shows, to the second', () => {
  // Steps of 7.5 minutes; 3:00 comes right after 1:59.
  const grid = timeGrid(Date.UTC(2025, 2, 30), 1, 450, VIENNA);
  const steps = (fromS: number, toS: number) =>
    stretches([window(fromS, toS)], grid).map(([, from, end]) => (end === from + 1 ? from : -1));
  expect(steps(3 * HOUR, 3 * HOUR + 900)).toEqual([16, 17]);
  expect(steps(3 * HOUR + 450, 3 * HOUR + 1350)).toEqual([17, 18]);
  expect(steps(2 * HOUR, 3 * HOUR)).toEqual([]);
  // The last step of the day, 23:52:30, is the 184th.
  expect(steps(86_400 - 450, 86_400)).toEqual([183]);
  expect(steps(HOUR, HOUR + 500)).toEqual([8, 9]);
});

test('the operator dims in its windows only', () => {
  const limitW = dimmedTo({ toW: 4200, windows: [window(60, 120)] }, timeGrid(JUNE_MS, 1, 60, UTC));
  expect([...limitW.slice(0, 4)]).toEqual([Infinity, 4200, Infinity, Infinity]);
});
