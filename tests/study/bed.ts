import { parse } from 'yaml';
import { zoneOfPlatform } from '../../src/report/platform-zone.ts';
import { checkScenario, type ScenarioInput } from '../../src/scenario/index.ts';
import { type Ask, askHere, type StudyBase, type TaskResult, type Variant, type Wanted } from '../../src/study/index.ts';

/** A household by hand: forty days of spring, coarse enough to be quick. */
export const HOUSE = `
name: Forty days
site: { latitude: 47.3, longitude: 13.2, timeZone: Europe/Vienna }
period: { start: 2025-04-01, days: 40, stepS: 300 }
tariff: { currency: EUR, importPerKWh: 0.3, exportPerKWh: 0.08, publicPerKWh: 0.5 }
weather:
  source: synthetic
  monthlyGhiKWhM2: [34, 54, 95, 127, 157, 160, 166, 142, 103, 67, 37, 27]
  monthlyTempC: [-1, 1, 5, 9, 14, 17, 19, 19, 15, 10, 4, 0]
pv: { source: arrays, arrays: [{ kWp: 6, tiltDeg: 30, azimuthDeg: 180 }] }
household: { source: synthetic, annualKWh: 3500 }
chargePoints:
  - name: garage
    charger: { phases: switchable, maxCurrentA: 16 }
    vehicle: { batteryKWh: 40, phases: 3, maxCurrentA: 16, kWhPer100km: 18 }
    usage:
      source: weekly
      floorKm: 20
      trips:
        - { days: [mon, wed, fri], leave: "07:15", return: "12:40", km: 60, jitterMin: 20 }
        - { days: [sat], leave: "14:00", return: "20:00", km: 80, jitterMin: 30 }
`;

/** A household ready to be varied, here and now. */
export function bed(text = HOUSE): { base: StudyBase; input: ScenarioInput; ask: Ask; asked: () => number } {
  const raw = parse(text) as Record<string, unknown>;
  const base: StudyBase = { raw, files: new Map() };
  const checked = checkScenario(raw);
  if (!checked.ok) throw new Error(JSON.stringify(checked.issues));
  const zones = new Map<string, ReturnType<typeof zoneOfPlatform>>();
  const here = askHere(base, (name, fromMs, toMs) => {
    const zone = zones.get(name) ?? zoneOfPlatform(name, fromMs, toMs);
    zones.set(name, zone);
    return zone;
  });
  let count = 0;
  const ask: Ask = (variants: readonly Variant[], wanted: Wanted): Promise<readonly TaskResult[]> => {
    count += variants.length;
    return here(variants, wanted);
  };
  return { base, input: checked.value, ask, asked: () => count };
}

/** A net of three phases with a big fuse. */
export const SUPPLY = {
  phases: 3,
  voltageV: 230,
  mainFuseA: 35,
  imbalanceLimitA: null,
  exportLimitW: null,
  contractW: null,
  dimming: null,
  metering: 'net',
  country: null,
} as const;
