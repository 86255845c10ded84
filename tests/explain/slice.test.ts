import { describe, expect, test } from 'vitest';
import { allDays, planOfDays, profilesOfDays, stepsOfDays } from '../../src/explain/index.ts';
import { planOf, type Run, runPlan } from '../../src/simulate/index.ts';
import { type HandCase, profilesOf, scenarioOf } from '../simulate/hand.ts';

const DAY_MS = 86_400_000;

/** A hand-worked case over three "days" of 40 steps of a minute. */
function threeDays(hand: Omit<HandCase, 'pv'>): Run {
  const whole: HandCase = { pv: [[120, 3000]], ...hand };
  const scenario = scenarioOf(whole);
  const grid = { ...scenario.grid, dayStart: Int32Array.of(0, 40, 80, 120), dayMs: Float64Array.of(0, DAY_MS, 2 * DAY_MS) };
  return runPlan(planOf({ ...scenario, grid }), profilesOf(whole, 120));
}

const SECOND = { firstDay: 1, endDay: 2 };

test('days and their steps', () => {
  const run = threeDays({});
  expect(allDays(run)).toEqual({ firstDay: 0, endDay: 3 });
  expect(stepsOfDays(run, SECOND)).toEqual([40, 80]);
  expect(stepsOfDays(run, { firstDay: 1, endDay: 3 })).toEqual([40, 120]);
});

test('the grid of the second and third day', () => {
  const run = threeDays({});
  const { grid } = planOfDays(run.plan, run, { firstDay: 1, endDay: 3 });
  expect(grid).toMatchObject({ stepS: 60, startMs: 40 * 60_000, steps: 80 });
  expect([...grid.dayStart]).toEqual([0, 40, 80]);
  expect([...grid.dayMs]).toEqual([DAY_MS, 2 * DAY_MS]);
});

test('the profiles of the second day are those steps and no others', () => {
  const run = threeDays({
    houseByPhase: [
      [
        [40, 1],
        [40, 2],
        [40, 3],
      ],
      [[120, 10]],
      [
        [60, 100],
        [60, 200],
      ],
    ],
  });
  const { pvW, loadW, loadByPhaseW } = profilesOfDays(run.profiles, run, SECOND);
  expect(pvW).toHaveLength(40);
  expect([loadW[0], loadW[19], loadW[20], loadW[39]]).toEqual([112, 112, 212, 212]);
  expect(loadByPhaseW.map((load) => [load.length, load[0], load[39]])).toEqual([
    [40, 2, 2],
    [40, 10, 10],
    [40, 100, 200],
  ]);
});

describe('the stays of a day', () => {
  const run = threeDays({
    stays: [
      [0, 30, 1],
      [30, 40, 2],
      [50, 60, 3],
      [70, 100, 4],
      [110, 119, 5],
    ],
  });
  const presence = (firstDay: number) => {
    const { stayStart, stayEnd, km, departS, whPerKm } = planOfDays(run.plan, run, { firstDay, endDay: firstDay + 1 }).points[0]!
      .presence;
    return { from: [...stayStart], to: [...stayEnd], km: [...km], departS: [...departS], count: whPerKm.length };
  };

  test('one that ends at midnight belongs to the day before; one that goes on is cut off, with its departure beyond', () => {
    expect(presence(0)).toEqual({ from: [0, 30], to: [30, 40], km: [1, 2], departS: [1800, 2400], count: 2 });
    expect(presence(1)).toEqual({ from: [10, 30], to: [20, 40], km: [3, 4], departS: [1200, 3600], count: 2 });
  });

  test('one that began the day before is there from midnight on, its way home driven already', () => {
    expect(presence(2)).toEqual({ from: [0, 30], to: [20, 39], km: [0, 5], departS: [1200, 2340], count: 2 });
  });

  test('one that begins at midnight drives home on that day', () => {
    const midnight = threeDays({ stays: [[40, 60, 7]] });
    expect([...planOfDays(midnight.plan, midnight, SECOND).points[0]!.presence.km]).toEqual([7]);
    expect(planOfDays(midnight.plan, midnight, { firstDay: 0, endDay: 1 }).points[0]!.presence.stayStart).toHaveLength(0);
  });
});

test('batteries begin as the run had left them that morning, the car in Wh, the home battery as a share of its capacity', () => {
  const run = threeDays({ battery: { startSoc: 0.25, maxChargeW: 1000 }, vehicle: { batteryKWh: 20 } });
  const { columns, plan } = run;
  const second = planOfDays(plan, run, SECOND);
  expect(second.points[0]!.car.startWh).toBe(columns.points[0]!.soc[39]! * 20_000);
  expect(second.points[0]!.car.startWh).toBeGreaterThan(0);
  expect(second.battery!.startWh).toBe(columns.batterySoc[39]! * 8000);
  expect(second.battery!.startWh).toBeGreaterThan(2000);
  const first = planOfDays(plan, run, { firstDay: 0, endDay: 1 });
  expect([first.points[0]!.car.startWh, first.battery!.startWh]).toEqual([0, 2000]);
  const larger = planOfDays({ ...plan, battery: { ...plan.battery!, capacityWh: 16_000 } }, run, SECOND);
  expect(larger.battery!.startWh).toBe(columns.batterySoc[39]! * 16_000);
  // A battery that the run did not have starts afresh; one that it had and the variant has not is gone.
  const without = threeDays({});
  expect(planOfDays(plan, without, SECOND).battery!.startWh).toBe(2000);
  expect(planOfDays({ ...plan, battery: null }, run, SECOND).battery).toBeNull();
});

test('the operator dims the same minutes', () => {
  const windows = [{ weekdays: [0, 1, 2, 3, 4, 5, 6], months: [1], fromS: 0, toS: 3600 }];
  const run = threeDays({ supply: { dimming: { toW: 4200, windows } } });
  const dimmedToW = Float64Array.from({ length: 120 }, (_, k) => k);
  expect([...planOfDays({ ...run.plan, dimmedToW }, run, SECOND).dimmedToW!.slice(0, 2)]).toEqual([40, 41]);
  expect(planOfDays({ ...run.plan, dimmedToW }, run, SECOND).dimmedToW).toHaveLength(40);
  expect(planOfDays({ ...run.plan, dimmedToW: null }, run, SECOND).dimmedToW).toBeNull();
});
