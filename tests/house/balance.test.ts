import { describe, expect, test } from 'vitest';
import { belowZeroWh, houseFromMeterW, likeliestMisread, type MeterReadings } from '../../src/house/index.ts';

/** Readings of a single interval; what is left out is 0. */
function oneReading(
  powers: Partial<Record<'pvW' | 'importW' | 'exportW' | 'carW' | 'batteryW', number>>,
  intervalS = 900,
): MeterReadings {
  const { pvW = 0, importW = 0, exportW = 0, carW = 0, batteryW = 0 } = powers;
  const one = (w: number): Float64Array => Float64Array.of(w);
  return { intervalS, pvW: one(pvW), importW: one(importW), exportW: one(exportW), carW: one(carW), batteryW: one(batteryW) };
}

/** Four invented days of quarter-hours: a house that breathes, a roof, a car in the evening, a battery. */
function invented(): MeterReadings & { readonly houseW: Float64Array } {
  const n = 4 * 96;
  const hour = (i: number): number => (i % 96) / 4;
  const houseW = Float64Array.from(
    { length: n },
    (_, i) => 250 + (i % 7 === 0 ? 900 : 0) + (hour(i) > 17 && hour(i) < 22 ? 500 : 0),
  );
  const pvW = Float64Array.from(
    { length: n },
    (_, i) => Math.max(0, 6000 * Math.sin(((hour(i) - 6) / 12) * Math.PI)) * (i % 5 ? 1 : 0.3),
  );
  const carW = Float64Array.from({ length: n }, (_, i) => (hour(i) >= 12 && hour(i) < 15 ? 3680 : 0));
  const batteryW = Float64Array.from({ length: n }, (_, i) => (hour(i) >= 9 && hour(i) < 12 ? 1500 : hour(i) >= 18 ? -700 : 0));
  const gridW = houseW.map((w, i) => w + carW[i]! + batteryW[i]! - pvW[i]!);
  const importW = gridW.map((w) => Math.max(0, w));
  const exportW = gridW.map((w) => Math.max(0, -w));
  return { intervalS: 900, houseW, pvW, importW, exportW, carW, batteryW };
}

describe('houseFromMeterW', () => {
  test('is what balances: 3000 of PV, 1500 exported, 1000 into the battery leave 500 for the house', () => {
    expect(houseFromMeterW(oneReading({ pvW: 3000, exportW: 1500, batteryW: 1000 }))[0]).toBe(500);
    expect(houseFromMeterW(oneReading({ importW: 4000, carW: 3680 }))[0]).toBe(320);
    expect(houseFromMeterW(oneReading({ importW: 100, batteryW: -600 }))[0]).toBe(700);
  });

  test('right readings give the house back', () => {
    const readings = invented();
    for (const [i, w] of houseFromMeterW(readings).entries()) expect(Math.abs(w - readings.houseW[i]!)).toBeLessThan(1e-9);
    expect(likeliestMisread(readings)).toBeNull();
  });

  test('energy below 0 is counted, not netted', () => {
    expect(belowZeroWh(Float64Array.of(-400, 1000, -200), 900)).toBe(150);
  });
});

describe('likeliestMisread finds the one mistake that was made', () => {
  const right = invented();
  const later = (values: Float64Array, by: number): Float64Array =>
    values.map((_, i) => values[Math.min(values.length - 1, Math.max(0, i - by))]!);
  test.each([
    ['PV an hour late', { ...right, pvW: later(right.pvW, 4) }, { kind: 'pv-clock', shiftS: -3600 }],
    ['PV two hours early', { ...right, pvW: later(right.pvW, -8) }, { kind: 'pv-clock', shiftS: 7200 }],
    [
      'import and export swapped',
      { ...right, importW: right.exportW, exportW: right.importW },
      { kind: 'import-export-swapped' },
    ],
    ['battery counted the other way', { ...right, batteryW: right.batteryW.map((w) => -w) }, { kind: 'battery-sign' }],
  ] as const)('%s', (_name, readings, cause) => {
    const found = likeliestMisread(readings);
    expect(found?.cause).toEqual(cause);
    expect(found?.leftShare).toBeLessThan(0.05);
  });

  test('a car on another meter', () => {
    const exportW = right.houseW.map((w, i) => Math.max(0, right.pvW[i]! - w - right.batteryW[i]!));
    const noCar = { ...right, importW: right.houseW.map((w, i) => Math.max(0, w + right.batteryW[i]! - right.pvW[i]!)), exportW };
    expect(likeliestMisread(noCar)?.cause).toEqual({ kind: 'car-on-another-meter' });
  });

  test('noise explains nothing', () => {
    expect(likeliestMisread(oneReading({ pvW: -30 }))).toBeNull();
  });
});
