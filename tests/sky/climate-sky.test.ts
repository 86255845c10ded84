/** A climate against the clear skies of its place: how clear its air must be, and months that no sky can bring. */
import { describe, expect, test } from 'vitest';
import {
  CLEAR_DAY_TURBIDITY,
  ClearYear,
  type Climate,
  checkClimate,
  clearSkyOf,
  tooSunnyMonths,
  turbidityOfClimate,
} from '../../src/sky/index.ts';

const VIENNA = { latitudeDeg: 48.2, longitudeDeg: 16.4, elevationM: 170 };
const YEAR = new ClearYear(VIENNA);
const NORTH = { latitudeDeg: 78, longitudeDeg: 15, elevationM: 0 };
const sumsAt = (turbidity: number, year = YEAR, elevationM = 170): number[] =>
  year.sumsKWhPerM2(clearSkyOf(elevationM, turbidity));
const TEMPERATURES = new Array(12).fill(10) as number[];
/** A climate that brings a share of a clear month at some turbidity in one month, and half of it in the others. */
const climateOf = (share: number, turbidity: number, sunny = 6, linkeTurbidity?: number): Climate => ({
  monthlyGhiKWhM2: sumsAt(turbidity).map((sum, month) => (month === sunny ? share : 0.5) * sum),
  monthlyTempC: TEMPERATURES,
  seed: 1,
  ...(linkeTurbidity === undefined ? {} : { linkeTurbidity }),
});
const found = (climate: Climate): number => turbidityOfClimate(climate, YEAR, VIENNA.elevationM);

describe('ClearYear', () => {
  const place = clearSkyOf(170, 3);
  test('a month is the sum of its days; June has 30, and more than December', () => {
    const sums = sumsAt(3);
    expect(sums).toHaveLength(12);
    expect(YEAR.daysKWhPerM2(5, 30, place).reduce((a, b) => a + b, 0)).toBeCloseTo(sums[5]!, 9);
    // Clear days of Vienna at the solstices, turbidity 3.5: 8.07 and 1.15 kWh/m² (B13 in tests/reference/sky.test.ts).
    expect(YEAR.daysKWhPerM2(5, 30, clearSkyOf(170, 3.5))[20]).toBeCloseTo(8.07, 1);
    expect(YEAR.daysKWhPerM2(11, 31, clearSkyOf(170, 3.5))[20]).toBeCloseTo(1.15, 1);
  });
  test('29 February is like the 28th', () => {
    const days = YEAR.daysKWhPerM2(1, 29, place);
    expect(days).toHaveLength(29);
    expect(days[28]).toBe(days[27]);
    expect(days[27]).toBeGreaterThan(days[26]!);
  });
  test('there is no thirteenth month', () => expect(YEAR.daysKWhPerM2(12, 3, place)).toEqual(new Float64Array(3)));
});

describe('turbidityOfClimate', () => {
  test('a cloudy climate keeps the usual air, or the one it is given', () => {
    expect(found(climateOf(0.7, 3))).toBe(CLEAR_DAY_TURBIDITY);
    expect(found(climateOf(0.7, 3, 6, 4))).toBe(4);
  });
  test.each([
    // Just within and just beyond 0.95 of a clear month at the usual turbidity, and one step of 0.25 further.
    [0.949, 2.75, 2.75],
    [0.951, 2.75, 2.5],
    [0.949, 2.5, 2.5],
    [0.951, 2.5, 2.25],
    [0.951, 2, 2],
    [1.029, 2, 2],
  ])('a month of %s of a clear one at %s: turbidity %s', (share, turbidity, wanted) => {
    for (const month of [0, 6, 11]) expect(found(climateOf(share, turbidity, month))).toBe(wanted);
  });
  test('steps end at 2, wherever they begin', () => expect(found(climateOf(1, 2, 6, 3.1))).toBe(2));
  test('more than 1.03 of the clearest month is refused, with how much it is', () =>
    expect(() => found(climateOf(1.04, 2))).toThrow(
      new RangeError('monthlyGhiKWhM2: a month has 1.04 times what the clearest sky gives at this place'),
    ));
  test('months of polar night ask for nothing', () => {
    const year = new ClearYear(NORTH);
    const monthlyGhiKWhM2 = sumsAt(3, year, 0).map((sum) => 0.5 * sum + 0.4);
    expect(turbidityOfClimate({ monthlyGhiKWhM2, monthlyTempC: TEMPERATURES, seed: 1 }, year, 0)).toBe(CLEAR_DAY_TURBIDITY);
  });
});

describe('tooSunnyMonths', () => {
  const most = sumsAt(2);
  test('1.03 of the clearest sky is the most; each month beyond is named with it', () => {
    expect(
      tooSunnyMonths(
        most.map((sum) => 1.0299 * sum),
        VIENNA,
      ),
    ).toEqual([]);
    const two = tooSunnyMonths(
      most.map((sum, month) => (month === 2 || month === 9 ? 1.0301 : 0.5) * sum),
      VIENNA,
    );
    expect(two.map(({ month }) => month)).toEqual([2, 9]);
    two.forEach(({ month, mostKWhPerM2 }) => void expect(mostKWhPerM2).toBeCloseTo(1.03 * most[month]!, 6));
  });
  test('polar night has nothing to compare', () => expect(tooSunnyMonths(new Array(12).fill(0.5), NORTH)).toEqual([]));
});

describe('checkClimate', () => {
  const climate = climateOf(0.7, 3);
  test('twelve sums, twelve temperatures, none below 0', () => {
    expect(() => checkClimate(climate)).not.toThrow();
    expect(() => checkClimate({ ...climate, monthlyGhiKWhM2: new Array(12).fill(0) })).not.toThrow();
    expect(() => checkClimate({ ...climate, monthlyGhiKWhM2: [1, 2] })).toThrow(
      new RangeError('monthlyGhiKWhM2 has 2 values: must have 12'),
    );
    expect(() => checkClimate({ ...climate, monthlyTempC: new Array(13).fill(1) })).toThrow(
      new RangeError('monthlyTempC has 13 values: must have 12'),
    );
    for (const bad of [-1, Number.NaN])
      expect(() =>
        checkClimate({ ...climate, monthlyGhiKWhM2: climate.monthlyGhiKWhM2.map((sum, month) => (month === 4 ? bad : sum)) }),
      ).toThrow(new RangeError(`monthlyGhiKWhM2 holds ${bad}: must be 0 or more`));
  });
});
