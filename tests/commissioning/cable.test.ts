import { describe, expect, test } from 'vitest';
import {
  type Cable,
  cableAnswer,
  cableLossW,
  longestRunM,
  voltageDropPercent,
  voltageDropV,
} from '../../src/commissioning/index.ts';

const cable = (phases: 1 | 3, lengthM: number, areaMm2: number, currentA: number, change: Partial<Cable> = {}): Cable => ({
  metal: 'copper',
  phases,
  lengthM,
  areaMm2,
  currentA,
  voltageV: 230,
  powerFactor: 1,
  ...change,
});

// Values recomputed from the published formula and its constants (IEC 60364-5-52 Annex G: rho copper 0.0225 ohm mm²/m) by another program.
describe('voltage drop and loss', () => {
  test.each([
    [1, 20, 2.5, 16, 5.76, 2.504, null],
    [1, 30, 2.5, 16, 8.64, 3.757, 138.2],
    [3, 30, 2.5, 16, 4.32, 1.878, 207.4],
    [3, 30, 6, 32, 3.6, 1.565, 345.6],
    [3, 50, 6, 16, 3.0, 1.304, null],
  ] as const)('%d phases, %d m, %d mm², %d A', (phases, lengthM, areaMm2, currentA, dropV, dropPercent, lossW) => {
    const one = cable(phases, lengthM, areaMm2, currentA);
    expect(Math.abs(voltageDropV(one) - dropV)).toBeLessThanOrEqual(1e-3);
    expect(Math.abs(voltageDropPercent(one) - dropPercent)).toBeLessThanOrEqual(1e-3);
    if (lossW !== null) expect(Math.abs(cableLossW(one) - lossW)).toBeLessThanOrEqual(0.1);
  });

  test.each([
    [1, 2.5, 16, 23.96],
    [3, 2.5, 16, 47.92],
    [1, 6, 32, 28.75],
    [3, 6, 32, 57.5],
  ] as const)('longest run for 3 %%: %d phases, %d mm², %d A: %d m', (phases, areaMm2, currentA, runM) => {
    expect(Math.abs(longestRunM(cable(phases, 1, areaMm2, currentA), 3) - runM)).toBeLessThanOrEqual(0.01);
  });

  test('by hand: aluminium drops 0.036 / 0.0225 times as much', () => {
    const copper = cable(1, 20, 2.5, 16);
    expect(voltageDropV({ ...copper, metal: 'aluminium' }) / voltageDropV(copper)).toBeCloseTo(1.6, 12);
  });

  // 2 · (0.0225 · 100 / 2.5 · 0.8 + 0.00008 · 100 · 0.6) · 16 = 2 · (0.72 + 0.0048) · 16
  test('by hand: power factor 0.8 over 100 m', () => {
    expect(voltageDropV(cable(1, 100, 2.5, 16, { powerFactor: 0.8 }))).toBeCloseTo(23.1936, 10);
  });

  test('the limit, both sides of it', () => {
    expect(cableAnswer(cable(1, 23.95, 2.5, 16), 3).withinLimit).toBe(true);
    expect(cableAnswer(cable(1, 23.97, 2.5, 16), 3).withinLimit).toBe(false);
    const exact = cable(1, longestRunM(cable(1, 1, 2.5, 16), 3), 2.5, 16);
    expect(cableAnswer(exact, 3).withinLimit).toBe(true);
  });

  test('what is no cable is refused', () => {
    expect(() => voltageDropV(cable(1, 0, 2.5, 16))).toThrow(/lengthM = 0/);
    expect(() => cableLossW(cable(3, 20, -1, 16))).toThrow(/areaMm2 = -1/);
    expect(() => longestRunM(cable(3, 20, 2.5, 16), 0)).toThrow(/limitPercent/);
    expect(() => voltageDropV(cable(3, 20, 2.5, 16, { powerFactor: 1.1 }))).toThrow(/powerFactor/);
  });
});
