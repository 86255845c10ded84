import { expect, test } from 'vitest';
import { storedWh } from '../../src/explain/events.ts';
import { type EventFacts, factsOfEvent, surplusOfPoints } from '../../src/explain/index.ts';
import { type HandCase, runHand } from '../simulate/hand.ts';

/** The events of a hand-worked run with what a sentence needs of them. */
function told(hand: HandCase): EventFacts[] {
  const run = runHand(hand);
  const surplus = surplusOfPoints(run);
  return run.events.map((event) => factsOfEvent(run, event, surplus)!);
}
const only = (hand: HandCase, name: EventFacts['event']): EventFacts[] => told(hand).filter(({ event }) => event === name);
const clock = (minute: number) => ({ hour: Math.floor(minute / 60), minute: minute % 60, second: 0 });

test('the worked example of the design: what decided each event, since when, and on which phases', () => {
  const facts = told({
    pv: [
      [10, 0],
      [30, 1500],
      [40, 5000],
      [20, 2000],
      [20, 500],
    ],
    vehicle: { minCurrentA: [6, 6, 6], batteryKWh: 50, startSoc: 0.5, standbyW: 0, conversionShare: 1 },
  });
  const plain = { point: 0, share: 1, drive: 'surplus', limit: null, need: null, km: 0, missedKm: 0, shortKm: 0, targetSoc: 0.8 };
  expect(facts).toMatchObject([
    { ...plain, event: 'plug-in', step: 0, since: clock(0), phasesFrom: 0, phasesTo: 0, soc: 0.5, cause: null },
    {
      ...plain,
      event: 'start',
      step: 13,
      since: clock(10),
      heldS: 180,
      surplusW: 1450,
      thresholdW: 1380,
      phasesFrom: 0,
      phasesTo: 1,
      minA: 6,
      minW: 1380,
      soc: 0.5,
      cause: null,
    },
    {
      ...plain,
      event: 'switch',
      step: 50,
      since: clock(40),
      heldS: 600,
      surplusW: 4950,
      thresholdW: 4140,
      phasesFrom: 1,
      phasesTo: 3,
      minA: 6,
      minW: 4140,
      cause: null,
    },
    {
      ...plain,
      event: 'switch',
      step: 83,
      since: clock(80),
      heldS: 180,
      surplusW: 1950,
      thresholdW: 4140,
      phasesFrom: 3,
      phasesTo: 1,
      minW: 4140,
      cause: null,
    },
    {
      ...plain,
      event: 'stall',
      step: 103,
      since: clock(100),
      heldS: 180,
      surplusW: 450,
      thresholdW: 1380,
      phasesFrom: 1,
      phasesTo: 0,
      minW: 1380,
      cause: { kind: 'pv', pvFromW: 2000, pvToW: 500, houseRoseW: 0 },
    },
  ]);
  // 26 minutes of 1380 W and 10 of 3680 W before the first switch: 1211.3 Wh into 50 kWh.
  expect(facts[2]!.soc).toBeCloseTo(0.5 + (26 * 1380 + 10 * 3680) / 60 / 50_000, 9);
});

test('the share of a start on the fewer and on the more phases', () => {
  const share = { surplusShare: 0.5 };
  const [fewer] = only({ pv: [[10, 1000]], control: share }, 'start');
  expect(fewer).toMatchObject({ phasesTo: 1, thresholdW: 690, minW: 1380, share: 0.5 });
  const [more] = only({ pv: [[10, 9000]], control: share }, 'start');
  expect(more).toMatchObject({ phasesTo: 3, thresholdW: 4140, minW: 4140, share: 1 });
  const vehicle = { minCurrentA: [6, 6, 8] as const };
  expect(only({ pv: [[10, 9000]], vehicle }, 'start')[0]).toMatchObject({ phasesTo: 3, minA: 8, minW: 5520 });
});

test('a stall from the more phases speaks of what the fewer need', () => {
  const [stall] = only(
    {
      pv: [
        [10, 9000],
        [10, 200],
      ],
    },
    'stall',
  );
  expect(stall).toMatchObject({ phasesFrom: 3, phasesTo: 0, thresholdW: 1380, minW: 1380 });
});

test('a hold: which limit, and what it leaves on the phases at hand', () => {
  const house = (watts: number): HandCase => ({
    pv: [[20, 20_000]],
    pvPhases: [2],
    house: [[20, watts]],
    vehicle: { minCurrentA: [6, 6, 8] },
    supply: { imbalanceLimitA: 30 },
  });
  // 35 A less 30 A of house on phase 1; less 40 A nothing is left.
  expect(only(house(6900), 'hold')[0]).toMatchObject({ limit: 'held-fuse', leftA: 5, minA: 6, phasesFrom: 0, phasesTo: 0 });
  expect(only(house(9200), 'hold')[0]).toMatchObject({ limit: 'held-fuse', leftA: 0 });
  // At once on three phases; then the house takes 28 A of the 35 A.
  const risen: HandCase = {
    ...house(0),
    pv: [[20, 0]],
    house: [
      [10, 0],
      [10, 6440],
    ],
    charger: { phases: 3 },
    control: { strategy: 'at-once' },
  };
  expect(only(risen, 'hold')[0]).toMatchObject({ limit: 'held-fuse', leftA: 7, minA: 8, phasesFrom: 3, phasesTo: 0 });
  expect(only(risen, 'start')[0]).toMatchObject({ limit: null, drive: 'at-once' });
});

test('a car comes home, and leaves: what was driven, what was missed, what it lacks', () => {
  const driven: HandCase = {
    pv: [[90, 0]],
    charger: { phases: 1 },
    vehicle: { phases: 1, batteryWh: 50_000, startSoc: 0.5 },
    stays: [
      [10, 30, 50],
      [40, 60, 500],
    ],
    needs: { departureKm: 0 },
  };
  const home = only(driven, 'plug-in');
  expect(only({ ...driven, needs: { departureKm: 100 } }, 'plug-in')[0]).toMatchObject({ km: 50, shortKm: 0 });
  // 8500 Wh of 25 000 Wh; then 16 500 Wh are 97.1 km of 500.
  expect(home[0]).toMatchObject({ km: 50, missedKm: 0, soc: 0.33 });
  expect(home[1]).toMatchObject({ km: 500, soc: 0 });
  expect(home[1]!.missedKm).toBeCloseTo(500 - 16_500 / 170, 9);
  const away = only(driven, 'leave');
  expect(away[0]).toMatchObject({ km: 0, soc: 0.33, shortKm: 0 });
  const wants = only(
    { ...driven, needs: { departureKm: 100 }, mainFuseA: 6, stays: [[10, 30, 50]], supply: { contractW: 0 } },
    'leave',
  );
  // A departure that meets an arrival: it leaves with what was in it, and the way home is told of the plug-in.
  const meets: HandCase = {
    ...driven,
    stays: [
      [10, 30, 50],
      [30, 60, 40],
    ],
  };
  expect(only(meets, 'leave')[0]).toMatchObject({ step: 30, km: 0, soc: 0.33 });
  expect(only(meets, 'plug-in')[1]).toMatchObject({ step: 30, km: 40 });
  expect(only(meets, 'plug-in')[1]!.soc).toBeCloseTo(0.33 - 6800 / 50_000, 9);
  // 17 000 Wh wanted, 16 500 Wh there.
  expect(wants[0]!.shortKm).toBeCloseTo(500 / 170, 9);
});

test('two cars come home in the same step: each with its own way', () => {
  const two = only(
    { pv: [[20, 0]], stays: [[5, 20, 10]], more: [{ stays: [[5, 20, 20]] }, { stays: [[6, 20, 30]] }] },
    'plug-in',
  );
  expect(two.map(({ point, km }) => [point, km])).toEqual([
    [0, 10],
    [1, 20],
    [2, 30],
  ]);
});

const NEEDY: HandCase = {
  pv: [[90, 0]],
  charger: { phases: 1 },
  vehicle: { phases: 1, startLagS: 0, standbyW: 0, conversionShare: 1, batteryWh: 10_000, startSoc: 0.1, targetSoc: 0.5 },
};

test('must charge: for the floor, or for the departure', () => {
  const floor = told({ ...NEEDY, needs: { floorKm: 10 } });
  expect(floor.find(({ event }) => event === 'must')).toMatchObject({ need: 'floor', soc: 0.1 });
  expect(floor.find(({ event }) => event === 'start')).toMatchObject({ drive: 'must', need: null });
  const departure = told({ ...NEEDY, needs: { departureKm: 20 }, stays: [[0, 80, 0]] });
  expect(departure.find(({ event }) => event === 'must')).toMatchObject({ need: 'departure' });
  // The floor is in already, and it is the departure that presses.
  const both = told({ ...NEEDY, needs: { floorKm: 1, departureKm: 20 }, stays: [[0, 80, 0]] });
  expect(both.find(({ event }) => event === 'must')).toMatchObject({ need: 'departure' });
});

test('must charge, but the surplus alone would have brought the start', () => {
  const sunny = only({ ...NEEDY, pv: [[90, 3000]], needs: { floorKm: 10 }, control: { startDelayS: 0 } }, 'start');
  expect(sunny[0]!.drive).toBe('surplus');
  const early = only({ ...NEEDY, pv: [[90, 3000]], needs: { floorKm: 10 } }, 'start');
  expect(early[0]!.drive).toBe('must');
  // 2400 Wh at 3680 W, a tenth in hand and a pause: 44 minutes. In step 2 surplus has stood for two minutes of three.
  const pressed = { ...NEEDY, pv: [[90, 3000]] as const, needs: { departureKm: 20 }, stays: [[0, 46, 0]] as const };
  expect(only(pressed, 'start')[0]).toMatchObject({ step: 2, heldS: 120, drive: 'must' });
});

test('goes to more phases because it must', () => {
  // Surplus for one phase; in step 30 the departure begins to press.
  const pressed: HandCase = {
    ...NEEDY,
    charger: { phases: 'switchable' },
    vehicle: { ...NEEDY.vehicle, phases: 3, batteryWh: 60_000, targetSoc: 1 },
    pv: [[120, 2000]],
    needs: { departureKm: 100 },
    stays: [[0, 110, 0]],
  };
  const [switched] = only(pressed, 'switch');
  expect(switched).toMatchObject({ phasesFrom: 1, phasesTo: 3, drive: 'must' });
  const [up] = only(
    {
      ...pressed,
      needs: {},
      pv: [
        [5, 2000],
        [60, 9000],
      ],
    },
    'switch',
  );
  expect(up).toMatchObject({ phasesFrom: 1, phasesTo: 3, drive: 'surplus' });
});

test('full: the state of charge at which charging ends', () => {
  const [full] = only({ ...NEEDY, vehicle: { ...NEEDY.vehicle, startSoc: 0.49 }, control: { strategy: 'at-once' } }, 'full');
  expect(full).toMatchObject({ soc: 0.5, targetSoc: 0.5, cause: null });
  // It came home with more.
  expect(only({ ...NEEDY, vehicle: { ...NEEDY.vehicle, startSoc: 0.9 } }, 'full')[0]).toMatchObject({ soc: 0.5 });
});

test('an event that says nothing, or of a charge point that there is not, has no facts', () => {
  const run = runHand(NEEDY);
  const [first] = run.events;
  expect(factsOfEvent(run, { ...first!, event: 'none' }, surplusOfPoints(run))).toBeNull();
  expect(factsOfEvent(run, { ...first!, point: 1 }, surplusOfPoints(run))).toBeNull();
  expect(storedWh(run, 1, 0)).toBe(0);
  expect(storedWh(run, 0, -1)).toBe(1000);
  // A minute of 3680 W.
  expect(storedWh(runHand({ ...NEEDY, control: { strategy: 'at-once' } }), 0, 0)).toBeCloseTo(1000 + 3680 / 60, 9);
});
