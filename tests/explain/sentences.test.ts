import { beforeAll, describe, expect, test } from 'vitest';
import { EVENTS, STATES, stateName } from '../../src/charging/index.ts';
import {
  accountOf,
  type Catalogue,
  DE,
  EN,
  explained,
  factsOfEvent,
  factsOfStretch,
  sentenceOf,
  spansOf,
  stepSentence,
  tellingsOf,
} from '../../src/explain/index.ts';
import { runHand } from '../simulate/hand.ts';
import { randomRuns } from './random-runs.ts';

const LANGUAGES: readonly Catalogue[] = [EN, DE];

/** What no sentence may hold. */
const BROKEN = /undefined|NaN|null|Infinity|\[object| {2}|-0\b/;

describe('sentences', () => {
  const sentences = new Map<string, Set<string>>(LANGUAGES.map(({ language }) => [language, new Set()]));
  const states = new Set<string>();
  const events = new Set<string>();
  beforeAll(() => {
    for (const { run } of randomRuns(600)) {
      const whole = explained(run);
      run.columns.points.forEach((point, i) => {
        for (const span of spansOf(point.state, 0, run.grid.steps)) {
          states.add(span.state);
          const facts = factsOfStretch(run, i, span, whole.surplus[i]!);
          for (const words of LANGUAGES) sentences.get(words.language)!.add(words.stretches[span.state](facts));
        }
      });
      for (const event of run.events) {
        const facts = factsOfEvent(run, event, whole.surplus);
        if (facts === null) continue;
        events.add(facts.event);
        for (const words of LANGUAGES) sentences.get(words.language)!.add(words.events[facts.event](facts));
      }
      for (const words of LANGUAGES) {
        for (const line of accountOf(whole, 0, run.grid.steps, words)) sentences.get(words.language)!.add(line.text);
      }
    }
  });

  test('every state and every event is reached', () => {
    expect([...states].sort()).toEqual([...STATES].sort());
    expect([...events].sort()).toEqual(EVENTS.filter((event) => event !== 'none').sort());
  });

  test.each(['en', 'de'])('%s: whole sentences, no loose ends', (language) => {
    for (const text of sentences.get(language)!) {
      expect(text).not.toMatch(BROKEN);
      expect(text).toMatch(/[^ ]\.$/);
    }
  });

  test('German numbers have a comma, English ones a point', () => {
    for (const text of sentences.get('de')!) expect(text).not.toMatch(/\d\.\d{1,2}\b(?!\d)/);
    for (const text of sentences.get('en')!) expect(text).not.toMatch(/\d,\d{1,2}\b(?!\d)/);
  });
});

describe('an account', () => {
  test('is in order, within its bounds, and the same twice', () => {
    for (const { run } of randomRuns(50)) {
      const whole = explained(run);
      const lines = accountOf(whole, 0, run.grid.steps, EN);
      expect(lines).toEqual(accountOf(whole, 0, run.grid.steps, EN));
      for (const [i, line] of lines.entries()) {
        expect(line.fromStep).toBeGreaterThanOrEqual(lines[i - 1]?.fromStep ?? 0);
        expect(line.toStep).toBeLessThanOrEqual(run.grid.steps);
      }
    }
  });

  test('with `every`, each event of the log stands in it', () => {
    for (const { run } of randomRuns(100)) {
      const lines = accountOf(explained(run), 0, run.grid.steps, EN, { every: true }).filter(({ kind }) => kind === 'event');
      expect(lines.length).toBe(run.events.length);
    }
  });

  test('explaining changes nothing of a run', () => {
    for (const { run } of randomRuns(20)) {
      const before = structuredClone(run.columns);
      const whole = explained(run);
      accountOf(whole, 0, run.grid.steps, EN);
      expect(run.columns).toEqual(before);
    }
  });

  test('short starts on end are told as one, and nothing of them is lost', () => {
    const flicker = Array.from({ length: 6 }, () => [
      [8, 2000],
      [12, 200],
    ]).flat() as [number, number][];
    const run = runHand({ pv: flicker, charger: { phases: 1 }, vehicle: { phases: 1 } });
    const lines = accountOf(explained(run), 0, run.grid.steps, EN);
    expect(lines.map(({ kind }) => kind)).toContain('flurry');
    const { starts, stalls } = run.ledger.total.points[0]!;
    expect(lines.find(({ kind }) => kind === 'flurry')!.text).toContain(`${starts} starts and ${stalls} stalls`);
  });

  test('the worked example of the design, told', () => {
    const run = runHand({
      pv: [
        [10, 0],
        [30, 1500],
        [40, 5000],
        [20, 2000],
        [20, 500],
      ],
    });
    const told = accountOf(explained(run), 0, run.grid.steps, EN, { every: true }).map(
      ({ from, text }) => `${EN.form.clock(from)} ${text}`,
    );
    expect(`\n${told.join('\n')}\n`).toMatchInlineSnapshot(`
      "
      00:00 plugged in with 0 % in the battery.
      00:13 starts on one phase: surplus has stood above the 1.38 kW that 6 A on one phase need since 00:10.
      00:14 charges on one phase at 6 A: 0.6 kWh, all from the roof.
      00:40 the roof gives 5.00 kW, but this car takes at most 3.68 kW on one phase: 1.32 kW goes to the grid.
      00:50 goes from one phase to three: surplus has stood above the 4.14 kW that 6 A on three phases need since 00:40.
      00:52 charges on three phases at 6 to 7 A: 2.5 kWh, 2.4 kWh of it from the roof.
      01:23 goes back from three phases to one: surplus has been below 4.14 kW since 01:20, but still carries one phase.
      01:25 charges on one phase at 6 to 8 A: 0.5 kWh, nearly all of it from the roof.
      01:43 stalls: surplus has been below 1.38 kW for 3 min and is down to 0.45 kW; PV fell from 2.00 kW to 0.50 kW.
      "
    `);
  });
});

test('a step is told in the words of its stretch', () => {
  for (const { run } of randomRuns(30)) {
    const whole = explained(run);
    for (let k = 0; k < run.grid.steps; k += 7) {
      const text = stepSentence(whole, 0, k, EN);
      const span = { state: stateName(run.columns.points[0]!.state[k]!), from: k, to: k + 1 };
      expect(text).toBe(EN.stretches[span.state](factsOfStretch(run, 0, span, whole.surplus[0]!)));
    }
  }
});

test('a telling and its sentence are one', () => {
  const run = runHand({ pv: [[60, 3000]], charger: { phases: 1 }, vehicle: { phases: 1 } });
  const told = tellingsOf(explained(run), 0, 0, run.grid.steps).map((telling) => sentenceOf(telling, DE));
  expect(told[1]).toBe(
    'beginnt auf einer Phase: Der Überschuss liegt seit 00:00 über den 1,38 kW, die 6 A auf einer Phase brauchen.',
  );
});
