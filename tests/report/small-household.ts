import { type WhatIfs, whatIfs } from '../../src/explain/index.ts';
import type { Scenario } from '../../src/scenario/index.ts';
import { chargedAtOnce, makeProfiles, type Run, simulate } from '../../src/simulate/index.ts';
import { scenarioOf, throughDoor } from '../scenario/door.ts';

/** A household small enough to be run in a test, as it comes through the door. */
export const SMALL = `
name: NAME
site: { latitude: 47.3, longitude: 13.2, timeZone: Europe/Vienna }
period: { start: 2025-04-01, days: DAYS, stepS: 300 }
tariff: { currency: EUR, importPerKWh: 0.3, exportPerKWh: 0.08 }
weather:
  source: synthetic
  monthlyGhiKWhM2: [34, 54, 95, 127, 157, 160, 166, 142, 103, 67, 37, 27]
  monthlyTempC: [-1, 1, 5, 9, 14, 17, 19, 19, 15, 10, 4, 0]
pv: { source: arrays, arrays: [{ kWp: 8, tiltDeg: 30, azimuthDeg: 180 }] }
household: { source: synthetic, annualKWh: 3500 }
chargePoints:
  - name: NAME
    charger: { phases: switchable, maxCurrentA: 16 }
    vehicle: { batteryKWh: 58, phases: 3, maxCurrentA: 16, kWhPer100km: 17 }
    usage:
      source: weekly
      trips: [{ days: [mon, tue, wed, thu, fri], leave: "07:30", return: "15:00", km: 50 }]
`;

/** That household, run. */
export interface SmallRun {
  readonly scenario: Scenario;
  readonly run: Run;
  readonly atOnce: Run;
  readonly whatIfs: WhatIfs;
}

/** Runs it under a name of any kind. */
export function smallRun(name = 'garage', days = 10): SmallRun {
  const text = SMALL.replaceAll('NAME', JSON.stringify(name)).replace('DAYS', String(days));
  const scenario = scenarioOf(throughDoor(text, 'small.yaml', () => null).checked);
  const profiles = makeProfiles(scenario);
  const run = simulate(scenario, profiles);
  return { scenario, run, atOnce: simulate(chargedAtOnce(scenario), profiles), whatIfs: whatIfs(scenario, run, profiles) };
}
