import { describe, expect, test } from 'vitest';
import { timeGrid, UTC } from '../../src/base/index.ts';
import { syntheticHousehold, withSpikes } from '../../src/house/index.ts';

const THIRDS = [1 / 3, 1 / 3, 1 / 3] as const;
const GRID = timeGrid(Date.UTC(2025, 2, 1), 30, 60, UTC);
const home = syntheticHousehold({ annualWh: 4_000_000, people: 3, seed: 4, phaseSplit: THIRDS }, GRID);
const minuteW = home[0].map((w, k) => w + home[1][k]! + home[2][k]!);
const whole = (loads: readonly Float64Array[]): Float64Array => loads[0]!.map((w, k) => w + loads[1]![k]! + loads[2]![k]!);
const means = (w: Float64Array, n: number): Float64Array =>
  Float64Array.from({ length: w.length / n }, (_, i) => w.subarray(i * n, (i + 1) * n).reduce((a, b) => a + b, 0) / n);
const coarse = (n: number) => ({ startMs: GRID.startMs, intervalS: n * 60, meanW: means(minuteW, n) });
const quantile = (w: Float64Array, share: number): number => w.slice().sort().reverse()[Math.floor(share * w.length)]!;
const highUps = (w: Float64Array): number => w.filter((x, k) => k > 0 && x - w[k - 1]! > 1000).length;

describe('withSpikes', () => {
  test.each([10, 15, 30, 60])('%d minutes: the energy of every interval is kept, nothing is negative', (n) => {
    const load = coarse(n);
    const fine = whole(withSpikes(load, [0.5, 0.3, 0.2], 1));
    for (const [i, w] of means(fine, n).entries()) expect(Math.abs(w - load.meanW[i]!)).toBeLessThan(1e-9 * (1 + w));
    expect(fine.every((w) => w >= 0)).toBe(true);
  });

  // The household of this project stands for a real one: taken apart from its own means, its minutes should look as they did.
  test.each([
    ['15', 15, 0.25],
    ['60', 60, 0.25],
  ] as const)('%s minutes: the load duration curve comes back (upper tenth within a quarter)', (_name, n, within) => {
    const fine = whole(withSpikes(coarse(n), THIRDS, 1));
    for (const share of [0.01, 0.02, 0.05, 0.1])
      expect(Math.abs(quantile(fine, share) / quantile(minuteW, share) - 1), `${share}`).toBeLessThan(within);
    expect(highUps(fine) / highUps(minuteW)).toBeGreaterThan(0.6);
    expect(highUps(fine) / highUps(minuteW)).toBeLessThan(2);
  });

  test.each([15, 60])(
    '%d minutes: self-consumption of a steady 1500 W is missed by less than half of what holding them misses',
    (n) => {
      const self = (w: Float64Array): number => w.reduce((sum, x) => sum + Math.min(x, 1500), 0);
      const meanW = means(minuteW, n);
      const held = minuteW.map((_, k) => meanW[Math.floor(k / n)]!);
      const fine = whole(withSpikes(coarse(n), THIRDS, 1));
      expect(Math.abs(self(fine) - self(minuteW))).toBeLessThan(0.5 * (self(held) - self(minuteW)));
    },
  );

  test('pulses hang on one phase each, and the phases keep their shares in the long run', () => {
    const loads = withSpikes(coarse(60), [0.5, 0.3, 0.2], 1);
    const total = whole(loads).reduce((a, b) => a + b, 0);
    const shares = loads.map((w) => w.reduce((a, b) => a + b, 0) / total);
    expect(Math.abs(shares[0]! - 0.5)).toBeLessThan(0.03);
    expect(Math.abs(shares[2]! - 0.2)).toBeLessThan(0.03);
    const alone = loads[0].filter(
      (w, k) => k > 0 && w - loads[0][k - 1]! > 1500 && Math.abs(loads[1][k]! - loads[1][k - 1]!) < 1,
    );
    expect(alone.length).toBeGreaterThan(50);
  });

  test('a quiet house stays quiet: a load that hardly moves gets no pulses', () => {
    const flat = { startMs: 0, intervalS: 900, meanW: new Float64Array(96).fill(120) };
    expect(whole(withSpikes(flat, THIRDS, 1)).every((w) => Math.abs(w - 120) < 1e-9)).toBe(true);
  });

  test('the same seed gives the same minutes; a part of a series is that part, away from its ends', () => {
    const load = coarse(15);
    const all = whole(withSpikes(load, THIRDS, 3));
    expect(whole(withSpikes(load, THIRDS, 3))).toEqual(all);
    expect(whole(withSpikes(load, THIRDS, 4))).not.toEqual(all);
    const part = whole(
      withSpikes({ startMs: load.startMs + 96 * 900_000, intervalS: 900, meanW: load.meanW.slice(96, 288) }, THIRDS, 3),
    );
    expect(part.slice(16 * 15, 176 * 15)).toEqual(all.slice((96 + 16) * 15, (96 + 176) * 15));
  });

  test('refuses intervals that are no whole minutes', () => {
    expect(() => withSpikes({ startMs: 0, intervalS: 450, meanW: new Float64Array(2) }, THIRDS, 1)).toThrow(RangeError);
  });
});
