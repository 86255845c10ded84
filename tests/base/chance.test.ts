import { describe, expect, test } from 'vitest';
import { chance } from '../../src/base/index.ts';

const WORD = 1n << 32n;
const rotl = (x: bigint, by: bigint): bigint => ((x << by) | (x >> (32n - by))) % WORD;

/** FNV-1a, 32 bits, from the published definition (G. Fowler, L. C. Noll, K.-P. Vo), in integers without end. */
function fnv1a(text: string): bigint {
  let hash = 0x811c9dc5n;
  for (const byte of new TextEncoder().encode(text)) hash = ((hash ^ BigInt(byte)) * 0x01000193n) % WORD;
  return hash;
}

/** sfc32 from its published recurrence (C. Doty-Humphrey, PractRand), a second time, in integers without end. */
function sfc32(a: bigint, b: bigint, c: bigint, counter: bigint): () => number {
  return () => {
    const t = (a + b + counter) % WORD;
    counter = (counter + 1n) % WORD;
    a = b ^ (b >> 9n);
    b = (c + (c << 3n)) % WORD;
    c = (rotl(c, 21n) + t) % WORD;
    return Number(t) / 2 ** 32;
  };
}

const draws = (seed: number, name: string, n: number): number[] => {
  const luck = chance(seed, name);
  return Array.from({ length: n }, () => luck.uniform());
};

describe('chance: same seed, same numbers', () => {
  test('FNV-1a of the second implementation: test vectors published with the hash (Noll; from memory)', () => {
    expect(fnv1a('')).toBe(0x811c9dc5n);
    expect(fnv1a('a')).toBe(0xe40c292cn);
    expect(fnv1a('foobar')).toBe(0xbf9cf968n);
  });

  test.each([
    [0, ''],
    [1, 'weather'],
    [4_294_967_295, 'trips'],
    [4_294_967_296, 'trips'],
    [9_007_199_254_740_991, 'house/kettle/20089'],
  ])('uniform follows the published recurrence: seed %d, name "%s"', (seed, name) => {
    const second = sfc32(fnv1a(name), BigInt(seed) % WORD, BigInt(seed) / WORD, 1n);
    for (let i = 0; i < 20; i++) second();
    expect(draws(seed, name, 200)).toEqual(Array.from({ length: 200 }, second));
  });

  test('first values, kept so that a change of the stream is seen (our own output, equal to the second implementation)', () => {
    expect(draws(1, 'weather', 3).map((u) => u * 2 ** 32)).toEqual([1_415_584_895, 317_769_441, 1_900_808_232]);
  });
});

describe('chance: independence and moments', () => {
  test('another name or another seed gives another stream, uncorrelated', () => {
    const n = 20_000;
    const streams = [draws(1, 'weather', n), draws(1, 'trips', n), draws(2, 'weather', n), draws(1, 'weathes', n)];
    for (let i = 0; i < streams.length; i++) {
      for (let j = 0; j < i; j++)
        expect(Math.abs(correlation(streams[i] ?? [], streams[j] ?? []))).toBeLessThan(4 / Math.sqrt(n));
    }
  });

  test('first draws of neighbouring names and seeds are spread evenly', () => {
    const first = Array.from({ length: 20_000 }, (_, i) => chance(i % 20, `day/${Math.floor(i / 20)}`).uniform());
    expect(mean(first)).toBeCloseTo(0.5, 1.9);
    for (let bin = 0; bin < 10; bin++) {
      const share = first.filter((u) => u >= bin / 10 && u < (bin + 1) / 10).length / first.length;
      expect(Math.abs(share - 0.1)).toBeLessThan(4 * Math.sqrt(0.09 / first.length));
    }
  });

  test('uniform: in [0, 1), mean 1/2, variance 1/12 (four standard errors)', () => {
    const n = 100_000;
    const u = draws(7, 'moments', n);
    expect(u.every((x) => x >= 0 && x < 1)).toBe(true);
    expect(Math.abs(mean(u) - 1 / 2)).toBeLessThan(4 * Math.sqrt(1 / 12 / n));
    expect(Math.abs(mean(u.map((x) => (x - 0.5) ** 2)) - 1 / 12)).toBeLessThan(4 * Math.sqrt(1 / 180 / n));
  });

  test('normal: mean 0, variance 1, third moment 0, fourth 3 (four standard errors)', () => {
    const n = 100_000;
    const luck = chance(7, 'moments');
    const z = Array.from({ length: n }, () => luck.normal());
    expect(Math.abs(mean(z))).toBeLessThan(4 * Math.sqrt(1 / n));
    expect(Math.abs(mean(z.map((x) => x ** 2)) - 1)).toBeLessThan(4 * Math.sqrt(2 / n));
    expect(Math.abs(mean(z.map((x) => x ** 3)))).toBeLessThan(4 * Math.sqrt(15 / n));
    expect(Math.abs(mean(z.map((x) => x ** 4)) - 3)).toBeLessThan(4 * Math.sqrt(96 / n));
  });
});

test.each([-1, 0.5, Number.NaN, Infinity])('chance refuses the seed %d', (seed) => {
  expect(() => chance(seed, 'x')).toThrow(RangeError);
});

const mean = (xs: readonly number[]): number => xs.reduce((sum, x) => sum + x, 0) / xs.length;

function correlation(xs: readonly number[], ys: readonly number[]): number {
  const [mx, my] = [mean(xs), mean(ys)];
  const cov = mean(xs.map((x, i) => (x - mx) * ((ys[i] ?? 0) - my)));
  return cov / Math.sqrt(mean(xs.map((x) => (x - mx) ** 2)) * mean(ys.map((y) => (y - my) ** 2)));
}
