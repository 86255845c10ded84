import { fixedZone, type TimeGrid, timeGrid } from '../../src/base/index.ts';
import { pvPowerW } from '../../src/pv/index.ts';
import { completeScenario, readScenario } from '../../src/scenario/index.ts';
import { type Plan, planOf, runPlan } from '../../src/simulate/index.ts';
import {
  clearMinutes,
  completeIrradiance,
  LINKE_TURBIDITY,
  type Steps,
  type SunTrack,
  spreadClouds,
  sunTrack,
  type Weather,
} from '../../src/sky/index.ts';
import { readSharedCsv } from './shared-data.ts';

/** The university solar station at Lyngby, Denmark; see the README beside the data. */
export const LYNGBY = { latitudeDeg: 55.79064, longitudeDeg: 12.52505, elevationM: 50 };
/** Chargers and shares that minutes are judged by. */
export const SETTINGS = ['1', '3', 'switchable'].flatMap((phases) => [1, 0.5].map((share) => ({ phases, share })));

/** What a month of charging comes to. */
export interface Charged {
  pvKWh: number;
  solarH: number;
  starts: number;
  switches: number;
}

/** A month of measured minutes with all that is needed to judge others by it. */
export interface RealMonth {
  readonly month: number;
  readonly grid: TimeGrid;
  readonly sun: SunTrack;
  readonly minutes: Weather;
  readonly clearWPerM2: Float64Array;
  readonly plans: readonly Plan[];
}

const ZONE = fixedZone('Etc/UTC', 0);

/** Reads a month of 2017; minutes that are missing are bridged by a straight line (September lacks 103). */
export function realMonth(month: number): RealMonth {
  const { steps, columns } = readSharedCsv(`lyngby-2017-${String(month).padStart(2, '0')}-1min.csv.gz`);
  const days = steps.steps / 1440;
  const grid = timeGrid(steps.startMs, days, 60, ZONE);
  const sun = sunTrack(grid, LYNGBY.latitudeDeg, LYNGBY.longitudeDeg);
  const column = (name: string): Float64Array => bridged(columns[name] ?? new Float64Array(grid.steps));
  const minutes = completeIrradiance(
    {
      ghiWPerM2: column('ghi_w_m2'),
      dniWPerM2: column('dni_w_m2'),
      dhiWPerM2: column('dhi_w_m2'),
      airC: column('temp_c'),
      windMPerS: column('wind_m_s'),
    },
    sun,
  ).weather;
  const clearWPerM2 = clearMinutes(sun, LYNGBY.elevationM, () => LINKE_TURBIDITY).globalWPerM2;
  return { month, grid, sun, minutes, clearWPerM2, plans: SETTINGS.map((setting) => planFor(month, days, setting)) };
}

function bridged(values: Float64Array): Float64Array {
  const out = values.slice();
  let last = -1;
  for (let k = 0; k < out.length; k++) {
    if (Number.isNaN(out[k])) continue;
    for (let j = last + 1; j < k && last >= 0; j++) out[j] = out[last]! + ((out[k]! - out[last]!) * (j - last)) / (k - last);
    last = k;
  }
  return out.map((value) => (Number.isNaN(value) ? 0 : value));
}

/** A car always plugged in and never full: its battery is beyond any month. */
function planFor(month: number, days: number, { phases, share }: { phases: string; share: number }): Plan {
  const text = `site: { latitude: ${LYNGBY.latitudeDeg}, longitude: ${LYNGBY.longitudeDeg}, timeZone: Etc/UTC }
period: { start: 2017-${String(month).padStart(2, '0')}-01, days: ${days} }
weather: { source: synthetic, climate: copenhagen }
pv: { source: arrays, arrays: [{ kWp: 8, tiltDeg: 35, azimuthDeg: 180 }] }
household: { source: synthetic, annualKWh: 3000 }
chargePoints:
  - charger: { phases: ${phases}, maxCurrentA: 16 }
    vehicle: { batteryKWh: 100, phases: 3, maxCurrentA: 16, kWhPer100km: 17 }
    usage: { source: always }
control: { surplusShare: ${share} }
`;
  const { checked } = readScenario(text, 'month.yaml');
  if (!checked.ok) throw new Error(JSON.stringify(checked.issues));
  const complete = completeScenario(checked.value, new Map(), ZONE);
  if (!complete.ok) throw new Error(JSON.stringify(complete.issues));
  const scenario = complete.value;
  const chargePoints = scenario.chargePoints.map((point) => ({ ...point, vehicle: { ...point.vehicle, batteryWh: 1e9 } }));
  return planOf({ ...scenario, chargePoints });
}

const ROOF = {
  arrays: [
    {
      kWp: 8,
      tiltDeg: 35,
      azimuthDeg: 180,
      temperatureCoefficientPerK: -0.0034,
      lossPercent: 8,
      mounting: 'roof' as const,
      horizonDeg: [0],
      monthlyLossPercent: [],
    },
  ],
  inverter: { ratedW: 8000, efficiency: 0.965 },
};
const HOUSE_W = 400;

/** Charges from weather, at every setting: 8 kWp facing south at 35°, a house of 400 W. */
export function charged({ grid, sun, plans }: RealMonth, weather: Weather): Charged[] {
  const pvW = pvPowerW(ROOF, grid, sun, weather);
  return plans.map((plan) => chargedBeside(HOUSE_W, pvW, plan));
}

/** The same at one setting in several houses, added up. */
export function chargedInHouses({ grid, sun }: RealMonth, weather: Weather, plan: Plan, housesW: readonly number[]): Charged {
  const pvW = pvPowerW(ROOF, grid, sun, weather);
  const all = housesW.map((houseW) => chargedBeside(houseW, pvW, plan));
  const sum = (name: keyof Charged): number => all.reduce((total, one) => total + one[name], 0);
  return { pvKWh: sum('pvKWh'), solarH: sum('solarH'), starts: sum('starts'), switches: sum('switches') };
}

function chargedBeside(houseW: number, pvW: Float64Array, plan: Plan): Charged {
  const loadW = new Float64Array(pvW.length).fill(houseW);
  const third = loadW.map((w) => w / 3);
  const { ledger } = runPlan(plan, { pvW, loadW, loadByPhaseW: [third, third, third] });
  const car = ledger.total.points[0]!;
  return { pvKWh: car.carPvWh / 1000, solarH: car.solarChargingH, starts: car.starts, switches: car.switches };
}

/** The month in means over so many minutes, made complete as the weather of a file is. */
export function coarse({ grid, minutes }: RealMonth, minutesEach: number): { from: Steps; weather: Weather } {
  const from = { startMs: grid.startMs, stepS: minutesEach * 60, steps: grid.steps / minutesEach };
  const mean = (values: Float64Array): Float64Array =>
    Float64Array.from({ length: from.steps }, (_, i) => {
      let sum = 0;
      for (let k = i * minutesEach; k < (i + 1) * minutesEach; k++) sum += values[k]!;
      return sum / minutesEach;
    });
  const sun = sunTrack(from, LYNGBY.latitudeDeg, LYNGBY.longitudeDeg);
  const measured = {
    ghiWPerM2: mean(minutes.ghiWPerM2),
    dniWPerM2: mean(minutes.dniWPerM2),
    dhiWPerM2: mean(minutes.dhiWPerM2),
    airC: mean(minutes.airC),
    windMPerS: mean(minutes.windMPerS),
  };
  return { from, weather: completeIrradiance(measured, sun).weather };
}

/** The month's means, broken up into minutes again. */
export function refined(month: RealMonth, seed: number, minutesEach = 60): Weather {
  const { from, weather } = coarse(month, minutesEach);
  return spreadClouds(from, weather, month.grid, month.sun, LYNGBY, seed);
}

/** What the minutes of a month are like while the sun is higher than 10 degrees. */
export interface MinuteFacts {
  /** Clear-sky index, in order of size. */
  readonly index: readonly number[];
  /** The same for days with 0.35 … 0.85 of a clear day. */
  readonly indexMixed: readonly number[];
  /** Changes of the index from minute to minute, in order of size. */
  readonly ramps: readonly number[];
  /** Lengths of spells with and without sun (120 W/m², the meteorological limit), min, in order of size. */
  readonly sunny: readonly number[];
  readonly cloudy: readonly number[];
}

const COS_10_DEG_UP = 0.17;
const SUNSHINE_W_PER_M2 = 120;

/** Looks at the minutes of a month. */
export function minuteFacts(
  { grid, sun, clearWPerM2 }: RealMonth,
  weather: Weather,
  isMixed: (day: number) => boolean,
): MinuteFacts {
  const facts = {
    index: [] as number[],
    indexMixed: [] as number[],
    ramps: [] as number[],
    sunny: [] as number[],
    cloudy: [] as number[],
  };
  let before = Number.NaN;
  let spell = 0;
  let shone = false;
  for (let k = 0; k < grid.steps; k++) {
    if (sun.cosZenith[k]! < COS_10_DEG_UP) {
      before = Number.NaN;
      spell = 0;
      continue;
    }
    const index = weather.ghiWPerM2[k]! / clearWPerM2[k]!;
    const shines = weather.dniWPerM2[k]! > SUNSHINE_W_PER_M2;
    facts.index.push(index);
    if (isMixed(Math.floor(k / 1440))) facts.indexMixed.push(index);
    if (!Number.isNaN(before)) facts.ramps.push(Math.abs(index - before));
    if (spell > 0 && shines !== shone) {
      (shone ? facts.sunny : facts.cloudy).push(spell);
      spell = 0;
    }
    shone = shines;
    spell++;
    before = index;
  }
  for (const values of Object.values(facts)) values.sort((a, b) => a - b);
  return facts;
}

/** Whether a day of the month was neither clear nor dull. */
export function mixedDays({ grid, minutes, clearWPerM2 }: RealMonth): (day: number) => boolean {
  const shares = Array.from(grid.dayMs, (_, d) => {
    const sum = (values: Float64Array): number =>
      values.subarray(grid.dayStart[d], grid.dayStart[d + 1]).reduce((a, b) => a + b, 0);
    return sum(minutes.ghiWPerM2) / sum(clearWPerM2);
  });
  return (day) => shares[day]! > 0.35 && shares[day]! < 0.85;
}

/** Value below which a share of sorted values lies. */
export const quantile = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;

/** Largest distance of two distributions, Kolmogorov and Smirnov, of sorted values. */
export function ksDistance(a: readonly number[], b: readonly number[]): number {
  let [i, j, most] = [0, 0, 0];
  while (i < a.length && j < b.length) {
    const x = Math.min(a[i]!, b[j]!);
    while (i < a.length && a[i]! <= x) i++;
    while (j < b.length && b[j]! <= x) j++;
    most = Math.max(most, Math.abs(i / a.length - j / b.length));
  }
  return most;
}
