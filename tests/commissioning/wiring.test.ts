import { describe, expect, test } from 'vitest';
import { type Checked, chance } from '../../src/base/index.ts';
import {
  evidenceIn,
  madeAlike,
  readWiringLog,
  terminalsOf,
  verdictOn,
  type WiringFinding,
  type WiringLog,
  wiringOf,
  wiringText,
} from '../../src/commissioning/index.ts';
import { planOf, runPlan } from '../../src/simulate/index.ts';
import { type HandCase, profilesOf, scenarioOf } from '../simulate/hand.ts';
import { casesOf } from '../tools/thorough.ts';
import { logged, type MadeLog, randomWiringLog, steppy } from './made-logs.ts';

/** Everything that a finding says must be true: places, doubles, signs. */
function isTrue({ chargers, transformers }: WiringFinding, { truth }: MadeLog): boolean {
  const places = chargers.every(({ terminals, double }, i) => {
    const order = truth.order[i]!;
    const shared = new Set(order).size < order.length;
    if (double !== null && double !== shared) return false;
    return terminals.every((terminal, t) => {
      if (terminal.state === 'known') return terminal.phase === order[t];
      return terminal.state !== 'one-of' || terminal.phases.includes(order[t]!);
    });
  });
  return places && transformers.every((sign, p) => sign === 'not-told' || (sign === 'reversed') === (truth.signs[p] === -1));
}

/** Whether a finding says all that the draws allow: each terminal, but for those that always drew like another one. */
function saysAll(finding: WiringFinding, { log, truth }: MadeLog): boolean {
  const changes = evidenceIn(log).edges.map(({ terminalA }) => madeAlike(terminalA));
  const all = terminalsOf(log);
  return all.every(({ charger, terminal }, i) => {
    const found = finding.chargers[charger]!.terminals[terminal - 1]!;
    if (changes.every((change) => Math.abs(change[i]!) < 4)) return found.state === 'never-drew';
    const alike = all.flatMap((other, j) =>
      changes.every((change) => change[i] === change[j]) ? [truth.order[other.charger]![other.terminal - 1]!] : [],
    );
    const phases = [...new Set(alike)].sort();
    if (phases.length === 1) return found.state === 'known' && found.phase === phases[0];
    return found.state === 'one-of' && found.phases.join() === phases.join();
  });
}

const LOGS = casesOf(2000);
const HOSTILE = casesOf(800);
const ON_AND_OFF = casesOf(600);

describe(`${LOGS} made logs: the product’s own loop, noise, transformers off by 0.5 to 5 %, household steps of up to 3 kW`, () => {
  const counts = { enough: 0, all: 0, known: 0, open: 0, reversed: 0 };
  const wrong: number[] = [];
  for (let seed = 0; seed < LOGS; seed++) {
    const made = randomWiringLog(seed);
    const finding = wiringOf(made.log);
    if (!isTrue(finding, made)) wrong.push(seed);
    counts.reversed += finding.transformers.filter((sign) => sign === 'reversed').length;
    for (const { terminals } of finding.chargers) {
      for (const { state } of terminals) state === 'known' ? counts.known++ : counts.open++;
    }
    if (!finding.enough) continue;
    counts.enough++;
    if (saysAll(finding, made)) counts.all++;
  }
  test('never certain and wrong', () => expect(wrong).toEqual([]));
  test('says all that the draws allow in nine of ten logs that hold enough by the rule', () => {
    console.info(
      `wiring: enough in ${counts.enough} of ${LOGS} logs, all said in ${counts.all} of them; ${counts.known} terminals known`,
    );
    expect(counts.enough).toBeGreaterThan(LOGS / 4);
    expect(counts.all / counts.enough).toBeGreaterThanOrEqual(0.9);
    expect(counts.reversed).toBeGreaterThan(LOGS / 10);
  });
});

test(`${HOSTILE} hostile logs: no delays, batteries that answer, clocks apart, amounts only; never certain and wrong`, () => {
  for (let seed = 0; seed < HOSTILE; seed++) {
    const made = randomWiringLog(seed, true);
    const finding = wiringOf(made.log);
    // A meter that logs amounts has no sign to be right about.
    expect([seed, isTrue(finding, made)]).toEqual([seed, true]);
  }
});

test(`only on and off logged: ${ON_AND_OFF} logs, never certain and wrong about terminal 1, and often told`, () => {
  let known = 0;
  for (let seed = 0; seed < ON_AND_OFF; seed++) {
    const { log, truth } = randomWiringLog(seed);
    const chargers = log.chargers.map((charger) =>
      charger.kind === 'on' ? charger : { kind: 'on' as const, on: charger.terminalsA[0].map((a) => (a > 2 ? 1 : 0)) },
    );
    wiringOf({ ...log, chargers }).chargers.forEach(({ terminals: [first, second, third] }, i) => {
      expect([second?.state, third?.state]).toEqual(['not-told', 'not-told']);
      if (first?.state !== 'known') return;
      known++;
      expect([seed, first.phase]).toEqual([seed, truth.order[i]![0]]);
    });
  }
  expect(known).toBeGreaterThan(ON_AND_OFF / 4);
});

/** A day on which one charger starts on one phase, switches to three, and stops, over and over. */
function plainLog(
  order: readonly number[],
  signs: readonly number[] = [1, 1, 1],
  change: Partial<HandCase> = {},
  onOnly = false,
): WiringLog {
  const draw = chance(7, `plain ${order.join()} ${signs.join()}`);
  const pv: [number, number][] = Array.from(
    { length: 12 },
    () =>
      [
        [30, 3000],
        [30, 9000],
        [20, 0],
      ] as [number, number][],
  ).flat();
  const hand: HandCase = {
    pv,
    control: { startDelayS: 120, stopDelayS: 120, switchUpDelayS: 300, switchDownDelayS: 300, restartPauseS: 60 },
    ...change,
  };
  const scenario = scenarioOf(hand);
  const profiles = profilesOf(hand, scenario.grid.steps);
  const loads = [1, 2, 3].map(() => steppy(draw, scenario.grid.steps, 60, 1)) as [Float64Array, Float64Array, Float64Array];
  const loadW = loads[0].map((w, k) => w + loads[1][k]! + loads[2][k]!);
  const run = runPlan(planOf(scenario), { ...profiles, loadByPhaseW: loads, loadW });
  return logged(run, { order: [order], signs }, draw, onOnly);
}

const statesOf = (finding: WiringFinding): unknown[] =>
  finding.chargers[0]!.terminals.map((t) => (t.state === 'known' ? t.phase : t.state === 'one-of' ? t.phases : t.state));

describe('one and three phases in turn: terminal 1 is told, 2 and 3 are not told apart', () => {
  test.each([[[1, 2, 3]], [[1, 3, 2]], [[2, 1, 3]], [[2, 3, 1]], [[3, 1, 2]], [[3, 2, 1]]])('%j', (order) => {
    const finding = wiringOf(plainLog(order));
    const rest = order.slice(1).sort();
    expect(statesOf(finding)).toEqual([order[0], rest, rest]);
    expect(finding.chargers[0]!.double).toBe(false);
    expect(finding.transformers).toEqual(['upright', 'upright', 'upright']);
    const elsewhere = order[0] === 1 ? [2, 3, 1] : [1, 2, 3];
    expect(verdictOn(finding, [order])).toBe('cannot-tell');
    expect(verdictOn(finding, [elsewhere])).toBe('not-as-expected');
    expect(verdictOn(finding, [order.slice(0, 1)])).toBe('as-expected');
    expect(wiringText(finding, 'cannot-tell', [order]).open.join(' ')).toMatch(
      /a car that draws on two phases, or put a load on single terminals/,
    );
  });
});

describe('a two-phase car behind a switchable charger, then a three-phase one: all three are told', () => {
  test.each([[[1, 2, 3]], [[1, 3, 2]], [[2, 1, 3]], [[2, 3, 1]], [[3, 1, 2]], [[3, 2, 1]]])('%j', (order) => {
    const two = plainLog(order, [1, 1, 1], { vehicle: { phases: 2 } });
    const three = plainLog(order);
    const finding = wiringOf(joined(two, three));
    expect(statesOf(finding)).toEqual(order);
    expect(verdictOn(finding, [order])).toBe('as-expected');
    expect(verdictOn(finding, null)).toBe('as-expected');
    expect(verdictOn(finding, [[order[1]!, order[0]!, order[2]!]])).toBe('not-as-expected');
  });
});

/** One log after another, a gap between. */
function joined(a: WiringLog, b: WiringLog): WiringLog {
  const both = (x: Float64Array, y: Float64Array): Float64Array => Float64Array.from([...x, ...y]);
  const chargers = a.chargers.map((charger, i) => {
    const other = b.chargers[i]!;
    if (charger.kind === 'on' || other.kind === 'on') throw new Error('currents only');
    return {
      ...charger,
      terminalsA: charger.terminalsA.map((c, t) => both(c, other.terminalsA[t]!)) as unknown as typeof charger.terminalsA,
    };
  });
  const rows = a.table.rows + b.table.rows;
  const gapBefore = new Uint8Array(rows);
  gapBefore[a.table.rows] = 1;
  const meterA = a.meterA.map((c, p) => both(c, b.meterA[p]!)) as unknown as WiringLog['meterA'];
  return { ...a, table: { ...a.table, rows, gapBefore, atMs: new Float64Array(rows) }, meterA, chargers };
}

describe('faults', () => {
  test.each([1, 2, 3])('transformer of phase %d reversed', (phase) => {
    const signs = [1, 2, 3].map((p) => (p === phase ? -1 : 1));
    const finding = wiringOf(plainLog([2, 3, 1], signs));
    expect(finding.transformers).toEqual(signs.map((sign) => (sign < 0 ? 'reversed' : 'upright')));
    expect(verdictOn(finding, [[2, 3, 1]])).toBe('not-as-expected');
    const text = wiringText(finding, 'not-as-expected', null);
    expect(text.findings.join(' ')).toMatch(new RegExp(`counts backwards on phase ${phase}`));
    expect(text.look.join(' ')).toMatch(/not which of the two is wrong/);
  });

  test('all reversed: said as a meter that may count export up', () => {
    const finding = wiringOf(plainLog([1, 2, 3], [-1, -1, -1]));
    expect(finding.transformers).toEqual(['reversed', 'reversed', 'reversed']);
    expect(wiringText(finding, 'not-as-expected', null).findings.join(' ')).toMatch(/it may count export up/);
  });

  test.each([[[1, 1, 2]], [[2, 1, 1]], [[3, 2, 2]], [[3, 3, 3]]])('two terminals on one phase: %j', (order) => {
    const finding = wiringOf(plainLog(order));
    expect(finding.chargers[0]!.double).toBe(true);
    expect(statesOf(finding)[0]).toBe(order[0]);
    expect(verdictOn(finding, [[1, 2, 3]])).toBe('not-as-expected');
    expect(wiringText(finding, 'not-as-expected', null).look.join(' ')).toMatch(/neutral may carry more/);
  });

  test('amounts only: no sign is told', () => {
    const log = plainLog([1, 2, 3], [1, 1, 1], { pvPhases: [3] });
    const amounts = { ...log, meterA: log.meterA.map((a) => a.map(Math.abs)) as unknown as WiringLog['meterA'] };
    const finding = wiringOf(amounts);
    expect(finding.amountsOnly).toBe(true);
    expect(finding.transformers).not.toContain('reversed');
    expect(finding.transformers).not.toContain('upright');
  });

  test('a meter that sees half of it: nothing is concluded, and it is said', () => {
    const log = plainLog([1, 2, 3]);
    const half = { ...log, meterA: log.meterA.map((a) => a.map((v) => v / 2)) as unknown as WiringLog['meterA'] };
    const finding = wiringOf(half);
    expect(statesOf(finding).filter((state) => typeof state === 'number')).toEqual([]);
    expect(verdictOn(finding, [[1, 2, 3]])).toBe('cannot-tell');
    expect(wiringText(finding, 'cannot-tell', null).open.join(' ')).toMatch(/sees only part of the current/);
  });

  test('a charger behind another meter: its current does not show', () => {
    const log = plainLog([1, 2, 3]);
    const draw = chance(3, 'elsewhere');
    const meterA = [1, 2, 3].map(() => steppy(draw, log.table.rows, 60, 2).map((w) => w / 230)) as unknown as WiringLog['meterA'];
    const finding = wiringOf({ ...log, meterA });
    expect(statesOf(finding)).not.toContain(1);
    expect(verdictOn(finding, [[1, 2, 3]])).toBe('cannot-tell');
  });

  test('chargers’ clock two rows behind: found, said, taken off', () => {
    const log = plainLog([3, 1, 2]);
    const late = log.chargers.map((charger) =>
      charger.kind === 'on'
        ? charger
        : {
            ...charger,
            terminalsA: charger.terminalsA.map((a) =>
              a.map((_, k) => a[Math.max(0, k - 2)]!),
            ) as unknown as typeof charger.terminalsA,
          },
    );
    const finding = wiringOf({ ...log, chargers: late });
    expect([finding.lagRows, statesOf(finding)[0]]).toEqual([2, 3]);
    expect(wiringText(finding, 'cannot-tell', null).basis).toMatch(/run 2 rows behind/);
  });

  test('nothing ever switched', () => {
    const log = plainLog([1, 2, 3]);
    const idle = log.chargers.map(() => ({ kind: 'on' as const, on: new Float64Array(log.table.rows) }));
    const finding = wiringOf({ ...log, chargers: idle });
    expect(finding.hindrances).toEqual([{ kind: 'no-switching' }]);
    expect(verdictOn(finding, [[1, 2, 3]])).toBe('cannot-tell');
  });
});

describe('logs as loggers write them', () => {
  const log = plainLog([2, 3, 1]);
  const HEAD = 'time,meter_l1_a,meter_l2_a,meter_l3_a,charger_l1_a,charger_l2_a,charger_l3_a';
  const START = Date.UTC(2025, 5, 12, 8);
  const rows = Array.from({ length: log.table.rows }, (_, k) => {
    const charger = log.chargers[0]!;
    const terminals = charger.kind === 'currents' ? charger.terminalsA.map((a) => a[k]!) : [];
    return [stamp(START + k * 60_000), ...[...log.meterA.map((a) => a[k]!), ...terminals].map((a) => a.toFixed(2))];
  });
  const csv = (lines: readonly (readonly string[])[], head = HEAD): string =>
    [head, ...lines.map((cells) => cells.join(','))].join('\n');
  const clean = statesOf(wiringOf(checkedValue(readWiringLog(csv(rows), 'log.csv'))));

  test('clean: as it was made', () => expect(clean).toEqual([2, [1, 3], [1, 3]]));

  test.each<[string, string, string]>([
    ['semicolons and decimal commas', csv(rows).replaceAll(',', ';').replaceAll('.', ','), 'csv-separators'],
    ['tabs', csv(rows).replaceAll(',', '\t'), 'csv-separators'],
    ['from the last row to the first', csv([...rows].reverse()), 'log-reversed'],
    ['rows twice', csv(rows.flatMap((row, i) => (i % 50 === 0 ? [row, row] : [row]))), 'log-rows-twice'],
    ['two halves in the wrong order', csv([...rows.slice(400), ...rows.slice(0, 400)]), 'log-sorted'],
    ['an hour missing', csv(rows.filter((_, i) => i < 300 || i >= 360)), 'log-gaps'],
    [
      'the clock put forward by a day',
      csv(rows.map((row, k) => (k < 500 ? row : [stamp(START + k * 60_000 + 86_400_000), ...row.slice(1)]))),
      'log-gaps',
    ],
    [
      'the hour that autumn repeats',
      csv(rows.map((row, k) => [stamp(START + (k < 480 ? k : k - 60) * 60_000).replace('Z', ''), ...row.slice(1)])),
      'log-hour-twice',
    ],
    ['times without offset', csv(rows.map(([time = '', ...cells]) => [time.replace('Z', ''), ...cells])), 'log-no-offset'],
    [
      'columns that are not read',
      csv(
        rows.map((row) => [...row, '1']),
        `${HEAD},humidity`,
      ),
      'csv-columns-unread',
    ],
    [
      'a terminal that counts down',
      csv(rows.map((row) => row.map((cell, c) => (c === 4 ? String(-Number(cell)) : cell)))),
      'log-terminal-negative',
    ],
    [
      'an offset by day that is gone by night',
      csv(rows.map((row, k) => row.map((cell, c) => (c > 0 && k < 500 ? (Number(cell) + 0.4).toFixed(2) : cell)))),
      '',
    ],
  ])('%s: repaired and reported, the answer is the same', (_, text, code) => {
    const read = readWiringLog(text, 'log.csv');
    expect(statesOf(wiringOf(checkedValue(read)))).toEqual(clean);
    const codes = read.ok ? read.warnings.map((issue) => issue.code) : [];
    if (code !== '') expect(codes).toContain(code);
    else expect(codes).toEqual([]);
  });

  test.each<[string, string, string]>([
    ['empty', '', 'csv-empty'],
    ['no header', csv(rows).split('\n').slice(1).join('\n'), 'log-no-header'],
    ['pipes', csv(rows).replaceAll(',', '|'), 'csv-column-missing'],
    [
      'no column of the meter',
      csv(
        rows.map((row) => row.filter((__, c) => c !== 2)),
        HEAD.replace('meter_l2_a,', ''),
      ),
      'log-columns',
    ],
    [
      'a terminal left out',
      csv(
        rows.map((row) => row.slice(0, 6)),
        HEAD.replace(',charger_l3_a', ''),
      ),
      'log-columns',
    ],
    ['decimal commas between commas', csv(rows).replaceAll('.', ','), 'csv-cells'],
    ['words among numbers', csv(rows.map((row, k) => (k === 7 ? [...row.slice(0, 6), 'n/a'] : row))), 'csv-not-a-number'],
    ['codes for missing values', csv(rows.map((row, k) => (k === 7 ? [...row.slice(0, 6), '65535'] : row))), 'csv-out-of-range'],
    [
      'the clock put back by seven minutes',
      csv(rows.map((row, k) => (k < 500 ? row : [stamp(START + (k - 7) * 60_000), ...row.slice(1)]))),
      'log-time-twice',
    ],
    [
      'the clock put back by 37 seconds',
      csv(rows.map((row, k) => (k < 500 ? row : [stamp(START + k * 60_000 - 97_000), ...row.slice(1)]))),
      'log-uneven',
    ],
    ['every five minutes', csv(rows.filter((__, k) => k % 5 === 0)), 'log-too-coarse'],
    ['three rows', csv(rows.slice(0, 3)), 'log-too-short'],
    [
      'times of two kinds',
      csv(rows.map((row, k) => (k % 2 === 0 ? row : [row[0]!.replace('Z', ''), ...row.slice(1)]))),
      'log-offsets-mixed',
    ],
  ])('%s: refused with a reason', (_, text, code) => {
    const read = readWiringLog(text, 'log.csv');
    expect(read.ok ? [] : read.issues.map((issue) => issue.code)).toContain(code);
  });
});

const stamp = (ms: number): string => new Date(ms).toISOString().replace('.000', '');

function checkedValue<T>(checked: Checked<T>): T {
  if (!checked.ok) throw new Error(checked.issues.map((issue) => `${issue.code}: ${issue.problem}`).join('; '));
  return checked.value;
}
