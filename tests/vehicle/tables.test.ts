import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { HABITS, VEHICLE_KINDS } from '../../src/vehicle/index.ts';
import { scenarioOf, throughDoor } from '../scenario/door.ts';

const stored = (file: string): unknown => parse(readFileSync(join(import.meta.dirname, '../../data', file), 'utf8'));

test('data/vehicles.yaml and data/habits.yaml: what people read is what the program uses', () => {
  expect(stored('vehicles.yaml')).toEqual(JSON.parse(JSON.stringify(VEHICLE_KINDS)));
  expect(stored('habits.yaml')).toEqual(JSON.parse(JSON.stringify(HABITS)));
});

const scenario = (vehicle: string, usage: string) =>
  scenarioOf(
    throughDoor(
      `site: { latitude: 47, longitude: 15, timeZone: Etc/UTC }
period: { start: 2025-01-01 }
weather: { source: synthetic, monthlyGhiKWhM2: [38, 57, 97, 126, 152, 160, 168, 146, 104, 69, 38, 30], monthlyTempC: [-1, 1, 5, 10, 14, 18, 20, 19, 15, 10, 4, 0] }
pv: { source: arrays, arrays: [{ kWp: 8, tiltDeg: 30, azimuthDeg: 180 }] }
household: { source: synthetic, annualKWh: 4000 }
chargePoints: [{ charger: { phases: switchable, maxCurrentA: 16 }, vehicle: ${vehicle}, usage: ${usage} }]
`,
      'x.yaml',
      () => null,
    ).checked,
  );

describe('chosen by name', () => {
  test.each(Object.keys(VEHICLE_KINDS))('%s and every habit pass the door and can charge', (kind) => {
    for (const habit of Object.keys(HABITS)) scenario(`{ kind: ${kind} }`, `{ source: weekly, habit: ${habit} }`);
  });

  test('single keys written beside the name replace those of the table; the rest stays', () => {
    const { vehicle, usage } = scenario(
      '{ kind: van, batteryKWh: 100 }',
      '{ source: weekly, habit: retired, longTrips: { perMonth: 2, km: 90 } }',
    ).chargePoints[0]!;
    expect([vehicle.batteryWh, vehicle.whPerKm, vehicle.coldFactor]).toEqual([100_000, 270, 1.4]);
    expect(usage).toMatchObject({ exceptions: { longTrips: { perMonth: 2, km: 90 } }, trips: [{ km: 15 }, { km: 32 }] });
  });

  test('a car that starts at 10 A keeps its minimum by the number of phases', () => {
    const { vehicle } = scenario('{ kind: starts-at-ten }', '{ source: always }').chargePoints[0]!;
    expect(vehicle.minCurrentA).toEqual([10, 8, 8]);
  });
});
