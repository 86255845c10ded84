import { expect, test } from 'vitest';
import { type Draft, isWithin, valueAt, withValue } from '../../src/page/draft.ts';
import { withBattery } from '../../src/page/engine/battery.ts';
import { FIRST_DRAFT } from '../../src/page/start.ts';

const DRAFT: Draft = { a: { list: [{ x: 1 }, { x: 2 }] }, b: 3 };

test('a value is found by its path, and nothing where there is none', () => {
  expect(valueAt(DRAFT, ['a', 'list', 1, 'x'])).toBe(2);
  expect(valueAt(DRAFT, ['a', 'none', 'x'])).toBeUndefined();
  expect(valueAt(DRAFT, ['a', 'constructor'])).toBeUndefined();
});

test('a value is set in a copy: sections are made on the way, and the draft before stays as it was', () => {
  const next = withValue(DRAFT, ['c', 'd'], 5);
  expect(next).toEqual({ ...DRAFT, c: { d: 5 } });
  expect(withValue(DRAFT, ['a', 'list', 0, 'x'], 9)).toEqual({ a: { list: [{ x: 9 }, { x: 2 }] }, b: 3 });
  expect(DRAFT).toEqual({ a: { list: [{ x: 1 }, { x: 2 }] }, b: 3 });
});

test('undefined takes a key, or an entry of a list, out', () => {
  expect(withValue(DRAFT, ['b'], undefined)).toEqual({ a: DRAFT.a });
  expect(withValue(DRAFT, ['a', 'list', 0], undefined)).toEqual({ a: { list: [{ x: 2 }] }, b: 3 });
});

test('an issue stands under the field that its path leads into', () => {
  expect(isWithin(['chargePoints', 0, 'vehicle', 'kind'], ['chargePoints', 0, 'vehicle'])).toBe(true);
  expect(isWithin(['chargePoints', 0], ['chargePoints', 0, 'vehicle'])).toBe(false);
});

test('a home battery: its power follows its size, the rest of it is kept, nought takes it away', () => {
  const with6 = withBattery(FIRST_DRAFT, 6);
  expect(with6.battery).toEqual({ dischargeToCar: false, capacityKWh: 6, maxChargeW: 4000, maxDischargeW: 4000 });
  const kept = withBattery(withValue(with6, ['battery', 'priority'], 'car'), 9);
  expect(kept.battery).toMatchObject({ priority: 'car', capacityKWh: 9, maxChargeW: 6000 });
  expect(withBattery(kept, 0)).toEqual(FIRST_DRAFT);
});
