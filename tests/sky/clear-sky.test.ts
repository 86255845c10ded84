/** Clear skies: the formulas of Ineichen & Perez 2002 written out once more for single places, and what is made of them by the minute and by the day. */
import { describe, expect, test } from 'vitest';
import { cosDeg } from '../../src/base/index.ts';
import {
  absoluteAirMass,
  beamByClosure,
  clearDaysKWhPerM2,
  clearDniWPerM2,
  clearGhiWPerM2,
  clearMinutes,
  clearnessOf,
  clearSky,
  clearSkyOf,
  erbsDiffuseShare,
  erbsSplit,
  LINKE_TURBIDITY,
  monthOfSun,
  type SunTrack,
  standardPressurePa,
  sunTrack,
  turbidityOfBeam,
} from '../../src/sky/index.ts';

const OUTSIDE = 1361;

describe('Ineichen & Perez', () => {
  // Global: cg1 · I0 · cos z · exp(−cg2 · AM · (fh1 + fh2 · (TL − 1))); beam: I0 · b · exp(−0.09 · AM · (TL − 1)).
  const [height, turbidity, airMass] = [1500, 4, 1.7];
  const [fh1, fh2] = [Math.exp(-1500 / 8000), Math.exp(-1500 / 1250)];
  const [cg1, cg2, b] = [5.09e-5 * 1500 + 0.868, 3.92e-5 * 1500 + 0.0387, 0.664 + 0.163 / fh1];
  const place = clearSkyOf(height, turbidity);
  const globalAt = (linke: number): number => cg1 * OUTSIDE * 0.5 * Math.exp(-cg2 * airMass * (fh1 + fh2 * (linke - 1)));

  test('global light at 1500 m, at the usual turbidity and at another', () => {
    expect(clearGhiWPerM2(place, OUTSIDE, 0.5, airMass)).toBeCloseTo(globalAt(4), 9);
    expect(clearGhiWPerM2(place, OUTSIDE, 0.5, airMass, 2)).toBeCloseTo(globalAt(2), 9);
  });
  test('beam at 1500 m', () =>
    expect(clearDniWPerM2(place, OUTSIDE, 0.5, airMass, 1e6)).toBeCloseTo(OUTSIDE * b * Math.exp(-0.09 * airMass * 3), 9));
  test('beam is at most what global light leaves: all but (0.1 − 0.2 e^−TL) / (0.1 + 0.882 / fh1) of it', () => {
    const most = 1 - (0.1 - 0.2 * Math.exp(-4)) / (0.1 + 0.882 / fh1);
    expect(clearDniWPerM2(place, OUTSIDE, 0.5, airMass, 400)).toBeCloseTo((400 * most) / 0.5, 9);
  });
  test('at and below the horizon: nothing', () => {
    for (const zenith of [90.0001, 120])
      expect(clearSky(place, OUTSIDE, zenith, 37)).toEqual({ ghiWPerM2: 0, dniWPerM2: 0, dhiWPerM2: 0 });
    expect([clearGhiWPerM2(place, OUTSIDE, 0, 37), clearDniWPerM2(place, OUTSIDE, 0, 37, 5)]).toEqual([0, 0]);
  });
  test('air clearer than air is refused', () => {
    expect(() => clearSkyOf(0, 0.99)).toThrow(new RangeError('linkeTurbidity = 0.99: must be 1 or more'));
    expect(() => clearSkyOf(0, Number.NaN)).toThrow(RangeError);
    expect(clearSkyOf(0, 1).linkeTurbidity).toBe(1);
  });
});

describe('Erbs, at the edges', () => {
  test('a sun at the horizon has no beam, whatever is measured', () => {
    expect(beamByClosure(100, 50, 0)).toBe(0);
    expect(beamByClosure(100, 50, -0.1)).toBe(0);
    expect(beamByClosure(50, 100, 0.5)).toBe(0);
  });
  test('87 degrees are the last with a beam', () => {
    expect(erbsSplit(50, OUTSIDE, 87, cosDeg(87)).dhiWPerM2).toBeLessThan(50);
    expect(erbsSplit(50, OUTSIDE, 87.01, cosDeg(87.01)).dhiWPerM2).toBe(50);
  });
  test('below 3.7 degrees of height clearness is reckoned with 3.7; less than no light is none', () => {
    expect(clearnessOf(20, OUTSIDE, 0.01)).toBe(20 / (OUTSIDE * 0.065));
    expect(clearnessOf(-20, OUTSIDE, 0.5)).toBe(0);
  });
  test('its pieces meet within 0.0004', () => {
    for (const k of [0.22, 0.8]) expect(Math.abs(erbsDiffuseShare(k) - erbsDiffuseShare(k + 1e-9))).toBeLessThan(4e-4);
    expect(erbsDiffuseShare(0.22)).toBe(1 - 0.09 * 0.22);
  });
});

const VIENNA = { latitudeDeg: 48.2, longitudeDeg: 16.4, elevationM: 170 };

describe('clearMinutes', () => {
  const steps = { startMs: Date.UTC(2025, 5, 21), stepS: 600, steps: 144 };
  const sun = sunTrack(steps, VIENNA.latitudeDeg, VIENNA.longitudeDeg);
  const place = clearSkyOf(VIENNA.elevationM, LINKE_TURBIDITY);
  const massAt = (k: number): number => absoluteAirMass(sun.airMass[k]!, standardPressurePa(VIENNA.elevationM));
  const clear = clearMinutes(sun, VIENNA.elevationM, (k) => 2 + k / 100);

  test('global light of the turbidity of the minute, near the horizon at least a quarter of the light outside', () => {
    let lifted = 0;
    for (let k = 0; k < 144; k++) {
      const [outside, cosZenith] = [sun.extraterrestrialWPerM2[k]!, sun.cosZenith[k]!];
      const formula = clearGhiWPerM2(place, outside, cosZenith, massAt(k), 2 + k / 100);
      const least = 0.25 * outside * cosZenith;
      if (least > formula) lifted++;
      expect(clear.globalWPerM2[k]).toBe(Math.max(formula, least));
    }
    expect(lifted).toBeGreaterThan(2);
  });
  test('beam of that turbidity, and the turbidity found again from the beam', () => {
    for (let k = 0; k < 144; k++) {
      if (sun.cosZenith[k] === 0) {
        expect(clear.beamWPerM2[k]).toBe(0);
        continue;
      }
      const b = 0.664 + 0.163 / Math.exp(-170 / 8000);
      expect(clear.beamWPerM2[k]).toBeCloseTo(
        sun.extraterrestrialWPerM2[k]! * b * Math.exp(-0.09 * massAt(k) * (1 + k / 100)),
        9,
      );
      expect(turbidityOfBeam(place, clear.beamWPerM2[k]!, sun.extraterrestrialWPerM2[k]!, massAt(k))).toBeCloseTo(2 + k / 100, 9);
    }
  });
  test('global light is never that of air clearer than 2, the beam may be', () => {
    const clearest = clearMinutes(sun, VIENNA.elevationM, () => 1.5);
    const two = clearMinutes(sun, VIENNA.elevationM, () => 2);
    expect(clearest.globalWPerM2).toEqual(two.globalWPerM2);
    expect(clearest.beamWPerM2[60]).toBeGreaterThan(two.beamWPerM2[60]!);
  });
});

describe('clear days', () => {
  test('February has its own number of days, and its days are cut at midnight of the sun', () => {
    expect(monthOfSun(2024, 1, VIENNA).days).toBe(29);
    const { days, sun } = monthOfSun(2025, 1, { latitudeDeg: 20, longitudeDeg: 150, elevationM: 0 });
    expect([days, sun.cosZenith.length]).toEqual([28, 28 * 48]);
    // Noon, by the mean sun, lies in the middle of every 48 half hours; the equation of time is 14 minutes then.
    for (let d = 0; d < 28; d++) {
      const day = sun.cosZenith.subarray(48 * d, 48 * d + 48);
      expect(Math.abs(day.indexOf(Math.max(...day)) - 23.5)).toBeLessThanOrEqual(0.5);
    }
  });
  test('a day is the sum of its half hours', () => {
    const place = clearSkyOf(170, 3);
    const month = monthOfSun(2025, 5, VIENNA);
    const found = clearDaysKWhPerM2(month, place, 170);
    expect(found).toHaveLength(30);
    for (const d of [0, 11, 29]) {
      let sum = 0;
      for (let k = 48 * d; k < 48 * d + 48; k++) sum += clearAt(month.sun, k, 170) / 2000;
      expect(found[d]).toBeCloseTo(sum, 9);
    }
    function clearAt(sun: SunTrack, k: number, elevationM: number): number {
      const airMass = (sun.airMass[k]! * standardPressurePa(elevationM)) / 101_325;
      return clearGhiWPerM2(place, sun.extraterrestrialWPerM2[k]!, sun.cosZenith[k]!, airMass);
    }
  });
});
