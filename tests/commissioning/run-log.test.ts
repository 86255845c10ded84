import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { clockOffH, readRunLog, runFindings } from '../../src/commissioning/index.ts';
import { demoLogs } from '../tools/demo-logs.ts';

const HEAD = 'time,pv_w,house_w,grid_w,car_w,car_l1_a,car_l2_a,car_l3_a';

/** Rows of a day on which a car charges on one phase at 8 A for 45 minutes of each hour, once the sun is out. */
const rows = Array.from({ length: 600 }, (_, k) => {
  const on = k % 60 >= 5 && k % 60 < 50 && k >= 60;
  const amps = on ? 8 : 0;
  const car = amps * 230;
  const pv = k % 60 < 52 && k >= 60 ? 2500 + (k % 7) * 20 : 300;
  return [new Date(Date.UTC(2025, 5, 12, 6, k)).toISOString().replace('.000', ''), pv, 400, 400 + car - pv, car, amps, 0, 0].map(
    String,
  );
});
const csv = (lines: readonly (readonly string[])[], head = HEAD): string =>
  [head, ...lines.map((cells) => cells.join(','))].join('\n');
const column = (cells: readonly string[], name: string, change: (value: number) => number): string[] =>
  cells.map((cell, i) => (HEAD.split(',')[i] === name ? String(change(Number(cell))) : cell));

function read(text: string) {
  const checked = readRunLog(text, 'log.csv', 230);
  if (!checked.ok) throw new Error(checked.issues.map((issue) => `${issue.code}: ${issue.problem}`).join('; '));
  return { log: checked.value, codes: checked.warnings.map(({ code }) => code) };
}

describe('reading', () => {
  test('clean: phases, currents, surplus', () => {
    const { log, codes } = read(csv(rows));
    expect(codes).toEqual([]);
    expect([log.phases![70], log.currentA![70], log.surplusW![70]]).toEqual([1, 8, Number(rows[70]![1]) - 400]);
    expect(runFindings(log, { reserveW: 50, reserveRangeW: [50, 50], smoothingS: 0 }).current.phases).toEqual([1]);
  });

  test('from the meter alone: the same surplus', () => {
    const lean = csv(
      rows.map(([time = '', , , grid = '', car = '']) => [time, grid, car]),
      'time,grid_w,car_w',
    );
    const { log } = read(lean);
    expect(log.surplusW![70]).toBeCloseTo(read(csv(rows)).log.surplusW![70]!, 6);
    expect(log.phases).toBeNull();
  });

  test('a meter that counts export up is turned, and it is said', () => {
    const { log, codes } = read(csv(rows.map((cells) => column(cells, 'grid_w', (w) => -w))));
    expect(codes).toContain('log-export-up');
    expect(log.gridW![70]).toBe(Number(rows[70]![3]));
  });

  test('clamps that show something at rest, more by day than by night: taken off, and it is said', () => {
    const { log, codes } = read(csv(rows.map((cells, k) => column(cells, 'car_l1_a', (a) => a + (k < 240 ? 0.4 : 0.1)))));
    expect(codes).toContain('log-offset');
    expect(Math.abs(log.currentA![130]! - 8)).toBeLessThan(0.05);
    expect(Math.abs(log.currentA![430]! - 8)).toBeLessThan(0.05);
  });

  test('an inverter’s own use at night is no negative sun', () => {
    const { log, codes } = read(csv(rows.map((cells, k) => column(cells, 'pv_w', (w) => (k < 60 ? -12 : w)))));
    expect(codes).toContain('log-pv-below-zero');
    expect(log.pvW![5]).toBe(0);
  });

  test('columns that do not add up are said', () => {
    expect(read(csv(rows.map((cells) => column(cells, 'house_w', (w) => w + 900)))).codes).toContain('log-unbalanced');
  });

  test('a clock that takes day for night is noticed by the sun', () => {
    // A bell of sun around noon in Vienna (16.4° E: 10:54 UTC), one day in 600 rows.
    const { log } = read(csv(rows));
    const hourOf = (k: number): number => (k / 600) * 24;
    const pvW = Float64Array.from(rows, (_, k) => 5000 * Math.max(0, Math.sin((Math.PI * (hourOf(k) - 4)) / 13.8)));
    const off = (shiftH: number): number | null => {
      const atMs = Float64Array.from(rows, (_, k) => Date.UTC(2025, 5, 12) + (hourOf(k) + shiftH) * 3_600_000);
      return clockOffH({ ...log, pvW, table: { ...log.table, atMs } }, 16.4);
    };
    expect(off(0)).toBeNull();
    expect(off(2)).toBeNull();
    expect(Math.abs(off(12)!)).toBeGreaterThan(11);
    expect(off(-6)).toBeCloseTo(-6, 0);
  });

  test('a car that changes against the meter while it follows the sun does not turn the meter’s sign', () => {
    // Clouds take 4 kW off the roof, the car gives up 2 kW of them: the meter rises while the car falls.
    const cloudy = rows.map(([time = '', , house = ''], k) => {
      const dark = k % 10 < 5;
      const [car, pv] = [dark ? 1840 : 3680, dark ? 1500 : 5500];
      return [time, String(pv), house, String(400 + car - pv), String(car), String(car / 230), '0', '0'];
    });
    const lean = csv(
      cloudy.map(([time = '', , , grid = '', car = '']) => [time, grid, car]),
      'time,grid_w,car_w',
    );
    for (const text of [csv(cloudy), lean]) {
      expect(read(text).codes).toEqual([]);
      expect(read(text).log.gridW![0]).toBe(400 + 1840 - 1500);
    }
  });

  test('kilowatts are refused, a charger’s own use is not', () => {
    const codesOf = (text: string): string[] => {
      const checked = readRunLog(text, 'log.csv', 230);
      return checked.ok ? [] : checked.issues.map(({ code }) => code);
    };
    const thousandth = (cells: readonly string[]): string[] =>
      ['pv_w', 'house_w', 'grid_w', 'car_w'].reduce<string[]>((row, name) => column(row, name, (w) => w / 1000), [...cells]);
    expect(codesOf(csv(rows.map(thousandth)))).toEqual(['log-kilowatts']);
    expect(codesOf(csv(rows.map((cells) => column(cells, 'grid_w', (w) => w / 1000))))).toEqual(['log-kilowatts']);
    expect(
      codesOf(
        csv(
          rows.map((cells) => column(cells, 'car_w', () => 7)),
          HEAD,
        ),
      ),
    ).toEqual([]);
  });

  test('the car’s clock three rows behind the meter’s, or before it: found, said, taken off', () => {
    for (const lag of [3, -2]) {
      const apart = rows.map((cells, k) => [
        ...cells.slice(0, 4),
        ...rows[Math.min(rows.length - 1, Math.max(0, k - lag))]!.slice(4),
      ]);
      const { log, codes } = read(csv(apart));
      expect(codes).toContain('log-two-clocks');
      expect(Array.from(log.phases!.subarray(70, 400))).toEqual(Array.from(read(csv(rows)).log.phases!.subarray(70, 400)));
    }
  });

  test('one row is too few, and is called one', () => {
    const checked = readRunLog(csv(rows.slice(0, 1)), 'log.csv', 230);
    expect(checked.ok ? '' : checked.issues[0]!.problem).toBe('The log has one row; nothing can be told from so few.');
  });

  test('nothing of the car: refused', () => {
    const checked = readRunLog(
      csv(
        rows.map((cells) => cells.slice(0, 4)),
        'time,pv_w,house_w,grid_w',
      ),
      'log.csv',
      230,
    );
    expect(checked.ok ? [] : checked.issues.map(({ code }) => code)).toEqual(['log-no-car']);
  });

  test('the logs in data/demo are those that are made', () => {
    for (const [name, text] of Object.entries(demoLogs())) expect(readFileSync(`data/demo/${name}`, 'utf8')).toBe(text);
  });

  test('the log in data/demo: what it was made with is found', () => {
    const { log } = read(readFileSync('data/demo/invented-log.csv', 'utf8'));
    const findings = runFindings(log, { reserveW: 50, reserveRangeW: [50, 50], smoothingS: 30 });
    expect(findings.startDelayS).toMatchObject({ known: true, value: 540 });
    expect(findings.stopDelayS).toMatchObject({ known: true, value: 180 });
  });
});
