import { expect, test } from 'vitest';
import { DE, EN } from '../../src/explain/index.ts';

test('numbers in the form of each language, by hand', () => {
  const cases: [string, string, string][] = [
    [EN.form.fixed(1842.44, 1), '1,842.4', DE.form.fixed(1842.44, 1)],
    [EN.form.kw(1380), '1.38 kW', DE.form.kw(1380)],
    [EN.form.kwh(99_949), '99.9 kWh', DE.form.kwh(99_949)],
    [EN.form.kwh(2_090_660), '2,091 kWh', DE.form.kwh(2_090_660)],
    [EN.form.amps(6), '6 A', DE.form.amps(6)],
    [EN.form.amps(6.25), '6.3 A', DE.form.amps(6.25)],
    [EN.form.plain(1000, 2), '1,000', DE.form.plain(1000, 2)],
    [EN.form.plain(10.5, 2), '10.5', DE.form.plain(10.5, 2)],
    [EN.form.brief(1.46), '1.5', DE.form.brief(1.46)],
    [EN.form.fixed(-0.04, 1), '0.0', DE.form.fixed(-0.04, 1)],
    [EN.form.fixed(1_234_567, 0), '1,234,567', DE.form.fixed(1_234_567, 0)],
  ];
  const swap = (text: string): string => text.replace(/[.,]/g, (mark) => (mark === '.' ? ',' : '.'));
  for (const [english, expected, german] of cases) {
    expect(english).toBe(expected);
    expect(german).toBe(swap(expected));
  }
});

test('durations, dates, lists, counts', () => {
  expect([119, 120, 150, 599, 600, 630, 7199, 7200, 9000].map(EN.form.lasting)).toEqual([
    '119 s',
    '2 min',
    '2.5 min',
    '10 min',
    '10 min',
    '11 min',
    '120 min',
    '2 h',
    '2.5 h',
  ]);
  const date = { year: 2025, month: 4, day: 2 };
  expect([EN.form.date(date), DE.form.date(date)]).toEqual(['2 April 2025', '02.04.2025']);
  expect(EN.form.listed(['a', 'b', 'c'])).toBe('a, b and c');
  expect(DE.form.listed(['a', 'b'])).toBe('a und b');
  expect([EN.form.counted(1, 'start', 'starts'), EN.form.counted(2, 'start', 'starts')]).toEqual(['1 start', '2 starts']);
  expect([EN.form.onPhases(1), DE.form.onPhases(3)]).toEqual(['one phase', 'drei Phasen']);
  expect([EN.form.towards(200), DE.form.towards(350)]).toEqual(['south', 'Norden']);
  expect(EN.form.clock({ hour: 7, minute: 5, second: 0 })).toBe('07:05');
  expect(EN.form.clock({ hour: 7, minute: 5, second: 30 })).toBe('07:05:30');
  expect(EN.form.clock({ hour: 10, minute: 9, second: 0 })).toBe('10:09');
});

/** Every key of a catalogue, with where it stands. */
function keysOf(value: unknown, path = ''): string[] {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return [path];
  return Object.entries(value).flatMap(([key, inner]) => keysOf(inner, `${path}.${key}`));
}

test('both languages have the same words, and none is left in the other language', () => {
  expect(keysOf(DE).sort()).toEqual(keysOf(EN).sort());
  const texts = (words: unknown): string[] =>
    typeof words === 'string' ? [words] : typeof words === 'object' && words !== null ? Object.values(words).flatMap(texts) : [];
  const shared = texts(EN).filter((text) => text.length > 8 && texts(DE).includes(text));
  expect(shared).toEqual([]);
});
