import { expect, test } from 'vitest';
import { State, type StateName } from '../../src/charging/index.ts';
import { factsOfStretch, namedSpans, spansOf, surplusOfPoints } from '../../src/explain/index.ts';
import { type HandCase, runHand } from '../simulate/hand.ts';

const LETTERS: Readonly<Record<string, number>> = {
  a: State.away,
  f: State.full,
  h: State.short,
  p: State.proving,
  r: State.resting,
  w: State.waking,
  s: State.surplus,
  t: State.topped,
  c: State.ceiling,
  b: State.bridging,
};

/** "s12 t2" as the states of twelve steps and two more. */
const statesOf = (text: string): Uint8Array =>
  Uint8Array.from(text.split(' ').flatMap((run) => Array.from({ length: Number(run.slice(1)) }, () => LETTERS[run[0]!]!)));

/** What is told of states where ten steps are long enough for a name of their own. */
function told(text: string): string {
  const states = statesOf(text);
  return namedSpans(spansOf(states, 0, states.length), states, 10)
    .map(({ state, from, to }) => `${state} ${from}-${to}`)
    .join(', ');
}

test('spans: from and to any step, without a gap', () => {
  expect(spansOf(statesOf('s3 t2 s4'), 1, 7)).toEqual([
    { state: 'surplus', from: 1, to: 3 },
    { state: 'topped', from: 3, to: 5 },
    { state: 'surplus', from: 5, to: 7 },
  ]);
  expect(spansOf(statesOf('s3'), 2, 2)).toEqual([]);
});

test.each([
  // Short ones are counted to their neighbours, and neighbours of one name are put together.
  ['s12 t2 s10', 'surplus 0-24'],
  ['s12 t10 s12', 'surplus 0-12, topped 12-22, surplus 22-34'],
  ['t12 s4', 'topped 0-16'],
  ['t12 s9', 'surplus 0-21'],
  // To the longer neighbour; of equals, the first.
  ['b12 t2 c13', 'bridging 0-12, ceiling 12-27'],
  ['b13 t2 c12', 'bridging 0-15, ceiling 15-27'],
  ['b12 t2 c12', 'bridging 0-14, ceiling 14-26'],
  // The shortest first: the two of t go to b, and b then is long enough to keep its name.
  ['c12 b9 t2', 'ceiling 0-12, bridging 12-23'],
  ['c12 t2 b9', 'surplus 0-23'],
  ['b12 s3 t2 b14', 'bridging 0-31'],
  // A name that fewer than three quarters of its steps bear gives way to the plain one.
  ['b9 t3', 'bridging 0-12'],
  ['b9 t4', 'surplus 0-13'],
  ['r9 h3', 'resting 0-12'],
  ['r8 p3', 'short 0-11'],
  // Under the plain name it joins what already has it.
  ['s12 w1 b9 t4 w1', 'surplus 0-12, waking 12-13, surplus 13-26, waking 26-27'],
  ['s12 b10 t4 b2', 'surplus 0-12, bridging 12-28'],
  ['s20 b10 t9', 'surplus 0-39'],
  // Waiting and drawing are never counted together; what is in neither group keeps its name.
  ['h3 s3', 'short 0-3, surplus 3-6'],
  ['a2 f1 w1', 'away 0-2, full 2-3, waking 3-4'],
  ['s12 w1 t2 f5', 'surplus 0-12, waking 12-13, topped 13-15, full 15-20'],
  ['h6 p3 h5', 'short 0-14'],
])('%s: %s', (text, expected) => {
  expect(told(text)).toBe(expected);
});

/** 3000 W of sun, 400 W of house: 11 A on one phase from step 4 on. A car without losses, half full. */
const HAND: HandCase = {
  pv: [[40, 3000]],
  house: [[40, 400]],
  charger: { phases: 1 },
  vehicle: { phases: 1, batteryKWh: 10, startSoc: 0.5, standbyW: 0, conversionShare: 1 },
};

function factsOf(hand: HandCase, state: StateName, from: number, to: number) {
  const run = runHand(hand);
  return factsOfStretch(run, 0, { state, from, to }, surplusOfPoints(run)[0]!);
}

test('facts of half an hour, by hand', () => {
  const facts = factsOf(HAND, 'surplus', 4, 34);
  expect(facts).toMatchObject({
    state: 'surplus',
    fromStep: 4,
    toStep: 34,
    point: 0,
    lastsS: 1800,
    pvW: 3000,
    houseW: 400,
    carW: 2530,
    exportW: 70,
    curtailedW: 0,
    highestSurplusW: 2550,
    thresholdW: 1380,
    surplusWh: 1300,
    carWh: 1265,
    carPvWh: 1265,
    carBatteryWh: 0,
    carGridWh: 0,
    phases: 1,
    lowestA: 11,
    highestA: 11,
    mostW: 3680,
    mostA: 16,
    tapers: false,
    minA: 6,
    carMinA: 6,
    share: 1,
    restS: 300,
    startDelayS: 180,
    lagS: 60,
  });
  expect(facts.soc).toBeCloseTo(0.5 + 1265 / 10_000, 9);
});

test('means and sums are over the steps of the stretch alone', () => {
  const changing: HandCase = {
    ...HAND,
    pv: [
      [10, 3000],
      [10, 4000],
      [10, 200],
      [10, 0],
    ],
  };
  expect(factsOf(changing, 'surplus', 5, 15)).toMatchObject({ pvW: 3500, highestSurplusW: 3550, lowestA: 11, highestA: 15 });
  // Before and after the current nothing flows: waking up to step 4; 6 A in the three minutes of lack, then nothing.
  expect(factsOf(changing, 'surplus', 2, 10)).toMatchObject({ phases: 1, lowestA: 11, highestA: 11 });
  expect(factsOf(changing, 'surplus', 15, 30)).toMatchObject({ phases: 1, lowestA: 6, highestA: 15 });
  // What the house needs itself is no surplus: 2600 W for a minute, and nothing in the next.
  expect(factsOf(changing, 'short', 19, 21).surplusWh).toBeCloseTo(3600 / 60, 9);
  expect(factsOf(changing, 'short', 35, 40)).toMatchObject({ phases: 0, lowestA: 0, highestA: 0, highestSurplusW: 0, pvW: 0 });
});

test('sun, battery and grid in the car; what an export limit cuts off', () => {
  const helped: HandCase = {
    ...HAND,
    pv: [[10, 1000]],
    house: [[10, 0]],
    control: { surplusShare: 0.5 },
    battery: { startSoc: 1, maxDischargeW: 200, dischargeToCar: true, priority: { kind: 'car' } },
  };
  // 1380 W: 1000 W of sun, 200 W of the battery, 180 W of the grid.
  const facts = factsOf(helped, 'topped', 4, 10);
  expect(facts).toMatchObject({ carWh: 138, carPvWh: 100, carBatteryWh: 20, share: 0.5, thresholdW: 690 });
  expect(facts.carGridWh).toBeCloseTo(18, 9);
  const limited = factsOf({ ...HAND, supply: { exportLimitW: 1500 }, control: { seesCurtailedPv: true } }, 'short', 0, 2);
  expect(limited).toMatchObject({ exportW: 1500, curtailedW: 1100 });
});

test('phases, and what is known of them; the fewer ones while nothing flows', () => {
  const three: HandCase = { pv: [[20, 9000]], vehicle: { minCurrentA: [6, 6, 8] } };
  expect(factsOf(three, 'surplus', 4, 10)).toMatchObject({
    phases: 3,
    minA: 8,
    carMinA: 8,
    mostW: 11_040,
    lowestA: 12,
    highestA: 12,
  });
  expect(factsOf(three, 'proving', 0, 3)).toMatchObject({ phases: 0, minA: 6, carMinA: 6, mostW: 3680 });
  // The controller believes in 6 A; the car takes nothing below 10 A.
  const refusing = factsOf(
    { ...HAND, vehicle: { ...HAND.vehicle, minCurrentA: [10, 10, 10] }, believes: { minCurrentA: [6, 6, 6] } },
    'refusing',
    4,
    8,
  );
  expect(refusing).toMatchObject({ minA: 6, carMinA: 10 });
  const fixed = factsOf(
    { ...three, charger: { phases: 3 }, vehicle: { phases: 3, minCurrentA: [6, 6, 8], maxCurrentA: 10 } },
    'surplus',
    4,
    10,
  );
  expect(fixed).toMatchObject({ phases: 3, minA: 8, carMinA: 8, mostW: 6900, mostA: 10 });
});

test('the last step before full is left out of the currents where there are others', () => {
  // 11 A; 30 Wh are missing in the last step of those that it takes.
  const vehicle = { ...HAND.vehicle, targetSoc: 0.5 + (10 * 2530 + 1265) / 60 / 10_000 };
  expect(factsOf({ ...HAND, vehicle }, 'surplus', 4, 15)).toMatchObject({ lowestA: 11, highestA: 11 });
  const last = factsOf({ ...HAND, vehicle }, 'surplus', 14, 15);
  expect(last.lowestA).toBeCloseTo(5.5, 6);
  expect(last.highestA).toBeCloseTo(5.5, 6);
});

test('nearly full the car takes less of its own accord', () => {
  const tapering = (taperFromSoc: number) =>
    factsOf({ ...HAND, vehicle: { ...HAND.vehicle, taperFromSoc } }, 'surplus', 4, 34).tapers;
  // 61.9 % a step before its end.
  expect([tapering(0.6), tapering(0.63), tapering(0.7)]).toEqual([true, false, false]);
});

test('rests, delays and lags as whole steps', () => {
  const steps = { startDelayS: 100, restartPauseS: 200 };
  expect(factsOf({ ...HAND, control: steps, vehicle: { ...HAND.vehicle, startLagS: 140 } }, 'proving', 0, 1)).toMatchObject({
    startDelayS: 120,
    restS: 180,
    lagS: 120,
  });
});

test('a charge point that there is not', () => {
  const run = runHand(HAND);
  const span = { state: 'short', from: 0, to: 1 } as const;
  expect(() => factsOfStretch(run, 1, span, surplusOfPoints(run)[0]!)).toThrow('point = 1: no such charge point');
});
