/**
 * Clouds by the minute against real minutes: the station at Lyngby, Denmark, 2017 (see the README of the data). Real minutes are averaged to
 * hours, the hours broken up again with ten seeds, and charging, ramps, spells and the distribution of the index compared.
 * The numbers of the clouds come from these four months; how far a month is off that is left out of the fit: cloud-numbers.ts.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import { fixedZone, timeGrid } from '../../src/base/index.ts';
import { clearMinutes, completeIrradiance, spreadClouds, sunTrack, type Weather } from '../../src/sky/index.ts';
import {
  type Charged,
  charged,
  chargedInHouses,
  coarse,
  ksDistance,
  LYNGBY,
  type MinuteFacts,
  minuteFacts,
  mixedDays,
  quantile,
  type RealMonth,
  realMonth,
  refined,
  SETTINGS,
} from '../sky/real-months.ts';
import { haveSharedData, readSharedCsv } from '../sky/shared-data.ts';
import { TOLERANCE } from './tolerances.ts';

const SEEDS = Array.from({ length: 10 }, (_, i) => i + 1);
const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

interface Judged {
  readonly month: RealMonth;
  readonly real: readonly Charged[];
  readonly clouds: readonly Charged[];
  readonly realFacts: MinuteFacts;
  readonly facts: readonly MinuteFacts[];
  readonly weathers: readonly Weather[];
}

function judge(number: number): Judged {
  const month = realMonth(number);
  const weathers = SEEDS.map((seed) => refined(month, seed));
  const runs = weathers.map((weather) => charged(month, weather));
  const isMixed = mixedDays(month);
  const of = (i: number, name: keyof Charged): number => mean(runs.map((run) => run[i]![name]));
  return {
    month,
    real: charged(month, month.minutes),
    clouds: SETTINGS.map((_, i) => ({
      pvKWh: of(i, 'pvKWh'),
      solarH: of(i, 'solarH'),
      starts: of(i, 'starts'),
      switches: of(i, 'switches'),
    })),
    realFacts: minuteFacts(month, month.minutes, isMixed),
    facts: weathers.map((weather) => minuteFacts(month, weather, isMixed)),
    weathers,
  };
}

/** How far a month is off at a setting, in percent; switches in their own number where there are few. */
function misses(judged: Judged, i: number) {
  const [real, clouds] = [judged.real[i]!, judged.clouds[i]!];
  const percent = (name: keyof Charged): number => Math.abs(clouds[name] / real[name] - 1) * 100;
  const isMany = real.switches >= 30;
  return {
    energy: percent('pvKWh'),
    hours: percent('solarH'),
    starts: percent('starts'),
    switchesPercent: isMany ? percent('switches') : 0,
    switches: isMany ? 0 : Math.abs(clouds.switches - real.switches),
  };
}

describe.skipIf(!haveSharedData)('clouds against real minutes', () => {
  const months = new Map<number, Judged>();
  beforeAll(() => {
    for (const number of [3, 6, 9, 11]) months.set(number, judge(number));
  }, 60_000);

  const settings = SETTINGS.map(({ phases, share }, i) => [phases, share, i] as const);
  const THREE_AT_1 = SETTINGS.findIndex(({ phases, share }) => phases === '3' && share === 1);
  describe.each([3, 6, 9, 11])('month %s: energy within 2 %%, hours 3 %%, starts 15 %%, switches 20 %% or 5', (number) => {
    test.each(settings)('%s phases, share %s', (_, __, i) => {
      const off = misses(months.get(number)!, i);
      // Three phases at share 1 in November are 7 kWh and 6 starts: a matter of luck, judged below.
      if (number !== 11 || i !== THREE_AT_1) {
        expect(off.energy).toBeLessThanOrEqual(TOLERANCE.cloudsEnergyPercent);
        expect(off.hours).toBeLessThanOrEqual(TOLERANCE.cloudsHoursPercent);
        expect(off.starts).toBeLessThanOrEqual(TOLERANCE.cloudsStartsPercent);
      }
      expect(off.switchesPercent).toBeLessThanOrEqual(TOLERANCE.cloudsSwitchesPercent);
      expect(off.switches).toBeLessThanOrEqual(TOLERANCE.cloudsSwitches);
    });
  });
  test('November, three phases at share 1 (7.2 kWh, 6 starts): within 3 kWh and 3 starts', () => {
    const { real, clouds } = months.get(11)!;
    expect(Math.abs(real[THREE_AT_1]!.pvKWh - clouds[THREE_AT_1]!.pvKWh)).toBeLessThan(3);
    expect(Math.abs(real[THREE_AT_1]!.starts - clouds[THREE_AT_1]!.starts)).toBeLessThan(3);
  });

  // Houses of 200 W less and 200 W more have real months of 21.1 and 2.8 kWh, ours of 18.8 and 1.9: which side ours lies on is chance.
  // What many such houses come to is not.
  test('November, three phases at share 1, in houses of 0 to 800 W together (188 kWh, 115 starts)', () => {
    const { month, weathers } = months.get(11)!;
    const housesW = Array.from({ length: 17 }, (_, i) => 50 * i);
    const plan = month.plans[THREE_AT_1]!;
    const real = chargedInHouses(month, month.minutes, plan, housesW);
    const runs = weathers.map((weather) => chargedInHouses(month, weather, plan, housesW));
    const percent = (name: keyof Charged): number => (mean(runs.map((run) => run[name])) / real[name] - 1) * 100;
    expect(Math.abs(percent('pvKWh'))).toBeLessThanOrEqual(TOLERANCE.cloudsEnergyPercent);
    expect(Math.abs(percent('solarH'))).toBeLessThanOrEqual(TOLERANCE.cloudsHoursPercent);
    expect(Math.abs(percent('starts'))).toBeLessThanOrEqual(TOLERANCE.cloudsStartsPercent);
  });

  // Of what is asked of hours what matters most, for half and quarter hours. Switches and ramps are up to a quarter off there.
  describe.each([30, 15])('from means over %s minutes', (minutesEach) => {
    test.each([3, 6, 9, 11])('month %s: energy within 2 %%, hours 3 %%, starts 15 %%', (number) => {
      const { month, real } = months.get(number)!;
      const runs = SEEDS.map((seed) => charged(month, refined(month, seed, minutesEach)));
      for (const [phases, share, i] of settings) {
        if (number === 11 && i === THREE_AT_1) continue;
        const percent = (name: keyof Charged): number =>
          Math.abs(mean(runs.map((run) => run[i]![name])) / real[i]![name] - 1) * 100;
        expect(percent('pvKWh'), `${phases} at ${share}`).toBeLessThanOrEqual(TOLERANCE.cloudsEnergyPercent);
        expect(percent('solarH'), `${phases} at ${share}`).toBeLessThanOrEqual(TOLERANCE.cloudsHoursPercent);
        expect(percent('starts'), `${phases} at ${share}`).toBeLessThanOrEqual(TOLERANCE.cloudsStartsPercent);
      }
    });
  });

  test.each([3, 6, 9, 11])('month %s: distribution of the clear-sky index, KS distance on mixed days and on all', (number) => {
    const { realFacts, facts } = months.get(number)!;
    expect(mean(facts.map((one) => ksDistance(one.indexMixed, realFacts.indexMixed)))).toBeLessThanOrEqual(TOLERANCE.ksDistance);
    expect(mean(facts.map((one) => ksDistance(one.index, realFacts.index)))).toBeLessThanOrEqual(TOLERANCE.ksDistance);
  });
  test.each([3, 6, 9, 11])('month %s: ramps a minute, 50th, 95th and 99th percentile', (number) => {
    const { realFacts, facts } = months.get(number)!;
    for (const share of [0.5, 0.95, 0.99]) {
      const ratio = mean(facts.map((one) => quantile(one.ramps, share))) / quantile(realFacts.ramps, share);
      expect(Math.abs(ratio - 1), `${share}: ${ratio}`).toBeLessThanOrEqual(TOLERANCE.rampShare);
    }
  });
  test.each([3, 6, 9, 11])('month %s: as many spells of sun, as long', (number) => {
    const { realFacts, facts } = months.get(number)!;
    const ratio = mean(facts.map((one) => one.sunny.length)) / realFacts.sunny.length;
    expect(Math.abs(ratio - 1), `number ${ratio}`).toBeLessThanOrEqual(TOLERANCE.spellsShare);
    for (const name of ['sunny', 'cloudy'] as const) {
      const median = mean(facts.map((one) => quantile(one[name], 0.5)));
      expect(Math.abs(median - quantile(realFacts[name], 0.5)), `${name} ${median}`).toBeLessThanOrEqual(1);
    }
  });
  // Suehrcke and McCormick 1988: the instantaneous index has two states.
  test.each([3, 6, 9, 11])('month %s: two humps on mixed days, the dip between them where the real minutes have it', (number) => {
    const { realFacts, facts } = months.get(number)!;
    const clouds = humps(facts.flatMap(({ indexMixed }) => indexMixed));
    const real = humps(realFacts.indexMixed);
    expect(Math.abs(clouds.dipAt - real.dipAt)).toBeLessThanOrEqual(0.1001);
    const ratio = (found: typeof real): number => Math.min(found.below, found.above) / found.dip;
    expect(ratio(real)).toBeGreaterThan(TOLERANCE.cloudsHumps);
    expect(ratio(clouds)).toBeGreaterThan(TOLERANCE.cloudsHumps);
  });
  test('brightest minutes: at most 1.5 times the clear sky of clean air (turbidity 2), the sun above 10°', () => {
    for (const { month, weathers } of months.values()) {
      const clean = clearMinutes(month.sun, LYNGBY.elevationM, () => 2).globalWPerM2;
      for (const weather of weathers)
        weather.ghiWPerM2.forEach((ghi, k) => {
          if (month.sun.cosZenith[k]! > 0.17 && ghi > 1.5 * clean[k]!)
            throw new Error(`${month.month}: ${ghi} at ${k}, clear ${clean[k]}`);
        });
    }
  });
  test('means of an hour, a half and a quarter are kept, and every minute closes', () => {
    for (const minutesEach of [60, 30, 15]) {
      const { month } = months.get(6)!;
      const { weather } = coarse(month, minutesEach);
      const minutes = refined(month, 1, minutesEach);
      const again = coarse({ ...month, minutes }, minutesEach).weather;
      weather.ghiWPerM2.forEach((ghi, i) => {
        expect(Math.abs(again.ghiWPerM2[i]! - ghi)).toBeLessThan(1e-6);
        expect(Math.abs(again.dhiWPerM2[i]! - weather.dhiWPerM2[i]!)).toBeLessThan(1e-6);
      });
    }
  });
});

test.skipIf(!haveSharedData)(
  'a clear winter day high up (Alamosa, 1 January 2016) stays clear: no minute 60 W/m² off, 10 on the mean square',
  () => {
    const site = { latitudeDeg: 37.7, longitudeDeg: -105.92, elevationM: 2317 };
    const { steps, columns } = readSharedCsv('alamosa-2016-01-01-1min.csv');
    const grid = timeGrid(steps.startMs, 1, 60, fixedZone('UTC', 0));
    const sun = sunTrack(grid, site.latitudeDeg, site.longitudeDeg);
    const real = completeIrradiance(
      {
        ghiWPerM2: columns.ghi_w_m2!,
        dniWPerM2: columns.dni_w_m2!,
        dhiWPerM2: columns.dhi_w_m2!,
        airC: columns.temp_c!,
      },
      sun,
    ).weather;
    const from = { startMs: steps.startMs, stepS: 3600, steps: 24 };
    const hourly = (values: Float64Array): Float64Array =>
      Float64Array.from({ length: 24 }, (_, h) => mean([...values.subarray(h * 60, (h + 1) * 60)]));
    const hours = completeIrradiance(
      { ghiWPerM2: hourly(real.ghiWPerM2), dhiWPerM2: hourly(real.dhiWPerM2), airC: hourly(real.airC) },
      sunTrack(from, site.latitudeDeg, site.longitudeDeg),
    ).weather;
    for (const seed of SEEDS) {
      const off = spreadClouds(from, hours, grid, sun, site, seed).ghiWPerM2.map((ghi, k) => ghi - real.ghiWPerM2[k]!);
      expect(Math.max(...off.map(Math.abs))).toBeLessThan(60);
      expect(Math.sqrt(mean([...off].map((x) => x * x)))).toBeLessThan(10);
    }
  },
);

/** Of a distribution in tenths: the lowest between 0.6 and 1.1, and the highest below and above it. */
function humps(index: readonly number[]): { dipAt: number; dip: number; below: number; above: number } {
  const counts = Array.from({ length: 15 }, (_, i) => index.filter((x) => x >= i / 10 && x < (i + 1) / 10).length);
  const between = counts.slice(6, 11);
  const at = 6 + between.indexOf(Math.min(...between));
  return {
    dipAt: at / 10,
    dip: counts[at]!,
    below: Math.max(...counts.slice(0, at)),
    above: Math.max(...counts.slice(at + 1, 14)),
  };
}
