import { describe, expect, test } from 'vitest';
import {
  Event,
  freshPoint,
  freshSight,
  type PointRules,
  type PointState,
  type Sight,
  State,
  type StateCode,
  stateName,
  stepPoint,
} from '../../src/charging/index.ts';

/** One phase from 1380 W, three from 4140 W, 6 to 16 A; every delay two steps, the pause three, the rest four, the lag one. */
const RULES: PointRules = {
  least: { n: 1, live: 1, minA: 6, maxA: 16, wPerA: 230, minW: 1380, thresholdW: 1380 },
  most: { n: 3, live: 3, minA: 6, maxA: 16, wPerA: 690, minW: 4140, thresholdW: 4140 },
  switches: true,
  currentStepA: 1,
  surplusShare: 1,
  proportional: false,
  atOnce: false,
  startSteps: 2,
  stopSteps: 2,
  upSteps: 2,
  downSteps: 2,
  pauseSteps: 3,
  restSteps: 4,
  lagSteps: 1,
};

/** A car that is plugged in under so much surplus, with no limit in reach. */
const under = (availableW: number, more: Partial<Sight> = {}): Sight => ({
  ...freshSight(),
  present: true,
  availableLeastW: availableW,
  availableMostW: availableW,
  ceilingLeastA: 16,
  ceilingMostA: 16,
  ...more,
});

/** The names of steps on end. */
const named = (point: PointState, sights: readonly Sight[], rules = RULES): string[] =>
  sights.map((sight) => stateName(stepPoint(point, rules, sight)));

const times = (count: number, sight: Sight): Sight[] => Array.from({ length: count }, () => sight);

/** A point that charges on one phase (with up to 4 kW), or on three (from 4.14 kW on). */
function chargingUnder(availableW: number, rules = RULES): PointState {
  const point = freshPoint();
  named(point, [under(availableW, { arrives: true }), ...times(4, under(availableW))], rules);
  return point;
}

const decided = ({ event, phasesFrom, phasesTo, decidingW, thresholdW, heldSteps }: PointState) => ({
  event,
  phasesFrom,
  phasesTo,
  decidingW,
  thresholdW,
  heldSteps,
});

describe('a start', () => {
  test('comes when the surplus has stood for the delay before its step, and the lag follows', () => {
    const point = freshPoint();
    const names = named(point, [under(0, { arrives: true }), ...times(2, under(2000))]);
    expect(names).toEqual(['short', 'proving', 'proving']);
    expect(named(point, [under(2000)])).toEqual(['waking']);
    expect(decided(point)).toEqual({
      event: Event.start,
      phasesFrom: 0,
      phasesTo: 1,
      decidingW: 2000,
      thresholdW: 1380,
      heldSteps: 2,
    });
    expect(named(point, times(2, under(2000)))).toEqual(['surplus', 'surplus']);
    expect(point.offeredA).toBe(8);
  });

  test('on three phases is noted with their own threshold', () => {
    const point = freshPoint();
    named(point, [under(5000, { arrives: true }), ...times(2, under(5000))]);
    expect(decided(point)).toMatchObject({ event: Event.start, phasesTo: 3, thresholdW: 4140, heldSteps: 2 });
  });

  test('at a ceiling of exactly the least current is allowed; a hair below it is held, told once, and counted on', () => {
    const at = (ceilingLeastA: number) => under(2000, { ceilingLeastA, ceilingMostA: 0, limitLeast: State.heldFuse });
    const allowed = freshPoint();
    expect(named(allowed, [at(6), at(6), at(6)]).at(-1)).toBe('waking');
    const held = freshPoint();
    expect(named(held, times(4, at(5)))).toEqual(['proving', 'proving', 'held-fuse', 'held-fuse']);
    expect(held.event).toBe(Event.none);
    const first = freshPoint();
    named(first, times(3, at(5)));
    expect(decided(first)).toEqual({
      event: Event.hold,
      phasesFrom: 0,
      phasesTo: 0,
      decidingW: 2000,
      thresholdW: 1150,
      heldSteps: 2,
    });
    expect(named(held, [at(6)])).toEqual(['waking']);
    expect(held.heldSteps).toBe(4);
  });

  test('on three phases at a ceiling of exactly the least current is allowed', () => {
    const most = (ceilingMostA: number) => times(3, under(5000, { ceilingMostA }));
    const [three, one] = [freshPoint(), freshPoint()];
    named(three, most(6));
    named(one, most(5.9));
    expect([three.phasesTo, one.phasesTo]).toEqual([3, 1]);
  });

  test('that must be needs no delay and no rest; a rest that runs goes on running out meanwhile', () => {
    const held = { must: true, ceilingLeastA: 0, ceilingMostA: 0 };
    const point = chargingUnder(2000);
    named(point, times(3, under(0)));
    expect([point.event, point.restSteps]).toEqual([Event.stall, 3]);
    named(point, times(2, under(0, held)));
    expect(point.restSteps).toBe(1);
    expect(named(point, [under(0, { must: true })])).toEqual(['waking']);
    expect(point).toMatchObject({ phasesTo: 3, heldSteps: 0 });
  });

  test('that must be with no rest to run out leaves none', () => {
    const point = freshPoint();
    named(point, [under(0, { arrives: true, must: true, ceilingLeastA: 0, ceilingMostA: 0 })]);
    expect(point.restSteps).toBe(0);
    expect(named(point, times(4, under(2000)))).toEqual(['proving', 'proving', 'waking', 'surplus']);
  });
});

describe('a stall', () => {
  test('comes when the surplus has been missing for the delay, is noted, and rests', () => {
    const point = chargingUnder(2000);
    expect(named(point, times(2, under(100)))).toEqual(['bridging', 'bridging']);
    expect(named(point, [under(100)])).toEqual(['resting']);
    expect(decided(point)).toEqual({
      event: Event.stall,
      phasesFrom: 1,
      phasesTo: 0,
      decidingW: 100,
      thresholdW: 1380,
      heldSteps: 2,
    });
    // Four steps of rest, the stall's own among them; the count of the surplus runs on in them.
    expect(named(point, times(4, under(2000)))).toEqual(['resting', 'resting', 'resting', 'waking']);
  });

  test('one step of surplus in between begins the delay afresh', () => {
    const point = chargingUnder(2000);
    const names = named(point, [...times(2, under(100)), under(1380), ...times(2, under(100))]);
    expect(names).toEqual(['bridging', 'bridging', 'surplus', 'bridging', 'bridging']);
  });
});

describe('a switch', () => {
  test('up: after the delay, through a pause of whole steps and the lag; no power in either', () => {
    const point = chargingUnder(2000);
    expect(named(point, times(2, under(5000)))).toEqual(['ceiling', 'ceiling']);
    expect(named(point, [under(5000)])).toEqual(['switching']);
    expect(decided(point)).toEqual({
      event: Event.switch,
      phasesFrom: 1,
      phasesTo: 3,
      decidingW: 5000,
      thresholdW: 4140,
      heldSteps: 2,
    });
    expect(named(point, times(4, under(5000)))).toEqual(['switching', 'switching', 'waking', 'surplus']);
    expect(point.offeredA).toBe(7);
  });

  test('up at a ceiling of exactly the least current, and not below it', () => {
    const [at, below] = [chargingUnder(2000), chargingUnder(2000)];
    expect(named(at, times(3, under(5000, { ceilingMostA: 6 }))).at(-1)).toBe('switching');
    expect(named(below, times(3, under(5000, { ceilingMostA: 5.9 }))).at(-1)).toBe('ceiling');
  });

  test('down: while one phase still has enough, with the threshold of three phases', () => {
    const point = chargingUnder(5000);
    expect(named(point, times(3, under(2000)))).toEqual(['bridging', 'bridging', 'switching']);
    expect(decided(point)).toEqual({
      event: Event.switch,
      phasesFrom: 3,
      phasesTo: 1,
      decidingW: 2000,
      thresholdW: 4140,
      heldSteps: 2,
    });
  });

  test('down at a ceiling of exactly the least current, and not below it', () => {
    const [at, below] = [chargingUnder(5000), chargingUnder(5000)];
    expect(named(at, times(3, under(2000, { ceilingLeastA: 6 }))).at(-1)).toBe('switching');
    expect(named(below, times(3, under(2000, { ceilingLeastA: 5.9 }))).at(-1)).toBe('bridging');
  });

  test('never, where charger and car know one number of phases', () => {
    const lone: PointRules = { ...RULES, switches: false, most: RULES.least };
    expect(named(chargingUnder(2000, lone), times(4, under(9000)), lone)).toEqual(['ceiling', 'ceiling', 'ceiling', 'ceiling']);
  });
});

describe('a hold while charging', () => {
  test('takes the power away at once, is noted with what the limit leaves, and rests', () => {
    const point = chargingUnder(2000);
    expect(named(point, [under(2000, { ceilingLeastA: 5, limitLeast: State.heldContract })])).toEqual(['held-contract']);
    expect(decided(point)).toEqual({
      event: Event.hold,
      phasesFrom: 1,
      phasesTo: 0,
      decidingW: 2000,
      thresholdW: 1150,
      heldSteps: 0,
    });
    expect(named(point, times(4, under(2000)))).toEqual(['resting', 'resting', 'resting', 'waking']);
  });

  test('at a ceiling of exactly the least current charging goes on', () => {
    expect(named(chargingUnder(2000), [under(2000, { ceilingLeastA: 6 })])).toEqual(['ceiling']);
  });

  test('current where none is expected ends it like a hold; without a rest the step is short', () => {
    const stray = under(2000, { strayCurrent: true });
    expect(named(chargingUnder(2000), [stray])).toEqual(['resting']);
    const restless = { ...RULES, restSteps: 0 };
    expect(named(chargingUnder(2000, restless), [stray, under(0)], restless)).toEqual(['short', 'short']);
  });
});

describe('who is there', () => {
  test('unplugging clears everything, and the next car begins afresh', () => {
    const point = chargingUnder(2000);
    named(point, times(3, under(0)));
    expect(named(point, [under(0, { present: false })])).toEqual(['away']);
    expect(point).toMatchObject({ restSteps: 0, leftSteps: 0, stoodLeast: 0 });
    expect(named(point, times(3, under(2000)))).toEqual(['proving', 'proving', 'waking']);
  });

  test('a full car, and one that gave up, are named so and offered nothing', () => {
    for (const [more, state] of [
      [{ full: true }, State.full],
      [{ gaveUp: true }, State.gaveUp],
    ] as [Partial<Sight>, StateCode][]) {
      const point = chargingUnder(2000);
      expect(stepPoint(point, RULES, under(2000, more))).toBe(state);
      expect(point.offeredA).toBe(0);
      // Nothing is remembered of the charging before.
      expect(named(point, times(3, under(2000)))).toEqual(['proving', 'proving', 'waking']);
    }
  });

  test('a number that stands for no state is no car', () => {
    expect([stateName(99), stateName(State.gaveUp)]).toEqual(['away', 'gave-up']);
  });
});

describe('the current', () => {
  const offered = (availableW: number, more: Partial<PointRules> = {}, sight: Partial<Sight> = {}): [string, number] => {
    const point = chargingUnder(2000);
    return [stateName(stepPoint(point, { ...RULES, ...more }, under(availableW, sight))), point.offeredA];
  };

  test('follows the surplus in steps, never below the least nor above the ceiling', () => {
    expect(offered(2000)).toEqual(['surplus', 8]);
    expect(offered(1000)).toEqual(['bridging', 6]);
    expect(offered(9000)).toEqual(['ceiling', 16]);
    expect(offered(9000, {}, { ceilingLeastA: 10.5 })).toEqual(['ceiling', 10.5]);
    // The aim meets the ceiling exactly: there is nothing that goes to the grid.
    expect(offered(16 * 230)).toEqual(['surplus', 16]);
  });

  test('is topped up in proportion where the share says so; a share of 0 knows no bound', () => {
    const least = { ...RULES.least, thresholdW: 690 };
    expect(offered(1150, { proportional: true, surplusShare: 0.5, least })).toEqual(['topped', 10]);
    expect(offered(0, { proportional: true, surplusShare: 0, least: { ...least, thresholdW: 0 } })).toEqual(['topped', 16]);
  });

  test('is the highest while the car must charge, and all counts begin afresh after it', () => {
    const point = chargingUnder(2000);
    named(point, times(2, under(0)));
    expect(named(point, [under(0, { must: true, ceilingMostA: 0 })])).toEqual(['must']);
    expect(point.offeredA).toBe(16);
    expect(named(point, times(2, under(0)))).toEqual(['bridging', 'bridging']);
    const atOnce = { ...RULES, atOnce: true };
    expect(named(point, [under(0, { must: true, ceilingMostA: 0 })], atOnce)).toEqual(['at-once']);
  });

  test('must be on three phases where they are allowed: charging on one switches without a delay', () => {
    const point = chargingUnder(2000);
    expect(named(point, [under(0, { must: true })])).toEqual(['switching']);
    expect(point).toMatchObject({ phasesFrom: 1, phasesTo: 3, heldSteps: 0 });
  });
});
