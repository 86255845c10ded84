import { expect, test } from 'vitest';
import { timeGrid, UTC } from '../../src/base/index.ts';
import type { ChargePoint, Scenario } from '../../src/scenario/index.ts';
import { carWay, chargedAtOnce, planOf } from '../../src/simulate/plan.ts';
import { presenceOf, weeklyStays } from '../../src/vehicle/index.ts';
import { type HandCase, scenarioOf } from './hand.ts';

const HAND: HandCase = { pv: [[60, 0]] };

test('a plain household has no rod, no export limit, and one meter', () => {
  const isPlain = (changes: Partial<HandCase>) => planOf(scenarioOf({ ...HAND, ...changes })).isPlain;
  expect(isPlain({})).toBe(true);
  expect(isPlain({ battery: {} })).toBe(true);
  expect(isPlain({ diverter: { maxW: 1, dailyWh: 1, priority: 'car' } })).toBe(false);
  expect(isPlain({ supply: { exportLimitW: 0 } })).toBe(false);
  expect(isPlain({ supply: { metering: 'per-phase' } })).toBe(false);
});

test('charged at once: the strategy, and nothing else', () => {
  const scenario = scenarioOf(HAND);
  expect(chargedAtOnce(scenario)).toEqual({ ...scenario, control: { ...scenario.control, strategy: 'at-once' } });
});

test('a battery comes first up to its top, up to a part, or not at all', () => {
  const firstTo = (priority: NonNullable<HandCase['battery']>['priority']) =>
    planOf(scenarioOf({ ...HAND, battery: { ...(priority && { priority }), roundTripShare: 0.81 } })).battery!;
  expect(firstTo({ kind: 'battery' })).toMatchObject({ firstToWh: 8000, startWh: 4000, share: [1 / 3, 1 / 3, 1 / 3] });
  expect(firstTo({ kind: 'car' }).firstToWh).toBe(0);
  expect(firstTo({ kind: 'until', untilSoc: 0.6 }).firstToWh).toBe(4800);
  expect(firstTo({ kind: 'car' }).oneWayShare).toBeCloseTo(0.9, 12);
});

test('charger and vehicle that can not charge together are a mistake of the programmer: the door refuses them', () => {
  const charger = { maxCurrentA: 8, minCurrentA: 10 };
  expect(() => planOf(scenarioOf({ ...HAND, charger }))).toThrow(
    'charge point point 1: charger and vehicle can not charge together',
  );
});

test('needs: in Wh, never above the target; with the power and the delays that a start may cost', () => {
  const { needs } = planOf(
    scenarioOf({
      ...HAND,
      vehicle: { batteryKWh: 10, targetSoc: 0.5, startLagS: 90, conversionShare: 0.9, standbyW: 40, maxCurrentA: 20, phases: 3 },
      needs: { floorKm: 10, departureKm: 100 },
    }),
  ).points[0]!;
  // 16 A of the charger on three phases: 11 040 W, less 40 W, of which nine tenths are stored; a lag and a pause of a minute.
  expect(needs).toEqual({ floorWh: 1700, departureWh: 5000, highestStoredW: 9900, delayS: 150 });
});

test('what a car does where the controller believes something else', () => {
  const charger: Pick<ChargePoint['charger'], 'wiring' | 'wiringAsBuilt' | 'checksPhases'> = {
    wiring: [1, 2, 3],
    wiringAsBuilt: [1, 2, 3],
    checksPhases: true,
  };
  const way = (believed: number, live: number, changes: object = {}, phases: 1 | 2 | 3 = 3) =>
    carWay(
      { charger: { ...charger, ...changes }, vehicle: { phases, minCurrentA: [6, 7, 8] } } as unknown as ChargePoint,
      believed,
      live,
    );
  expect(way(3, 3)).toEqual({ phases: 3, minA: 8, stray: false });
  expect(way(1, 1)).toEqual({ phases: 1, minA: 6, stray: false });
  expect(way(2, 3, {}, 2)).toEqual({ phases: 2, minA: 7, stray: false });
  // It draws on three phases where one was expected: two of them stray. A charger that does not look sees nothing.
  expect(way(1, 3)).toMatchObject({ phases: 3, stray: true });
  expect(way(1, 3, { checksPhases: false })).toMatchObject({ stray: false });
  // Conductors out of order show on one phase only where not all three are used.
  const turned = { wiringAsBuilt: [2, 1, 3] };
  expect([way(1, 1, turned).stray, way(3, 3, turned).stray]).toEqual([true, false]);
});

test('habits become stays: a week by its trips and seed, always there, plugged in only below a state of charge', () => {
  const grid = timeGrid(Date.UTC(2025, 5, 2), 7, 60, UTC);
  const trips = [{ weekdays: [0, 1, 2, 3, 4], leaveS: 27_000, returnS: 54_000, km: 50, jitterS: 600 }];
  const exceptions = { longTrips: null, daysOff: [], holidays: [] };
  const usage = { kind: 'weekly', seed: 3, trips, exceptions, plugInBelowSoc: 0.6 } as const;
  const planWith = (one: ChargePoint['usage']) => {
    const scenario: Scenario = { ...scenarioOf(HAND), grid };
    return planOf({ ...scenario, chargePoints: scenario.chargePoints.map((point) => ({ ...point, usage: one })) }).points[0]!;
  };
  const weekly = planWith(usage);
  const { vehicle } = scenarioOf(HAND).chargePoints[0]!;
  const expected = presenceOf(weeklyStays(usage.trips, 3, grid, usage.exceptions), grid, vehicle, null);
  expect(weekly.presence).toEqual(expected);
  expect(weekly.presence.stayStart.length).toBeGreaterThan(4);
  expect(weekly.car.plugInBelowSoc).toBe(0.6);
  const always = planWith({ kind: 'always' });
  expect([[...always.presence.stayStart], [...always.presence.stayEnd]]).toEqual([[0], [grid.steps]]);
  expect(always.car.plugInBelowSoc).toBe(1);
});
