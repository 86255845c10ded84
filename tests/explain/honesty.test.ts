import { describe, expect, test } from 'vitest';
import type { StateName } from '../../src/charging/index.ts';
import { stateName } from '../../src/charging/index.ts';
import { causeOfStall } from '../../src/explain/causes.ts';
import { type Happening, spansOf, surplusOfPoints } from '../../src/explain/index.ts';
import { type Run, runPlan } from '../../src/simulate/index.ts';
import type { HandCase, HandPoint } from '../simulate/hand.ts';
import { randomDay } from '../simulate/random-day.ts';
import { type RandomRun, randomRuns, runOf } from './random-runs.ts';

/** The same household with something changed at every charge point. */
function atEveryPoint(hand: HandCase, change: (point: HandPoint) => HandPoint): HandCase {
  const { more = [], ...first } = hand;
  return { ...(change(first) as HandCase), more: more.map(change) };
}

const withControl = (hand: HandCase, control: HandCase['control']): HandCase => ({
  ...hand,
  control: { ...hand.control, ...control },
});
const withSupply = (hand: HandCase, supply: HandCase['supply']): HandCase => ({ ...hand, supply: { ...hand.supply, ...supply } });
const withVehicle = (hand: HandCase, vehicle: HandPoint['vehicle']): HandCase =>
  atEveryPoint(hand, (point) => ({ ...point, vehicle: { ...point.vehicle, ...vehicle } }));
const withCharger = (hand: HandCase, charger: HandPoint['charger']): HandCase =>
  atEveryPoint(hand, (point) => ({ ...point, charger: { ...point.charger, ...charger } }));

const noLimits = (hand: HandCase): HandCase => ({
  ...withSupply(hand, { imbalanceLimitA: null, contractW: null, dimming: null }),
  mainFuseA: 100_000,
});

const FOREVER = 1e7;

/**
 * What a sentence about a state names as its cause, taken away: then the state must be gone from the whole run. (Most of these are read
 * as: "it says the rest after an interruption; without any such rest nobody rests".)
 */
const TAKEN_AWAY: Partial<Record<StateName, (hand: HandCase) => HandCase>> = {
  away: (hand) => atEveryPoint(hand, ({ stays: _, ...point }) => point as HandPoint),
  full: (hand) => withVehicle(hand, { batteryKWh: 1e6 }),
  proving: (hand) => withControl(hand, { startDelayS: 0 }),
  resting: (hand) => withControl(hand, { restartPauseS: 0 }),
  waking: (hand) => withVehicle(hand, { startLagS: 0 }),
  topped: (hand) => withControl(hand, { surplusShare: 1 }),
  ceiling: (hand) => withVehicle(withCharger(noLimits(hand), { maxCurrentA: 1e5 }), { maxCurrentA: 1e5, batteryKWh: 1e9 }),
  bridging: (hand) => withControl(noLimits(hand), { stopDelayS: 0, switchDownDelayS: 0 }),
  switching: (hand) => withCharger(hand, { phases: 1 }),
  'held-fuse': (hand) => ({ ...hand, mainFuseA: 100_000 }),
  'held-imbalance': (hand) => withSupply(hand, { imbalanceLimitA: null }),
  'held-contract': (hand) => withSupply(hand, { contractW: null }),
  'held-dimmed': (hand) => withSupply(hand, { dimming: null }),
  must: (hand) => atEveryPoint(hand, (point) => ({ ...point, needs: {} })),
  'at-once': (hand) => withControl(hand, { strategy: 'surplus' }),
  refusing: (hand) => withVehicle(hand, { minCurrentA: [6, 6, 6] }),
  'gave-up': (hand) => withVehicle(hand, { givesUpAfter: null }),
};

/** The same for events that no state stands for. */
const EVENT_TAKEN_AWAY: Partial<Record<Happening, (hand: HandCase) => HandCase>> = {
  stall: (hand) => withControl(hand, { stopDelayS: FOREVER }),
  'break-off': (hand) => withCharger(hand, { checksPhases: false }),
};

const hasState = (run: Run, state: StateName): boolean =>
  run.columns.points.some((point) => point.state.some((code) => stateName(code) === state));

describe('a sentence that names a cause: without the cause, what it tells is gone', () => {
  test.each(Object.keys(TAKEN_AWAY) as StateName[])('%s', (state) => {
    const change = TAKEN_AWAY[state]!;
    let tried = 0;
    for (const { hand, run } of randomRuns(4000, 500_000)) {
      if (tried === 25) break;
      if (!hasState(run, state)) continue;
      const changed = runOf(change(hand));
      if (changed === null) continue;
      tried++;
      expect(hasState(changed.run, state), JSON.stringify(hand.control)).toBe(false);
    }
    expect(tried).toBeGreaterThanOrEqual(10);
  });

  test.each(Object.keys(EVENT_TAKEN_AWAY) as Happening[])('%s', (name) => {
    const change = EVENT_TAKEN_AWAY[name]!;
    let tried = 0;
    for (const { hand, run } of randomRuns(4000, 500_000)) {
      if (tried === 25) break;
      if (!run.events.some(({ event }) => event === name)) continue;
      const changed = runOf(change(hand));
      if (changed === null) continue;
      tried++;
      expect(changed.run.events.some(({ event }) => event === name)).toBe(false);
    }
    expect(tried).toBeGreaterThanOrEqual(10);
  });
});

/** One charge point that follows surplus on one meter, with no needs: what its thresholds do can be told apart from all else. */
function* plainRuns(count: number): Generator<RandomRun> {
  let found = 0;
  for (let seed = 600_000; found < count; seed++) {
    const drawn = randomDay(seed);
    const { floorKm: _f, departureKm: _d, ...needs } = drawn.needs ?? {};
    const hand: HandCase = {
      ...withControl(withSupply(noLimits(drawn), { metering: 'net' }), { strategy: 'surplus', seesCurtailedPv: true }),
      more: [],
      needs,
      believes: {},
    };
    const made = runOf(withVehicle(withCharger(hand, { checksPhases: false }), { givesUpAfter: null, batteryKWh: 1e6 }));
    if (made === null) continue;
    found++;
    yield made;
  }
}

const minimumW = ({ run }: RandomRun): number => run.plan.points[0]!.rules.least.minW;

describe('thresholds', () => {
  test('"surplus stays below what a start needs": with a threshold just under what there was, it no longer waits for surplus', () => {
    let tried = 0;
    for (const made of plainRuns(600)) {
      const { hand, run } = made;
      const { rules } = run.plan.points[0]!;
      const surplus = surplusOfPoints(run)[0]!.leastW;
      const span = spansOf(run.columns.points[0]!.state, 0, run.grid.steps).find(
        ({ state, from, to }) => state === 'short' && to - from > rules.startSteps + 1,
      );
      if (span === undefined || tried === 120) continue;
      const lowestW = surplus.subarray(span.from, span.to).reduce((least, w) => Math.min(least, w), Infinity);
      const changed = runOf(withControl(hand, { surplusShare: (0.999 * lowestW) / minimumW(made), topUp: 'minimum' }))!.run;
      const states = changed.columns.points[0]!.state.subarray(span.from, span.to);
      expect(states.some((code) => !['short', 'proving'].includes(stateName(code)))).toBe(true);
      tried++;
    }
    expect(tried).toBeGreaterThan(60);
  });

  test('"starts: surplus has stood above the threshold": with a little more asked for in those minutes, it does not start then', () => {
    let tried = 0;
    for (const { hand, run } of plainRuns(400)) {
      const { rules } = run.plan.points[0]!;
      const start = run.events.find(({ event }) => event === 'start');
      if (start === undefined || start.thresholdW === 0 || start.phasesTo !== rules.least.n) continue;
      const stood = surplusOfPoints(run)[0]!.leastW.subarray(start.step - rules.startSteps, start.step + 1);
      const spareW = stood.reduce((least, w) => Math.min(least, w), Infinity) - start.thresholdW;
      expect(spareW).toBeGreaterThanOrEqual(-1e-6);
      const reserveW = (hand.reserveW ?? 0) + Math.max(0, spareW) + 1;
      const changed = runOf({ ...hand, reserveW })!.run;
      expect(changed.events.some(({ event, step }) => event === 'start' && step <= start.step)).toBe(false);
      tried++;
    }
    expect(tried).toBeGreaterThan(60);
  });

  test('"goes back to one phase": with a switch-down delay without end, it never goes back', () => {
    let tried = 0;
    const downs = (run: Run): number =>
      run.events.filter(({ event, phasesFrom, phasesTo }) => event === 'switch' && phasesTo < phasesFrom).length;
    for (const { hand, run } of plainRuns(400)) {
      if (downs(run) === 0) continue;
      expect(downs(runOf(withControl(hand, { switchDownDelayS: FOREVER }))!.run)).toBe(0);
      tried++;
    }
    expect(tried).toBeGreaterThan(30);
  });

  test('"goes to three phases": with a switch-up delay without end, it never goes up', () => {
    let tried = 0;
    const ups = (run: Run): number =>
      run.events.filter(({ event, phasesFrom, phasesTo }) => event === 'switch' && phasesTo > phasesFrom).length;
    for (const { hand, run } of plainRuns(400)) {
      if (ups(run) === 0) continue;
      expect(ups(runOf(withControl(hand, { switchUpDelayS: FOREVER }))!.run)).toBe(0);
      tried++;
    }
    expect(tried).toBeGreaterThan(30);
  });
});

describe('what took the sun away', () => {
  /** The same run with PV, or the house, as it was before the lack; true if it still stalls in that step. */
  function stallsStill(
    { plan, profiles }: RandomRun,
    first: number,
    step: number,
    pvLiftW: (k: number) => number,
    houseW: number,
  ): boolean {
    const pvW = profiles.pvW.slice();
    for (let k = first; k <= step; k++) pvW[k]! += pvLiftW(k);
    const loadW = profiles.loadW.slice();
    const load1W = profiles.loadByPhaseW[0].slice();
    for (let k = first; k <= step; k++) {
      loadW[k]! -= houseW;
      load1W[k]! -= houseW;
    }
    const [, two, three] = profiles.loadByPhaseW;
    const again = runPlan(plan, { pvW, loadW, loadByPhaseW: [load1W, two, three] });
    return again.events.some((event) => event.event === 'stall' && event.step === step);
  }

  test('named alone, and put back to what it was before: no stall in that step', () => {
    const tried = { pv: 0, house: 0 };
    const kinds = new Set<string>();
    for (const made of plainRuns(600)) {
      const { run, hand } = made;
      const surplus = surplusOfPoints(run)[0]!;
      for (const event of run.events.filter((one) => one.event === 'stall')) {
        const cause = causeOfStall(run, event, surplus);
        kinds.add(cause.kind);
        const first = event.step - Math.round(event.heldS / run.grid.stepS);
        // A battery that comes first may have filled up in between: its part is reckoned, not run again.
        if (hand.battery !== undefined) continue;
        if (cause.kind === 'pv') {
          expect(stallsStill(made, first, event.step, (k) => cause.pvFromW - made.profiles.pvW[k]!, 0)).toBe(false);
          tried.pv++;
        }
        if (cause.kind === 'house') {
          const beforeW = run.columns.loadW.subarray(first, event.step + 1);
          const meanW = beforeW.reduce((sum, w) => sum + w, 0) / beforeW.length;
          // The house of each step at its mean before.
          const { plan, profiles } = made;
          const loadW = profiles.loadW.slice();
          for (let k = first; k <= event.step; k++) loadW[k] = meanW - cause.houseRoseW;
          const zero = new Float64Array(loadW.length);
          const again = runPlan(plan, { pvW: profiles.pvW, loadW, loadByPhaseW: [loadW, zero, zero] });
          expect(again.events.some((one) => one.event === 'stall' && one.step === event.step)).toBe(false);
          tried.house++;
        }
      }
    }
    expect(tried.pv).toBeGreaterThan(100);
    expect(tried.house).toBeGreaterThan(30);
    expect([...kinds]).toEqual(expect.arrayContaining(['pv', 'house', 'together', 'battery']));
  });

  test('the larger move is named: by hand', () => {
    const base: HandCase = { charger: { phases: 1 }, vehicle: { phases: 1 }, pv: [] };
    const cause = (hand: HandCase) => {
      const { run } = runOf(hand)!;
      const stall = run.events.find(({ event }) => event === 'stall')!;
      return causeOfStall(run, stall, surplusOfPoints(run)[0]!);
    };
    const cloud = cause({
      ...base,
      pv: [
        [30, 3000],
        [20, 500],
      ],
      house: [
        [30, 300],
        [20, 500],
      ],
    });
    expect(cloud).toEqual({ kind: 'pv', pvFromW: 3000, pvToW: 500, houseRoseW: 200 });
    const kettle = cause({
      ...base,
      pv: [
        [30, 3000],
        [20, 2900],
      ],
      house: [
        [30, 300],
        [20, 2300],
      ],
    });
    expect(kettle).toEqual({ kind: 'house', pvFromW: 3000, pvToW: 2900, houseRoseW: 2000 });
    // 1500 W of surplus over 1380: either of the two alone takes away too much, so both are named.
    const both = cause({
      ...base,
      pv: [
        [30, 1850],
        [20, 1550],
      ],
      house: [
        [30, 300],
        [20, 550],
      ],
    });
    expect(both.kind).toBe('together');
  });
});
