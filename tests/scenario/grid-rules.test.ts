import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { countryOfZone, formatWarning, GRID_RULES, gridRule } from '../../src/scenario/index.ts';
import { scenarioOf, throughDoor } from './door.ts';

const yaml = readFileSync(join(import.meta.dirname, '../../data/grid-rules.yaml'), 'utf8');

test('grid rules: the program uses what data/grid-rules.yaml says, word for word', () => {
  expect(parse(yaml)).toEqual(GRID_RULES);
});

test('grid rules: every rule that the data have is explained at the head of the file', () => {
  const head = yaml.slice(0, yaml.indexOf('\nAT:'));
  const names = Object.values(GRID_RULES).flatMap(({ rules }) => rules.map(({ rule }) => rule));
  for (const name of new Set(names)) expect(head).toMatch(new RegExp(`^#   ${name} `, 'm'));
});

// Values of reference-values.md: F4 (DE, 4.6 kVA = 20 A), F11 (AT and CH, 16 A), F1 (12 kVA), F6 (4.2 kW), F9 (3.68 kVA), F10 (11 kW).
test('grid rules: the published values', () => {
  expect(gridRule('DE', 'imbalanceLimitA')?.value).toBe(20);
  expect(gridRule('AT', 'imbalanceLimitA')?.value).toBe(16);
  expect(gridRule('CH', 'imbalanceLimitA')?.value).toBe(16);
  expect(gridRule('CZ', 'imbalanceLimitA')).toBeNull();
  expect(gridRule('DE', 'approvalAboveKVA')?.value).toBe(12);
  expect(gridRule('DE', 'dimmingFloorW')?.value).toBe(4200);
  expect(gridRule('AT', 'notifyAboveKVA')?.value).toBe(3.68);
  expect(gridRule('AT', 'approvalAboveKVA')?.value).toBe(11);
});

test('grid rules: the country of a zone, where only one country keeps its clock', () => {
  expect(countryOfZone('Europe/Vienna')).toBe('AT');
  expect(countryOfZone('Europe/Busingen')).toBe('DE');
  expect(countryOfZone('Europe/Rome')).toBeNull();
});

const REST = `
site: { latitude: 47, longitude: 15, timeZone: Europe/Vienna }
period: { start: 2025-06-02, days: 1 }
weather: { source: synthetic, monthlyGhiKWhM2: [38, 57, 97, 126, 152, 160, 168, 146, 104, 69, 38, 30], monthlyTempC: [0, 1, 5, 10, 14, 18, 20, 19, 15, 10, 4, 0] }
pv: { source: arrays, arrays: [{ kWp: 6, tiltDeg: 30, azimuthDeg: 180 }] }
household: { source: synthetic, annualKWh: 4000 }
chargePoints:
  - charger: { phases: 1, maxCurrentA: 16 }
    vehicle: { batteryKWh: 58, phases: 3, maxCurrentA: 16, kWhPer100km: 17 }
    usage: { source: always }
`;

function enter(grid: string) {
  const { checked, locate } = throughDoor(`grid: ${grid}${REST}`, 'home.yaml', () => null);
  const warnings = checked.ok ? checked.warnings.map((warning) => formatWarning(warning, 'home.yaml', locate)) : [];
  return { supply: scenarioOf(checked).supply, warnings };
}

test('country: fills the limit of imbalance that is left out, and says from where', () => {
  const { supply, warnings } = enter('{ country: DE }');
  expect(supply).toMatchObject({ country: 'DE', imbalanceLimitA: 20 });
  expect(warnings).toEqual([
    [
      'home.yaml:1:18  warning: grid.country = DE',
      '  imbalanceLimitA is left out, and Germany has one.',
      '  Assumed: 20 A (VDE-AR-N 4100 5.5.2 and TAB 10.1(3), 4.6 kVA, as told by a network operator (stadtwerke-marburg.de); 2019, at second hand)',
      '  Fix: check locally, and write imbalanceLimitA: 20, or what the grid operator says.   [limit-from-country]',
    ].join('\n'),
  ]);
});

test('country: what is written stays, without a word; so does a single phase', () => {
  expect(enter('{ country: AT, imbalanceLimitA: 25 }')).toMatchObject({ supply: { imbalanceLimitA: 25 }, warnings: [] });
  expect(enter('{ country: AT, phases: 1 }')).toMatchObject({ supply: { imbalanceLimitA: null }, warnings: [] });
  expect(enter('{}')).toMatchObject({ supply: { imbalanceLimitA: null, country: null }, warnings: [] });
});

test('country: where no limit is on record none is made up, and it is said', () => {
  const { supply, warnings } = enter('{ country: CZ }');
  expect(supply.imbalanceLimitA).toBeNull();
  expect(warnings).toEqual([
    [
      'home.yaml:1:18  warning: grid.country = CZ',
      '  No limit of imbalance is on record for Czechia.',
      '  Assumed: no limit',
      '  Fix: check locally, and write imbalanceLimitA; a value as high as mainFuseA stands for no limit.   [country-without-limit]',
    ].join('\n'),
  ]);
});

test('country: dimming below what operators may dim to is warned of, at it not', () => {
  const grid = (toW: number) =>
    `{ country: DE, imbalanceLimitA: 20, dimming: { toW: ${toW}, windows: [{ from: "17:00", to: "19:00" }] } }`;
  expect(enter(grid(4200)).warnings).toEqual([]);
  const { warnings, supply } = enter(grid(3000));
  expect(supply.dimming?.toW).toBe(3000);
  expect(warnings).toEqual([
    [
      'home.yaml:1:59  warning: grid.dimming.toW = 3000',
      '  In Germany chargers are not dimmed below 4200 W (EnWG section 14a, BNetzA BK6-22-300 of 2023-11-27; charge points above 4.2 kW from 2024-01-01 on; 2024-01-01, read there).',
      '  Assumed: 3000 W all the same',
      '  Fix: check locally, and write 4200 or more.   [dimming-below-floor]',
    ].join('\n'),
  ]);
});
