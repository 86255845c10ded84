import { expect, test } from 'vitest';
import { nearest } from '../../src/scenario/index.ts';

test('nearest: a letter left out, added, changed, swapped, or in the wrong case', () => {
  const known = ['tiltDeg', 'azimuthDeg', 'kWp', 'lossPercent'];
  expect(nearest('azimutDeg', known)).toBe('azimuthDeg');
  expect(nearest('tilttDeg', known)).toBe('tiltDeg');
  expect(nearest('litDeg', known)).toBe('tiltDeg');
  expect(nearest('itltDeg', known)).toBe('tiltDeg');
  expect(nearest('KWP', known)).toBe('kWp');
});

test('nearest: a word that it begins; nothing where nothing is like it', () => {
  expect(nearest('house', ['household', 'period'])).toBe('household');
  expect(nearest('colour', ['tiltDeg', 'kWp'])).toBeNull();
  expect(nearest('4', ['1', '2'])).toBeNull();
  expect(nearest('x'.repeat(100_000), ['tiltDeg'])).toBeNull();
});
