import { expect, test } from 'vitest';
import { figuresJson, moneyJson } from '../../src/report/figures-json.ts';
import { figuresText, moneyText } from '../../src/report/figures-text.ts';
import { type Figures, figuresOf, type MoneyBeside } from '../../src/simulate/index.ts';
import { type HandCase, runHand } from '../simulate/hand.ts';

/** The house takes 20 A on phase 1 and the car, as it is really wired, 16 A there too: 36 A under a fuse of 35 A, and two departures. */
const HAND: HandCase = {
  pv: [[60, 0]],
  house: [[60, 4600]],
  charger: { phases: 1, wiringAsBuilt: [1, 2, 3] },
  wiring: [2, 3, 1],
  vehicle: { phases: 1, startLagS: 0, standbyW: 0, conversionShare: 1, batteryWh: 50_000, startSoc: 0, targetSoc: 1 },
  needs: { departureKm: 20 },
  control: { strategy: 'at-once' },
  stays: [
    [0, 30, 0],
    [35, 59, 0],
  ],
};

test('figures as JSON: kWh, kW, kVA and minutes', () => {
  const run = runHand(HAND);
  const json = figuresJson(figuresOf(run), run, ['garage']);
  expect(json).toMatchObject({
    carKWh: 3.312,
    carGridKWh: 3.312,
    overFuseMin: 54,
    nearFuseH: 0.9,
    peakImportA: [36, 0, 0],
    peakImportKW: [8.28, 0, 0],
    worstImbalanceA: 16,
    ratedKVA: 3.68,
    batteryCycles: null,
  });
  expect(json.chargePoints).toEqual([
    {
      name: 'garage',
      ratedKVA: 3.68,
      startsPerDay: { mean: 2, p95: 2, worst: 2 },
      contactorClosingsPerDay: { mean: 2, p95: 2, worst: 2 },
      breakOffs: 0,
      departures: 2,
      missedDepartures: [
        { at: '1970-01-01T00:30:00+00:00', shortKWh: 1.56, shortKm: 9.2 },
        { at: '1970-01-01T00:59:00+00:00', shortKWh: 0.088, shortKm: 0.5 },
      ],
    },
  ]);
});

test('figures as text', () => {
  const run = runHand(HAND);
  const figures = figuresOf(run);
  expect(figuresText(figures, run, ['garage'])).toEqual([
    'Main fuse 35 A: 0.9 h at nine tenths of it or more, 54 min above it; most import 36.0, 0.0, 0.0 A (8.3, 0.0, 0.0 kW) on phases 1, 2, 3.',
    'Phases: the cars can draw 3.7 kVA together and put the phases 16.0 A apart at worst.',
    'garage: 2.0 starts a day (2 or fewer on 95 % of days, 2 on the worst); the contactor closes 2.0 times a day (2 or fewer on 95 % of days, 2 on the worst).',
    'garage: 2 of 2 departures lacked some of the range that was asked for, the worst 9.2 km.',
  ]);
  const other: Figures = { ...figures, batteryCycles: 211.4, rescuedWh: 512_000, nearFuseH: 0, overFuseH: 0 };
  const text = figuresText(other, run, ['garage']).join('\n');
  expect(text).toContain('Main fuse 35 A: never at nine tenths of it; most import');
  expect(text).toContain('Home battery: 211 full cycles.');
  expect(text).toContain('Behind the export limit: 512 kWh in the cars would have been cut off.');
});

const MONEY: MoneyBeside = {
  currency: 'EUR',
  run: { importCost: 804.754, exportRevenue: 563.15, publicWh: 40_730, publicCost: 22.4, totalCost: 264.004 },
  atOnce: { importCost: 1325.65, exportRevenue: 699.6, publicWh: 0, publicCost: 0, totalCost: 626.05 },
  withoutCars: { importCost: 660.63, exportRevenue: 730.4, publicWh: 0, publicCost: 0, totalCost: -69.77 },
  per100Km: 2.853,
  atOncePer100Km: 5.947,
  storedChangeWh: -25_411,
  atOnceStoredChangeWh: 17_400,
};

test('money as JSON and as text', () => {
  expect(moneyJson(MONEY)).toMatchObject({
    currency: 'EUR',
    run: { importCost: 804.75, exportRevenue: 563.15, publicKWh: 40.73, publicCost: 22.4, totalCost: 264 },
    per100Km: 2.853,
    storedChangeKWh: -25.411,
  });
  expect(moneyText(MONEY)).toEqual([
    'Money: 264 EUR for import and public charging less export; 626 charged at once, -70 without a car.',
    'The car costs 2.85 EUR per 100 km; 5.95 charged at once.',
    'Of it 22 EUR for 41 kWh charged elsewhere, as much as the road took.',
    'At the end the car holds 43 kWh less than charged at once.',
  ]);
});

test('money without a price of public charging says what it leaves out', () => {
  const run = { ...MONEY.run, publicCost: null, totalCost: 241.6 };
  const unknown = { ...MONEY, run, per100Km: null, atOnceStoredChangeWh: -25_000 };
  expect(moneyJson(unknown)).toMatchObject({ run: { publicCost: null }, per100Km: null });
  expect(moneyText(unknown)).toEqual([
    'Money: 242 EUR for import and public charging less export; 626 charged at once, -70 without a car.',
    'Not counted: 41 kWh charged elsewhere (write tariff.publicPerKWh), so no cost per 100 km.',
  ]);
});
