import { describe, expect, test } from 'vitest';
import { chance } from '../../src/base/index.ts';
import { wholeSteps } from '../../src/charging/index.ts';
import {
  CAUSE_TEXT,
  type DepartureKind,
  departureGroups,
  departuresFrom,
  departureText,
  type Estimate,
  findingLines,
  type RunLog,
  revealsOf,
  runFindings,
} from '../../src/commissioning/index.ts';
import { planOf, runPlan } from '../../src/simulate/index.ts';
import { type HandCase, profilesOf, scenarioOf } from '../simulate/hand.ts';
import { casesOf } from '../tools/thorough.ts';
import { loggedRun, type MadeRun, randomRunLog } from './made-run.ts';

/** What is told of a system must be true: the value to within `tolerance`, and the truth within the interval, with a hair for noise. */
interface Told {
  readonly name: string;
  readonly told: number;
  readonly wrong: readonly string[];
  readonly untold: number;
}

function check(
  name: string,
  systems: readonly MadeRun[],
  of: (made: MadeRun) => { estimate: Estimate; truth: number; tolerance: number }[],
): Told {
  const wrong: string[] = [];
  let told = 0;
  let untold = 0;
  systems.forEach((made, seed) => {
    for (const { estimate, truth, tolerance } of of(made)) {
      if (!estimate.known) untold++;
      else {
        told++;
        if (Math.abs(estimate.value - truth) > tolerance + 1e-9) wrong.push(`${seed}: ${estimate.value} for ${truth}`);
      }
    }
  });
  return { name, told, untold, wrong };
}

const SYSTEMS = casesOf(500);

describe(`${SYSTEMS} made systems: what is told is true, and the rest is said to be untold`, () => {
  const systems = Array.from({ length: SYSTEMS }, (_, seed) => randomRunLog(seed));
  const found = systems.map(({ log }) => runFindings(log, { reserveW: 50, reserveRangeW: [50, 50], smoothingS: null }));
  const findingsOf = (made: MadeRun) => found[systems.indexOf(made)]!;
  const stepped = (made: MadeRun, delayS: number): number =>
    wholeSteps(delayS, made.log.table.intervalS) * made.log.table.intervalS;
  const lagS = (made: MadeRun): number => stepped(made, made.hand.vehicle!.startLagS!);
  const delay =
    (key: 'startDelayS' | 'stopDelayS' | 'switchUpDelayS' | 'switchDownDelayS' | 'lagS', withLag = false) =>
    (made: MadeRun) => {
      const findings = findingsOf(made);
      const set = key === 'lagS' ? made.hand.vehicle!.startLagS! : made.hand.control![key]!;
      const lag = withLag && findings.startIncludesLag ? lagS(made) : 0;
      return [{ estimate: findings[key], truth: stepped(made, set) + lag, tolerance: made.log.table.intervalS }];
    };

  test.each([
    check('least current', systems, (made) => {
      const { least, most } = made.run.plan.points[0]!.rules;
      const { current } = findingsOf(made);
      return [...new Set([least, most])].flatMap(({ n, minA }) =>
        current.phases.includes(n) ? [{ estimate: current.minCurrentA[n - 1]!, truth: minA, tolerance: 0.5 }] : [],
      );
    }),
    check('step', systems, (made) => [
      { estimate: findingsOf(made).current.stepA, truth: made.hand.charger!.currentStepA!, tolerance: 0.01 },
    ]),
    check('share', systems, (made) => [
      { estimate: findingsOf(made).surplusShare, truth: made.hand.control!.surplusShare!, tolerance: 0.05 },
    ]),
    check('start delay', systems, delay('startDelayS', true)),
    check('stop delay', systems, delay('stopDelayS')),
    check('delay up', systems, delay('switchUpDelayS')),
    check('delay down', systems, delay('switchDownDelayS')),
    check('lag', systems, delay('lagS')),
  ])('$name: told $told times, untold $untold', ({ wrong, told }) => {
    expect(wrong).toEqual([]);
    expect(told).toBeGreaterThan(SYSTEMS / 50);
  });

  test('a phase that is seen is one that the car has', () => {
    for (const made of systems) {
      const { least, most } = made.run.plan.points[0]!.rules;
      for (const n of findingsOf(made).current.phases) expect([least.n, most.n]).toContain(n);
    }
  });

  test('a system held against its own settings departs from the law in fewer than one event in a hundred', () => {
    let departures = 0;
    let events = 0;
    for (const made of systems.slice(0, 200)) {
      const findings = findingsOf(made);
      const assumed = { reserveW: 50, reserveRangeW: [50, 50], smoothingS: made.hand.smoothingS! } as const;
      const found = departuresFrom(made.log, made.run.plan.points[0]!.rules, assumed, findings);
      departures += found.filter(({ kind }) => kind !== 'oscillates').length;
      events += findings.starts + findings.stops + findings.switches;
    }
    console.info(`log: ${departures} of ${events} events taken for departures`);
    expect(departures / events).toBeLessThan(0.01);
  });
});

/** Sun and cloud in turn, two hours of each kind, with a noise that is the same every time. */
const SUNS: readonly (readonly [number, number])[] = Array.from({ length: 10 }, (_, i) => [
  [25, 2600 + 60 * i],
  [25, 7000 + 100 * i],
  [20, 300],
]).flat() as [number, number][];

/** A log of a system and the rules of a scenario that it should have followed. */
function against(
  real: Partial<HandCase>,
  scenario: Partial<HandCase>,
): { log: RunLog; kinds: DepartureKind[]; first: (kind: DepartureKind) => string } {
  const draw = chance(5, 'against');
  const hand: HandCase = { pv: SUNS, ...real };
  const profiles = profilesOf(hand, 700);
  const run = runPlan(planOf(scenarioOf(hand)), profiles);
  const log = loggedRun(run, 'all', (deviation) => deviation * draw.normal());
  const rules = planOf(scenarioOf({ pv: SUNS, ...scenario })).points[0]!.rules;
  const assumed = { reserveW: 50, reserveRangeW: [50, 50], smoothingS: 0 } as const;
  const findings = runFindings(log, assumed);
  const departures = departuresFrom(log, rules, assumed, findings);
  const first = (kind: DepartureKind): string => departures.find((one) => one.kind === kind)?.causes[0] ?? 'none';
  expect(findingLines(findings, rules, 60).length).toBeGreaterThan(8);
  for (const one of departures) {
    expect(departureText(one)).toMatch(/surplus was -?\d+ W, the threshold \d+ W/);
    for (const cause of one.causes) expect(CAUSE_TEXT[cause]).not.toBe('');
  }
  expect(departureGroups(departures).reduce((sum, { count }) => sum + count, 0)).toBe(departures.length);
  return { log, kinds: [...new Set(departures.map(({ kind }) => kind))], first };
}

describe('departures, the likeliest cause first', () => {
  test('none where the settings are the same', () => expect(against({}, {}).kinds).toEqual([]));

  test('starts too late: a longer start delay', () => {
    const { kinds, first } = against({ control: { startDelayS: 600 } }, {});
    expect(kinds).toContain('started-late');
    expect(first('started-late')).toBe('start-delay-longer');
  });

  test('a surplus far above any threshold did not wait for one', () => {
    const { first } = against({ control: { startDelayS: 600 }, vehicle: { minCurrentA: [8, 8, 8] } }, {});
    expect(first('started-late')).toBe('start-delay-longer');
  });

  test('starts too early: a shorter start delay', () => {
    const { kinds, first } = against({ control: { startDelayS: 60 } }, { control: { startDelayS: 600 } });
    expect(kinds).toContain('started-early');
    expect(first('started-early')).toBe('start-delay-shorter');
  });

  test('stalls too early: a shorter stop delay', () => {
    const { kinds, first } = against({ control: { stopDelayS: 60 } }, { control: { stopDelayS: 600 } });
    expect(kinds).toContain('stalled-early');
    expect(first('stalled-early')).toBe('stop-delay-shorter');
  });

  test('stalls too late: a longer stop delay', () => {
    const { kinds, first } = against({ control: { stopDelayS: 720 } }, { control: { stopDelayS: 60 } });
    expect(kinds).toContain('stalled-late');
    expect(first('stalled-late')).toBe('stop-delay-longer');
  });

  test('never goes to more phases: fixed to one', () => {
    const { kinds, first } = against({ charger: { phases: 1 } }, {});
    expect(kinds).toContain('no-switch-up');
    expect(first('no-switch-up')).toBe('fixed-phases');
  });

  test('draws on other phases than it can: another car', () => {
    const { kinds, first } = against({ charger: { phases: 3 } }, { charger: { phases: 1 } });
    expect(kinds).toContain('other-phases');
    expect(first('other-phases')).toBe('vehicle-phases');
  });

  test('does not start in a weak sun: the car needs more', () => {
    const weak = Array.from({ length: 12 }, (_, i) => [
      [20 + ((7 * i) % 23), 1700 + 30 * (i % 5)],
      [25 + ((5 * i) % 17), 2700 + 40 * i],
      [15 + (i % 4), 200],
    ]).flat() as [number, number][];
    const hand: HandCase = { pv: weak, charger: { phases: 1 }, vehicle: { minCurrentA: [10, 10, 10] } };
    const run = runPlan(planOf(scenarioOf(hand)), profilesOf(hand, scenarioOf(hand).grid.steps));
    const draw = chance(6, 'weak');
    const log = loggedRun(run, 'all', (deviation) => deviation * draw.normal());
    const assumed = { reserveW: 50, reserveRangeW: [50, 50], smoothingS: 0 } as const;
    const rules = planOf(scenarioOf({ pv: weak, charger: { phases: 1 } })).points[0]!.rules;
    const late = departuresFrom(log, rules, assumed, runFindings(log, assumed)).filter(({ kind }) => kind === 'started-late');
    expect(late.length).toBeGreaterThan(3);
    expect(late[0]!.causes[0]).toBe('minimum-higher');
  });

  test('on and off in short time', () => {
    const flicker: readonly (readonly [number, number])[] = Array.from({ length: 60 }, () => [
      [3, 3000],
      [2, 0],
    ]).flat() as [number, number][];
    const quick = { startDelayS: 0, stopDelayS: 0, restartPauseS: 0 };
    const hand: HandCase = { pv: flicker, charger: { phases: 1 }, vehicle: { startLagS: 0 }, control: quick };
    const run = runPlan(planOf(scenarioOf(hand)), profilesOf(hand, 300));
    const log = loggedRun(run, 'all', () => 0);
    const assumed = { reserveW: 50, reserveRangeW: [50, 50], smoothingS: 0 } as const;
    const rules = planOf(scenarioOf({ pv: flicker, charger: { phases: 1 } })).points[0]!.rules;
    expect(departuresFrom(log, rules, assumed, runFindings(log, assumed)).map(({ kind }) => kind)).toContain('oscillates');
  });
});

describe('what only looks like a setting', () => {
  const hand: HandCase = { pv: SUNS, charger: { phases: 1, currentStepA: 0.1 } };
  const run = runPlan(planOf(scenarioOf(hand)), profilesOf(hand, 700));
  const assumed = { reserveW: 50, reserveRangeW: [50, 50], smoothingS: 0 } as const;
  const made = loggedRun(run, 'all', () => 0);

  test('a current set by hand to 12 A, sun or none, is no least current', () => {
    const byHand = made.currentA!.map((a) => (a > 0 ? 12 : 0));
    const { current } = runFindings({ ...made, currentA: byHand }, assumed);
    expect(current.minCurrentA[0]).toMatchObject({ known: false, why: 'only-at-most' });
  });

  test('six amperes are the least that there is, whether the surplus shows it or not', () => {
    const { current } = runFindings({ ...made, currentA: made.currentA!.map((a) => (a > 0 ? 6.1 : 0)) }, assumed);
    expect(current.minCurrentA[0]).toMatchObject({ known: true, value: 6.1 });
  });

  test('currents written to tenths show no step of a tenth', () => {
    const draw = chance(4, 'tenths');
    const drifting = made.currentA!.map((a) => (a > 0 ? Math.round(10 * (6.5 + 9 * draw.uniform())) / 10 : 0));
    const { current } = runFindings({ ...made, currentA: drifting, offeredA: null }, assumed);
    expect(current.stepA.known).toBe(false);
  });
});

describe('logs that say little', () => {
  test('each setting that is not told says what would tell it, once', () => {
    const { log: little } = randomRunLog(3);
    const lines = findingLines(runFindings(little, { reserveW: 50, reserveRangeW: [0, 200], smoothingS: null }), null, 60);
    for (const { found, reveals } of lines) expect(/cannot tell|more closely|not show/.test(found)).toBe(reveals !== '');
    expect(new Set(revealsOf(lines)).size).toBe(revealsOf(lines).length);
    expect(lines.map(({ name }) => name)).toContain('Surplus share (with a reserve of 0 to 200 W)');
  });

  const { log } = randomRunLog(3);
  const empty = new Float64Array(log.table.rows);
  test('no surplus: thresholds and delays untold, currents told', () => {
    const findings = runFindings({ ...log, surplusW: null }, { reserveW: 50, reserveRangeW: [50, 50], smoothingS: null });
    expect(findings.thresholdW).toEqual({ known: false, why: 'no-surplus' });
    expect(findings.startDelayS.known).toBe(false);
    expect(() =>
      departuresFrom(
        { ...log, surplusW: null },
        planOf(scenarioOf({ pv: SUNS })).points[0]!.rules,
        { reserveW: 50, reserveRangeW: [50, 50], smoothingS: 0 },
        findings,
      ),
    ).toThrow(RangeError);
  });
  test('a car that never charged: nothing told', () => {
    const findings = runFindings(
      { ...log, carW: empty, currentA: empty, phases: new Uint8Array(log.table.rows) },
      { reserveW: 50, reserveRangeW: [50, 50], smoothingS: null },
    );
    expect(findings.current.phases).toEqual([]);
    expect([findings.thresholdW, findings.stopDelayS].map((one) => (one.known ? 'known' : one.why))).toEqual([
      'no-charging',
      'no-charging',
    ]);
  });
});
