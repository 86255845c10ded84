/** A few synthetic days against their parts: what days and hours were drawn is what the minutes bring. */
import { describe, expect, test } from 'vitest';
import { chance, fixedZone, type TimeGrid, timeGrid } from '../../src/base/index.ts';
import { airOver, windOver } from '../../src/sky/air.ts';
import {
  CLEAR_DAY_TURBIDITY,
  ClearYear,
  type Climate,
  clearMinutes,
  clearSkyOf,
  daysOfMonth,
  diffuseOfHour,
  diffuseWander,
  hoursOfDay,
  sunTrack,
  syntheticWeather,
  type Weather,
} from '../../src/sky/index.ts';

const SITE = { latitudeDeg: 48.2, longitudeDeg: 16.4, elevationM: 170 };
const CLIMATE: Climate = {
  monthlyGhiKWhM2: [28, 46, 86, 124, 157, 162, 171, 151, 100, 61, 30, 21],
  monthlyTempC: [1, 3, 7, 12, 16, 20, 22, 21, 16, 11, 6, 2],
  seed: 4,
};
const ZONE = fixedZone('UTC+1', 3600);
const YEAR = new ClearYear(SITE);
const sunOf = (grid: TimeGrid) => sunTrack(grid, SITE.latitudeDeg, SITE.longitudeDeg);
const weatherOf = (grid: TimeGrid, climate = CLIMATE): Weather => syntheticWeather(climate, SITE, grid, sunOf(grid), YEAR);
// The last day of March and the first two of April.
const grid = timeGrid(Date.UTC(2025, 2, 31), 3, 60, ZONE);
const clearOf = (steps: TimeGrid): Float64Array =>
  clearMinutes(sunOf(steps), SITE.elevationM, () => CLEAR_DAY_TURBIDITY).globalWPerM2;
const sum = (values: Float64Array, from = 0, end = values.length): number =>
  values.subarray(from, end).reduce((a, b) => a + b, 0);
/** Days of the month as they are drawn, and their mean in an average year. */
function monthOf(month: number, year = 2025, climate = CLIMATE) {
  const length = new Date(Date.UTC(year, month + 1, 0)).getUTCDate();
  const days = YEAR.daysKWhPerM2(month, length, clearSkyOf(SITE.elevationM, CLEAR_DAY_TURBIDITY));
  const meanIndex = climate.monthlyGhiKWhM2[month]! / days.reduce((a, b) => a + b, 0);
  return { meanIndex, days: daysOfMonth({ year, month, clear: days, meanIndex, seed: climate.seed }) };
}
const wantedDays = (): number[] => [monthOf(2).days[30]!, ...monthOf(3).days.subarray(0, 2)];

describe('light', () => {
  test('every day brings the part of a clear day that its month drew for it', () => {
    const [ghi, clear] = [weatherOf(grid).ghiWPerM2, clearOf(grid)];
    wantedDays().forEach((index, d) => {
      const [from, end] = [d * 1440, (d + 1) * 1440];
      expect(sum(ghi, from, end) / sum(clear, from, end)).toBeCloseTo(index, 5);
    });
  });
  test('every hour brings what the day drew for it, and its diffuse part', () => {
    const [weather, clear, days] = [weatherOf(grid), clearOf(grid), wantedDays()];
    for (let d = 0; d < 3; d++) {
      const clearHours = Array.from({ length: 24 }, (_, h) => {
        const first = d * 1440 + h * 60;
        return sum(clear, first, first + 60) / 60;
      });
      const draw = chance(CLIMATE.seed, `hours ${Date.UTC(2025, 2, 31 + d)}`);
      const indexes = hoursOfDay(days[d]!, clearHours, draw);
      const wander = diffuseWander(24, draw);
      for (let h = 0; h < 24; h++) {
        const first = d * 1440 + h * 60;
        const meanOf = (values: Float64Array): number => sum(values, first, first + 60) / 60;
        expect(meanOf(weather.ghiWPerM2)).toBeCloseTo(indexes[h]! * clearHours[h]!, 6);
        // At the edge of the night a beam may be too strong to be one.
        if (clearHours[h]! > 50)
          expect(meanOf(weather.dhiWPerM2)).toBeCloseTo(diffuseOfHour(indexes[h]!, wander[h]!) * clearHours[h]!, 6);
      }
    }
  });
  test('a day is the same in another run, and in other steps', () => {
    const { ghiWPerM2 } = weatherOf(grid);
    const alone = weatherOf(timeGrid(Date.UTC(2025, 3, 1), 1, 60, ZONE));
    for (let k = 0; k < 1440; k++) expect(Math.abs(alone.ghiWPerM2[k]! - ghiWPerM2[1440 + k]!)).toBeLessThan(0.01);
    const coarse = weatherOf(timeGrid(Date.UTC(2025, 3, 1), 1, 900, ZONE));
    for (let q = 0; q < 96; q++)
      expect(Math.abs(coarse.ghiWPerM2[q]! - sum(ghiWPerM2, 1440 + 15 * q, 1455 + 15 * q) / 15)).toBeLessThan(0.1);
  });
  test('a day of 23 hours brings its part too, and the next begins with the hour after', () => {
    const short = { ...grid, dayStart: Int32Array.of(0, 23 * 60, 47 * 60, 71 * 60), steps: 71 * 60 };
    const found = weatherOf(short).ghiWPerM2;
    const bright = clearOf(short);
    wantedDays().forEach((index, d) => {
      const [from, end] = [short.dayStart[d]!, short.dayStart[d + 1]!];
      expect(sum(found, from, end) / sum(bright, from, end)).toBeCloseTo(index, 5);
    });
  });
  test('a day that ends within an hour leaves that hour to the day in which it began', () => {
    // Days of 23½ hours: the second begins half an hour into an hour, at night.
    const odd = { ...grid, dayStart: Int32Array.of(0, 1410, 2850, 4290), steps: 4290 };
    const found = weatherOf(odd);
    expect(found.ghiWPerM2).toHaveLength(4290);
    const bright = clearOf(odd);
    expect(sum(found.ghiWPerM2, 1440, 2880) / sum(bright, 1440, 2880)).toBeCloseTo(wantedDays()[1]!, 5);
  });
  test('a clear year is made where none is given', () => {
    const one = timeGrid(Date.UTC(2025, 3, 1), 1, 600, ZONE);
    expect(syntheticWeather(CLIMATE, SITE, one, sunOf(one)).ghiWPerM2).toEqual(weatherOf(one).ghiWPerM2);
  });
  test('polar night: dark, and nothing is out of order', () => {
    const site = { latitudeDeg: 80, longitudeDeg: 15, elevationM: 0 };
    const dark = timeGrid(Date.UTC(2025, 11, 20), 2, 600, ZONE);
    const climate = { ...CLIMATE, monthlyGhiKWhM2: [0, 0, 10, 60, 120, 130, 110, 60, 15, 0, 0, 0] };
    const { ghiWPerM2, airC } = syntheticWeather(climate, site, dark, sunTrack(dark, 80, 15));
    expect(Math.max(...ghiWPerM2)).toBe(0);
    expect(airC.every(Number.isFinite)).toBe(true);
  });
  test('eleven months are refused', () =>
    expect(() => weatherOf(grid, { ...CLIMATE, monthlyGhiKWhM2: [1] })).toThrow('monthlyGhiKWhM2 has 1 values: must have 12'));
});

describe('air and wind', () => {
  test('air follows the days drawn, against what is usual in their months', () => {
    const days = Float64Array.from(wantedDays());
    const usual = Float64Array.of(monthOf(2).meanIndex, monthOf(3).meanIndex, monthOf(3).meanIndex);
    const wanted = airOver(CLIMATE.monthlyTempC, CLIMATE.seed, grid, sunOf(grid), days, usual);
    weatherOf(grid).airC.forEach((one, k) => void expect(one).toBeCloseTo(wanted[k]!, 9));
  });
  test('wind is that of its seed', () => expect(weatherOf(grid).windMPerS).toEqual(windOver(CLIMATE.seed, grid)));
  test('in December of a leap year the month has 31 days and the last of them is drawn too', () => {
    const last = timeGrid(Date.UTC(2024, 11, 31), 1, 600, ZONE);
    const { days, meanIndex } = monthOf(11, 2024);
    const wanted = airOver(CLIMATE.monthlyTempC, CLIMATE.seed, last, sunOf(last), days.slice(30), Float64Array.of(meanIndex));
    weatherOf(last).airC.forEach((one, k) => void expect(one).toBeCloseTo(wanted[k]!, 9));
  });
});
