import { describe, expect, test } from 'vitest';
import { fixedZone } from '../../src/base/index.ts';
import { checkScenario, completeScenario, modulesOf } from '../../src/scenario/index.ts';
import { skyOver, yieldsUnder } from '../../src/simulate/index.ts';

/** A made-up house with one plane, for two days. */
function house(array: Record<string, unknown>) {
  const checked = checkScenario({
    site: { latitude: 47, longitude: 13, timeZone: 'Etc/UTC' },
    period: { start: '2025-06-10', days: 2, stepS: 600 },
    weather: { source: 'synthetic', climate: 'munich' },
    pv: { source: 'arrays', arrays: [{ kWp: 5, tiltDeg: 30, azimuthDeg: 180, ...array }] },
    household: { source: 'synthetic', annualKWh: 3000 },
    chargePoints: [{ charger: { phases: 1, maxCurrentA: 16 }, vehicle: { kind: 'compact' }, usage: { source: 'always' } }],
  });
  if (!checked.ok) throw new Error(JSON.stringify(checked.issues));
  const { pv } = checked.value;
  const whole = completeScenario(checked.value, new Map(), fixedZone('UTC', 0));
  if (!whole.ok || pv.source !== 'arrays') throw new Error('must have an array');
  return { scenario: whole.value, array: pv.arrays[0]! };
}

const WAYS: Record<string, unknown> = {
  name: 'barn',
  kWp: 7,
  lossPercent: 20,
  monthlyLossPercent: [0, 0, 0, 0, 0, 30, 0, 0, 0, 0, 0, 0],
  tiltDeg: 50,
  azimuthDeg: 90,
  mounting: 'open',
  horizonDeg: [30, 30],
  temperatureCoefficientPerK: -0.005,
};

describe('what each kWp of an array gives is shared by arrays with the same modules', () => {
  const plain = house({});
  const sky = skyOver(plain.scenario);
  const yields = yieldsUnder(() => sky, plain.scenario);

  test('every key of an array is looked at here', () => {
    const known = house(WAYS).array;
    expect(Object.keys(known).sort()).toEqual(Object.keys(WAYS).sort());
  });
  test.each(Object.entries(WAYS))('%s: told apart just where it makes a difference', (key, value) => {
    const changed = house({ [key]: value });
    const isSameKey = JSON.stringify(modulesOf(changed.array)) === JSON.stringify(modulesOf(plain.array));
    const found = yieldsUnder(() => sky, changed.scenario)[0]!.dcWPerKWp;
    expect(found.every((value, i) => value === yields[0]!.dcWPerKWp[i])).toBe(isSameKey);
    expect(isSameKey).toBe(['name', 'kWp', 'lossPercent', 'monthlyLossPercent'].includes(key));
  });
});
