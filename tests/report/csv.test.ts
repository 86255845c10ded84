import { describe, expect, test, vi } from 'vitest';
import { csvField } from '../../src/report/csv.ts';
import { eventsCsv, grouped, monthRow, monthsCsv, rounded, shortNumber, stepsCsv } from '../../src/report/index.ts';
import type { Run } from '../../src/simulate/index.ts';
import { inventedRun } from './invented-run.ts';

// Other work on the machine must not fail a test.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

const STEPS_HEADER =
  'time,pv_w,load_w,surplus_w,battery_w,battery_soc,import_w,export_w,curtailed_w,l1_a,l2_a,l3_a,' +
  'car1_state,car1_phases,car1_a,car1_w,car1_pv_w,car1_battery_w,car1_grid_w,car1_soc';

/** Rows of a CSV without quotes, which is all that these files hold. */
const rowsOf = (text: string): string[][] =>
  text
    .split('\r\n')
    .filter((line) => line !== '')
    .map((line) => line.split(','));

/** steps.csv as one text. */
const stepsText = (run: Run): string => Buffer.concat([...stepsCsv(run)]).toString('latin1');

describe('numbers as text', () => {
  test('shortNumber: as few digits as the value needs, no exponent, no minus zero', () => {
    expect([0, -0, -1e-9, 3e-7, 1380, 0.1 + 0.2, -1450.12345678, 20_000.5].map((value) => shortNumber(value, 7))).toEqual([
      '0',
      '0',
      '0',
      '0.0000003',
      '1380',
      '0.3',
      '-1450.1234568',
      '20000.5',
    ]);
    expect(shortNumber(1e-9, 9)).toBe('0.000000001');
    expect(() => shortNumber(Number.NaN, 3)).toThrow(RangeError);
  });

  test('grouped and rounded: for people and for tables', () => {
    expect([grouped(1842.44, 1), grouped(-0.01, 1), grouped(1_234_567, 0), grouped(999, 0)]).toEqual([
      '1,842.4',
      '0.0',
      '1,234,567',
      '999',
    ]);
    expect(Object.is(rounded(-0.0001, 2), 0)).toBe(true);
  });

  test('csvField: quotes what RFC 4180 wants quoted', () => {
    expect([csvField('a'), csvField('a,b'), csvField('say "no"'), csvField('two\nlines')]).toEqual([
      'a',
      '"a,b"',
      '"say ""no"""',
      '"two\nlines"',
    ]);
  });
});

describe('steps.csv', () => {
  test('columns of the design page, one row a step, lines ended as RFC 4180 says', () => {
    const run = inventedRun({ days: 2, stepS: 900 });
    const text = stepsText(run);
    const rows = rowsOf(text);
    expect(rows[0]?.join(',')).toBe(STEPS_HEADER);
    expect(rows.length).toBe(1 + 2 * 96);
    expect(new Set(rows.map((row) => row.length))).toEqual(new Set([20]));
    expect(text.endsWith('\r\n')).toBe(true);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(text).not.toMatch(/NaN|undefined|Infinity|-0(?![.\d])|\de[-+]?\d/);
  });

  test('local times with their offset, through the hour that spring leaves out', () => {
    const run = inventedRun({ firstDayMs: Date.UTC(2025, 2, 30), stepS: 1800 });
    const times = rowsOf(stepsText(run)).map((row) => row[0]);
    expect(times.length).toBe(1 + 46);
    expect(times.slice(3, 7)).toEqual([
      '2025-03-30T01:00:00+01:00',
      '2025-03-30T01:30:00+01:00',
      '2025-03-30T03:00:00+02:00',
      '2025-03-30T03:30:00+02:00',
    ]);
  });

  test('local times with their offset, through the hour that autumn has twice', () => {
    const times = rowsOf(stepsText(inventedRun({ firstDayMs: Date.UTC(2025, 9, 26), stepS: 1800 }))).map((row) => row[0]);
    expect(times.length).toBe(1 + 50);
    expect(times.slice(4, 10)).toEqual([
      '2025-10-26T01:30:00+02:00',
      '2025-10-26T02:00:00+02:00',
      '2025-10-26T02:30:00+02:00',
      '2025-10-26T02:00:00+01:00',
      '2025-10-26T02:30:00+01:00',
      '2025-10-26T03:00:00+01:00',
    ]);
  });

  test('the energy balance can be checked to 1e-6 W, and lines to the meter', () => {
    const run = inventedRun({ firstDayMs: Date.UTC(2025, 5, 21), stepS: 60 });
    const rows = rowsOf(stepsText(run));
    const header = rows[0] ?? [];
    for (const row of rows.slice(1)) {
      const value = (name: string): number => Number(row[header.indexOf(name)]);
      const given = value('pv_w') + value('import_w');
      const taken = value('load_w') + value('car1_w') + value('export_w') + value('curtailed_w') + value('battery_w');
      expect(Math.abs(given - taken)).toBeLessThan(1e-6);
      const meterW = 230 * (value('l1_a') + value('l2_a') + value('l3_a'));
      expect(Math.abs(meterW - (value('import_w') - value('export_w')))).toBeLessThan(1e-3);
    }
  });

  test('comes in pieces, none of them large', () => {
    const pieces = [...stepsCsv(inventedRun({ days: 10 }))];
    expect(pieces.length).toBeGreaterThan(7);
    expect(Math.max(...pieces.map((piece) => piece.length))).toBeLessThan(600_000);
  });
});

describe('events.csv', () => {
  test('numbers that decided, charge points from 1', () => {
    expect(eventsCsv(inventedRun())).toBe(
      [
        'time,charge_point,event,phases_from,phases_to,surplus_w,threshold_w,held_s,reason',
        '2025-01-01T00:00:00+01:00,1,plug-in,0,0,0,1380,0,short',
        '2025-01-01T08:00:00+01:00,1,start,0,1,1450.123,1380,180,waking',
        '',
      ].join('\r\n'),
    );
  });

  test('no event is a header and nothing else', () => {
    expect(eventsCsv({ ...inventedRun(), events: [] })).toMatch(/^time,[^\r\n]*reason\r\n$/);
  });
});

describe('months.csv', () => {
  test('round trip: what is written is what the ledger holds', async () => {
    const run = inventedRun({ days: 90, stepS: 900 });
    const [header = [], ...rows] = rowsOf(await monthsCsv(run));
    expect(header.join(',')).toBe(
      'year,month,pv_kwh,load_kwh,import_kwh,export_kwh,car1_kwh,car1_pv_kwh,car1_battery_kwh,car1_grid_kwh,car1_stored_kwh,' +
        'car1_solar_charging_h,car1_charging_h,car1_pv_km,car1_driven_km,car1_missed_km,car1_starts,car1_stalls,car1_switches,car1_holds',
    );
    const read = rows.map((row) => Object.fromEntries(header.map((name, i) => [name, Number(row[i])])));
    expect(read).toEqual(run.ledger.months.map(monthRow));
    expect(read.map((row) => [row.year, row.month])).toEqual([
      [2025, 1],
      [2025, 2],
      [2025, 3],
    ]);
  });
});
