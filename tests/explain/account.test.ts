import { describe, expect, test } from 'vitest';
import { accountOf, EN, explained, stepSentence, tellingsOf } from '../../src/explain/index.ts';
import { type HandCase, type Runs, runHand } from '../simulate/hand.ts';

const ONE: HandCase = { charger: { phases: 1 }, vehicle: { phases: 1 }, pv: [] };

/** What is told of a run, in short: "short 0-30", "start 13". */
function told(hand: HandCase, from = 0, to?: number): string[] {
  const run = runHand(hand);
  return tellingsOf(explained(run), 0, from, to ?? run.grid.steps).map(({ kind, facts }) =>
    kind === 'event'
      ? `${facts.event} ${facts.step}`
      : kind === 'stretch'
        ? `${facts.state} ${facts.fromStep}-${facts.toStep}`
        : kind,
  );
}
const kinds = (pv: Runs, rest: Partial<HandCase> = {}): string[] => {
  const run = runHand({ ...ONE, ...rest, pv });
  return accountOf(explained(run), 0, run.grid.steps, EN).map(({ name }) => name);
};
const times = (count: number, ...runs: [number, number][]): [number, number][] =>
  Array.from({ length: count }, () => runs).flat();

describe('what is worth telling', () => {
  const away = (minutes: number, watts: number) => told({ pv: [[minutes, watts]], stays: [] });

  test('an absence from 20 minutes and 300 Wh of surplus on', () => {
    expect(away(19, 3000)).toEqual([]);
    expect(away(20, 3000)).toEqual(['away 0-20']);
    expect(away(20, 900)).toEqual(['away 0-20']);
    expect(away(20, 890)).toEqual([]);
  });

  test('a full car by the same measure', () => {
    const full = (minutes: number) => told({ pv: [[minutes, 3000]], vehicle: { startSoc: 0.9 } });
    expect(full(19)).toEqual(['plug-in 0', 'full 0']);
    expect(full(20)).toEqual(['plug-in 0', 'full 0', 'full 0-20']);
    expect(told({ pv: [[20, 890]], vehicle: { startSoc: 0.9 } })).toEqual(['plug-in 0', 'full 0']);
  });

  test('of what waits or is not there, only the hours of daylight', () => {
    const day: Runs = [
      [60, 0],
      [60, 3000],
      [60, 0],
    ];
    expect(told({ pv: day, stays: [] })).toEqual(['away 60-120']);
    expect(told({ pv: day.map(([count, w]) => [count, w / 10] as const) })).toEqual(['plug-in 0', 'short 60-120']);
    expect(told({ pv: day, stays: [] }, 70, 110)).toEqual(['away 70-110']);
    expect(told({ pv: day, vehicle: { startSoc: 0.9 } })).toEqual(['plug-in 0', 'full 0', 'full 60-120']);
    // An hour of night is one step long here, and nothing is missed in it.
    expect(told({ ...ONE, stepS: 3600, pv: [[5, 0]] })).toEqual(['plug-in 0']);
    // At once it charges by night too, and that is told.
    expect(told({ ...ONE, pv: [[60, 0]], control: { strategy: 'at-once' } })).toEqual(['plug-in 0', 'start 0', 'at-once 1-60']);
  });

  test('too little surplus from half an hour of daylight on', () => {
    expect(told({ ...ONE, pv: [[29, 500]] })).toEqual(['plug-in 0']);
    expect(told({ ...ONE, pv: [[30, 500]] })).toEqual(['plug-in 0', 'short 0-30']);
    expect(told({ ...ONE, pv: [[60, 0]] })).toEqual(['plug-in 0']);
  });

  test('waits and pauses from ten minutes on', () => {
    const waits = (s: number) => {
      const control = { startDelayS: s, restartPauseS: s, switchUpDelayS: 0, switchPauseS: s };
      const vehicle = { ...ONE.vehicle, startLagS: s };
      const rest = told({
        ...ONE,
        vehicle,
        control,
        pv: [
          [30, 3000],
          [60, 0],
        ],
      });
      const pause = told({
        control,
        pv: [
          [15, 2000],
          [60, 9000],
        ],
      });
      return [...rest, ...pause]
        .filter((text) => /^(proving|waking|resting|switching)/.test(text))
        .map((text) => text.split(' ')[0]);
    };
    expect(waits(600)).toEqual(['proving', 'waking', 'resting', 'proving', 'switching']);
    expect(waits(540)).toEqual([]);
  });

  test.each([
    ['held-fuse', { mainFuseA: 5 }],
    ['held-imbalance', { supply: { imbalanceLimitA: 5 } }],
    ['held-contract', { supply: { contractW: 1000 } }],
    ['held-dimmed', { supply: { dimming: { toW: 1000, windows: [{ weekdays: [3], months: [1], fromS: 0, toS: 86_400 }] } } }],
  ])('%s from ten minutes on', (name, limit: Partial<HandCase>) => {
    expect(told({ ...ONE, ...limit, pv: [[13, 3000]] })).toEqual(['plug-in 0', 'hold 3', `${name} 3-13`]);
    expect(told({ ...ONE, ...limit, pv: [[12, 3000]] })).toEqual(['plug-in 0', 'hold 3']);
  });

  test('whatever charges is told however short; the ends of the stretch asked for cut it off', () => {
    const hand: HandCase = { ...ONE, pv: [[6, 3000]] };
    expect(told(hand)).toEqual(['plug-in 0', 'start 3', 'surplus 4-6']);
    expect(told(hand, 3, 5)).toEqual(['start 3', 'surplus 4-5']);
    expect(told(hand, 4, 6)).toEqual(['surplus 4-6']);
    expect(told(hand, 0, 3)).toEqual(['plug-in 0']);
  });

  test('ten minutes are as many steps as they take', () => {
    // Five steps of two minutes are long enough for a name of their own, four are not.
    const bridged = (minutes: number) =>
      told({
        ...ONE,
        stepS: 120,
        control: { stopDelayS: 3600 },
        pv: [
          [20, 2000],
          [minutes / 2, 600],
          [20, 2000],
        ],
      });
    expect(bridged(10)).toEqual(['plug-in 0', 'start 2', 'surplus 3-20', 'bridging 20-25', 'surplus 25-45']);
    expect(bridged(8)).toEqual(['plug-in 0', 'start 2', 'surplus 3-44']);
  });

  test('of a charge point that there is not, nothing', () => {
    const whole = explained(runHand({ ...ONE, pv: [[6, 3000]] }));
    expect(tellingsOf(whole, 1, 0, 6)).toEqual([]);
    expect(() => stepSentence(whole, 1, 0, EN)).toThrow('point = 1: no such charge point');
    expect(stepSentence(whole, 0, 5, EN)).toBe('charges on one phase at 12 A: 0.0 kWh, all from the roof.');
  });
});

describe('short starts and stalls on end', () => {
  // Eight minutes of sun, twelve of cloud: a start after 3 minutes, a stall after 11.
  const flicker = (count: number) => times(count, [8, 2000], [12, 200]);

  test('three and more are told as one, with all that they come to', () => {
    const run = runHand({ ...ONE, pv: flicker(5) });
    const lines = accountOf(explained(run), 0, run.grid.steps, EN);
    expect(lines.map(({ name }) => name)).toEqual(['plug-in', 'flurry']);
    // In each: four minutes of 8 A and three of 6 A, 2000 W and then 200 W of sun.
    expect(lines[1]).toMatchObject({
      from: { hour: 0, minute: 3, second: 0 },
      to: { hour: 1, minute: 31, second: 0 },
      fromStep: 3,
      toStep: 91,
      point: 0,
      kind: 'flurry',
      name: 'flurry',
      text: 'on and off: 5 starts and 5 stalls; 35 min of charging in all give 1.0 kWh, 0.7 kWh of it from the roof.',
    });
    const facts = accountOf(explained(run), 0, run.grid.steps, EN, { every: true });
    expect(facts.filter(({ name }) => name === 'start')).toHaveLength(5);
  });

  test('two are told one by one', () => {
    expect(kinds(flicker(2))).toEqual(['plug-in', 'start', 'surplus', 'stall', 'start', 'surplus', 'stall']);
    expect(kinds(flicker(3))).toEqual(['plug-in', 'flurry']);
  });

  test('each lasts 20 minutes at most', () => {
    // The stall comes three minutes after the sun goes, as the start came three minutes after it came.
    expect(kinds(times(3, [20, 2000], [12, 200]))).toEqual(['plug-in', 'flurry']);
    expect(kinds(times(3, [21, 2000], [12, 200]))).not.toContain('flurry');
  });

  test('and they lie 45 minutes apart at most, waiting in between included', () => {
    expect(kinds(times(3, [8, 2000], [45, 200]))).toEqual(['plug-in', 'flurry', 'short']);
    expect(kinds(times(3, [8, 2000], [46, 200]))).not.toContain('flurry');
  });

  test('a rest of its own, and waiting after it, too', () => {
    const control = { restartPauseS: 600 };
    expect(kinds(times(3, [8, 2000], [43, 200]), { control })).toEqual(['plug-in', 'flurry', 'resting', 'short']);
  });

  test('a start that ends otherwise, or a stall without its start, is none', () => {
    // The car leaves five minutes after each start.
    const stays = [0, 20, 40, 60].map((from) => [from, from + 8, 0] as const);
    expect(kinds([[80, 2000]], { stays })).not.toContain('flurry');
    // An hour on three phases, back to one, a stall; then two short ones.
    const run = runHand({ pv: [[60, 9000], [5, 2000], [15, 200], ...flicker(2)] });
    const names = accountOf(explained(run), 0, run.grid.steps, EN).map(({ name }) => name);
    expect(names).toContain('switch');
    expect(names.filter((name) => name === 'stall')).toHaveLength(3);
    expect(names).not.toContain('flurry');
  });

  test('at the charge point where they are', () => {
    const run = runHand({ ...ONE, pv: flicker(3), stays: [], more: [ONE] });
    const flurry = accountOf(explained(run), 0, run.grid.steps, EN).find(({ kind }) => kind === 'flurry')!;
    // 12 minutes of 8 A and 9 of 6 A: 575 Wh.
    expect(flurry).toMatchObject({ point: 1, fromStep: 3 });
    expect(flurry.text).toContain('21 min of charging in all give 0.6 kWh, 0.4 kWh of it from the roof.');
  });

  test('anything else in between ends it', () => {
    // After two of them the car leaves and comes back.
    const left: Partial<HandCase> = {
      stays: [
        [0, 36, 0],
        [37, 200, 0],
      ],
    };
    expect(kinds(flicker(4), left)).not.toContain('flurry');
    expect(kinds(flicker(5), left).filter((name) => name === 'flurry')).toHaveLength(1);
    // Charging that goes on is told after it.
    expect(kinds([...flicker(3), [30, 2000]])).toEqual(['plug-in', 'flurry', 'start', 'surplus']);
  });

  test('phase switches belong to it, and are counted', () => {
    const run = runHand({
      pv: times(3, [5, 2000], [5, 9000], [12, 200]),
      control: { switchUpDelayS: 60 },
    });
    const lines = accountOf(explained(run), 0, run.grid.steps, EN);
    expect(lines.map(({ name }) => name)).toEqual(['plug-in', 'flurry']);
    expect(lines[1]!.text).toContain('3 starts, 3 stalls and 3 phase switches; ');
  });
});

test('charge points in order of time, then of the list; each line by the clock on the wall', () => {
  const run = runHand({
    ...ONE,
    pv: [[40, 9000]],
    more: [
      { ...ONE, stays: [[2, 40, 0]] },
      { ...ONE, stays: [[0, 1, 0]] },
    ],
  });
  const lines = accountOf(explained(run), 0, 40, EN);
  expect(lines.map(({ fromStep, point, name }) => [fromStep, point, name])).toEqual([
    [0, 0, 'plug-in'],
    [0, 2, 'plug-in'],
    [1, 2, 'leave'],
    [1, 2, 'away'],
    [2, 1, 'plug-in'],
    [3, 0, 'start'],
    [4, 0, 'ceiling'],
    [5, 1, 'start'],
    [6, 1, 'ceiling'],
  ]);
  expect(lines[6]).toMatchObject({
    from: { hour: 0, minute: 4, second: 0 },
    to: { hour: 0, minute: 40, second: 0 },
    toStep: 40,
    kind: 'stretch',
    text: 'the roof gives 9.00 kW, but this car takes at most 3.68 kW on one phase: 1.84 kW goes to the grid.',
  });
  expect(lines[5]).toMatchObject({ from: { minute: 3 }, to: { minute: 3 }, toStep: 3, kind: 'event' });
  expect(lines[5]!.text).toBe('starts on one phase: surplus has stood above the 1.38 kW that 6 A on one phase need since 00:00.');
});
