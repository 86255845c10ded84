import { describe, expect, test } from 'vitest';
import type { Checked } from '../../src/base/index.ts';
import {
  type Estimate,
  evidenceIn,
  madeAlike,
  readRunLog,
  readWiringLog,
  runFindings,
  type Setting,
  terminalsOf,
  verdictOn,
  wiringOf,
} from '../../src/commissioning/index.ts';
import { wholeRunLog, wholeWiringLog } from './whole-logs.ts';

const RUNS = 180;
const WIRINGS = 120;

function checkedOf<T>(checked: Checked<T>): T {
  if (!checked.ok) throw new Error(checked.issues.map(({ problem }) => problem).join('; '));
  return checked.value;
}

describe(`${RUNS} whole systems, logged for days and read back`, () => {
  const counts = new Map<Setting, { told: number; wrong: string[]; enough: number; toldOfEnough: number }>();
  const wrongElsewhere: string[] = [];
  for (let seed = 0; seed < RUNS; seed++) {
    const made = wholeRunLog(seed);
    const log = checkedOf(readRunLog(made.csv, 'made.csv', 230));
    const { reserveW } = made;
    const found = runFindings(log, { reserveW, reserveRangeW: [reserveW, reserveW], smoothingS: null });
    const check = (setting: Setting, estimate: Estimate, truth: number, tolerance: number): void => {
      const count = counts.get(setting) ?? { told: 0, wrong: [], enough: 0, toldOfEnough: 0 };
      counts.set(setting, count);
      if (found.enough[setting]) count.enough++;
      if (!estimate.known) return;
      count.told++;
      if (found.enough[setting]) count.toldOfEnough++;
      if (Math.abs(estimate.value - truth) > tolerance + 1e-9) count.wrong.push(`${seed}: ${estimate.value} for ${truth}`);
    };
    const { least, most, switches } = made.run.plan.points[0]!.rules;
    const lagS = found.startIncludesLag ? made.lagS : 0;
    for (const { n, minA } of new Set([least, most])) {
      const estimate = found.current.minCurrentA[n - 1]!;
      // The rule for the least current is about the fewest phases seen.
      if (n === found.current.phases[0]) check('leastCurrent', estimate, minA, 0.5);
      else if (estimate.known && Math.abs(estimate.value - minA) > 0.5) wrongElsewhere.push(`${seed}: ${estimate.value} A`);
    }
    for (const n of found.current.phases) if (n !== least.n && n !== most.n) wrongElsewhere.push(`${seed}: ${n} phases`);
    check('step', found.current.stepA, made.currentStepA, 0.01);
    check('share', found.surplusShare, made.surplusShare, 0.05);
    check('startDelay', found.startDelayS, made.startDelayS + lagS, made.stepS);
    check('stopDelay', found.stopDelayS, made.stopDelayS, made.stepS);
    check('lag', found.lagS, made.lagS, made.stepS);
    if (switches) {
      check('switchUp', found.switchUpDelayS, made.switchUpDelayS, made.stepS);
      check('switchDown', found.switchDownDelayS, made.switchDownDelayS, made.stepS);
    }
    if (seed % 3 > 0) continue;
    const unsure = runFindings(log, { reserveW: 50, reserveRangeW: [0, 200], smoothingS: null }).surplusShare;
    if (unsure.known && Math.abs(unsure.value - made.surplusShare) > 0.05 + 1e-9) wrongElsewhere.push(`${seed}: ${unsure.value}`);
  }

  test.each([...counts.keys()])('%s: what is told is true', (setting) => {
    const { told, wrong, enough, toldOfEnough } = counts.get(setting)!;
    console.info(`log, ${setting}: told ${told} times, ${toldOfEnough} of ${enough} that hold enough`);
    expect(wrong).toEqual([]);
    expect(told).toBeGreaterThan(10);
  });

  test.each<[Setting, number]>([
    ['leastCurrent', 0.9],
    ['share', 0.9],
    ['startDelay', 0.9],
    ['stopDelay', 0.9],
    ['switchUp', 0.85],
    ['switchDown', 0.75],
    ['lag', 0.9],
    // What noise does to a step of 0.1 A no count of rows foresees.
    ['step', 0.6],
  ])('%s: of the logs that hold enough by the rule, this part is told: %d', (setting, share) => {
    const { enough, toldOfEnough } = counts.get(setting)!;
    expect(enough).toBeGreaterThan(10);
    // The part is one of all logs; that of so few may fall short of it by a standard error.
    const standardError = Math.sqrt((share * (1 - share)) / enough);
    expect(toldOfEnough / enough).toBeGreaterThanOrEqual(share - standardError);
  });

  test('phases, least currents on more phases, and a share with a reserve that nobody knows: never wrong', () => {
    expect(wrongElsewhere).toEqual([]);
  });
});

describe(`${WIRINGS} whole households, currents logged for a day`, () => {
  const counts = { enough: 0, all: 0, known: 0, hindered: 0 };
  const wrong: string[] = [];
  for (let seed = 0; seed < WIRINGS; seed++) {
    const { csv, order, signs } = wholeWiringLog(seed);
    const log = checkedOf(readWiringLog(csv, 'made.csv'));
    const found = wiringOf(log);
    found.chargers.forEach(({ terminals, double }, i) => {
      if (double !== null && double !== new Set(order[i]).size < 3) wrong.push(`${seed}: double`);
      terminals.forEach((terminal, t) => {
        if (terminal.state === 'known') counts.known++;
        if (terminal.state === 'known' && terminal.phase !== order[i]![t]) wrong.push(`${seed}: ${terminal.phase}`);
        if (terminal.state === 'one-of' && !terminal.phases.includes(order[i]![t]!)) wrong.push(`${seed}: ${terminal.phases}`);
      });
    });
    found.transformers.forEach((sign, p) => {
      if (sign !== 'not-told' && (sign === 'reversed') !== signs[p]! < 0) wrong.push(`${seed}: sign ${p + 1}`);
    });
    const sound = !signs.includes(-1) && order.every((phases) => new Set(phases).size === 3);
    if (sound && verdictOn(found, order) === 'not-as-expected') wrong.push(`${seed}: verdict`);
    if (!found.enough) continue;
    counts.enough++;
    if (found.hindrances.length > 0) counts.hindered++;
    const changes = evidenceIn(log).edges.map(({ terminalA }) => madeAlike(terminalA));
    const all = terminalsOf(log);
    const saysAll = all.every(({ charger, terminal }, i) => {
      const { state } = found.chargers[charger]!.terminals[terminal - 1]!;
      if (changes.every((change) => Math.abs(change[i]!) < 4)) return state === 'never-drew';
      const alike = all.some(
        (other, j) =>
          changes.every((change) => change[i] === change[j]) &&
          order[other.charger]![other.terminal - 1] !== order[charger]![terminal - 1],
      );
      return state === (alike ? 'one-of' : 'known');
    });
    if (saysAll) counts.all++;
  }
  test('never certain and wrong', () => expect(wrong).toEqual([]));
  test('says all that the draws allow in nine of ten logs that hold enough and where nothing answers the car', () => {
    console.info(`wiring, whole households: ${JSON.stringify(counts)}`);
    expect(counts.enough - counts.hindered).toBeGreaterThan(20);
    expect(counts.all / (counts.enough - counts.hindered)).toBeGreaterThanOrEqual(0.9);
  });
});
