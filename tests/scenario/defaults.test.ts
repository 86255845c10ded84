import { expect, test } from 'vitest';
import { scenarioOf, throughDoor } from './door.ts';

const LEAST = `
site: { latitude: 47, longitude: 15, timeZone: Europe/Vienna }
period: { start: 2025-03-01 }
weather:
  source: synthetic
  monthlyGhiKWhM2: [38, 57, 97, 126, 152, 160, 168, 146, 104, 69, 38, 30]
  monthlyTempC: [-1, 1, 5, 10, 14, 18, 20, 19, 15, 10, 4, 0]
pv: { source: arrays, arrays: [{ kWp: 6, tiltDeg: 30, azimuthDeg: 180 }, { kWp: 2, tiltDeg: 30, azimuthDeg: 90 }] }
household: { source: synthetic, annualKWh: 4000 }
chargePoints:
  - charger: { phases: switchable, maxCurrentA: 16 }
    vehicle: { batteryKWh: 58, phases: 3, maxCurrentA: 16, kWhPer100km: 17 }
    usage: { source: weekly, trips: [{ days: [sun, mon, mon], leave: "22:00", return: "06:30", km: 40, jitterMin: 10 }] }
`;

const enter = (text: string) => scenarioOf(throughDoor(text, 'least.yaml', () => null).checked);

test('defaults: those of the design page and the reference, in the core units', () => {
  const { control, chargePoints, supply, pv, household, name, battery, tariff } = enter(LEAST);
  expect(name).toBe('Unnamed');
  expect(battery).toBeNull();
  expect(tariff).toBeNull();
  expect(supply).toEqual({
    phases: 3,
    voltageV: 230,
    mainFuseA: 35,
    imbalanceLimitA: null,
    exportLimitW: null,
    contractW: null,
    dimming: null,
    metering: 'net',
    country: null,
  });
  expect(control).toEqual({
    strategy: 'surplus',
    surplusShare: 1,
    topUp: 'minimum',
    smoothingS: 30,
    reserveW: 50,
    seesCurtailedPv: false,
    startDelayS: 180,
    stopDelayS: 180,
    switchUpDelayS: 600,
    switchDownDelayS: 180,
    switchPauseS: 60,
    restartPauseS: 300,
  });
  expect(chargePoints[0]?.charger).toEqual({
    phases: 'switchable',
    maxCurrentA: 16,
    minCurrentA: 6,
    currentStepA: 1,
    wiring: [1, 2, 3],
    wiringAsBuilt: [1, 2, 3],
    checksPhases: false,
  });
  expect(chargePoints[0]?.vehicle).toEqual({
    batteryWh: 58_000,
    phases: 3,
    maxCurrentA: 16,
    minCurrentA: [6, 6, 6],
    standbyW: 180,
    conversionShare: 0.94,
    startLagS: 60,
    whPerKm: 170,
    coldFactor: 1.5,
    preheatWh: 0,
    taperFromSoc: 1,
    givesUpAfter: null,
    startSoc: 0.5,
    targetSoc: 0.8,
  });
  expect(chargePoints[0]?.believes).toEqual({ phases: 3, minCurrentA: [6, 6, 6] });
  expect(pv).toMatchObject({ phases: [1, 2, 3], inverter: { ratedW: 8000, efficiencyShare: 0.965 } });
  expect(pv.kind === 'arrays' && pv.arrays[1]).toEqual({
    name: 'array 2',
    peakW: 2000,
    tiltDeg: 30,
    azimuthDeg: 90,
    temperatureCoefficientPerK: -0.0034,
    lossShare: 0.08,
    mounting: 'roof',
    horizonDeg: [0],
    monthlyLossPercent: [],
  });
  expect(household).toEqual({
    kind: 'synthetic',
    annualWh: 4_000_000,
    people: 3,
    seed: 1,
    phaseSplit: [1 / 3, 1 / 3, 1 / 3],
    hotWaterWh: 0,
    heatPumpWh: 0,
    daysOff: [],
    holidays: [],
  });
});

test('period: without days it runs to the end of that calendar year', () => {
  const { grid } = enter(LEAST);
  expect(grid.dayMs.length).toBe(306);
  expect(grid.stepS).toBe(60);
  // 306 days, one of 23 hours (30 March) and one of 25 (26 October).
  expect(grid.steps).toBe(306 * 1440);
});

test('trips: weekdays counted from Monday, each once; a return before leaving stays a time of day', () => {
  const { usage } = enter(LEAST).chargePoints[0] ?? {};
  expect(usage).toEqual({
    kind: 'weekly',
    seed: 1,
    exceptions: { longTrips: null, daysOff: [], holidays: [] },
    plugInBelowSoc: 1,
    trips: [{ weekdays: [0, 6], leaveS: 79_200, returnS: 23_400, km: 40, jitterS: 600 }],
  });
});

test('one-phase grid: wiring, PV and load all on phase 1', () => {
  const one = enter(LEAST.replace('pv:', 'grid: { phases: 1 }\npv:').replace('switchable', '1'));
  expect(one.chargePoints[0]?.charger.wiring).toEqual([1]);
  expect(one.pv.phases).toEqual([1]);
  expect(one.household).toMatchObject({ phaseSplit: [1, 0, 0] });
});

test('a minimum current can be one number or one for each number of phases', () => {
  const point = (minimum: string) => enter(LEAST.replace('kWhPer100km', `minCurrentA: ${minimum}, kWhPer100km`)).chargePoints[0];
  expect(point('10')?.vehicle.minCurrentA).toEqual([10, 10, 10]);
  expect(point('{ 1: 8 }')?.vehicle.minCurrentA).toEqual([8, 6, 6]);
});
