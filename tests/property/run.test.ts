import { describe, expect, test } from 'vitest';
import { possiblePhases, State, stateName } from '../../src/charging/index.ts';
import type { Scenario } from '../../src/scenario/index.ts';
import {
  carCurrentA,
  carGridW,
  columnsOf,
  freshColumns,
  lineCurrentA,
  type Profiles,
  planOf,
  type Run,
  runLoop,
  runPlan,
} from '../../src/simulate/index.ts';
import { type HandCase, profilesOf, type Runs, runHand, scenarioOf } from '../simulate/hand.ts';
import { randomDay } from '../simulate/random-day.ts';
import { casesOf } from '../tools/thorough.ts';

/** Random days in number, each a household of its own. */
const DAYS = casesOf(3000);

interface Day {
  readonly hand: HandCase;
  readonly scenario: Scenario;
  readonly profiles: Profiles;
  readonly run: Run;
}

/** Random days whose chargers and cars go together; the door refuses the others. */
function* days(count: number, change: (hand: HandCase) => HandCase = (hand) => hand): Generator<Day> {
  let found = 0;
  for (let seed = 100_000; found < count; seed++) {
    const hand = change(randomDay(seed));
    const scenario = scenarioOf(hand);
    const fits = scenario.chargePoints.every(
      ({ charger, vehicle, believes }) => possiblePhases(charger, { ...vehicle, ...believes }).length > 0,
    );
    if (!fits) continue;
    const profiles = profilesOf(hand, scenario.grid.steps);
    found++;
    yield { hand, scenario, profiles, run: runPlan(planOf(scenario), profiles) };
  }
}

const DRAWING = new Set<number>([State.surplus, State.topped, State.ceiling, State.bridging, State.must, State.atOnce]);

/** The controller knows the car, and the conductors are as it steers. */
const asBelieved = ({ scenario }: Day): boolean =>
  scenario.chargePoints.every(
    ({ charger, vehicle, believes }) =>
      believes.phases === vehicle.phases && charger.wiring.every((phase, i) => phase === charger.wiringAsBuilt[i]),
  );

describe(`laws of any run, on ${DAYS} random days`, () => {
  const broken: Record<string, string[]> = {};
  const holds = (law: string, day: Day, k: number, is: boolean): void => {
    if (is) return;
    broken[law] ??= [];
    broken[law].push(`${JSON.stringify(day.hand.supply)} step ${k}`);
  };
  for (const day of days(DAYS)) {
    const { run, profiles, scenario } = day;
    const { columns, grid, plan } = run;
    const believed = asBelieved(day);
    for (let k = 0; k < grid.steps; k++) {
      const batteryW = columns.batteryW[k]!;
      const carsW = columns.points.reduce((sum, car) => sum + car.powerW[k]!, 0);
      const inW = columns.pvW[k]! + columns.gridImportW[k]! + Math.max(0, -batteryW);
      const outW = columns.loadW[k]! + carsW + Math.max(0, batteryW) + columns.gridExportW[k]! + columns.curtailedW[k]!;
      holds('balance', day, k, Math.abs(inW - outW) < 1e-6);
      const exchanged = [columns.gridImportW[k]!, columns.gridExportW[k]!, columns.curtailedW[k]!];
      holds(
        'nothing negative',
        day,
        k,
        exchanged.every((w) => w >= -1e-9),
      );
      holds('export limit', day, k, columns.gridExportW[k]! <= plan.exportLimitW + 1e-6);
      holds('battery bounds', day, k, columns.batterySoc[k]! >= 0 && columns.batterySoc[k]! <= 1);
      if (scenario.supply.metering === 'net') holds('one way', day, k, Math.min(exchanged[0]!, exchanged[1]!) < 1e-6);

      columns.points.forEach((car, i) => {
        const { rules, car: vehicle } = plan.points[i]!;
        const flows = car.powerW[k]! > 0;
        const currentA = carCurrentA(plan, car, k);
        const isLast = Math.abs(car.soc[k]! * vehicle.capacityWh - vehicle.targetWh) < 1e-6;
        holds('flows in charging states only', day, k, flows === DRAWING.has(car.state[k]!) && flows === car.phases[k]! > 0);
        holds(
          'no current below the minimum',
          day,
          k,
          !flows || isLast || currentA >= Math.min(rules.least.minA, rules.most.minA) - 1e-9,
        );
        holds('three sources', day, k, Math.min(car.pvW[k]!, car.batteryW[k]!, carGridW(car, k)) >= -1e-9);
        holds('car bounds', day, k, car.soc[k]! >= 0 && car.soc[k]! <= 0.8 + 1e-12);
        if (scenario.control.surplusShare === 1) holds('share 1 buys nothing on top', day, k, car.state[k] !== State.topped);
      });

      if (believed) {
        const carsA = [1, 2, 3].map((phase) =>
          columns.points.reduce((sum, car, i) => {
            const terminal = plan.points[i]!.wiringAsBuilt.indexOf(phase);
            return terminal >= 0 && terminal < car.phases[k]! ? sum + carCurrentA(plan, car, k) : sum;
          }, 0),
        );
        carsA.forEach((currentA, p) => {
          const houseA = Math.max(0, profiles.loadByPhaseW[p]![k]! - plan.pvShare[p]! * profiles.pvW[k]!) / plan.voltageV;
          holds('fuse', day, k, currentA === 0 || houseA + currentA <= plan.mainFuseA + 1e-6);
        });
        const spreadA = Math.max(...carsA) - Math.min(...carsA);
        holds('imbalance', day, k, plan.buildingPhases === 1 || spreadA <= plan.imbalanceA + 1e-6);
      }
    }
    const sums = run.ledger.total;
    columns.points.forEach((car, i) => {
      const { capacityWh, startWh } = plan.points[i]!.car;
      const usedWh = run.drives.reduce((total, drive) => total + (drive.point === i ? drive.usedWh : 0), 0);
      const endWh = (car.soc[grid.steps - 1] ?? 0) * capacityWh;
      holds('what was stored', day, 0, Math.abs(startWh + sums.points[i]!.storedWh - usedWh - endWh) < 1e-5);
    });
    const drawnWh = sums.points.reduce((total, point) => total + point.carWh, 0);
    const balanceWh = sums.pvWh + sums.gridImportWh + sums.batteryOutWh - sums.loadWh - drawnWh;
    const leftWh = balanceWh - sums.batteryInWh - sums.gridExportWh - sums.curtailedWh;
    holds('ledger balance', day, 0, Math.abs(leftWh) < 1e-5);
  }

  test.each([
    ['energy balance of every step, to 1e-6 W', 'balance'],
    ['nothing negative at the meter', 'nothing negative'],
    ['a meter for the sum never counts both ways in one step', 'one way'],
    ['export stays below its limit', 'export limit'],
    ['the home battery stays in its bounds', 'battery bounds'],
    ['the car stays in its bounds', 'car bounds'],
    ['power flows in the charging states only', 'flows in charging states only'],
    ['no current between 0 and the minimum but in the last step before full', 'no current below the minimum'],
    ['PV, battery and grid add up to what the car draws', 'three sources'],
    ['at share 1 surplus that reaches the threshold is never exceeded', 'share 1 buys nothing on top'],
    ['wired as believed, cars never take a phase over its fuse (the house alone may)', 'fuse'],
    ['wired as believed, cars keep the imbalance limit', 'imbalance'],
    ['what was stored is what was charged less what was driven', 'what was stored'],
    ['the ledger balances', 'ledger balance'],
  ])('%s', (_, law) => {
    expect(broken[law]?.slice(0, 3) ?? []).toEqual([]);
  });

  test('no law but these was broken', () => expect(Object.keys(broken)).toEqual([]));
});

test('recording on or off gives bit-equal results', () => {
  /** A list that keeps nothing. */
  const nowhere = <T>(): T[] => Object.assign([], { push: () => 0 });
  for (const { run } of days(casesOf(300))) {
    const columns = freshColumns(run.plan, run.profiles);
    const log = runLoop(run.plan, run.profiles, columns, { stepS: run.grid.stepS, events: nowhere(), drives: nowhere() });
    expect(log.events).toHaveLength(0);
    expect({ ...columnsOf(run.plan, columns) }).toEqual({ ...run.columns });
  }
});

test('events and states tell the same story', () => {
  for (const { run } of days(casesOf(500))) {
    for (const event of run.events) {
      const code = run.columns.points[event.point]!.state[event.step]!;
      if (event.event === 'stall') expect([State.resting, State.short, State.gaveUp]).toContain(code);
      if (event.event === 'switch') expect(code).toBe(State.switching);
      if (event.event === 'full') expect(code).toBe(State.full);
      if (event.event === 'hold') expect(stateName(code)).toMatch(/^held-/);
      if (event.event === 'leave' && event.reason === 'away') expect(code).toBe(State.away);
    }
  }
});

const watts = (runs: Runs, factor: number): Runs => runs.map(([steps, w]) => [steps, w * factor] as const);

test('fixed phases, no battery, no delays, never full: more sun never gives the car less PV energy', () => {
  const plainly = (hand: HandCase): HandCase => ({
    ...hand,
    battery: undefined as never,
    more: [],
    charger: { ...hand.charger, phases: hand.charger?.phases === 3 ? 3 : 1, checksPhases: false },
    vehicle: { ...hand.vehicle, batteryKWh: 1e6, startLagS: 0, givesUpAfter: null },
    believes: {},
    needs: {},
    smoothingS: 0,
    control: {
      ...hand.control,
      seesCurtailedPv: true,
      startDelayS: 0,
      stopDelayS: 0,
      switchUpDelayS: 0,
      switchDownDelayS: 0,
      switchPauseS: 0,
      restartPauseS: 0,
    },
  });
  for (const { hand, run } of days(casesOf(1000), plainly)) {
    const sunnier = runHand({ ...hand, pv: watts(hand.pv, 1.3) });
    expect(sunnier.ledger.total.points[0]!.carPvWh).toBeGreaterThanOrEqual(run.ledger.total.points[0]!.carPvWh - 1e-6);
  }
});

test('with delays more sun can give the car less PV energy', () => {
  // The brighter day reaches the threshold a moment earlier, starts just before the cloud, stalls, and rests through the sun that follows.
  const day = (firstW: number): HandCase => ({
    charger: { phases: 1 },
    control: { restartPauseS: 900 },
    reserveW: 0,
    pv: [
      [4, firstW],
      [5, 0],
      [7, 3000],
      [10, 0],
    ],
  });
  const dull = runHand(day(1300)).ledger.total.points[0]!;
  const bright = runHand(day(1400)).ledger.total.points[0]!;
  expect(dull.carPvWh).toBeGreaterThan(0);
  expect(bright.carPvWh).toBeLessThan(dull.carPvWh);
});

/** The same building with its phases called by other names. */
function renamed(hand: HandCase, to: readonly [number, number, number]): HandCase {
  const name = (phase: number): number => to[phase - 1]!;
  const names = (phases: readonly number[] | undefined): number[] | undefined => phases?.map(name);
  const point = (one: HandCase | NonNullable<HandCase['more']>[number]) => ({
    ...one,
    ...(one.wiring === undefined ? {} : { wiring: names(one.wiring)! }),
    charger: {
      ...one.charger,
      ...(one.charger?.wiringAsBuilt === undefined ? {} : { wiringAsBuilt: names(one.charger.wiringAsBuilt)! }),
    },
  });
  const house = hand.houseByPhase!;
  return {
    ...hand,
    ...point(hand),
    more: (hand.more ?? []).map(point),
    pvPhases: names(hand.pvPhases)!,
    ...(hand.battery === undefined ? {} : { battery: { ...hand.battery, phases: names(hand.battery.phases)! } }),
    houseByPhase: [1, 2, 3].map((phase) => house[to.indexOf(phase)]!),
  };
}

test('all phases renamed gives the same result renamed', () => {
  const to = [3, 1, 2] as const;
  for (const { hand, scenario, run } of days(casesOf(300))) {
    if (scenario.supply.phases === 1) continue;
    const other = runHand(renamed(hand, [...to]));
    for (const [i, car] of run.columns.points.entries()) {
      expect(other.columns.points[i]!.state).toEqual(car.state);
      const gapW = car.powerW.reduce((worst, w, k) => Math.max(worst, Math.abs(w - other.columns.points[i]!.powerW[k]!)), 0);
      expect(gapW).toBeLessThan(1e-6);
    }
    for (const phase of [1, 2, 3] as const) {
      const here = lineCurrentA(run.plan, run.profiles, run.columns, phase);
      const there = lineCurrentA(other.plan, other.profiles, other.columns, to[phase - 1]!);
      expect(here.reduce((worst, a, k) => Math.max(worst, Math.abs(a - there[k]!)), 0)).toBeLessThan(1e-6);
    }
  }
});

test('charged at once there is never less energy in the car at a departure', () => {
  // Where limits come and go, charging at once may be caught in the pause of a phase switch; without them it never is.
  const unlimited = (hand: HandCase): HandCase => ({
    ...hand,
    more: [],
    mainFuseA: 100,
    supply: { ...hand.supply, imbalanceLimitA: null, contractW: null, dimming: null },
    vehicle: { ...hand.vehicle, givesUpAfter: null },
    charger: { ...hand.charger, checksPhases: false },
    control: { ...hand.control, strategy: 'surplus' },
  });
  for (const { hand, run } of days(casesOf(500), unlimited)) {
    const atOnce = runHand({ ...hand, control: { ...hand.control, strategy: 'at-once' } });
    const { stayEnd } = run.plan.points[0]!.presence;
    for (const end of stayEnd) {
      const k = end - 1;
      expect(atOnce.columns.points[0]!.soc[k]!).toBeGreaterThanOrEqual(run.columns.points[0]!.soc[k]! - 1e-9);
    }
  }
});
