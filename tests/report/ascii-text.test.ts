import fc from 'fast-check';
import { expect, test } from 'vitest';
import { AsciiText } from '../../src/report/ascii-text.ts';
import { shortNumber } from '../../src/report/index.ts';

const written = (write: (out: AsciiText) => void): string => {
  const out = new AsciiText(2000);
  write(out);
  return Buffer.from(out.take()).toString('latin1');
};
const asBytes = (value: number, decimals: number): string => written((out) => out.number(value, decimals));

test('a number has the digits that shortNumber gives it, whatever the number', () => {
  const anything = fc.double({ noNaN: true, noDefaultInfinity: true });
  const usual = fc.double({ min: -30_000, max: 30_000, noNaN: true });
  const halves = fc.integer({ min: -(2 ** 40), max: 2 ** 40 }).map((n) => (n + 0.5) / 1e7);
  fc.assert(
    fc.property(fc.oneof(anything, usual, halves), fc.integer({ min: 0, max: 9 }), (value, decimals) => {
      expect(asBytes(value, decimals)).toBe(shortNumber(value, decimals));
    }),
    { seed: 6, numRuns: 20_000 },
  );
});

test('edges: nothing, carries, the last place, what is too long for whole numbers', () => {
  for (const [value, decimals, text] of [
    [0, 7, '0'],
    [-0, 7, '0'],
    [-1e-9, 7, '0'],
    [1e-9, 9, '0.000000001'],
    [9.99999999, 7, '10'],
    [-1450.12345678, 7, '-1450.1234568'],
    [10, 7, '10'],
    [2_147_483_647, 0, '2147483647'],
    [2_147_483_648, 0, '2147483648'],
    [99_999_999.5, 7, '99999999.5'],
    [123_456_789.125, 7, '123456789.125'],
    [1e20, 0, '100000000000000000000'],
  ] as const)
    expect(asBytes(value, decimals)).toBe(text);
  for (const value of [Number.NaN, Infinity, -Infinity])
    expect(() => asBytes(value, 7)).toThrow(`value = ${value}: must be finite`);
});

test('zeros in front; what is taken is gone, and stays as it was', () => {
  expect(written((out) => out.digits(7, 2))).toBe('07');
  expect(written((out) => out.digits(1234, 2))).toBe('1234');
  const out = new AsciiText(10);
  out.text('one');
  expect(out.length).toBe(3);
  const taken = out.take();
  out.text('two');
  expect([Buffer.from(taken).toString(), out.length]).toEqual(['one', 3]);
});
