import { expect, test } from 'vitest';
import { causeOfStall } from '../../src/explain/causes.ts';
import { surplusOfPoints } from '../../src/explain/index.ts';
import { type HandCase, runHand } from '../simulate/hand.ts';

/** What is said to have taken the surplus before the first stall of a charge point. */
function cause(hand: HandCase, point = 0) {
  const run = runHand(hand);
  const stall = run.events.find((event) => event.event === 'stall' && event.point === point)!;
  return causeOfStall(run, stall, surplusOfPoints(run)[point]!);
}

/** A one-phase car: 1380 W and 50 W in reserve; three steps of lack, then it stalls. */
const ONE: HandCase = { charger: { phases: 1 }, vehicle: { phases: 1 }, pv: [] };

test('"before" are the ten minutes before the lack', () => {
  const sun = (...pv: [number, number][]) => cause({ ...ONE, pv });
  expect(sun([20, 4000], [10, 3000], [10, 500])).toEqual({ kind: 'pv', pvFromW: 3000, pvToW: 500, houseRoseW: 0 });
  expect(sun([21, 4000], [9, 3000], [10, 500]).pvFromW).toBeCloseTo(3100, 9);
  // The four minutes of lack: three that count, and the one in which it stalls.
  expect(sun([30, 3000], [3, 500], [1, 100], [5, 0]).pvToW).toBeCloseTo(400, 9);
});

test('"before" does not reach back beyond the charging, but for one step', () => {
  // Charging begins in step 4.
  expect(
    cause({
      ...ONE,
      pv: [
        [4, 5000],
        [3, 2000],
        [10, 500],
      ],
    }),
  ).toMatchObject({ kind: 'pv', pvFromW: 2000 });
  expect(
    cause({
      ...ONE,
      pv: [
        [3, 5000],
        [1, 4000],
        [10, 500],
      ],
    }),
  ).toMatchObject({ kind: 'pv', pvFromW: 4000 });
});

test('with steps longer than the ten minutes, "before" is one step', () => {
  const hours: HandCase = {
    ...ONE,
    stepS: 1800,
    pv: [
      [3, 5000],
      [1, 3000],
      [4, 500],
    ],
  };
  expect(cause(hours)).toMatchObject({ kind: 'pv', pvFromW: 3000 });
});

test('a move of less than 10 W is no reason', () => {
  const sun = (fromW: number, toW: number) =>
    cause({
      ...ONE,
      pv: [
        [20, fromW],
        [10, toW],
      ],
    }).kind;
  expect([sun(1434, 1426), sun(1435, 1425)]).toEqual(['never', 'pv']);
});

test('charging because it must, there had never been enough', () => {
  const must: HandCase = {
    ...ONE,
    vehicle: { phases: 1, standbyW: 0, conversionShare: 1, batteryKWh: 10 },
    needs: { floorKm: 10 },
    // 1700 Wh are in at 3680 W before the 29th minute is over; that the sun goes down too just then is no cause.
    pv: [
      [29, 1000],
      [30, 300],
    ],
  };
  expect(cause(must).kind).toBe('never');
});

test('a battery that comes first: it helped the car, and takes back what it gave', () => {
  // Half the share: 690 W. The car draws 1380 W of 1000 W, the battery gives 380 W, and from then on wants them back.
  const helped: HandCase = {
    ...ONE,
    pv: [[30, 1000]],
    control: { surplusShare: 0.5 },
    battery: { startSoc: 1, dischargeToCar: true },
  };
  expect(cause(helped)).toEqual({ kind: 'battery', pvFromW: 1000, pvToW: 1000, houseRoseW: 0 });
});

test('a car that comes first: it arrives later, and takes it', () => {
  const pair: HandCase = { ...ONE, pv: [[40, 3000]], stays: [[20, 40, 0]], more: [ONE] };
  expect(cause(pair, 1)).toEqual({ kind: 'earlier', pvFromW: 3000, pvToW: 3000, houseRoseW: 0 });
  // By phase: on the same phase it takes it too.
  expect(cause({ ...pair, pv: [[40, 9000]], supply: { metering: 'per-phase' } }, 1)).toMatchObject({
    kind: 'earlier',
    pvFromW: 3000,
    pvToW: 3000,
  });
});

test('a car that comes later in the list, or draws on another phase, takes nothing from this one', () => {
  const falls: HandCase = {
    ...ONE,
    pv: [
      [20, 9000],
      [20, 1200],
    ],
  };
  // It must charge from step 20 on, 3680 W, just when the sun goes.
  const must = { ...ONE, vehicle: { phases: 1, startLagS: 0 }, stays: [[20, 40, 0]], needs: { floorKm: 50 } } as const;
  expect(cause({ ...falls, more: [must] }).kind).toBe('pv');
  expect(cause({ ...falls, more: [must], supply: { metering: 'per-phase' } }).kind).toBe('pv');
  const beside = { ...must, wiring: [2, 3, 1] };
  expect(cause({ ...beside, pv: falls.pv, more: [ONE], supply: { metering: 'per-phase' } }, 1).kind).toBe('pv');
  // On three phases it takes 3680 W of each, while the sun takes 4000 W away.
  const across: HandCase = {
    ...must,
    charger: { phases: 3 },
    vehicle: { startLagS: 0 },
    supply: { metering: 'per-phase' },
    more: [ONE],
    pv: [
      [20, 24_000],
      [20, 12_000],
    ],
  };
  expect(cause(across, 1)).toEqual({ kind: 'pv', pvFromW: 8000, pvToW: 4000, houseRoseW: 0 });
});

test('no export at all: once the battery is full nothing of the sun shows beyond what the car draws', () => {
  const hidden: HandCase = {
    ...ONE,
    pv: [[90, 6000]],
    supply: { exportLimitW: 0 },
    battery: { priority: { kind: 'car' }, capacityWh: 8000, startSoc: 0.9 },
  };
  expect(cause(hidden)).toEqual({ kind: 'hidden', pvFromW: 6000, pvToW: 6000, houseRoseW: 0 });
});

test('a meter that counts by phase: the numbers of the phase that had least', () => {
  // 3000 W on each phase; a one-phase car on phase 2, where 2200 W are switched on.
  const second: HandCase = {
    ...ONE,
    supply: { metering: 'per-phase' },
    wiring: [2, 3, 1],
    pv: [[40, 9000]],
    houseByPhase: [
      [[40, 100]],
      [
        [20, 300],
        [20, 2500],
      ],
      // More than there is, but on a phase that this car does not use.
      [[40, 4000]],
    ],
  };
  expect(cause(second)).toEqual({ kind: 'house', pvFromW: 3000, pvToW: 3000, houseRoseW: 2200 });
  // On three phases putting one right may leave another short: no single cause is named.
  const three: HandCase = {
    charger: { phases: 3 },
    supply: { metering: 'per-phase' },
    pv: [
      [20, 15_000],
      [20, 3000],
    ],
    houseByPhase: [
      [[40, 200]],
      [
        [20, 100],
        [20, 400],
      ],
      [[40, 50]],
    ],
  };
  expect(cause(three)).toEqual({ kind: 'together', pvFromW: 5000, pvToW: 1000, houseRoseW: 300 });
});

test('a single cause only if, without it, there would have been enough in time', () => {
  // 1900 W less 300 W of house; PV falls by 500 W and the house takes 250 W more. Without the cloud 1350 W would be left of 1430 W.
  const both = (houseW: number): HandCase => ({
    ...ONE,
    pv: [
      [20, 1900],
      [20, 1400],
    ],
    house: [
      [20, 300],
      [20, houseW],
    ],
  });
  expect(cause(both(550))).toEqual({ kind: 'together', pvFromW: 1900, pvToW: 1400, houseRoseW: 250 });
  // Without the cloud 1430 W: just enough.
  expect(cause(both(470)).kind).toBe('pv');
  expect(cause(both(471)).kind).toBe('together');
  expect(
    cause({
      ...both(300),
      charger: { phases: 3 },
      pv: [
        [20, 5000],
        [20, 3000],
      ],
      vehicle: {},
    }).kind,
  ).toBe('pv');
});

test('what was below nothing has to be lifted from there', () => {
  // The sun falls by 1700 W; put back, 1700 W less the house and the reserve.
  const night = (houseW: number): HandCase => ({
    ...ONE,
    pv: [
      [20, 2000],
      [20, 300],
    ],
    house: [
      [20, 300],
      [20, houseW],
    ],
  });
  expect([cause(night(570)).kind, cause(night(571)).kind]).toEqual(['pv', 'together']);
  // The first car takes 3680 W, more than there is; without it 1430 W of sun would just do, and 1429 W would not.
  const pair = (pvW: number): HandCase => ({
    ...ONE,
    vehicle: { phases: 1, startLagS: 0 },
    stays: [[20, 40, 0]],
    needs: { floorKm: 50 },
    more: [ONE],
    pv: [
      [20, 3000],
      [20, pvW],
    ],
  });
  expect([cause(pair(1430), 1).kind, cause(pair(1429), 1).kind]).toEqual(['earlier', 'together']);
});

test('a battery that comes first would take its part of the PV that comes back', () => {
  // 1930 W less 500 W into the battery and 50 W in reserve: 1380 W. With 300 W it takes those.
  const behind = (houseW: number): HandCase => ({
    ...ONE,
    pv: [
      [20, 1930],
      [20, 300],
    ],
    house: [
      [20, 0],
      [20, houseW],
    ],
    battery: { capacityWh: 20_000, maxChargeW: 500, startSoc: 0 },
  });
  expect([cause(behind(0)).kind, cause(behind(1)).kind]).toEqual(['pv', 'together']);
});

test('a slow controller lost only a part, and would get back only that part', () => {
  const slow = (smoothingS: number, toW: number, houseW: number): HandCase => ({
    ...ONE,
    smoothingS,
    pv: [
      [20, 1740],
      [20, toW],
    ],
    house: [
      [20, 300],
      [20, houseW],
    ],
  });
  // 1390 W of 1380 W; ten minutes of smoothing show a tenth of the fall in the first minute.
  expect(cause(slow(600, 1240, 300)).kind).toBe('pv');
  // 250 W of sun and 500 W of house: without the house it lacks a little still.
  expect(cause(slow(120, 1490, 800)).kind).toBe('together');
  // What another car draws is no part of what is smoothed: it is back at once.
  const pair: HandCase = { ...ONE, pv: [[40, 1500]], stays: [[20, 40, 0]], smoothingS: 120, more: [ONE] };
  expect(cause(pair, 1).kind).toBe('earlier');
});
