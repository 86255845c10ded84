import { describe, expect, test } from 'vitest';
import {
  type Columns,
  type DatedTally,
  planOf,
  type Run,
  runPlan,
  type Tally,
  tally as tallyAgain,
} from '../../src/simulate/index.ts';
import { randomRuns } from '../explain/random-runs.ts';
import { type HandCase, profilesOf, scenarioOf, summed } from './hand.ts';

/** Local dates of four "days" across a month and a year: 30 and 31 December 2024, 1 January 2025, 1 January 2026. */
const DATES = [Date.UTC(2024, 11, 30), Date.UTC(2024, 11, 31), Date.UTC(2025, 0, 1), Date.UTC(2026, 0, 1)];

/** The run of a hand-worked case, its steps cut into days of those dates. */
function cut(hand: HandCase, dates = DATES): Run {
  const scenario = scenarioOf(hand);
  const { steps } = scenario.grid;
  const dayStart = Int32Array.of(0, Math.floor(steps / 4), Math.floor(steps / 2), Math.floor((3 * steps) / 4), steps);
  const grid = { ...scenario.grid, dayStart, dayMs: Float64Array.from(dates) };
  return runPlan(planOf({ ...scenario, grid }), profilesOf(hand, steps));
}

type Sums = Record<Exclude<keyof Tally, 'points'>, number>;

/** Wh of the house over some steps, column by column. */
function plainSums({ columns, grid }: Run, from: number, to: number): Sums {
  const wh = (of: (columns: Columns, k: number) => number): number => {
    let sum = 0;
    for (let k = from; k < to; k++) sum += (of(columns, k) * grid.stepS) / 3600;
    return sum;
  };
  return {
    pvWh: wh(({ pvW }, k) => pvW[k]!),
    loadWh: wh(({ loadW }, k) => loadW[k]!),
    gridImportWh: wh(({ gridImportW }, k) => gridImportW[k]!),
    gridExportWh: wh(({ gridExportW }, k) => gridExportW[k]!),
    curtailedWh: wh(({ curtailedW }, k) => curtailedW[k]!),
    rescuedWh: wh(({ rescuedW }, k) => rescuedW[k]!),
    batteryInWh: wh(({ batteryW }, k) => Math.max(0, batteryW[k]!)),
    batteryOutWh: wh(({ batteryW }, k) => Math.max(0, -batteryW[k]!)),
  };
}

/** The same of one charge point: energies, hours, events, ways home. */
function plainPoint(run: Run, i: number, from: number, to: number): Record<string, number> {
  const { grid, plan } = run;
  const car = run.columns.points[i]!;
  const { capacityWh, startWh } = plan.points[i]!.car;
  const stepH = grid.stepS / 3600;
  const sums: Record<string, number> = {};
  const add = (name: string, value: number): void => {
    sums[name] = (sums[name] ?? 0) + value;
  };
  const events = run.events.filter(({ point, step }) => point === i && step >= from && step < to);
  const drives = run.drives.filter(({ point, step }) => point === i && step >= from && step < to);
  for (let k = from; k < to; k++) {
    const [power, pv, battery] = [car.powerW[k]!, car.pvW[k]!, car.batteryW[k]!];
    const usedWh = drives.filter(({ step }) => step === k).reduce((sum, drive) => sum + drive.usedWh, 0);
    const beforeWh = k === 0 ? startWh : car.soc[k - 1]! * capacityWh;
    const storedWh = power === 0 ? 0 : car.soc[k]! * capacityWh - beforeWh + usedWh;
    add('carWh', power * stepH);
    add('carPvWh', pv * stepH);
    add('carBatteryWh', battery * stepH);
    add('carGridWh', (power - pv - battery) * stepH);
    add('storedWh', storedWh);
    add('storedPvWh', power === 0 ? 0 : (storedWh * pv) / power);
    add('solarChargingH', power === 0 ? 0 : (stepH * pv) / power);
    add('chargingH', power === 0 ? 0 : stepH);
  }
  const count = (name: string): number => events.filter(({ event }) => event === name).length;
  return {
    ...sums,
    starts: count('start'),
    stalls: count('stall'),
    switches: count('switch'),
    holds: count('hold'),
    breakOffs: count('break-off'),
    drivenKm: drives.reduce((sum, { km }) => sum + km, 0),
    missedKm: drives.reduce((sum, { missedKm }) => sum + missedKm, 0),
    publicWh: drives.reduce((sum, { publicWh }) => sum + publicWh, 0),
  };
}

function expectSame(got: Tally, want: Sums, points: Record<string, number>[]): void {
  for (const [name, value] of Object.entries(want)) expect(got[name as keyof Sums], name).toBeCloseTo(value, 5);
  points.forEach((point, i) => {
    for (const [name, value] of Object.entries(point)) {
      expect(got.points[i]![name as keyof Tally['points'][number]], name).toBeCloseTo(value, 5);
    }
  });
}

const total = (records: readonly Record<string, number>[]): Record<string, number> =>
  records.reduce(
    (sum, record) => {
      for (const [name, value] of Object.entries(record)) sum[name] = (sum[name] ?? 0) + value;
      return sum;
    },
    {} as Record<string, number>,
  );

test('days, months and the whole are the sums of their steps, on 16 random days cut into four dates', () => {
  for (const { hand } of randomRuns(16, 720_000)) {
    const run = cut(hand);
    const { ledger, grid, plan } = run;
    const spans = [0, 1, 2, 3].map((d) => [grid.dayStart[d]!, grid.dayStart[d + 1]!] as const);
    const sums = spans.map(([from, to]) => plainSums(run, from, to));
    const points = spans.map(([from, to]) => plan.points.map((_, i) => plainPoint(run, i, from, to)));
    const over = (days: number[]) =>
      [total(days.map((d) => sums[d]!)) as Sums, plan.points.map((_, i) => total(days.map((d) => points[d]![i]!)))] as const;
    for (const [d, day] of ledger.days.entries()) expectSame(day.tally, ...over([d]));
    expectSame(ledger.total, ...over([0, 1, 2, 3]));
    for (const [m, days] of [[0, 1], [2], [3]].entries()) expectSame(ledger.months[m]!.tally, ...over(days));
    const dates = (parts: readonly DatedTally[]) => parts.map(({ year, month, day }) => [year, month, day]);
    expect(dates(ledger.days)).toEqual([
      [2024, 12, 30],
      [2024, 12, 31],
      [2025, 1, 1],
      [2026, 1, 1],
    ]);
    expect(dates(ledger.months)).toEqual([
      [2024, 12, 0],
      [2025, 1, 0],
      [2026, 1, 0],
    ]);
  }
});

test('a month ends with its last day, not with the year', () => {
  const dates = [29, 30, 31, 32].map((day) => Date.UTC(2025, 10, day));
  const { ledger } = cut({ pv: [[80, 2000]] }, dates);
  expect(ledger.months.map(({ year, month, tally }) => [year, month, tally.pvWh])).toEqual([
    [2025, 11, expect.closeTo((2000 * 40) / 60, 9)],
    [2025, 12, expect.closeTo((2000 * 40) / 60, 9)],
  ]);
});

test('energy of the very step in which a car comes home counts, however long it was away', () => {
  const run = cut({
    pv: [[80, 4000]],
    charger: { phases: 1 },
    vehicle: { phases: 1, batteryKWh: 60, startSoc: 0.5, standbyW: 0, conversionShare: 1, startLagS: 0 },
    control: { strategy: 'at-once' },
    stays: [
      [0, 10, 5],
      [50, 60, 20],
    ],
  });
  // Twenty minutes of 16 A on one phase, all of it into the battery.
  expect(run.ledger.total.points[0]!.storedWh).toBeCloseTo((3680 * 20) / 60, 9);
  expect(run.ledger.total.points[0]!.storedPvWh).toBeCloseTo((3680 * 20) / 60, 9);
});

describe('kilometres on PV', () => {
  /** Half a day of sun on each of four days, charged at once; a car without losses that comes home with its own thirst on each. */
  const drives = (stays: [number, number, number][], coldFactor = 1, more: HandCase['more'] = []): Run =>
    cut({
      pv: [[160, 4000]],
      charger: { phases: 1 },
      vehicle: { phases: 1, batteryKWh: 60, startSoc: 0.5, standbyW: 0, conversionShare: 1, startLagS: 0, coldFactor },
      control: { strategy: 'at-once' },
      stays,
      more,
    });

  test('PV in the battery by what the car takes for a kilometre', () => {
    const { ledger } = drives([[0, 30, 10]]);
    // Half an hour of 3680 W, all of it PV, at 170 Wh a km.
    expect(ledger.total.points[0]!.pvKm).toBeCloseTo(1840 / 170, 9);
    expect(ledger.days.map(({ tally }) => tally.points[0]!.pvKm)).toEqual([expect.closeTo(1840 / 170, 9), 0, 0, 0]);
  });

  test('each day by the last drive until then; the first days by the first', () => {
    // Without weather every drive takes 170 Wh a km, so the drives are changed by hand.
    const run = drives([
      [50, 70, 10],
      [90, 110, 20],
      [110, 115, 5],
    ]);
    const thirst = [200, 100, 300];
    const changed = run.drives.map((drive, i) => ({
      ...drive,
      usedWh: 0.6 * thirst[i]! * drive.km,
      publicWh: 0.4 * thirst[i]! * drive.km,
    }));
    const [first, second, third, fourth] = tallyOf(run, changed);
    // No sun in the car on the first day; 20 minutes on the second; the last drive of the third day counts for all of it.
    expect(first!.pvKm).toBe(0);
    expect(second!.pvKm).toBeCloseTo(second!.storedPvWh / 200, 9);
    expect(third!.pvKm).toBeCloseTo(third!.storedPvWh / 300, 9);
    expect(fourth!.pvKm).toBe(0);
    expect(second!.storedPvWh).toBeGreaterThan(500);
  });

  test('days before the first drive by that one', () => {
    const run = drives([
      [0, 30, 0],
      [50, 70, 10],
    ]);
    const [first] = tallyOf(run, [{ ...run.drives[0]!, usedWh: 2000, publicWh: 0 }]);
    expect(first!.storedPvWh).toBeGreaterThan(500);
    expect(first!.pvKm).toBeCloseTo(first!.storedPvWh / 200, 9);
  });

  test('a car that never drives, by its consumption in mild weather', () => {
    expect(drives([[0, 30, 0]]).ledger.total.points[0]!.pvKm).toBeCloseTo(1840 / 170, 9);
  });

  test('a drive at midnight is of the new day', () => {
    const run = drives([
      [10, 20, 10],
      [40, 60, 10],
    ]);
    expect(run.ledger.days.map(({ tally }) => tally.points[0]!.drivenKm)).toEqual([10, 10, 0, 0]);
    const changed = run.drives.map((drive, i) => ({ ...drive, usedWh: (i === 0 ? 200 : 100) * drive.km, publicWh: 0 }));
    const days = tallyOf(run, changed);
    expect(days[0]!.pvKm).toBeCloseTo(days[0]!.storedPvWh / 200, 9);
    expect(days[1]!.pvKm).toBeCloseTo(days[1]!.storedPvWh / 100, 9);
  });

  test('each charge point by its own drives', () => {
    const other = {
      charger: { phases: 1 as const },
      vehicle: { phases: 1 as const, batteryKWh: 60, startSoc: 0.5, standbyW: 0, conversionShare: 1, startLagS: 0, whPerKm: 340 },
      stays: [[0, 30, 7]] as const,
    };
    const { points } = drives([[0, 30, 10]], 1, [other]).ledger.total;
    expect(points.map(({ drivenKm }) => drivenKm)).toEqual([10, 7]);
    // 4000 W of sun: 3680 W for the first car, 320 W for the second.
    expect(points[0]!.pvKm).toBeCloseTo(1840 / 170, 9);
    expect(points[1]!.pvKm).toBeCloseTo(160 / 340, 9);
  });

  test('what was driven in a step is no loss of what was charged in it', () => {
    // A stay that ends as the next begins: 10 km are driven in step 30, and 3680 W charged.
    const { ledger } = drives([
      [0, 30, 0],
      [30, 60, 10],
    ]);
    expect(ledger.total.points[0]!.storedWh).toBeCloseTo(3680, 6);
  });
});

/** The days of a run's ledger at one charge point, with other drives. */
function tallyOf(run: Run, drives: Run['drives']): Tally['points'][number][] {
  return tallyAgain(run.plan, summed(run.columns), run.events, drives).days.map(({ tally }) => tally.points[0]!);
}
