import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { beforeAll, describe, expect, test, vi } from 'vitest';
import { DE, EN } from '../../src/explain/index.ts';
import { dayChart, type Fonts, isOutputName, monthsChart, openDrawing, outputFiles } from '../../src/report/index.ts';
import { paler } from '../../src/report/palette.ts';
import { stretchesOf } from '../../src/report/state-ribbon.ts';
import { inventedRun } from './invented-run.ts';
import { smallRun } from './small-household.ts';

// Other work on the machine must not fail a test.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

const files = createRequire(import.meta.url).resolve('@fontsource/source-sans-3/files/source-sans-3-latin-400-normal.woff2');
const fonts: Fonts = [{ family: 'Source Sans 3', bytes: readFileSync(files) }];
const summer = inventedRun({ firstDayMs: Date.UTC(2025, 5, 20), days: 2 });
const options = { day: 1, heading: 'Invented <house> & Co', pointNames: ['garage'], widthPx: 1000 };
const SIZE = { widthPx: 1000, heightPx: 560 };

let draw: Awaited<ReturnType<typeof openDrawing>>;
beforeAll(async () => {
  draw = await openDrawing(fonts);
});

/** Width and height that a PNG says it has (PNG specification, IHDR: bytes 16 to 23). */
const pngSize = (png: Uint8Array): number[] => {
  const view = new DataView(png.buffer, png.byteOffset);
  return [view.getUint32(16), view.getUint32(20)];
};
const textsOf = (svg: string): string[] => [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map((match) => match[1] ?? '');

describe('day chart', () => {
  test('PNG of the size asked for, twice as fine; not a blank sheet', () => {
    const { png } = draw(dayChart(summer, options) as never, SIZE);
    expect([...png.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
    expect(pngSize(png)).toEqual([2000, 1120]);
    expect(png.length).toBeGreaterThan(40_000);
  });

  test('SVG holds its words as text, the states that occur and no others', () => {
    const { svg } = draw(dayChart(summer, options) as never, SIZE);
    const texts = textsOf(svg);
    for (const word of [
      'PV',
      'house',
      'car from PV',
      'power, kW',
      'local time, Europe/Vienna',
      '12:00',
      'surplus of 4.14 kW starts 3 phases',
    ])
      expect(texts).toContain(word);
    for (const state of ['away', 'proving', 'surplus', 'full'] as const) expect(texts).toContain(EN.states[state]);
    expect(texts).not.toContain(EN.states['held-fuse']);
    expect(svg).toContain('<title>Invented &lt;house&gt; &amp; Co, 21 June 2025</title>');
    expect(svg).toContain('viewBox="0 0 1000 560"');
    expect(svg).not.toMatch(/\d\.\d{3,}/);
  });

  test('in German: words, decimal commas, dates', () => {
    const { svg } = draw(dayChart(summer, { ...options, words: DE }) as never, SIZE);
    const texts = textsOf(svg);
    for (const word of ['Haus', 'Auto aus PV', 'Leistung, kW', '4,14 kW Überschuss für 3 Phasen', DE.states.surplus]) {
      expect(texts).toContain(word);
    }
    expect(svg).toContain(', 21.06.2025</title>');
    const months = textsOf(draw(monthsChart(summer, summer, 'Haus', DE) as never, SIZE).svg);
    expect(months).toEqual(expect.arrayContaining(['aus PV', 'aus PV, sofort geladen', 'Energie ins Auto, kWh im Monat']));
  });

  test('the same input gives the same bytes', () => {
    const [one, two] = [1, 2].map(() => draw(dayChart(summer, options) as never, SIZE));
    expect(one?.svg === two?.svg).toBe(true);
    expect(Buffer.compare(one?.png ?? new Uint8Array(), two?.png ?? new Uint8Array(1))).toBe(0);
  });

  test('steps are drawn as steps, from midnight to midnight', () => {
    const spec = dayChart(summer, options);
    const pv = spec.data.datasets[0];
    expect(pv?.stepped).toBe('before');
    expect(pv?.data.length).toBe(1441);
    expect(pv?.data[1440]).toEqual({ x: 24, y: pv?.data[1439]?.y });
  });

  test('a day on which the clocks change has 23 hours, named by the wall', () => {
    const spring = inventedRun({ firstDayMs: Date.UTC(2025, 2, 30) });
    const { svg } = draw(dayChart(spring, { ...options, day: 0 }) as never, SIZE);
    const clock = textsOf(svg).filter((text) => /^\d\d:00$/.test(text));
    expect(clock).toEqual([
      '00:00',
      '04:00',
      '06:00',
      '08:00',
      '10:00',
      '12:00',
      '14:00',
      '16:00',
      '18:00',
      '20:00',
      '22:00',
      '00:00',
    ]);
  });

  test('no such day', () => {
    expect(() => dayChart(summer, { ...options, day: 2 })).toThrow(RangeError);
  });
});

describe('month chart', () => {
  const run = inventedRun({ days: 365, stepS: 900 });
  const atOnce = inventedRun({ days: 365, stepS: 900, atOnce: true });

  test('both years, km under each month, units on the axis', () => {
    const { png, svg } = draw(monthsChart(run, atOnce, 'Invented') as never, { widthPx: 1000, heightPx: 520 });
    const texts = textsOf(svg);
    expect(pngSize(png)).toEqual([2000, 1040]);
    for (const word of ['Jan', 'Dec', 'from PV', 'from PV, if charged at once', 'energy into the car, kWh a month'])
      expect(texts).toContain(word);
    expect(texts.filter((text) => / km$/.test(text)).length).toBe(12);
  });

  test('a missing month on the other side is a gap, not a failure', () => {
    const short = { ...atOnce, ledger: { ...atOnce.ledger, months: atOnce.ledger.months.slice(0, 7) } };
    const spec = monthsChart(run, short, 'Invented');
    const beside = spec.data.datasets.find((set) => set.label === 'from PV, if charged at once');
    expect(beside?.data.slice(7)).toEqual([0, 0, 0, 0, 0]);
  });

  test('a source that gives nothing takes no place in the legend', () => {
    const labels = monthsChart(run, atOnce, 'Invented').data.datasets.map((set) => set.label);
    expect(labels).not.toContain('from the home battery');
  });
});

test('stretchesOf: joins equal neighbours, covers the day without a gap', () => {
  const stretches = stretchesOf(Uint8Array.of(9, 0, 0, 2, 2, 2, 6, 9), 1, 7, 0.5);
  expect(stretches).toEqual([
    { state: 'away', fromH: 0, toH: 1 },
    { state: 'short', fromH: 1, toH: 2.5 },
    { state: 'surplus', fromH: 2.5, toH: 3 },
  ]);
});

test('paler: towards white', () => {
  expect([paler('#000000', 1), paler('#0072B2', 0), paler('#E69F00', 0.5)]).toEqual(['#000000', '#FFFFFF', '#F3CF80']);
});

test('outputFiles: every file of a run, whole', async () => {
  const small = smallRun('garage', 2);
  const facts = { scenarioName: 'Small', version: '0.0.0', pointNames: ['garage'], assumptions: [] };
  const names = [];
  const input = { ...small, money: null, profiles: { weather: null }, remarks: [], words: EN, facts, fonts };
  for await (const file of outputFiles(input)) names.push(file.name);
  // What a later run may replace.
  expect(names.filter((name) => !isOutputName(name))).toEqual([]);
  expect(names.sort()).toEqual([
    'day-2025-04-01.png',
    'day-2025-04-01.svg',
    'day-2025-04-02.png',
    'day-2025-04-02.svg',
    'events.csv',
    'months.csv',
    'months.png',
    'months.svg',
    'report.html',
    'steps.csv',
    'summary.json',
  ]);
});
