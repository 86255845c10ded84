import { describe, expect, test } from 'vitest';
import { fixedZone, MS_PER_DAY, type TimeGrid, timeGrid, UTC, type Zone } from '../../src/base/index.ts';
import {
  type HouseholdOptions,
  type KeepSheet,
  type PhaseLoads,
  type Sheet,
  syntheticHousehold,
  syntheticLoads,
  typicalAnnualWh,
} from '../../src/house/index.ts';

// IANA time zone database: central Europe 2024 and 2025.
const VIENNA: Zone = {
  name: 'Europe/Vienna',
  changes: [
    { fromMs: -Infinity, offsetS: 3600 },
    { fromMs: Date.UTC(2024, 2, 31, 1), offsetS: 7200 },
    { fromMs: Date.UTC(2024, 9, 27, 1), offsetS: 3600 },
    { fromMs: Date.UTC(2025, 2, 30, 1), offsetS: 7200 },
    { fromMs: Date.UTC(2025, 9, 26, 1), offsetS: 3600 },
  ],
};
const HOME: HouseholdOptions = { annualWh: 4_100_000, people: 3, seed: 1, phaseSplit: [0.4, 0.35, 0.25] };
const YEAR = timeGrid(Date.UTC(2025, 0, 1), 365, 60, VIENNA);

const sumWh = (w: Float64Array, stepS = 60): number => (w.reduce((sum, x) => sum + x, 0) * stepS) / 3600;
const totalWh = (loads: PhaseLoads, stepS = 60): number => loads.reduce((sum, w) => sum + sumWh(w, stepS), 0);
const wholeW = (loads: PhaseLoads): Float64Array => loads[0].map((w, k) => w + (loads[1][k] ?? 0) + (loads[2][k] ?? 0));
const dayW = (w: Float64Array, grid: TimeGrid, d: number): Float64Array => w.subarray(grid.dayStart[d], grid.dayStart[d + 1]);

describe('syntheticHousehold: sums', () => {
  test.each([
    ['2025', YEAR, HOME],
    ['2024, a leap year', timeGrid(Date.UTC(2024, 0, 1), 366, 60, VIENNA), HOME],
    ['2025 in UTC', timeGrid(Date.UTC(2025, 0, 1), 365, 60, UTC), HOME],
    ['alone and thrifty', YEAR, { ...HOME, people: 1, annualWh: 900_000 }],
    ['a crowd', YEAR, { ...HOME, people: 7, annualWh: 9_000_000 }],
    ['far more than people usually need', YEAR, { ...HOME, annualWh: 30_000_000 }],
    ['next to nothing', YEAR, { ...HOME, annualWh: 1000 }],
    ['one phase', YEAR, { ...HOME, phaseSplit: [1, 0, 0] }],
    ['one phase all but empty', YEAR, { ...HOME, phaseSplit: [0.5, 0.49, 0.01] }],
  ] as const)('%s: the year and every phase add up', (_name, grid, options) => {
    const loads = syntheticHousehold(options, grid);
    loads.forEach((w, phase) => {
      expect(Math.abs(sumWh(w) - options.annualWh * (options.phaseSplit[phase] ?? 0))).toBeLessThan(1e-9 * options.annualWh);
      expect(w.every((x) => x >= 0 && Number.isFinite(x))).toBe(true);
    });
  });

  test('nothing consumed is nothing drawn', () => {
    expect(totalWh(syntheticHousehold({ ...HOME, annualWh: 0 }, timeGrid(Date.UTC(2025, 0, 1), 2, 60, UTC)))).toBe(0);
  });

  test.each([5, 90, 900, 3600])('steps of %d s keep the energy of the minutes', (stepS) => {
    const coarse = syntheticHousehold(HOME, timeGrid(Date.UTC(2025, 9, 25), 3, stepS, VIENNA));
    const minutes = syntheticHousehold(HOME, timeGrid(Date.UTC(2025, 9, 25), 3, 60, VIENNA));
    expect(totalWh(coarse, stepS)).toBeCloseTo(totalWh(minutes), 6);
  });

  test('finer steps hold the minute, coarser ones are its mean', () => {
    const minutes = syntheticHousehold(HOME, timeGrid(Date.UTC(2025, 4, 5), 1, 60, VIENNA))[0];
    const fine = syntheticHousehold(HOME, timeGrid(Date.UTC(2025, 4, 5), 1, 20, VIENNA))[0];
    const coarse = syntheticHousehold(HOME, timeGrid(Date.UTC(2025, 4, 5), 1, 3600, VIENNA))[0];
    expect(fine.every((w, k) => Math.abs(w - (minutes[Math.floor(k / 3)] ?? -1)) < 1e-9)).toBe(true);
    expect(coarse[19]).toBeCloseTo(sumWh(minutes.subarray(19 * 60, 20 * 60)), 9);
  });
});

describe('syntheticHousehold: a part of a year is that part of the year', () => {
  const year = syntheticHousehold(HOME, YEAR);

  test.each([
    [Date.UTC(2025, 5, 10), 1],
    [Date.UTC(2025, 2, 28), 4],
    [Date.UTC(2025, 9, 20), 60],
  ])('from %d, %d days: bit for bit', (firstDayMs, days) => {
    const part = timeGrid(firstDayMs, days, 60, VIENNA);
    const from = YEAR.dayStart[(firstDayMs - Date.UTC(2025, 0, 1)) / MS_PER_DAY] ?? 0;
    syntheticHousehold(HOME, part).forEach((w, phase) => {
      expect(w).toEqual(year[phase]?.slice(from, from + part.steps));
    });
  });

  test('a run over New Year is made of both years', () => {
    const turn = syntheticHousehold(HOME, timeGrid(Date.UTC(2024, 11, 30), 4, 60, VIENNA));
    const old = syntheticHousehold(HOME, timeGrid(Date.UTC(2024, 11, 30), 2, 60, VIENNA));
    expect(turn[1].slice(0, 2880)).toEqual(old[1]);
    expect(turn[1].slice(2880)).toEqual(year[1].slice(0, 2880));
  });

  test('same seed, same values; another seed, another household', () => {
    const week = timeGrid(Date.UTC(2025, 0, 6), 7, 60, VIENNA);
    expect(syntheticHousehold(HOME, week)).toEqual(syntheticHousehold(HOME, week));
    expect(syntheticHousehold({ ...HOME, seed: 2 }, week)).not.toEqual(syntheticHousehold(HOME, week));
  });
});

describe('syntheticHousehold: the spread load is kept', () => {
  const week = timeGrid(Date.UTC(2025, 0, 6), 7, 60, VIENNA);
  const sheets = new Map<string, Sheet>();
  let made = 0;
  const keep: KeepSheet = (key, make) => {
    const sheet = sheets.get(key) ?? make();
    made += sheets.has(key) ? 0 : 1;
    sheets.set(key, sheet);
    return sheet;
  };
  syntheticHousehold(HOME, week, [], keep);

  test.each<[string, Partial<HouseholdOptions>]>([
    ['consumption', { annualWh: 2_900_000 }],
    ['shares of the phases', { phaseSplit: [0.2, 0.2, 0.6] }],
    ['hot water', { hotWaterWh: 1_500_000 }],
    ['a heat pump', { heatPumpWh: 2_500_000 }],
  ])('as it was for another %s', (_, changes) => {
    const before = made;
    expect(syntheticHousehold({ ...HOME, ...changes }, week, [], keep)).toEqual(
      syntheticHousehold({ ...HOME, ...changes }, week),
    );
    expect(made).toBe(before);
  });

  test.each<[string, Partial<HouseholdOptions>, TimeGrid]>([
    ['people', { people: 4 }, week],
    ['seed', { seed: 2 }, week],
    ['latitude', { latitudeDeg: 60 }, week],
    ['holiday', { holidays: [{ firstMs: Date.UTC(2025, 0, 8), lastMs: Date.UTC(2025, 0, 9) }] }, week],
    ['public holiday', { daysOff: [Date.UTC(2025, 0, 7)] }, week],
    ['year', {}, timeGrid(Date.UTC(2024, 0, 8), 7, 60, VIENNA)],
    // Its year begins with Vienna's, and knows no summer time.
    ['zone', {}, timeGrid(Date.UTC(2025, 5, 2), 7, 60, fixedZone('Etc/GMT-1', 3600))],
  ])('made anew for another %s', (_, changes, grid) => {
    const before = made;
    expect(syntheticHousehold({ ...HOME, ...changes }, grid, [], keep)).toEqual(
      syntheticHousehold({ ...HOME, ...changes }, grid),
    );
    expect(made).toBe(before + 1);
  });
});

describe('syntheticHousehold: what a house looks like', () => {
  const load = wholeW(syntheticHousehold(HOME, YEAR));

  test('spikes have the power of one appliance (19 in 20; else two at once), however much the year takes (ratings: common practice)', () => {
    for (const annualWh of [2_000_000, 4_100_000, 8_000_000]) {
      const w = wholeW(syntheticHousehold({ ...HOME, annualWh }, YEAR));
      const jumps = w.map((x, k) => x - (w[k - 1] ?? x)).filter((x) => x > 1000);
      const single = jumps.filter((x) => x < 2600).length / jumps.length;
      expect(jumps.length).toBeGreaterThan(1500);
      expect(single).toBeGreaterThan(0.95);
    }
    const peakW = load.reduce((most, x) => Math.max(most, x), 0);
    expect(peakW).toBeGreaterThan(5000);
    expect(peakW).toBeLessThan(12_000);
  });

  test('the clocks change: the night is an hour shorter, an hour longer', () => {
    expect([dayW(load, YEAR, 88).length, dayW(load, YEAR, 298).length]).toEqual([23 * 60, 25 * 60]);
    const autumn = dayW(load, YEAR, 298);
    expect(autumn.slice(180, 240)).toEqual(autumn.slice(120, 180));
  });

  test('south of the equator the dark evenings are in June', () => {
    const zone = fixedZone('UTC+10', 36_000);
    const evenings = (latitudeDeg: number, month: number): number => {
      const grid = timeGrid(Date.UTC(2025, month, 1), 28, 3600, zone);
      const w = wholeW(syntheticHousehold({ ...HOME, latitudeDeg }, grid));
      return w.filter((_, k) => k % 24 === 17).reduce((sum, x) => sum + x, 0);
    };
    expect(evenings(-35, 5)).toBeGreaterThan(1.2 * evenings(-35, 11));
    expect(evenings(48, 11)).toBeGreaterThan(1.2 * evenings(48, 5));
  });
});

// The published standard profile H0 (VDEW 1999, as read in a public copy; reference values H2, H4, H6) is a mean of many homes.
// Seasons as there: winter 1 November to 20 March, summer 15 May to 14 September. Dynamised: times F(t), 1.187 in winter on
// average, 0.819 in summer. 5 points on shares are what issue C asks of 200 homes; 20 homes are held to the same here.
describe('syntheticHousehold: 20 homes against the standard profile', () => {
  const hours = { winter: new Float64Array(24), summer: new Float64Array(24) };
  const days = { winter: 0, summer: 0 };
  const grid = timeGrid(Date.UTC(2025, 0, 1), 365, 3600, VIENNA);
  for (let seed = 0; seed < 20; seed++) {
    const w = wholeW(syntheticHousehold({ ...HOME, seed, annualWh: 1_000_000 * 3.72 }, grid));
    grid.dayMs.forEach((dayMs, d) => {
      const date = new Date(dayMs);
      const monthDay = (date.getUTCMonth() + 1) * 100 + date.getUTCDate();
      const season = monthDay >= 1101 || monthDay <= 320 ? 'winter' : monthDay >= 515 && monthDay <= 914 ? 'summer' : null;
      const day = dayW(w, grid, d);
      if (season === null || date.getUTCDay() % 6 === 0 || day.length !== 24) return;
      days[season] += 1;
      // per 1000 kWh a year
      day.forEach((x, h) => {
        hours[season][h] = (hours[season][h] ?? 0) + x / 3.72;
      });
    });
  }
  const share = (w: Float64Array, from: number, to: number): number => sumWh(w.subarray(from, to)) / sumWh(w);
  const dayKWh = (season: 'winter' | 'summer'): number => hours[season].reduce((sum, x) => sum + x, 0) / days[season] / 1000;

  test('winter workday: 31.0 % from 17 to 22 h, 28.7 % from 9 to 15 h (H6; within 5 points)', () => {
    expect(Math.abs(share(hours.winter, 17, 22) - 0.31)).toBeLessThan(0.05);
    expect(Math.abs(share(hours.winter, 9, 15) - 0.287)).toBeLessThan(0.05);
  });

  test('winter night minimum: 38.3 W of a mean of 106.5 W, 36 % (H4, H6; within 5 points)', () => {
    const meanW = (dayKWh('winter') * 1000) / 24;
    const leastW = hours.winter.reduce((least, x) => Math.min(least, x), Infinity) / days.winter;
    expect(Math.abs(leastW / meanW - 38.3 / 106.5)).toBeLessThan(0.05);
  });

  test('workday energy per 1000 kWh a year: winter 2.556 × 1.187, summer 2.814 × 0.819 kWh (H2, H4; within 5 %)', () => {
    expect(Math.abs(dayKWh('winter') / (2.556 * 1.187) - 1)).toBeLessThan(0.05);
    expect(Math.abs(dayKWh('summer') / (2.814 * 0.819) - 1)).toBeLessThan(0.05);
  });
});

test('typicalAnnualWh: German industry means for 1 to 4 people (H9)', () => {
  expect([1, 2, 3, 4].map((people) => typicalAnnualWh(people) / 1000)).toEqual([1900, 2890, 3720, 4085]);
  expect(typicalAnnualWh(6)).toBe(4_815_000);
});

describe('syntheticHousehold refuses', () => {
  test.each([
    { annualWh: -1 },
    { annualWh: Number.NaN },
    { people: 0 },
    { people: 2.5 },
    { phaseSplit: [0.5, 0.5, 0.5] },
    { phaseSplit: [1.2, -0.2, 0] },
    { seed: -1 },
  ] as Partial<HouseholdOptions>[])('%j', (wrong) => {
    expect(() => syntheticHousehold({ ...HOME, ...wrong }, timeGrid(0, 1, 60, UTC))).toThrow(RangeError);
  });
});

describe('syntheticHousehold: hot water, heat pump, holidays', () => {
  const heated: HouseholdOptions = { ...HOME, hotWaterWh: 1_800_000, heatPumpWh: 3_500_000 };

  test('both come on top of the year, each with its own sum', () => {
    const loads = syntheticHousehold(heated, YEAR);
    expect(Math.abs(totalWh(loads) - 9_400_000)).toBeLessThan(1);
    const pumpOnly = syntheticHousehold({ ...HOME, heatPumpWh: 3_500_000 }, YEAR);
    const water = loads[0].map((w, k) => w - (pumpOnly[0][k] ?? 0));
    expect(Math.abs(sumWh(water) - 1_800_000)).toBeLessThan(1);
    // The element is one: it is on or off, at about its 2 kW.
    const on = water.filter((w) => w > 1);
    expect(on.every((w) => w > 1850 && w < 2150)).toBe(true);
  });

  test('the heat pump works in winter and rests in summer; part of a year is that part', () => {
    const pump = syntheticHousehold({ ...HOME, annualWh: 0, heatPumpWh: 3_500_000 }, YEAR);
    const month = (first: number): number =>
      wholeW(pump)
        .subarray(YEAR.dayStart[first], YEAR.dayStart[first + 30])
        .reduce((a, b) => a + b, 0);
    expect(month(5) / month(180)).toBeGreaterThan(4);
    const part = syntheticHousehold(
      { ...HOME, annualWh: 0, heatPumpWh: 3_500_000 },
      timeGrid(Date.UTC(2025, 1, 10), 2, 60, VIENNA),
    );
    expect(part[0]).toEqual(pump[0].slice(YEAR.dayStart[40], YEAR.dayStart[42]));
  });

  test('on holidays only what always runs; the year keeps its sum', () => {
    const holidays = [{ firstMs: Date.UTC(2025, 6, 7), lastMs: Date.UTC(2025, 6, 20) }];
    const away = syntheticHousehold({ ...HOME, holidays }, YEAR);
    expect(Math.abs(totalWh(away) - HOME.annualWh)).toBeLessThan(1e-3);
    const day = Math.round((Date.UTC(2025, 6, 12) - Date.UTC(2025, 0, 1)) / MS_PER_DAY);
    const empty = dayW(wholeW(away), YEAR, day);
    expect(empty.reduce((most, w) => Math.max(most, w), 0)).toBeLessThan(400);
    expect(sumWh(empty)).toBeGreaterThan(1000);
    expect(sumWh(dayW(wholeW(away), YEAR, day + 14))).toBeGreaterThan(2 * sumWh(empty));
  });

  test('a public holiday on a Thursday is lived like a Sunday', () => {
    const thursdays = Array.from({ length: 52 }, (_, i) => Date.UTC(2025, 0, 2 + 7 * i));
    const noonShare = (options: HouseholdOptions): number => {
      const w = wholeW(syntheticHousehold(options, YEAR));
      let noon = 0;
      let all = 0;
      for (const dayMs of thursdays) {
        const one = dayW(w, YEAR, Math.round((dayMs - Date.UTC(2025, 0, 1)) / MS_PER_DAY));
        noon += sumWh(one.subarray(600, 780));
        all += sumWh(one);
      }
      return noon / all;
    };
    expect(noonShare({ ...HOME, daysOff: thursdays })).toBeGreaterThan(1.2 * noonShare(HOME));
  });
});

describe('the sum of the phases comes along', () => {
  const grids: [string, TimeGrid][] = [
    ['a year', YEAR],
    ['days of two years', timeGrid(Date.UTC(2024, 11, 30), 5, 60, VIENNA)],
    ['steps of ten minutes', timeGrid(Date.UTC(2025, 2, 29), 4, 600, VIENNA)],
    ['steps of ten seconds', timeGrid(Date.UTC(2025, 5, 1), 1, 10, VIENNA)],
  ];
  const homes: [string, HouseholdOptions][] = [
    ['plain', HOME],
    ['with hot water and a heat pump', { ...HOME, hotWaterWh: 1_500_000, heatPumpWh: 3_000_000 }],
  ];
  test.each(grids.flatMap(([when, grid]) => homes.map(([home, options]) => [when, home, grid, options] as const)))(
    '%s, %s; also in used room',
    (_, __, grid, options) => {
      const fresh = syntheticLoads(options, grid);
      // Half a million values that differ would be printed for minutes.
      const isSame = (a: Float64Array, b: Float64Array): boolean => a.length === b.length && a.every((w, k) => w === b[k]);
      const whole = syntheticHousehold(options, grid);
      expect(fresh.byPhaseW.map((w, i) => isSame(w, whole[i] ?? w.subarray(1)))).toEqual([true, true, true]);
      expect(isSame(fresh.sumW, wholeW(whole))).toBe(true);
      const stale = (): Float64Array => new Float64Array(grid.steps).fill(9);
      const used = syntheticLoads(options, grid, { byPhaseW: [stale(), stale(), stale()], sumW: stale() });
      expect(used.byPhaseW.map((w, i) => isSame(w, whole[i] ?? w.subarray(1)))).toEqual([true, true, true]);
      expect(isSame(used.sumW, fresh.sumW)).toBe(true);
    },
  );
});
