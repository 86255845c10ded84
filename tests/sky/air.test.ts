/** Air and wind over a few days. Fronts are the same for one seed, so what two runs differ by is what was asked for. */
import { describe, expect, test } from 'vitest';
import { fixedZone, MS_PER_DAY, type TimeGrid, timeGrid } from '../../src/base/index.ts';
import { airOver, windOver } from '../../src/sky/air.ts';
import type { SunTrack } from '../../src/sky/index.ts';

const UTC = fixedZone('Etc/UTC', 0);
const gridOf = (year: number, month: number, day: number, days = 1, stepS = 1800): TimeGrid =>
  timeGrid(Date.UTC(year, month, day), days, stepS, UTC);
/** A sun that is highest at that hour of each day. */
function sunAt(grid: TimeGrid, noonH: number): SunTrack {
  const cosZenith = new Float64Array(grid.steps);
  for (let k = 0; k < grid.steps; k++) {
    const hour = ((k * grid.stepS) / 3600) % 24;
    cosZenith[k] = Math.max(0, 0.8 - 0.1 * Math.abs(hour - noonH));
  }
  const none = new Float64Array(grid.steps);
  return { cosZenith, east: none, north: none, zenithDeg: none, airMass: none, extraterrestrialWPerM2: none };
}
const LEVEL: readonly number[] = new Array(12).fill(0);
const STAIRS = Array.from({ length: 12 }, (_, month) => 10 * month);
interface Air {
  readonly table?: readonly number[];
  readonly seed?: number;
  readonly noonH?: number;
  readonly days?: number;
  readonly usual?: number;
}
const airOf = (grid: TimeGrid, { table = LEVEL, seed = 1, noonH = 11, days = 0.5, usual = days }: Air): Float64Array => {
  const each = (value: number): Float64Array => new Float64Array(grid.dayMs.length).fill(value);
  return airOver(table, seed, grid, sunAt(grid, noonH), each(days), each(usual));
};
const minus = (a: Float64Array, b: Float64Array): number[] => Array.from(a, (one, k) => one - b[k]!);
const allNear = (values: readonly number[], wanted: number): void => {
  for (const value of values) expect(value).toBeCloseTo(wanted, 9);
};

describe('season', () => {
  test.each([
    // Between the middles of months: at 4 + 30/31 months and so on; the table is ten times that.
    ['15 June: nearly the middle of June', 2025, 5, 15, 40 + (10 * (30 / 2 + 14.5)) / 30],
    ['1 January: half-way from December', 2025, 0, 1, 110 - 110 * (0.5 / 31 + 0.5)],
    ['31 December: half-way to January', 2025, 11, 31, 110 - 110 * (30.5 / 31 - 0.5)],
    ['29 February of a leap year', 2024, 1, 29, 10 + 10 * (28.5 / 29 - 0.5)],
    ['28 February of another', 2025, 1, 28, 10 + 10 * (27.5 / 28 - 0.5)],
  ])('%s', (_, year, month, day, wanted) => {
    const grid = gridOf(year, month, day);
    allNear(minus(airOf(grid, { table: STAIRS }), airOf(grid, {})), wanted);
  });
  test('a warmer table is warmer by as much at every step', () => {
    const grid = gridOf(2025, 3, 1, 4);
    const warmer = STAIRS.map((one) => one + 7);
    allNear(minus(airOf(grid, { table: warmer, usual: 0.2 }), airOf(grid, { table: STAIRS, usual: 0.2 })), 7);
  });
});

describe('sunny days', () => {
  // A triangle from −10 in the middle of January to 20 in the middle of July.
  const triangle = Array.from({ length: 12 }, (_, month) => 20 - 5 * Math.abs(month - 6));
  test.each([
    ['warm in the middle of July', 6, 16, 1],
    ['cold in the middle of January', 0, 16, -1],
    ['neither in the middle of April', 3, 15, -0.5 / 90],
  ])('%s', (_, month, day, share) => {
    const grid = gridOf(2025, month, day);
    // 0.3 more of a clear day than usual: 6 K times that, by season.
    const found = minus(airOf(grid, { table: triangle, days: 0.7, usual: 0.4 }), airOf(grid, { table: triangle, days: 0.7 }));
    allNear(found, 6 * 0.3 * share);
  });
  test('a table without seasons: the sun changes nothing', () => {
    const grid = gridOf(2025, 6, 16);
    allNear(minus(airOf(grid, { days: 0.7, usual: 0.2 }), airOf(grid, { days: 0.7 })), 0);
  });
});

describe('swing of the day', () => {
  test.each([
    [0, 3],
    [0.5, 6],
    [1, 9],
  ])('a day of clearness %s swings by %s K, warmest three hours after the sun is highest', (days, swingK) => {
    const grid = gridOf(2025, 4, 10);
    const air = airOf(grid, { days, noonH: 11 });
    const mean = air.reduce((a, b) => a + b, 0) / grid.steps;
    air.forEach((value, k) => {
      expect(value - mean).toBeCloseTo((swingK / 2) * Math.cos(((k / 2 - 14) * 2 * Math.PI) / 24), 9);
    });
  });
  test('where the sun does not rise the middle of the day stands for noon', () => {
    const grid = gridOf(2025, 11, 21);
    const dark = { ...sunAt(grid, 12), cosZenith: new Float64Array(grid.steps) };
    const one = new Float64Array(1).fill(0.5);
    allNear(minus(airOver(LEVEL, 1, grid, dark, one, one), airOf(grid, { noonH: 12 })), 0);
  });
});

describe('from day to day', () => {
  const grid = gridOf(2025, 4, 10, 3);
  const air = airOf(grid, {});
  const alone = [10, 11, 12].map((day) => airOf(gridOf(2025, 4, day), {}));

  test('each day begins where the day before ended', () => {
    expect(air[48]).toBeCloseTo(air[47]!, 12);
    expect(air[96]).toBeCloseTo(air[95]!, 12);
  });
  test('what that takes fades within six hours; then a day is as it is by itself', () => {
    for (const d of [1, 2]) {
      const gap = air[d * 48]! - alone[d]![0]!;
      expect(Math.abs(gap)).toBeGreaterThan(0.1);
      for (let k = 0; k < 48; k++) expect(air[d * 48 + k]! - alone[d]![k]!).toBeCloseTo(gap * Math.max(0, 1 - k / 12), 9);
    }
    allNear(minus(air.subarray(0, 48), alone[0]!), 0);
  });
});

describe('fronts', () => {
  // Seven in the morning and seven in the evening stand against each other in the swing of the day.
  const frontsOf = (seed: number, firstMs: number, days: number): number[] => {
    const grid = timeGrid(firstMs, days, 3600, UTC);
    const air = airOf(grid, { seed });
    return Array.from({ length: days }, (_, d) => (air[d * 24 + 7]! + air[d * 24 + 19]!) / 2);
  };
  const START = Date.UTC(2020, 0, 1);
  const many = (): number[] => frontsOf(5, START, 2000);
  const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

  test('they are the same whatever day a run begins with, and others with another seed', () => {
    const early = frontsOf(5, START, 8);
    const later = frontsOf(5, START + 3 * MS_PER_DAY, 5);
    later.forEach((one, d) => void expect(one).toBeCloseTo(early[d + 3]!, 9));
    expect(frontsOf(6, START, 1)[0]).not.toBeCloseTo(early[0]!, 3);
  });
  test('spread 3 K around none', () => {
    // 2000 days with such a memory weigh like 290 free ones.
    const fronts = many();
    expect(Math.abs(mean(fronts))).toBeLessThan(0.35);
    expect(Math.abs(Math.sqrt(mean(fronts.map((one) => one ** 2))) - 3)).toBeLessThan(0.25);
  });
  test('three quarters of a front are there the day after, and what comes new is free of it', () => {
    const fronts = many();
    const fresh = fronts.slice(1).map((one, d) => one - 0.75 * fronts[d]!);
    const spread = Math.sqrt(mean(fresh.map((one) => one ** 2)));
    expect(Math.abs(spread - 3 * Math.sqrt(1 - 0.75 ** 2))).toBeLessThan(0.1);
    expect(Math.abs(mean(fresh.map((one, d) => one * fronts[d]!)) / (3 * spread))).toBeLessThan(0.05);
    expect(Math.abs(mean(fresh.slice(1).map((one, d) => one * fresh[d]!)) / spread ** 2)).toBeLessThan(0.05);
  });
});

describe('wind', () => {
  const hourly = timeGrid(Date.UTC(2025, 0, 1), 1000, 3600, UTC);
  const many = (): Float64Array => windOver(3, hourly);
  const few = (): Float64Array => windOver(3, gridOf(2025, 0, 1, 3, 3600));
  const mean = (of: (k: number) => number, from = 0): number => {
    let [sum, count] = [0, 0];
    for (let k = 0; k < hourly.steps; k++) {
      if (k % 24 < from) continue;
      sum += of(k);
      count++;
    }
    return sum / count;
  };
  test('Rayleigh: mean 2 m/s, mean square 4/π times its square', () => {
    const speed = many();
    expect(Math.abs(mean((k) => speed[k]!) - 2)).toBeLessThan(0.03);
    expect(Math.abs(mean((k) => speed[k]! ** 2) / (16 / Math.PI) - 1)).toBeLessThan(0.03);
  });
  test('an hour later 0.85 of both components are left: 0.85² in the correlation of squares', () => {
    const square = 16 / Math.PI;
    const speed = many();
    const product = mean((k) => (speed[k]! ** 2 - square) * (speed[k - 1]! ** 2 - square), 1);
    expect(Math.abs(product / mean((k) => (speed[k]! ** 2 - square) ** 2) - 0.85 ** 2)).toBeLessThan(0.03);
  });
  test('between hours it runs straight, past midnight to the first hour of the next day', () => {
    const wind = few();
    const halves = windOver(3, timeGrid(Date.UTC(2025, 0, 1), 3, 1800, UTC));
    for (let h = 0; h < 71; h++) {
      expect(halves[2 * h]).toBeCloseTo(wind[h]!, 12);
      expect(halves[2 * h + 1]).toBeCloseTo((wind[h]! + wind[h + 1]!) / 2, 12);
    }
  });
  test('a day of 23 hours holds its 24 hours a little closer', () => {
    const short = { ...gridOf(2025, 0, 1, 2, 3600), dayStart: Int32Array.of(0, 23, 47), steps: 47 };
    const [found, wind] = [windOver(3, short), few()];
    for (let k = 0; k < 23; k++) {
      const at = (k * 24) / 23;
      const h = Math.floor(at);
      expect(found[k]).toBeCloseTo(wind[h]! + (wind[h + 1]! - wind[h]!) * (at - h), 12);
    }
    expect(found.subarray(23)).toEqual(wind.subarray(24, 48));
  });
  test('another seed, another wind', () => expect(windOver(4, gridOf(2025, 0, 1))[0]).not.toBe(few()[0]));
});
