import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { makeProfiles } from '../../src/simulate/index.ts';
import { scenarioOf, throughDoor } from './door.ts';

const DAYS = 3;
const N = DAYS * 96;
const START_MS = Date.UTC(2025, 5, 2);

/** Three invented days in UTC: a house, a roof, a car at noon. */
const hour = (i: number): number => (i % 96) / 4;
const houseW = Array.from({ length: N }, (_, i) => 250 + (i % 7 === 0 ? 900 : 0));
const pvW = Array.from({ length: N }, (_, i) =>
  Math.round(Math.max(0, 6000 * Math.sin(((hour(i) - 6) / 12) * Math.PI)) * (i % 5 ? 1 : 0.4)),
);
const carW = Array.from({ length: N }, (_, i) => (hour(i) >= 12 && hour(i) < 15 ? 3680 : 0));
const gridW = houseW.map((w, i) => w + carW[i]! - pvW[i]!);

const csv = (head: string, row: (i: number) => readonly number[], shiftMin = 0): string =>
  `${head}\n${Array.from({ length: N }, (_, i) => `${new Date(START_MS + i * 900_000 + shiftMin * 60_000).toISOString()},${row(i).join(',')}`).join('\n')}\n`;

const METER = csv('time,import_w,export_w,car_w', (i) => [Math.max(0, gridW[i]!), Math.max(0, -gridW[i]!), carW[i]!]);
const PV = csv('time,pv_w', (i) => [pvW[i]!]);

function enter(files: Record<string, string>, keys = '', pvKeys = '', days = DAYS, start = '2025-06-02') {
  return throughDoor(
    `site: { latitude: 48, longitude: 16, timeZone: Etc/UTC }
period: { start: ${start}, days: ${days} }
pv: { source: csv, file: pv.csv${pvKeys} }
household: { source: meter, file: meter.csv${keys} }
chargePoints: [{ charger: { phases: 1, maxCurrentA: 16 }, vehicle: { kind: compact }, usage: { source: always } }]
`,
    'x.yaml',
    (name) => files[name] ?? null,
  ).checked;
}

describe('household from the meter', () => {
  test('is what balances, silently, and its minutes keep the quarter-hours', () => {
    const checked = enter({ 'meter.csv': METER, 'pv.csv': PV });
    const { household, ...rest } = scenarioOf(checked);
    expect(checked.ok && checked.warnings).toEqual([]);
    if (household.kind !== 'measured') throw new Error(household.kind);
    expect([household.from, ...household.series.columns.loadW]).toEqual(['meter', ...houseW]);
    const { loadW } = makeProfiles({ household, ...rest });
    for (const [i, w] of houseW.entries()) {
      const minutes = loadW.subarray(i * 15, (i + 1) * 15);
      expect(Math.abs(minutes.reduce((a, b) => a + b, 0) / 15 - w)).toBeLessThan(1e-9 * w);
    }
    expect(loadW.some((w, k) => Math.abs(w - houseW[Math.floor(k / 15)]!) > 500)).toBe(true);
  });

  test('minutes: flat holds the quarter-hours', () => {
    const scenario = scenarioOf(enter({ 'meter.csv': METER, 'pv.csv': PV }, ', minutes: flat'));
    expect(makeProfiles(scenario).loadW.every((w, k) => Math.abs(w - houseW[Math.floor(k / 15)]!) < 1e-9)).toBe(true);
  });

  test('PV in minutes beside a meter in quarter-hours: reckoned at the quarter-hours', () => {
    const minutes = Array.from({ length: N * 15 }, (_, k) => {
      const sway = k % 15 < 7 ? 1.2 : k % 15 < 14 ? 0.8 : 1;
      return `${new Date(START_MS + k * 60_000).toISOString()},${pvW[Math.floor(k / 15)]! * sway}`;
    });
    const checked = enter({ 'meter.csv': METER, 'pv.csv': `time,pv_w\n${minutes.join('\n')}\n` });
    expect(checked.ok && checked.warnings).toEqual([]);
    const { household } = scenarioOf(checked);
    if (household.kind !== 'measured') throw new Error(household.kind);
    expect(household.series.intervalS).toBe(900);
    for (const [i, w] of household.series.columns.loadW.entries()) expect(Math.abs(w - houseW[i]!)).toBeLessThan(1e-6);
  });

  test('a PV clock two hours late is named with size, days and the shift that mends it, and shiftMin mends it', () => {
    // The file begins two hours late; the days between are asked for.
    const late = csv('time,pv_w', (i) => [pvW[i]!], 120);
    const checked = enter({ 'meter.csv': METER, 'pv.csv': late }, '', '', 1, '2025-06-03');
    const [warning, ...more] = checked.ok ? checked.warnings : [];
    expect(more).toEqual([]);
    expect(warning?.code).toBe('house-below-zero');
    expect(warning?.problem).toMatch(
      /^PV \+ import − export − car − battery is below 0 in \d+ of 96 intervals, [\d.]+ kWh in all, lowest -\d+ W at 2025-06-03T\S+; most on 2025-06-03 \([\d.]+ kWh\)\. Fits best: the clock of PV is 120 min late against the meter's \(\d+ % of it would be left\)\.$/,
    );
    expect(warning?.fix).toBe(
      "write `shiftMin: -120` in pv if its clock is off, or `shiftMin: 120` in household if the meter's is.",
    );
    const mended = enter({ 'meter.csv': METER, 'pv.csv': late }, '', ', shiftMin: -120', 1, '2025-06-03');
    expect(mended.ok && mended.warnings).toEqual([]);
  });

  test('swapped columns are found out', () => {
    const swapped = METER.replace('import_w,export_w', 'export_w,import_w');
    const checked = enter({ 'meter.csv': swapped, 'pv.csv': PV });
    expect(checked.ok && checked.warnings.map(({ problem }) => /Fits best: ([^(]*)/.exec(problem)?.[1]?.trim())).toEqual([
      'import and export are swapped',
    ]);
  });

  test('an export counted below 0 is turned, and said', () => {
    const signed = csv('time,import_w,export_w,car_w', (i) => [Math.max(0, gridW[i]!), Math.min(0, gridW[i]!), carW[i]!]);
    const checked = enter({ 'meter.csv': signed, 'pv.csv': PV });
    expect(checked.ok && checked.warnings.map(({ code }) => code)).toEqual(['export-below-zero']);
    const { household } = scenarioOf(checked);
    expect(household.kind === 'measured' && [...household.series.columns.loadW]).toEqual(houseW);
  });
});

test('a household measured phase by phase, hour by hour: spikes on each phase, its energy kept', () => {
  const rows = Array.from(
    { length: 48 },
    (_, h) => `${new Date(START_MS + h * 3_600_000).toISOString()},${h % 9 === 0 ? 1500 : 200},${h % 7 === 0 ? 900 : 100},50`,
  );
  const checked = throughDoor(
    `site: { latitude: 48, longitude: 16, timeZone: Etc/UTC }
period: { start: 2025-06-02, days: 2 }
pv: { source: csv, file: pv.csv }
household: { source: csv, file: load.csv, seed: 7 }
chargePoints: [{ charger: { phases: 1, maxCurrentA: 16 }, vehicle: { kind: compact }, usage: { source: always } }]
`,
    'x.yaml',
    (name) => (name === 'load.csv' ? `time,l1_w,l2_w,l3_w\n${rows.join('\n')}\n` : PV),
  ).checked;
  const { loadByPhaseW } = makeProfiles(scenarioOf(checked));
  for (const [phase, w] of loadByPhaseW.entries()) {
    for (const [h, row] of rows.entries()) {
      const hourW = w.subarray(h * 60, (h + 1) * 60);
      expect(Math.abs(hourW.reduce((a, b) => a + b, 0) / 60 - Number(row.split(',')[phase + 1]))).toBeLessThan(1e-9 * 1500);
    }
  }
  expect(loadByPhaseW[0].some((w) => w > 1900)).toBe(true);
  expect(loadByPhaseW[2].every((w) => Math.abs(w - 50) < 1e-9)).toBe(true);
});

test('household by the standard profile: the file of the reference tests passes and scales to the year', () => {
  const text = readFileSync(join(import.meta.dirname, '../reference/data/h0-quarter-hours.csv'), 'utf8');
  const checked = throughDoor(
    `site: { latitude: 48, longitude: 16, timeZone: Europe/Vienna }
period: { start: 2025-01-01 }
pv: { source: csv, file: pv.csv }
household: { source: profile, file: h0.csv, annualKWh: 3500, dynamic: true, daysOff: [2025-01-01, 2025-12-25] }
chargePoints: [{ charger: { phases: 1, maxCurrentA: 16 }, vehicle: { kind: compact }, usage: { source: always } }]
`,
    'x.yaml',
    (name) =>
      name === 'h0.csv'
        ? text
        : `time,pv_w\n${Array.from({ length: 366 }, (_, d) => `${new Date(Date.UTC(2024, 11, 31) + d * 86_400_000).toISOString()},0`).join('\n')}\n2026-01-01T00:00:00Z,0\n`,
  ).checked;
  const { loadW } = makeProfiles(scenarioOf(checked));
  expect(Math.abs(loadW.reduce((a, b) => a + b, 0) / 60 - 3_500_000)).toBeLessThan(1);
});
