/** How clear the air of a day was, from beams made for a known turbidity. */
import { describe, expect, test } from 'vitest';
import { turbidityAt, turbidityOfDays } from '../../src/sky/day-turbidity.ts';
import { absoluteAirMass, clearSkyOf, standardPressurePa, sunTrack } from '../../src/sky/index.ts';

const HEIGHT = 300;
const DAYS = 6;
const HOURS = { startMs: Date.UTC(2025, 3, 10), stepS: 3600, steps: 24 * DAYS };
const SUN = sunTrack(HOURS, 48, 0);
const B = clearSkyOf(HEIGHT, 3).b;
/** Beam of a clear sky of that turbidity over an hour of the run. */
const beamOf = (hour: number, turbidity: number): number =>
  SUN.extraterrestrialWPerM2[hour]! *
  B *
  Math.exp(-0.09 * absoluteAirMass(SUN.airMass[hour]!, standardPressurePa(HEIGHT)) * (turbidity - 1));
/** Turbidities seen at hours of the run; no beam in the others. */
function daily(seen: Readonly<Record<number, number>>, beams: Readonly<Record<number, number>> = {}): number[] {
  const beam = new Float64Array(HOURS.steps);
  for (const [hour, turbidity] of Object.entries(seen)) beam[Number(hour)] = beamOf(Number(hour), turbidity);
  for (const [hour, value] of Object.entries(beams)) beam[Number(hour)] = value;
  return Array.from(turbidityOfDays(DAYS, (i) => Math.floor(i / 24), beam, SUN, HEIGHT));
}
const noon = (day: number): number => 24 * day + 12;
const near = (found: readonly number[], wanted: readonly number[]): void => {
  expect(found).toHaveLength(wanted.length);
  wanted.forEach((one, d) => void expect(found[d]).toBeCloseTo(one, 9));
};

describe('turbidityOfDays', () => {
  test('a clear hour says it for its day; each day away it may be hazier by 0.12', () =>
    near(daily({ [noon(2)]: 2.4 }), [2.64, 2.52, 2.4, 2.52, 2.64, 2.76]));
  test('the clearest hour of a day, and the clearer of what comes from both sides', () =>
    near(daily({ [noon(0)]: 2.5, [noon(0) + 1]: 2.2, [noon(5)]: 2.1, [noon(5) + 1]: 2.4 }), [2.2, 2.32, 2.44, 2.34, 2.22, 2.1]));
  test('of hazier air than 3.3 an hour counts only with neighbours as clear, and then as the haziest of the three', () => {
    const [a, b, c] = [noon(3) - 1, noon(3), noon(3) + 1];
    near(daily({ [b]: 3.4 }), new Array(6).fill(3.3));
    near(daily({ [b]: 3.4, [c]: 3.5 }), new Array(6).fill(3.3));
    near(daily({ [a]: 3.6, [b]: 3.4, [c]: 3.7 }), [4.06, 3.94, 3.82, 3.7, 3.82, 3.94]);
    near(daily({ [a]: 3.7, [b]: 3.4, [c]: 3.6 }), [4.06, 3.94, 3.82, 3.7, 3.82, 3.94]);
    near(daily({ [a]: 3.5, [b]: 3.8, [c]: 3.6 }), [4.16, 4.04, 3.92, 3.8, 3.92, 4.04]);
  });
  test('nothing seen, or hazier than 5: as usual, 3.3', () => {
    near(daily({}), new Array(6).fill(3.3));
    const hazy = Object.fromEntries([-1, 0, 1].map((h) => [noon(2) + h, 5.1]));
    near(daily(hazy), new Array(6).fill(3.3));
    const less = Object.fromEntries([-1, 0, 1].map((h) => [noon(2) + h, 4.9]));
    near(
      daily(less),
      [3.3, 3.3, 4.9, 3.3, 3.3, 3.3].map((one, d) => (Math.abs(d - 2) === 1 ? 3.3 : one)),
    );
  });
  test('clearer than 1.5 is 1.5', () => near(daily({ [noon(0)]: 1.1 }), [1.5, 1.5, 1.5, 1.5, 1.58, 1.7]));
  test('a sun below 0.12, or a beam below 100 W/m², is not asked', () => {
    // Three hours of a low sun; the turbidity of 101 W/m² is 4.5 then, of 99 W/m² 4.6.
    const three = (cosZenith: number, beam: number): number => {
      const each = (value: number): Float64Array => new Float64Array(3).fill(value);
      const sun = { ...SUN, cosZenith: each(cosZenith), airMass: each(7.8), extraterrestrialWPerM2: each(1361) };
      return turbidityOfDays(1, () => 0, each(beam), sun, 0)[0]!;
    };
    const turbidity = 1 - Math.log(101 / (1361 * (0.664 + 0.163))) / (0.09 * 7.8);
    expect(three(0.121, 101)).toBeCloseTo(turbidity, 9);
    expect(three(0.121, 99)).toBe(3.3);
    expect(three(0.119, 101)).toBe(3.3);
  });
});

describe('turbidityAt', () => {
  const at = turbidityAt(Float64Array.of(2, 3, 2.5), { startMs: 0, stepS: 3600, steps: 72 });
  test.each([
    ['noon of the first day', 12, 2],
    ['before it the first is held', 0, 2],
    ['midnight: half of both', 24, 2.5],
    ['a quarter on', 18, 2.25],
    ['noon of the second', 36, 3],
    ['midnight after', 48, 2.75],
    ['after the last noon it is held', 70, 2.5],
  ])('%s', (_, step, wanted) => expect(at(step)).toBeCloseTo(wanted, 12));
});
