// The plain law against the worked example of design.md and small cases reckoned by hand.

import { describe, expect, it } from 'vitest';
import { type PlainCase, type PlainStep, plainRun } from './plain-law.ts';

type Point = PlainCase['points'][number];
type Battery = NonNullable<PlainCase['battery']>;

/** A power for so many steps, then the next. */
function profile(...parts: [steps: number, value: number][]): number[] {
  return parts.flatMap(([steps, value]) => new Array<number>(steps).fill(value));
}

interface PointChanges {
  charger?: Partial<Point['charger']>;
  vehicle?: Partial<Point['vehicle']>;
  believes?: Partial<Point['believes']>;
  stays?: Point['stays'];
  floorKm?: number;
  departureKm?: number;
}

/** A switchable 16 A charger and a three-phase 6 A car, plugged in throughout. */
function point(changes: PointChanges = {}): Point {
  const vehicle: Point['vehicle'] = {
    phases: 3,
    maxCurrentA: 16,
    minCurrentA: [6, 6, 6],
    capacityWh: 60_000,
    startSoc: 0.5,
    targetSoc: 0.8,
    standbyW: 180,
    conversionEfficiency: 0.9,
    startLagS: 60,
    whPerKm: 200,
    givesUpAfter: null,
    ...changes.vehicle,
  };
  return {
    charger: {
      phases: 'switchable',
      minCurrentA: 6,
      maxCurrentA: 16,
      currentStepA: 1,
      wiring: [1, 2, 3],
      wiringAsBuilt: [1, 2, 3],
      checksPhases: false,
      ...changes.charger,
    },
    vehicle,
    believes: { phases: vehicle.phases, minCurrentA: vehicle.minCurrentA, ...changes.believes },
    stays: changes.stays ?? [{ from: 0, to: 100_000, km: 0, departS: Number.POSITIVE_INFINITY }],
    floorKm: changes.floorKm ?? 0,
    departureKm: changes.departureKm ?? 0,
  };
}

/** No house load, smoothing 0, other defaults; Δt 60 s. */
function house(
  pvW: number[],
  points: Point[],
  changes: Partial<Omit<PlainCase, 'control'>> & { control?: Partial<PlainCase['control']> } = {},
): PlainCase {
  const none = pvW.map(() => 0);
  return {
    stepS: 60,
    voltageV: 230,
    buildingPhases: 3,
    mainFuseA: 35,
    imbalanceLimitA: null,
    exportLimitW: null,
    metering: 'net',
    contractW: null,
    dimmedToW: pvW.map(() => null),
    pvW,
    pvPhases: [1, 2, 3],
    houseW: [none, none, none],
    battery: null,
    points,
    ...changes,
    control: {
      strategy: 'surplus',
      surplusShare: 1,
      topUp: 'minimum',
      smoothingS: 0,
      reserveW: 50,
      seesCurtailedPv: true,
      startDelayS: 180,
      stopDelayS: 180,
      switchUpDelayS: 600,
      switchDownDelayS: 180,
      switchPauseS: 60,
      restartPauseS: 300,
      ...changes.control,
    },
  };
}

function battery(changes: Partial<Battery> = {}): Battery {
  return {
    capacityWh: 10_000,
    maxChargeW: 3000,
    maxDischargeW: 3000,
    roundTripEfficiency: 0.81,
    startSoc: 0.5,
    phases: [1, 2, 3],
    priority: 'car',
    dischargeToCar: false,
    ...changes,
  };
}

function car(step: PlainStep | undefined, i = 0): PlainStep['points'][number] {
  const found = step?.points[i];
  if (found === undefined) throw new Error('no such step or point');
  return found;
}

/** Runs of equal names: "short 10, proving 3, …". */
function story(steps: PlainStep[], i = 0): string {
  const parts: { name: string; steps: number }[] = [];
  for (const step of steps) {
    const name = car(step, i).state;
    const last = parts.at(-1);
    if (last?.name === name) last.steps += 1;
    else parts.push({ name, steps: 1 });
  }
  return parts.map((part) => `${part.name} ${part.steps}`).join(', ');
}

describe('the worked example of design.md', () => {
  const steps = plainRun(house(profile([10, 0], [30, 1500], [40, 5000], [20, 2000], [20, 500]), [point()]));
  const rows: [from: number, code: string, n: number, A: number, W: number, importW: number, exportW: number][] = [
    [0, 'short', 0, 0, 0, 0, 0],
    [10, 'proving', 0, 0, 0, 0, 1500],
    [13, 'waking', 0, 0, 0, 0, 1500],
    [14, 'surplus', 1, 6, 1380, 0, 120],
    [40, 'ceiling', 1, 16, 3680, 0, 1320],
    [50, 'switching', 0, 0, 0, 0, 5000],
    [51, 'waking', 0, 0, 0, 0, 5000],
    [52, 'surplus', 3, 7, 4830, 0, 170],
    [80, 'bridging', 3, 6, 4140, 2140, 0],
    [83, 'switching', 0, 0, 0, 0, 2000],
    [84, 'waking', 0, 0, 0, 0, 2000],
    [85, 'surplus', 1, 8, 1840, 0, 160],
    [100, 'bridging', 1, 6, 1380, 880, 0],
    [103, 'resting', 0, 0, 0, 0, 500],
    [108, 'short', 0, 0, 0, 0, 500],
    [120, '', 0, 0, 0, 0, 0],
  ];
  for (let r = 0; r + 1 < rows.length; r += 1) {
    const row = rows[r];
    const next = rows[r + 1];
    if (row === undefined || next === undefined) throw new Error('no row');
    const [from, code, n, A, W, importW, exportW] = row;
    it(`steps ${from} to ${next[0] - 1} are ${code}`, () => {
      for (let k = from; k < next[0]; k += 1) {
        const step = steps[k];
        expect(car(step)).toMatchObject({ state: code, phases: n });
        expect(car(step).currentA).toBeCloseTo(A, 9);
        expect(car(step).powerW).toBeCloseTo(W, 6);
        expect(step?.importW).toBeCloseTo(importW, 6);
        expect(step?.exportW).toBeCloseTo(exportW, 6);
      }
    });
  }
});

describe('starting and the share', () => {
  it('starts at once on three phases when both thresholds stood', () => {
    const steps = plainRun(house(profile([8, 5000]), [point()]));
    expect(story(steps)).toBe('proving 3, waking 1, surplus 4');
    expect(car(steps[4])).toMatchObject({ phases: 3, currentA: 7 });
  });
  it('tops up from the grid at a lower share', () => {
    const steps = plainRun(house(profile([6, 800]), [point()], { control: { surplusShare: 0.5 } }));
    expect(story(steps)).toBe('proving 3, waking 1, topped 2'); // F 750 ≥ 690
    expect(car(steps[5])).toMatchObject({ powerW: 1380, pvW: 800, gridW: 580 });
  });
  it('the share does not scale the threshold of three phases with topUp minimum', () => {
    const control = { surplusShare: 0.5, startDelayS: 0, switchUpDelayS: 0 };
    expect(car(plainRun(house(profile([3, 2500]), [point()], { control }))[2]).phases).toBe(1);
    const proportional = { ...control, topUp: 'proportional' as const };
    const steps = plainRun(house(profile([3, 2500]), [point()], { control: proportional }));
    // F 2450 ≥ 2070; aim 4900 W / 690 = 7.1 A.
    expect(car(steps[2])).toMatchObject({ state: 'topped', phases: 3, currentA: 7 });
  });
  it('share 0 never waits for the sun; proportional then has no bound', () => {
    const control = { surplusShare: 0, topUp: 'proportional' as const, switchUpDelayS: 60 };
    const steps = plainRun(house(profile([6, 0]), [point()], { control }));
    expect(story(steps)).toBe('proving 3, waking 1, topped 2');
    expect(car(steps[5])).toMatchObject({ phases: 3, currentA: 16, gridW: 11_040 });
  });
  it('with zero lag and zero delay charging begins in the step', () => {
    const zero = point({ vehicle: { startLagS: 0 } });
    expect(story(plainRun(house(profile([2, 5000]), [zero], { control: { startDelayS: 0 } })))).toBe('surplus 2');
  });
  it('hour-long steps have no delays, but a switching pause of one', () => {
    const steps = plainRun(house(profile([1, 1500], [3, 5000], [1, 0], [1, 1500]), [point()], { stepS: 3600 }));
    expect(story(steps)).toBe('surplus 1, switching 1, surplus 2, short 1, surplus 1');
    expect(steps.map((step) => car(step).phases)).toEqual([1, 0, 3, 3, 0, 1]);
  });
  it('smoothing begins at the first value', () => {
    const control = { smoothingS: 30, startDelayS: 0, reserveW: 0 };
    const steps = plainRun(house(profile([1, 0], [3, 1500]), [point()], { control }));
    // f: 0, 1297, 1473, …
    expect(story(steps)).toBe('short 2, waking 1, surplus 1');
  });
  it('a stall rests for the restart pause, and the conditions ripen meanwhile', () => {
    const pv = profile([5, 1500], [4, 0], [10, 1500]);
    const steps = plainRun(house(pv, [point()]));
    // stall in step 8, rest 8 to 12, conditions stand since step 9: start in 13
    expect(story(steps)).toBe('proving 3, waking 1, surplus 1, bridging 3, resting 5, waking 1, surplus 5');
    const restless = plainRun(house(pv, [point()], { control: { restartPauseS: 0 } }));
    expect(story(restless)).toBe('proving 3, waking 1, surplus 1, bridging 3, short 1, proving 3, waking 1, surplus 6');
  });
});

describe('limits', () => {
  it('a fuse hold while charging rests; one while waiting does not', () => {
    const pv = profile([20, 1500]);
    const load = profile([6, 0], [2, 8000 + 500], [12, 0]); // on phase 1: 8500 − 500 = 8000 W, 34.8 A of 35
    const steps = plainRun(house(pv, [point()], { houseW: [load, profile([20, 0]), profile([20, 0])] }));
    // Hold in step 6; surplus is back from step 8, stands in 11; the rest ends with step 10.
    expect(story(steps)).toBe('proving 3, waking 1, surplus 2, held-fuse 1, resting 4, waking 1, surplus 8');
  });
  it('waiting at a limit is a hold, and the start comes with the room', () => {
    const dimmedToW = [...new Array<number>(6).fill(1000), ...new Array<null>(4).fill(null)];
    const steps = plainRun(house(profile([10, 1500]), [point()], { dimmedToW }));
    expect(story(steps)).toBe('proving 3, held-dimmed 3, waking 1, surplus 3');
  });
  it('a contract lowers the current, then holds', () => {
    const run = (contractW: number): PlainStep[] =>
      plainRun(house(profile([2, 0]), [point()], { contractW, control: { strategy: 'at-once' } }));
    expect(car(run(6000)[1])).toMatchObject({ state: 'at-once', phases: 3, currentA: 8 });
    expect(car(run(3000)[1])).toMatchObject({ state: 'at-once', phases: 1, currentA: 13 });
    expect(car(run(1000)[1])).toMatchObject({ state: 'held-contract', phases: 0, currentA: 0 });
  });
  it('imbalance bounds one phase, not three', () => {
    const charger = { phases: 1 as const, maxCurrentA: 32 };
    const single = point({ charger, vehicle: { phases: 1, maxCurrentA: 32 } });
    const other = point({ charger: { ...charger, wiring: [2, 3, 1], wiringAsBuilt: [2, 3, 1] }, vehicle: single.vehicle });
    const control = { strategy: 'at-once' as const };
    const steps = plainRun(house(profile([2, 0]), [single, other], { imbalanceLimitA: 20, control }));
    expect([car(steps[1], 0).currentA, car(steps[1], 1).currentA]).toEqual([20, 20]);
    expect(steps[1]?.lineA).toEqual([20, 20, 0]);
    const three = plainRun(house(profile([2, 0]), [point()], { imbalanceLimitA: 4, control }));
    expect(car(three[1])).toMatchObject({ phases: 3, currentA: 16 });
    const oneTooMany = plainRun(house(profile([1, 0]), [single], { imbalanceLimitA: 4, control }));
    expect(car(oneTooMany[0]).state).toBe('held-imbalance');
    const onePhase = { buildingPhases: 1 as const, pvPhases: [1], imbalanceLimitA: 4, control };
    expect(car(plainRun(house(profile([2, 0]), [single], onePhase))[1]).currentA).toBe(32);
  });
  it('later points yield: fuse and surplus', () => {
    const steps = plainRun(house(profile([6, 8000]), [point(), point()], { mainFuseA: 20 }));
    // First: F 7950, 11 A on three. Second: at the start (step 3) the first still draws nothing, so both wake; then
    // 20 − 11 = 9 A of fuse, F 7950 − 7590 = 360.
    expect(story(steps, 0)).toBe('proving 3, waking 1, surplus 2');
    expect(story(steps, 1)).toBe('proving 3, waking 1, bridging 2');
    expect(car(steps[5], 1)).toMatchObject({ phases: 3, currentA: 6, pvW: 410 });
  });
  it('in the last step a car leaves the next one what it does not need', () => {
    const nearlyFull = point({ vehicle: { startSoc: 0.8 - 100 / 60_000 } });
    const control = { strategy: 'at-once' as const };
    const steps = plainRun(house(profile([3, 0]), [nearlyFull], { control }));
    expect(story(steps)).toBe('waking 1, at-once 1, full 1');
    const part = 100 / (((11_040 - 180) * 0.9) / 60);
    expect(car(steps[1]).powerW).toBeCloseTo(11_040 * part, 9);
    expect(car(steps[1]).currentA).toBeCloseTo(16 * part, 9);
    expect(car(steps[2]).soc).toBeCloseTo(0.8, 12);
  });
});

describe('must-charge', () => {
  it('fills to the floor on most phases and goes on from charging', () => {
    // 30 000 Wh stored; floor 151 km = 30 200 Wh: 162.9 Wh a step, two steps.
    const steps = plainRun(house(profile([12, 1500]), [point({ floorKm: 151 })]));
    expect(story(steps)).toBe('waking 1, must 2, bridging 3, switching 1, waking 1, surplus 4');
    expect(car(steps[2])).toMatchObject({ phases: 3, currentA: 16 });
  });
  it('the time rule: 1.1 × charging time, lag and pause', () => {
    // 1 000 Wh missing at (11 040 − 180) · 0.9 W: 368.3 s; 1.1 × that + 120 = 525.1 s before departure at 1200 s.
    const stays = [{ from: 0, to: 20, km: 0, departS: 1200 }];
    const steps = plainRun(house(profile([22, 0]), [point({ departureKm: 155, stays })]));
    // t ≥ 674.9 s: step 12; 6.14 steps of energy.
    expect(story(steps)).toBe('short 12, waking 1, must 7, away 2');
    const early = [{ from: 0, to: 30, km: 0, departS: 1200 }];
    const longer = plainRun(house(profile([25, 0]), [point({ departureKm: 155, stays: early })]));
    expect(story(longer)).toBe('short 12, waking 1, must 7, bridging 3, resting 2');
  });
  it('an unknown departure never presses', () => {
    expect(story(plainRun(house(profile([5, 0]), [point({ departureKm: 200 })])))).toBe('short 5');
  });
  it('takes one phase where only that is allowed, and more at once when it may', () => {
    const dimmedToW = [...new Array<number>(3).fill(3000), ...new Array<null>(4).fill(null)];
    const steps = plainRun(house(profile([7, 0]), [point({ floorKm: 200 })], { dimmedToW }));
    expect(story(steps)).toBe('waking 1, must 2, switching 1, waking 1, must 2');
    expect(steps.map((step) => car(step).phases)).toEqual([0, 1, 1, 0, 0, 3, 3]);
    const back = plainRun(house(profile([6, 0]), [point({ floorKm: 200 })], { dimmedToW: [null, null, null, 3e3, 3e3, 3e3] }));
    expect(story(back)).toBe('waking 1, must 2, held-dimmed 1, waking 1, must 1');
  });
});

describe('stays', () => {
  it('takes the trip off on arrival, never below 0, also for stays too short for a step', () => {
    const far = Number.POSITIVE_INFINITY;
    const stays = [
      { from: 1, to: 2, km: 30, departS: far },
      { from: 3, to: 3, km: 30, departS: far },
      { from: 4, to: 5, km: 900, departS: far },
    ];
    const steps = plainRun(house(profile([6, 0]), [point({ stays })]));
    expect(steps.map((step) => car(step).soc)).toEqual([0.5, 0.4, 0.4, 0.3, 0, 0].map((soc) => expect.closeTo(soc, 9)));
    expect(story(steps)).toBe('away 1, short 1, away 2, short 1, away 1');
  });
  it('a departure that meets an arrival clears everything, rest included', () => {
    const far = Number.POSITIVE_INFINITY;
    const stays = [
      { from: 0, to: 9, km: 0, departS: far },
      { from: 9, to: 20, km: 0, departS: far },
    ];
    const steps = plainRun(house(profile([5, 1500], [4, 0], [6, 1500]), [point({ stays })]));
    // Stall in step 8; the rest of five steps is gone with the stay.
    expect(story(steps)).toBe('proving 3, waking 1, surplus 1, bridging 3, resting 1, proving 3, waking 1, surplus 2');
  });
  it('full until the next plug-in, whatever else', () => {
    const full = point({ vehicle: { startSoc: 0.8 }, floorKm: 1000 });
    expect(story(plainRun(house(profile([3, 9000]), [full], { control: { strategy: 'at-once' } })))).toBe('full 3');
  });
});

describe('what the controller believes', () => {
  it('a car with a higher minimum refuses until more is offered', () => {
    const shy = point({ vehicle: { minCurrentA: [8, 8, 8] }, believes: { minCurrentA: [6, 6, 6] } });
    const steps = plainRun(house(profile([6, 1500], [2, 2000]), [shy]));
    expect(story(steps)).toBe('proving 3, waking 1, refusing 2, surplus 2');
    expect(car(steps[5])).toMatchObject({ phases: 0, currentA: 0, powerW: 0 });
    expect(car(steps[7])).toMatchObject({ phases: 1, currentA: 8, powerW: 1840 });
  });
  it('draws on its own phases at the offered current', () => {
    const one = point({ vehicle: { phases: 1 }, believes: { phases: 3 }, charger: { phases: 3 } });
    const steps = plainRun(house(profile([6, 5000]), [one]));
    expect(car(steps[5])).toMatchObject({ state: 'surplus', phases: 1, currentA: 7, powerW: 1610 });
    const three = point({ believes: { phases: 1 }, charger: { phases: 3 } });
    expect(car(plainRun(house(profile([6, 1500]), [three]))[5])).toMatchObject({ state: 'surplus', phases: 3, powerW: 4140 });
    const switched = point({ believes: { phases: 1 } });
    expect(car(plainRun(house(profile([6, 1500]), [switched]))[5])).toMatchObject({ phases: 1, powerW: 1380 });
  });
  it('a two-phase car on a switchable charger', () => {
    const steps = plainRun(house(profile([6, 3000]), [point({ vehicle: { phases: 2 } })]));
    expect(car(steps[5])).toMatchObject({ phases: 2, currentA: 6, powerW: 2760 });
    expect(steps[5]?.lineA.map((A) => Math.round(A * 100) / 100)).toEqual([1.65, 1.65, -4.35]);
  });
  it('gives up after so many interruptions, until it is plugged in anew', () => {
    const far = Number.POSITIVE_INFINITY;
    const stays = [
      { from: 0, to: 16, km: 0, departS: far },
      { from: 17, to: 30, km: 0, departS: far },
    ];
    const tired = point({ vehicle: { givesUpAfter: 1 }, stays });
    const steps = plainRun(house(profile([5, 1500], [4, 0], [13, 1500]), [tired]));
    expect(story(steps)).toBe(
      'proving 3, waking 1, surplus 1, bridging 3, resting 1, gave-up 7, away 1, proving 3, waking 1, surplus 1',
    );
  });
});

describe('conductors as built', () => {
  const charger = { wiringAsBuilt: [2, 1, 3], checksPhases: true };
  it('a charger that checks phases breaks off after a step on a foreign one', () => {
    const steps = plainRun(house(profile([12, 1500]), [point({ charger })]));
    expect(story(steps)).toBe('proving 3, waking 1, surplus 1, resting 5, waking 1, surplus 1');
    expect(steps[4]?.lineA[1]).toBeCloseTo((1380 - 500) / 230, 9);
    const at = plainRun(house(profile([6, 1500]), [point({ charger })], { control: { strategy: 'at-once' } }));
    expect(story(at)).toBe('waking 1, at-once 5'); // three phases: none is foreign
    const one = point({ charger: { ...charger, phases: 1 } });
    const restless = plainRun(house(profile([6, 1500]), [one], { control: { strategy: 'at-once' } }));
    expect(story(restless)).toBe('waking 1, at-once 1, resting 1, waking 1, at-once 1, resting 1');
  });
  it('one that does not check goes on', () => {
    const steps = plainRun(house(profile([6, 1500]), [point({ charger: { ...charger, checksPhases: false } })]));
    expect(story(steps)).toBe('proving 3, waking 1, surplus 2');
  });
});

describe('home battery and export limit', () => {
  it('with priority it shapes the surplus, and gets less if the car takes more', () => {
    const first = battery({ priority: 'battery' });
    const steps = plainRun(house(profile([6, 5000]), [point()], { battery: first }));
    expect(steps[0]).toMatchObject({ surplusW: 2000, batteryW: 3000, exportW: 2000 });
    expect(car(steps[5])).toMatchObject({ state: 'surplus', phases: 1, currentA: 8 });
    expect(steps[5]).toMatchObject({ batteryW: 3000, exportW: 160 });
    const must = plainRun(house(profile([3, 5000]), [point({ floorKm: 200 })], { battery: first }));
    expect(must[1]).toMatchObject({ surplusW: 2000, batteryW: 0, importW: 6040 });
  });
  it('priority until a state of charge; efficiency is the root each way', () => {
    const until = battery({ priority: { batteryUntilSoc: 0.5045 } });
    const steps = plainRun(house(profile([2, 5000]), [], { battery: until }));
    // 45 Wh / 0.9 = 50 Wh of room = 3000 W for one minute: all of maxCharge.
    expect(steps[0]?.surplusW).toBeCloseTo(2000, 6);
    expect(steps[0]?.batterySoc).toBeCloseTo(0.5045, 9);
    expect(steps[1]?.surplusW).toBeCloseTo(5000, 6);
    expect(steps[1]?.batteryW).toBeCloseTo(3000, 6);
  });
  it('discharges for the house, and for cars only if told', () => {
    const control = { strategy: 'at-once' as const };
    const load = profile([2, 500]);
    const houseW: PlainCase['houseW'] = [load, profile([2, 0]), profile([2, 0])];
    const run = (dischargeToCar: boolean): PlainStep | undefined =>
      plainRun(house(profile([2, 0]), [point()], { control, houseW, battery: battery({ dischargeToCar }) }))[1];
    expect(run(false)).toMatchObject({ batteryW: -500, importW: 11_040 });
    expect(run(true)).toMatchObject({ batteryW: -3000, importW: 8540 });
    expect(car(run(true))).toMatchObject({ pvW: 0, batteryW: 2500, gridW: 8540 });
  });
  it('curtailed PV is not seen, so the car waits for ever at no feed-in', () => {
    const blind = { seesCurtailedPv: false };
    const none = plainRun(house(profile([8, 5000]), [point()], { exportLimitW: 0, control: blind }));
    expect(story(none)).toBe('short 8');
    expect(none[3]).toMatchObject({
      surplusW: 5000,
      curtailedW: 5000,
      exportW: 0,
      lineA: [0, 0, 0].map((A) => expect.closeTo(A, 9)),
    });
    const some = plainRun(house(profile([8, 5000]), [point()], { exportLimitW: 1500, control: blind }));
    expect(story(some)).toBe('proving 3, waking 1, surplus 2, ceiling 2');
    // 1450 → 6 A; then 1500 + 1380 − 50 = 2830 → 12 A; then 1500 + 2760 − 50 = 4210 → 16 A at most
    expect(some.slice(4).map((step) => car(step).currentA)).toEqual([6, 12, 16, 16]);
    const seen = plainRun(house(profile([8, 5000]), [point()], { exportLimitW: 0 }));
    expect(car(seen[4])).toMatchObject({ phases: 3, currentA: 7 });
  });
});

describe('per-phase metering', () => {
  it('PV on one phase starts a car there and no three-phase charging', () => {
    const steps = plainRun(house(profile([6, 5000]), [point()], { metering: 'per-phase', pvPhases: [1] }));
    expect(car(steps[5])).toMatchObject({ state: 'ceiling', phases: 1, currentA: 16, pvW: 3680 });
  });
  it('PV over three phases covers a third of a one-phase car', () => {
    const steps = plainRun(
      house(profile([2, 3000]), [point({ charger: { phases: 1 } })], {
        metering: 'per-phase',
        control: { strategy: 'at-once' },
      }),
    );
    expect(car(steps[1])).toMatchObject({ powerW: 3680, pvW: 1000, gridW: 2680 });
    expect(steps[1]).toMatchObject({ importW: 2680, exportW: 2000 });
  });
  it('F for three phases is three times the least', () => {
    const none = profile([6, 0]);
    const houseW: PlainCase['houseW'] = [none, profile([6, 500]), none];
    const run = (reserveW: number): PlainStep[] =>
      plainRun(
        house(profile([6, 6000]), [point({ charger: { phases: 3 } })], { metering: 'per-phase', houseW, control: { reserveW } }),
      );
    expect(story(run(360))).toBe('proving 3, waking 1, surplus 2'); // 3 · (1500 − 120) = 4140
    expect(story(run(363))).toBe('short 6');
  });
  it('the battery follows the sum and flows on its own phase', () => {
    const one = battery({ phases: [1] });
    const steps = plainRun(house(profile([1, 3000]), [], { metering: 'per-phase', pvPhases: [2], battery: one }));
    expect(steps[0]).toMatchObject({ batteryW: 3000, importW: 3000, exportW: 3000 });
  });
});

describe('the balance', () => {
  it('closes in every step of a wild day, in both kinds of metering', () => {
    let seed = 1;
    const chance = (): number => {
      seed = (seed * 16_807) % 2_147_483_647;
      return seed / 2_147_483_647;
    };
    const steps = 600;
    const wild = (top: number): number[] => Array.from({ length: steps }, () => Math.max(0, top * (chance() - 0.2)));
    for (const metering of ['net', 'per-phase'] as const) {
      for (const dischargeToCar of [true, false]) {
        const pvW = wild(14_000);
        const houseW: PlainCase['houseW'] = [wild(2000), wild(1000), wild(3000)];
        const points = [
          point({ charger: { wiringAsBuilt: [3, 1, 2] }, floorKm: 155 }),
          point({ charger: { wiring: [2, 3, 1], currentStepA: 0.1 }, vehicle: { startSoc: 0.7 } }),
        ];
        const c = house(pvW, points, {
          metering,
          houseW,
          exportLimitW: 3000,
          imbalanceLimitA: 20,
          battery: battery({ priority: 'battery', dischargeToCar, phases: [2], capacityWh: 2000 }),
          control: { smoothingS: 30, surplusShare: 0.6, seesCurtailedPv: false },
        });
        plainRun(c).forEach((step, k) => {
          const cars = step.points.reduce((total, p) => total + p.powerW, 0);
          const houseNow = houseW.reduce((total, phase) => total + (phase[k] ?? 0), 0);
          const sources = (pvW[k] ?? 0) + step.importW;
          const sinks = houseNow + cars + step.batteryW + step.exportW + step.curtailedW;
          expect(Math.abs(sources - sinks)).toBeLessThan(1e-6);
          const lines = step.lineA.reduce((total, A) => total + A * 230, 0);
          expect(Math.abs(lines - (step.importW - step.exportW))).toBeLessThan(1e-6);
          for (const p of step.points) {
            expect(Math.abs(p.powerW - p.pvW - p.batteryW - p.gridW)).toBeLessThan(1e-6);
            expect(Math.min(p.pvW, p.batteryW, p.gridW)).toBeGreaterThan(-1e-6);
          }
        });
      }
    }
  });
});
