import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { chance } from '../../src/base/index.ts';
import {
  CLIMATES,
  diffuseOfHour,
  hoursOfDay,
  luckOfMonth,
  type NamedClimate,
  normalOfShare,
  tooSunnyMonths,
} from '../../src/sky/index.ts';
import { VIENNA } from '../reference/published.ts';
import { scenarioOf, throughDoor } from '../scenario/door.ts';

const scenario = (weather: string, latitude = 48.2) =>
  throughDoor(
    `site: { latitude: ${latitude}, longitude: 16.4, timeZone: Etc/UTC }
period: { start: 2025-01-01, days: 2 }
weather: { source: synthetic, ${weather} }
pv: { source: arrays, arrays: [{ kWp: 8, tiltDeg: 30, azimuthDeg: 180 }] }
household: { source: synthetic, annualKWh: 4000 }
chargePoints: [{ charger: { phases: 3, maxCurrentA: 16 }, vehicle: { kind: family }, usage: { source: always } }]
`,
    'x.yaml',
    () => null,
  ).checked;

describe('climates', () => {
  test('data/climates.yaml: what people read is what the program uses', () => {
    const stored: unknown = parse(readFileSync(join(import.meta.dirname, '../../data/climates.yaml'), 'utf8'));
    expect(stored).toEqual(JSON.parse(JSON.stringify(CLIMATES)));
  });
  test.each(Object.entries<NamedClimate>(CLIMATES))('%s: twelve months that its own sky can bring', (_, climate) => {
    expect([climate.monthlyGhiKWhM2.length, climate.monthlyTempC.length]).toEqual([12, 12]);
    const site = { latitudeDeg: climate.latitude, longitudeDeg: climate.longitude, elevationM: climate.elevationM };
    expect(tooSunnyMonths(climate.monthlyGhiKWhM2, site)).toEqual([]);
  });
  // J1: typical year of Vienna-Schwechat, months within 20 %, the year within 8 %.
  test('J1: Vienna', () => {
    const { monthlyGhiKWhM2 } = CLIMATES.vienna;
    monthlyGhiKWhM2.forEach((sum, m) => void expect(Math.abs(sum / VIENNA.ghiKWhM2[m]! - 1)).toBeLessThan(0.2));
    expect(Math.abs(monthlyGhiKWhM2.reduce((a, b) => a + b, 0) / 1122 - 1)).toBeLessThan(0.08);
  });
  // J9, J10: German weather service, monthly means of the country 23, 40, 75, 117, 159, 164, 141, 95, 17; years 975 … 1259.
  test.each(['berlin', 'frankfurt', 'hamburg', 'munich'] as const)(
    'J9, J10: %s, months within 30 %% of the country, but for the darkest of Munich; the year in its range',
    (name) => {
      const country = [23, 40, 75, 117, null, 159, 164, 141, 95, null, null, null];
      const { monthlyGhiKWhM2 } = CLIMATES[name];
      country.forEach((sum, m) => {
        if (sum !== null) expect(Math.abs(monthlyGhiKWhM2[m]! / sum - 1)).toBeLessThan(name === 'munich' && m < 2 ? 0.4 : 0.3);
      });
      const year = monthlyGhiKWhM2.reduce<number>((a, b) => a + b, 0);
      expect(year).toBeGreaterThan(974);
      expect(year).toBeLessThan(1260);
    },
  );
  test('a name fills both tables; one written beside it replaces its own', () => {
    const { weather } = scenarioOf(scenario('climate: vienna, monthlyTempC: [1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]'));
    if (weather.kind !== 'synthetic') throw new Error(weather.kind);
    expect(weather.monthlyGhiWhPerM2[5]).toBe(CLIMATES.vienna.monthlyGhiKWhM2[5] * 1000);
    expect(weather.monthlyAirC[5]).toBe(1);
  });
  test('a climate from far away is said', () => {
    const near = scenario('climate: vienna');
    const far = scenario('climate: hamburg');
    expect(near.ok && near.warnings).toEqual([]);
    expect(far.ok && far.warnings.map(({ code }) => code)).toEqual(['climate-elsewhere']);
  });
  test('months of the south under the sun of the north are refused, each with its key', () => {
    const checked = scenario('climate: seville', 65);
    expect(checked.ok ? [] : checked.issues.map(({ path }) => path.join('.'))).toContain('weather.monthlyGhiKWhM2.0');
  });
});

describe('luck, hours', () => {
  test('luckOfMonth: mean near 0 and spread near 1 over 20 seeds that follow each other', () => {
    for (let month = 0; month < 12; month++) {
      const all = Array.from({ length: 20 }, (_, i) => luckOfMonth(i + 1, 2025, month));
      const mean = all.reduce((a, b) => a + b, 0) / 20;
      expect(Math.abs(mean)).toBeLessThan(0.1);
      expect(Math.sqrt(all.reduce((a, b) => a + (b - mean) ** 2, 0) / 20)).toBeGreaterThan(0.7);
      expect(Math.sqrt(all.reduce((a, b) => a + (b - mean) ** 2, 0) / 20)).toBeLessThan(1.35);
    }
  });
  test('normalOfShare: 97.5 % lie below 1.96', () => expect(normalOfShare(0.975)).toBeCloseTo(1.96, 3));
  test('hoursOfDay: the day comes out; the hours are correlated as published, 0.54 ± 0.14', () => {
    const clear = Array.from({ length: 14 }, (_, h) => 800 * Math.sin((Math.PI * (h + 0.5)) / 14));
    const whole = clear.reduce((a, b) => a + b, 0);
    const [pairs, squares] = [[] as number[], [] as number[]];
    for (let day = 0; day < 400; day++) {
      const hours = hoursOfDay(0.6, clear, chance(day, 'test'));
      expect(hours.reduce((a, x, h) => a + x * clear[h]!, 0) / whole).toBeCloseTo(0.6, 3);
      const normals = hours.map((x) => Math.log((x - 0.03) / (1.08 - x)));
      const mean = normals.reduce((a, b) => a + b, 0) / normals.length;
      normals.forEach((x, h) => {
        squares.push((x - mean) ** 2);
        if (h > 0) pairs.push((x - mean) * (normals[h - 1]! - mean));
      });
    }
    const average = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
    expect(Math.abs(average(pairs) / average(squares) - 0.54)).toBeLessThan(0.14);
  });
  test('diffuseOfHour: never more than the hour brings, all of it under a dark cover', () => {
    for (let index = 0; index <= 1.08; index += 0.01)
      for (const normal of [-3, -1, 0, 1, 3]) expect(diffuseOfHour(index, normal)).toBeLessThanOrEqual(index + 1e-12);
    expect(diffuseOfHour(0.2, 0)).toBeCloseTo(0.2, 2);
  });
});
