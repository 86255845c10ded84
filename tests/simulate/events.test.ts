import { expect, test } from 'vitest';
import type { HandCase } from './hand.ts';
import { runHand, tidy } from './hand.ts';

/** What is written down of a run: step, event, phases before and after, surplus, threshold or limit, held for so many seconds, state. */
const eventsOf = (hand: HandCase, point = 0) =>
  runHand(hand)
    .events.filter((event) => event.point === point)
    .map(({ step, event, phasesFrom, phasesTo, surplusW, thresholdW, heldS, reason }) => [
      step,
      event,
      phasesFrom,
      phasesTo,
      tidy(surplusW),
      tidy(thresholdW),
      heldS,
      reason,
    ]);

const ONE: Pick<HandCase, 'charger' | 'vehicle'> = { charger: { phases: 1 }, vehicle: { phases: 1 } };
const LOSSLESS = { phases: 1, standbyW: 0, conversionShare: 1, startLagS: 0 } as const;

test('the worked example of the design: what decided, and for how long it had stood', () => {
  const hand: HandCase = {
    pv: [
      [10, 0],
      [30, 1500],
      [40, 5000],
      [20, 2000],
      [20, 500],
    ],
  };
  expect(eventsOf(hand)).toEqual([
    [0, 'plug-in', 0, 0, 0, 0, 0, 'short'],
    [13, 'start', 0, 1, 1450, 1380, 180, 'waking'],
    [50, 'switch', 1, 3, 4950, 4140, 600, 'switching'],
    [83, 'switch', 3, 1, 1950, 4140, 180, 'switching'],
    [103, 'stall', 1, 0, 450, 1380, 180, 'resting'],
  ]);
});

test('a hold that ends charging, and one that keeps it from starting, which is told once', () => {
  // In step 8 the house takes 30 A of the 35 A; 5 A are left.
  const held: HandCase = {
    ...ONE,
    pv: [[20, 9000]],
    pvPhases: [2],
    house: [
      [8, 0],
      [12, 6900],
    ],
  };
  expect(eventsOf({ ...held, pv: [[20, 20_000]] })).toEqual([
    [0, 'plug-in', 0, 0, 19_950, 0, 0, 'proving'],
    [3, 'start', 0, 1, 19_950, 1380, 180, 'waking'],
    [8, 'hold', 1, 0, 13_050, 1150, 0, 'held-fuse'],
    // After the rest of five steps it is held anew.
    [13, 'hold', 0, 0, 13_050, 1150, 300, 'held-fuse'],
  ]);
});

test('must charge, full, and gone', () => {
  // 10 km are 1700 Wh, 27.7 minutes of 3680 W; charging ends at 2000 Wh, 32.6 minutes.
  const hand: HandCase = {
    ...ONE,
    vehicle: { ...LOSSLESS, batteryKWh: 10, targetSoc: 0.2 },
    needs: { floorKm: 10 },
    pv: [[40, 4000]],
    stays: [[2, 36, 0]],
  };
  expect(eventsOf(hand)).toEqual([
    [2, 'plug-in', 0, 0, 3950, 0, 0, 'must'],
    [2, 'start', 0, 1, 3950, 1380, 0, 'must'],
    [2, 'must', 0, 0, 3950, 0, 0, 'must'],
    [35, 'full', 1, 0, 3950, 0, 0, 'full'],
    [36, 'leave', 0, 0, 3950, 0, 0, 'away'],
  ]);
});

test('a departure that meets an arrival is both; a car that gives up says so', () => {
  const met: HandCase = {
    ...ONE,
    pv: [[12, 4000]],
    stays: [
      [0, 6, 0],
      [6, 12, 0],
    ],
  };
  expect(eventsOf(met).filter(([step]) => step === 6)).toEqual([
    [6, 'leave', 1, 0, 3950, 0, 0, 'proving'],
    [6, 'plug-in', 0, 0, 3950, 0, 0, 'proving'],
  ]);
  const gives: HandCase = {
    ...ONE,
    vehicle: { ...LOSSLESS, givesUpAfter: 1 },
    control: { startDelayS: 0, stopDelayS: 0, restartPauseS: 0 },
    pv: [
      [2, 4000],
      [2, 0],
      [4, 4000],
    ],
  };
  expect(eventsOf(gives)).toEqual([
    [0, 'plug-in', 0, 0, 3950, 0, 0, 'ceiling'],
    [0, 'start', 0, 1, 3950, 1380, 0, 'ceiling'],
    [2, 'stall', 1, 0, 0, 1380, 0, 'short'],
    [3, 'gave-up', 0, 0, 0, 0, 0, 'gave-up'],
  ]);
});

test('ways home: what they took, of what there was', () => {
  const run = runHand({
    ...ONE,
    vehicle: { ...LOSSLESS, batteryKWh: 10, startSoc: 0.5 },
    pv: [[30, 0]],
    stays: [
      [5, 10, 20],
      [15, 20, 30],
      [25, 30, 0],
    ],
  });
  // 5000 Wh at 170 Wh a km: 3400 Wh for 20 km; 1600 Wh of 5100 Wh for 30 km.
  expect(run.drives).toEqual([
    { step: 5, point: 0, km: 20, missedKm: 0, usedWh: 3400, publicWh: 0 },
    { step: 15, point: 0, km: 30, missedKm: expect.closeTo(3500 / 170, 9), usedWh: 1600, publicWh: 3500 },
  ]);
});

test('a stay of no step: driven home and away again, nothing plugged in', () => {
  const run = runHand({ ...ONE, vehicle: { ...LOSSLESS, batteryKWh: 10, startSoc: 0.5 }, pv: [[20, 4000]], stays: [[5, 5, 20]] });
  expect(run.events).toEqual([]);
  expect(run.drives).toMatchObject([{ step: 5, km: 20, usedWh: 3400 }]);
  expect(run.columns.points[0]!.soc[5]).toBeCloseTo(0.16, 12);
});

test('a smoothed surplus begins with what is seen in the first step: an even one starts a car no later', () => {
  const even: HandCase = { ...ONE, pv: [[20, 4000]] };
  expect(eventsOf({ ...even, smoothingS: 600 })).toEqual(eventsOf(even));
  expect(eventsOf(even).map(([step, event]) => [step, event])).toEqual([
    [0, 'plug-in'],
    [3, 'start'],
  ]);
});
