import { expect, test } from 'vitest';
import { parseKeyPath, withValue } from '../../src/study/index.ts';

test('parseKeyPath: names, lists, nothing else', () => {
  expect(parseKeyPath('control.surplusShare')).toEqual(['control', 'surplusShare']);
  expect(parseKeyPath('chargePoints[1].usage.trips[0].km')).toEqual(['chargePoints', 1, 'usage', 'trips', 0, 'km']);
  for (const wrong of ['', '.', 'a..b', 'a[', 'a[x]', '[0].a', 'a b', 'a.b[0]x']) expect(parseKeyPath(wrong), wrong).toBeNull();
});

test('withValue: changes a copy, makes sections, takes keys out, leaves the rest shared', () => {
  const data = { pv: { arrays: [{ kWp: 4 }, { kWp: 5 }] }, battery: { capacityKWh: 8 } };
  expect(withValue(data, ['pv', 'arrays', 1, 'kWp'], 7)).toEqual({
    pv: { arrays: [{ kWp: 4 }, { kWp: 7 }] },
    battery: { capacityKWh: 8 },
  });
  expect(withValue(data, ['control', 'reserveW'], 0)).toEqual({ ...data, control: { reserveW: 0 } });
  expect(withValue(data, ['battery'], null)).toEqual({ pv: data.pv });
  expect(data.pv.arrays[1]?.kWp).toBe(5);
  const changed = withValue(data, ['battery', 'capacityKWh'], 9) as typeof data;
  expect(changed.pv).toBe(data.pv);
});

test('withValue: a path that leads nowhere is refused', () => {
  expect(() => withValue({ a: [1] }, ['a', 3], 1)).toThrow('the list has 1 entries');
  expect(() => withValue({ a: 5 }, ['a', 'b'], 1)).toThrow('b: there is a single value');
});
