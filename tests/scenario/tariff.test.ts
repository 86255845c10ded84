import { expect, test } from 'vitest';
import { codesOf, scenarioOf, throughDoor } from './door.ts';

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

const enter = (tariff: string, file: string | null = null) =>
  throughDoor(`tariff: ${tariff}${REST}`, 'x.yaml', () => file).checked;

test('tariff: numbers, with what is left out', () => {
  const { tariff } = scenarioOf(enter('{ currency: CHF, importPerKWh: 0.29, exportPerKWh: -0.02 }'));
  expect(tariff).toEqual({
    currency: 'CHF',
    importPrice: { kind: 'flat', perKWh: 0.29 },
    exportPrice: { kind: 'flat', perKWh: -0.02 },
    publicPerKWh: null,
    settlementS: 0,
  });
});

test('tariff: bands in the core form, settlement in seconds', () => {
  const bands = '[{ from: "22:00", to: "06:00", months: [1, 2], days: [sun], price: 0.2 }]';
  const checked = enter(`{ currency: EUR, importPerKWh: 0.3, exportPerKWh: ${bands}, publicPerKWh: 0.6, settlementMin: 30 }`);
  expect(codesOf(checked)).toEqual(['bands-leave-gap']);
  const whole = '[{ from: "22:00", to: "06:00", price: 0.2 }, { from: "06:00", to: "22:00", price: 0.3 }]';
  const { tariff } = scenarioOf(
    enter(`{ currency: EUR, importPerKWh: 0.3, exportPerKWh: ${whole}, publicPerKWh: 0.6, settlementMin: 30 }`),
  );
  const always = { weekdays: [0, 1, 2, 3, 4, 5, 6], months: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12] };
  expect(tariff).toMatchObject({ publicPerKWh: 0.6, settlementS: 1800 });
  expect(tariff?.exportPrice).toEqual({
    kind: 'bands',
    bands: [
      { ...always, fromS: 79_200, toS: 21_600, perKWh: 0.2 },
      { ...always, fromS: 21_600, toS: 79_200, perKWh: 0.3 },
    ],
  });
});

test('tariff: one band from midnight to midnight covers all', () => {
  expect(
    codesOf(enter('{ currency: EUR, importPerKWh: [{ from: "00:00", to: "00:00", price: 0.3 }], exportPerKWh: 0 }')),
  ).toEqual([]);
});

const csv = (price: (hour: number) => number): string =>
  `time,price\n${Array.from({ length: 24 }, (_, h) => `2025-06-02T${String(h).padStart(2, '0')}:00:00+02:00,${price(h)}`).join('\n')}\n`;

test('tariff: a file, negative prices and all', () => {
  const { tariff } = scenarioOf(
    enter(
      '{ currency: EUR, importPerKWh: { file: prices.csv }, exportPerKWh: 0.08 }',
      csv((h) => (h === 13 ? -0.03 : 0.25)),
    ),
  );
  const price = tariff?.importPrice;
  if (price?.kind !== 'measured') throw new Error(price?.kind);
  expect(price.series).toMatchObject({ file: 'prices.csv', intervalS: 3600 });
  expect([...price.series.columns.perKWh]).toEqual(Array.from({ length: 24 }, (_, h) => (h === 13 ? -0.03 : 0.25)));
});

test('tariff: both files are read, each reported under its key', () => {
  const text = '{ currency: EUR, importPerKWh: { file: a.csv }, exportPerKWh: { file: b.csv } }';
  const checked = enter(text, 'time,price\n');
  expect(checked.ok ? [] : checked.issues.map(({ code, path }) => `${code} ${path.join('.')}`)).toEqual([
    'csv-empty tariff.importPerKWh.file',
    'csv-empty tariff.exportPerKWh.file',
  ]);
});

test('tariff: exchange prices per MWh are warned of, in currencies that tell', () => {
  const prices = csv(() => 92);
  const warnings = (currency: string) => {
    const checked = enter(`{ currency: ${currency}, importPerKWh: { file: prices.csv }, exportPerKWh: 0.08 }`, prices);
    return checked.ok ? checked.warnings.map(({ code, problem }) => `${code}: ${problem}`) : [];
  };
  expect(warnings('EUR')).toEqual([
    'price-per-mwh: The prices in prices.csv are 92 EUR on average, which looks like the price of a MWh.',
  ]);
  expect(warnings('HUF')).toEqual([]);
});
