/**
 * The models held against figures from outside, for notebooks/validation.ipynb: what is published beside what comes out.
 * The figures stand in tests/reference/published.ts and what is allowed in tests/reference/tolerances.ts; the tests use both too.
 */
import { readFile } from 'node:fs/promises';
import { Body, Equator, Horizon, Observer } from 'astronomy-engine';
import { expectationOf, fixedZone, house, makeProfiles, pv, sky, timeGrid, vehicle } from '../src/index.ts';
import type { Spread } from '../src/report/index.ts';
import {
  HOURLY_OVERSTATES_PERCENT,
  MEASURED_LOSSES,
  PIEDMONT,
  ROOF_30_SOUTH,
  SET_T,
  SET_T_DIFFUSE,
  SPA_2025,
  type TypicalYear,
  VIENNA,
} from '../tests/reference/published.ts';
import { TOLERANCE } from '../tests/reference/tolerances.ts';
import { household } from './open.ts';

/** A figure from outside beside ours, and how far ours may be off, in the same unit. */
export interface Check {
  readonly about: string;
  readonly published: number;
  readonly found: number;
  readonly allowed: number;
}

/** How far off some figures are, as a part of what is allowed, percent: the least, the median and the most. */
export function offSpread(name: string, checks: readonly Check[]): Spread {
  const off = checks.map(({ published, found, allowed }) => (100 * Math.abs(found - published)) / allowed);
  return { name, low: Math.min(...off), usual: expectationOf(off).usual, high: Math.max(...off) };
}

/** The sun's zenith at eight places and times against NREL's algorithm, degrees. */
export const sunChecks = (): Check[] =>
  SPA_2025.map(({ name, latitude, longitude, atMs, zenithDeg }) => ({
    about: name,
    published: zenithDeg,
    found: sky.sunAngles(atMs, latitude, longitude).zenithDeg,
    allowed: TOLERANCE.sunZenithDeg,
  }));

/** The sun's altitude against a second library over a year at three latitudes, above 5 degrees. */
export function sunBesideLibrary(): Check[] {
  return [37.5, 48.2, 60.2].flatMap((latitude) => {
    const observer = new Observer(latitude, 15, 0);
    return Array.from({ length: 600 }, (_, i) => {
      const at = new Date(Date.UTC(2025, 0, 1) + i * 14.5 * 3_600_000);
      const place = Equator(Body.Sun, at, observer, true, true);
      const { altitude } = Horizon(at, observer, place.ra, place.dec, '');
      const found = 90 - sky.sunAngles(at.getTime(), latitude, 15).zenithDeg;
      return { about: at.toISOString(), published: altitude, found, allowed: TOLERANCE.sunAltitudeMaxDeg };
    }).filter(({ published }) => published > 5);
  });
}

const MODELS = [
  ['isotropic', 'isotropic'],
  ['hayDavies', 'Hay Davies'],
  ['reindl', 'Reindl'],
  ['perez', 'Perez'],
] as const;

/** Light of three skies on a plane tilted 40 degrees to the south by four models, W/m². */
export function planeChecks(): Check[] {
  return SET_T.flatMap(({ ghi, dni, dhi, z, az, am }, i) => {
    const light = {
      dhiWPerM2: dhi,
      dniWPerM2: dni,
      extraterrestrialWPerM2: 1321.16558,
      airMass: am,
      zenithDeg: z,
      tiltDeg: 40,
      cosIncidence: pv.cosIncidence(40, 180, z, az),
    };
    const found = {
      isotropic: pv.isotropicDiffuseWPerM2(dhi, 40),
      hayDavies: pv.hayDaviesDiffuse(light).totalWPerM2,
      reindl: pv.reindlDiffuse(light, ghi).totalWPerM2,
      perez: pv.perezDiffuse(light).totalWPerM2,
    };
    return MODELS.map(([model, name]) => ({
      about: `sky ${i + 1}, ${name}`,
      published: SET_T_DIFFUSE[model][i] ?? 0,
      found: found[model],
      allowed: TOLERANCE.planeWPerM2,
    }));
  });
}

/** The typical years that are looked at. */
export const PLACES: readonly TypicalYear[] = [VIENNA, PIEDMONT];

/** Air by month that gives each place its yearly mean; invented, the typical years' own hours are not part of the project. */
const AIR_C = { 48.12: [-1, 1, 5, 10, 15, 18, 20, 19, 15, 10, 4, 0], 45: [2, 4, 9, 13, 18, 22, 24, 23, 19, 13, 7, 3] } as const;
export interface YearOnRoof {
  readonly planeKWhM2: number;
  readonly yieldByMonth: readonly number[];
}

/** Made-up years beside typical ones: 2 percent allowed on the plane, 8 of yield. */
export const yearChecks = (places: readonly { readonly typical: TypicalYear; readonly made: YearOnRoof }[]): Check[] =>
  places.flatMap(({ typical: { name, planeKWhM2, yieldKWhPerKWp }, made }) => [
    { about: `${name}, plane`, published: planeKWhM2, found: made.planeKWhM2, allowed: 0.02 * planeKWhM2 },
    {
      about: `${name}, yield`,
      published: yieldKWhPerKWp,
      found: made.yieldByMonth.reduce((a, b) => a + b, 0),
      allowed: 0.08 * yieldKWhPerKWp,
    },
  ]);

/** What a made-up year with the months of a typical year gives on a tilted plane and out of an inverter: means of so many seeds. */
export function yearOnRoof({ site, ghiKWhM2 }: TypicalYear, seeds: number): YearOnRoof {
  const grid = timeGrid(Date.UTC(2025, 0, 1), 365, 300, fixedZone('UTC+1', 3600));
  const sun = sky.sunTrack(grid, site.latitudeDeg, site.longitudeDeg);
  const monthlyTempC = AIR_C[site.latitudeDeg as keyof typeof AIR_C];
  const yieldByMonth = new Array<number>(12).fill(0);
  let planeKWhM2 = 0;
  for (let seed = 1; seed <= seeds; seed++) {
    const weather = sky.syntheticWeather({ monthlyGhiKWhM2: ghiKWhM2, monthlyTempC, seed }, site, grid, sun);
    const kWh = 300 / 3_600_000 / seeds;
    const power = pv.pvPowerW(ROOF_30_SOUTH, grid, sun, weather);
    grid.dayMs.forEach((dayMs, d) => {
      const month = new Date(dayMs).getUTCMonth();
      const day = power.subarray(grid.dayStart[d], grid.dayStart[d + 1]);
      yieldByMonth[month] = (yieldByMonth[month] ?? 0) + kWh * day.reduce((a, b) => a + b, 0);
    });
    planeKWhM2 += kWh * onPlaneSum(sun, weather);
  }
  return { planeKWhM2, yieldByMonth };
}

/** All light on that plane by Perez, ground of albedo 0.2, W/m² summed over the steps. */
function onPlaneSum(sun: sky.SunTrack, weather: sky.Weather): number {
  let sum = 0;
  for (const [k, ghi] of weather.ghiWPerM2.entries()) {
    if (ghi <= 0) continue;
    const zenithDeg = sun.zenithDeg[k] ?? 90;
    const azimuthDeg = (Math.atan2(sun.east[k] ?? 0, sun.north[k] ?? 0) * 180) / Math.PI;
    const cosIncidence = pv.cosIncidence(30, 180, zenithDeg, azimuthDeg);
    const dniWPerM2 = weather.dniWPerM2[k] ?? 0;
    const light = {
      dhiWPerM2: weather.dhiWPerM2[k] ?? 0,
      dniWPerM2,
      extraterrestrialWPerM2: sun.extraterrestrialWPerM2[k] ?? 0,
      airMass: sun.airMass[k] ?? 0,
      zenithDeg,
      tiltDeg: 30,
      cosIncidence,
    };
    const direct = pv.beamOnPlaneWPerM2(dniWPerM2, cosIncidence) + pv.groundOnPlaneWPerM2(ghi, 30, 0.2);
    sum += direct + pv.perezDiffuse(light).totalWPerM2;
  }
  return sum;
}

/** By how many percent hourly means overstate what each of so many made-up homes uses of the hillside house's roof, and their mean. */
export async function hourlyChecks(homes: number): Promise<{ percents: number[]; check: Check }> {
  const scenario = (await household('hillside-house')).scenarioWith();
  const { pvW } = makeProfiles(scenario);
  const percents = Array.from({ length: homes }, (_, seed) => {
    const people = 1 + (seed % 4);
    const annualWh = house.typicalAnnualWh(people);
    const loadW = wholeW(house.syntheticHousehold({ annualWh, people, seed, phaseSplit: THIRDS }, scenario.grid));
    const [minutes, hours] = [1, 60].map((n) => selfUse(means(loadW, n), means(pvW, n)) * n);
    return 100 * ((hours ?? 0) / (minutes ?? 1) - 1);
  });
  const found = percents.reduce((a, b) => a + b, 0) / homes;
  const check = { about: 'mean of homes', published: HOURLY_OVERSTATES_PERCENT, found, allowed: TOLERANCE.resolutionPercent };
  return { percents, check };
}

const THIRDS = [1 / 3, 1 / 3, 1 / 3] as const;
const wholeW = ([one, two, three]: house.PhaseLoads): Float64Array => one.map((w, k) => w + (two[k] ?? 0) + (three[k] ?? 0));
const selfUse = (loadW: Float64Array, roofW: Float64Array): number =>
  loadW.reduce((sum, w, k) => sum + Math.min(w, roofW[k] ?? 0), 0);

function means(values: Float64Array, n: number): Float64Array {
  const mean = new Float64Array(values.length / n);
  for (const [k, value] of values.entries()) {
    const i = Math.floor(k / n);
    mean[i] = (mean[i] ?? 0) + value / n;
  }
  return mean;
}

/** A day of the standard profile and the same day of made-up homes, W for 1000 kWh a year, by the quarter-hour. */
export interface LoadDay {
  readonly season: house.Season;
  readonly kind: house.DayKind;
  readonly published: readonly number[];
  readonly found: readonly number[];
}

/** Nine days of the standard household profile H0 beside the mean of so many made-up homes of one to four people. */
export async function loadDays(homes: number): Promise<LoadDay[]> {
  const grid = timeGrid(Date.UTC(2025, 0, 1), 365, 900, fixedZone('UTC+1', 3600));
  const sums = new Map<string, { w: number[]; megawattHours: number }>();
  for (let seed = 0; seed < homes; seed++) {
    const people = 1 + (seed % 4);
    const annualWh = house.typicalAnnualWh(people);
    const loadW = wholeW(house.syntheticHousehold({ annualWh, people, seed, phaseSplit: THIRDS }, grid));
    grid.dayMs.forEach((dayMs, d) => {
      const sum = sums.get(dayName(dayMs)) ?? { w: new Array<number>(96).fill(0), megawattHours: 0 };
      const day = loadW.subarray(grid.dayStart[d], grid.dayStart[d + 1]);
      sums.set(dayName(dayMs), {
        w: sum.w.map((w, q) => w + (day[q] ?? 0)),
        megawattHours: sum.megawattHours + annualWh / 1e6,
      });
    });
  }
  return (await standardDays()).map(({ season, kind, published }) => {
    const sum = sums.get(`${season}_${kind}`);
    return { season, kind, published, found: sum?.w.map((w) => w / sum.megawattHours) ?? [] };
  });
}

function dayName(dayMs: number): string {
  const day = new Date(dayMs);
  const kind = day.getUTCDay() === 0 ? 'sunday' : day.getUTCDay() === 6 ? 'saturday' : 'workday';
  return `${house.seasonOf(day.getUTCMonth() + 1, day.getUTCDate())}_${kind}`;
}

/** The published profile; source and licence stand in the file. */
async function standardDays(): Promise<Omit<LoadDay, 'found'>[]> {
  const text = await readFile(new URL('../tests/reference/data/h0-quarter-hours.csv', import.meta.url), 'utf8');
  const [head = '', ...rows] = text.split('\n').filter((line) => line !== '' && !line.startsWith('#'));
  return head
    .split(',')
    .slice(1)
    .map((name, c) => {
      const [season, kind] = name.split('_') as [house.Season, house.DayKind];
      return { season, kind, published: rows.map((row) => Number(row.split(',')[c + 1])) };
    });
}

/** Correlation of two rows of numbers. */
export function correlation(a: readonly number[], b: readonly number[]): number {
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [meanA, meanB] = [mean(a), mean(b)];
  const product = (x: readonly number[], y: readonly number[], ofX: number, ofY: number): number =>
    mean(x.map((value, i) => (value - ofX) * ((y[i] ?? 0) - ofY)));
  return product(a, b, meanA, meanB) / Math.sqrt(product(a, a, meanA, meanA) * product(b, b, meanB, meanB));
}

/** Evening shares of nine days, points of percent. */
export const loadChecks = (days: readonly LoadDay[]): Check[] =>
  days.map(({ season, kind, published, found }) => ({
    about: `${season} ${kind}`,
    published: eveningPercent(published),
    found: eveningPercent(found),
    allowed: TOLERANCE.householdSharePoints,
  }));

/** Part of a day's energy between 17 and 22 hours, percent. */
const eveningPercent = (day: readonly number[]): number => {
  const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);
  return (100 * sum(day.slice(17 * 4, 22 * 4))) / sum(day);
};

/** Loss between charger and battery, percent of what is drawn. */
export const lossPercent = (acW: number, standbyW: number, efficiency: number): number =>
  100 * (1 - vehicle.dcPowerW(acW, standbyW, efficiency) / acW);

/** The losses of the measured cars by our form of the law, which takes its share of what standby leaves: the same straight line through the measurements. */
export const lossChecks = (): Check[] =>
  MEASURED_LOSSES.flatMap(({ car, at10A, at3x16A, standbyW, share }) => {
    const of = (acW: number): number => lossPercent(acW, standbyW / (1 - share), 1 - share);
    const allowed = TOLERANCE.chargingLossPercent;
    return [
      { about: `car ${car}, 10 A`, published: at10A, found: of(2300), allowed },
      { about: `car ${car}, 3 x 16 A`, published: at3x16A, found: of(11_040), allowed },
    ];
  });
