import { describe, expect, test } from 'vitest';
import { type ClockFit, clockFit, type Steps } from '../../src/sky/index.ts';
import { haveSharedData, type Measured, readSharedCsv, readSharedEpw } from './shared-data.ts';

const shifted = (steps: Steps, minutes: number): Steps => ({ ...steps, startMs: steps.startMs + minutes * 60_000 });
const light = (measured: Measured, name: string): Float64Array => measured.columns[name] ?? new Float64Array(0);
/** One week out of a series. */
function week(measured: Measured, name: string, index: number): { steps: Steps; light: Float64Array } {
  const length = (7 * 86_400) / measured.steps.stepS;
  const steps = { ...measured.steps, startMs: measured.steps.startMs + index * 7 * 86_400_000, steps: length };
  return { steps, light: light(measured, name).slice(index * length, (index + 1) * length) };
}

describe.skipIf(!haveSharedData)('clockFit on real files', () => {
  test('typical year, hourly: its light fits 70 min after the labelled start of the hour, so 40 are to be added', () => {
    const epw = readSharedEpw('piedmont-45n-8e.epw', 2018);
    const fit = clockFit(epw.steps, light(epw, 'ghi_w_m2'), 45, 8);
    expect(fit.verdict).toBe('off');
    // The middle of the hour, 30 min after its start, must come to lie at 70.
    expect(Math.abs(30 + fit.bestShiftMin - 70)).toBeLessThanOrEqual(5);
    expect(clockFit(shifted(epw.steps, fit.bestShiftMin), light(epw, 'ghi_w_m2'), 45, 8).verdict).toBe('fits');
  });

  test('typical year, every week by itself: never sure of a wrong shift', () => {
    const epw = readSharedEpw('piedmont-45n-8e.epw', 2018);
    let sure = 0;
    for (let w = 0; w < 52; w++) {
      const { steps, light: ghi } = week(epw, 'ghi_w_m2', w);
      const fit = clockFit(steps, ghi, 45, 8);
      if (fit.verdict === 'off') {
        sure++;
        expect(Math.abs(fit.bestShiftMin - 40)).toBeLessThanOrEqual(15);
      }
      expect(clockFit(shifted(steps, 40), ghi, 45, 8).verdict).not.toBe('off');
    }
    expect(sure).toBeGreaterThan(26);
  });

  test.each(['03', '06', '09', '11'])('Lyngby 2017-%s by the minute: fits; an hour off is found', (month) => {
    const file = readSharedCsv(`lyngby-2017-${month}-1min.csv.gz`);
    const fitAt = (minutes: number): ClockFit =>
      clockFit(shifted(file.steps, minutes), light(file, 'ghi_w_m2'), 55.79064, 12.52505);
    expect(fitAt(0).verdict).toBe('fits');
    for (const wrong of [-60, 60, 120]) {
      expect(fitAt(wrong).verdict).toBe('off');
      expect(Math.abs(fitAt(wrong).bestShiftMin + wrong)).toBeLessThanOrEqual(15);
    }
    for (let w = 0; w < 4; w++) {
      const { steps, light: ghi } = week(file, 'ghi_w_m2', w);
      expect(clockFit(steps, ghi, 55.79064, 12.52505).verdict).not.toBe('off');
    }
  });

  test('Turin, hourly power of a roof: fits, with and without its plane', () => {
    const file = readSharedCsv('turin-2019-hourly-per-kwp.csv');
    expect(clockFit(file.steps, light(file, 'pv_w'), 45.065, 7.659).verdict).toBe('fits');
    expect(clockFit(file.steps, light(file, 'pv_w'), 45.065, 7.659, { tiltDeg: 26, azimuthDeg: 206 }).verdict).toBe('fits');
  });

  test('one day, however clear, is too little', () => {
    const day = readSharedCsv('alamosa-2016-01-01-1min.csv');
    expect(clockFit(day.steps, light(day, 'ghi_w_m2'), 37.7, -105.92).verdict).toBe('cannot-tell');
  });
});

test('clockFit: darkness cannot tell', () => {
  expect(clockFit({ startMs: 0, stepS: 3600, steps: 240 }, new Float64Array(240), 48, 16)).toEqual({
    verdict: 'cannot-tell',
    bestShiftMin: 0,
    gainShare: 0,
    certainty: 0,
    days: 0,
  });
});
