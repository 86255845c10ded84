import { expect, test } from 'vitest';
import { type Draft, withValue } from '../../src/page/draft.ts';
import { Engine } from '../../src/page/engine/engine.ts';
import { firstAnswer, readAnswer } from '../../src/page/engine/first-answer.ts';
import type { Ask, Tell } from '../../src/page/engine/protocol.ts';
import { Runs } from '../../src/page/engine/runs.ts';
import { YEARS, yearAnswer } from '../../src/page/engine/tasks.ts';
import { FIRST_DRAFT } from '../../src/page/start.ts';

/** A fortnight, so that the test is quick. */
const DRAFT: Draft = withValue(FIRST_DRAFT, ['period'], { start: '2025-05-01', days: 14 });

/** The hours of the fortnight as a file. */
const hoursCsv = (name: string, powerW: (hour: number) => number): string =>
  [
    `time,${name}`,
    ...Array.from({ length: 14 * 24 }, (_, h) => `${new Date(Date.UTC(2025, 3, 30, 22 + h)).toISOString()},${powerW(h)}`),
  ].join('\n');

/** An engine, what it told, and a wait until it has nothing left to do. */
function listening(years = YEARS, atPause: (count: number) => void = () => {}) {
  const heard: Tell[] = [];
  let pauses = 0;
  const thread = {
    tell: (one: Tell) => heard.push(one),
    pause: () => {
      pauses++;
      atPause(pauses);
      return new Promise<void>((resolve) => setTimeout(resolve, 0));
    },
    nowMs: () => 0,
  };
  const quiet = async (): Promise<void> => {
    for (let still = 0, before = -1; still < 20; still = pauses === before ? still + 1 : 0) {
      before = pauses;
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
  };
  return { engine: new Engine(thread, years), heard, quiet };
}

/** Asks everything at once, as a person in a hurry does. */
async function told(...asks: Ask[]): Promise<Tell[]> {
  const { engine, heard, quiet } = listening();
  for (const ask of asks) engine.ask(ask);
  await quiet();
  return heard;
}

const answer = (id: number, draft: Draft): Ask => ({ kind: 'answer', id, draft });

test('an answer comes first, and what it is compared with after it', async () => {
  const heard = await told(answer(1, DRAFT), { kind: 'beside', id: 1, draft: DRAFT });
  expect(heard.map(({ kind }) => kind)).toEqual(['answer', 'beside']);
  const [first, beside] = heard;
  const own = first?.kind === 'answer' ? first.answer.total : null;
  const atOnce = beside?.kind === 'beside' ? beside.atOnce.total : null;
  expect(own?.cars.carPvWh).toBeGreaterThan(atOnce?.cars.carPvWh ?? Infinity);
  expect(first?.kind === 'answer' && first.answer.days.length).toBe(14);
});

test('of a slider that is dragged only where it is now is answered', async () => {
  const drafts = [8, 9, 10].map((kWp) => withValue(DRAFT, ['pv', 'arrays', 0, 'kWp'], kWp));
  const heard = await told(...drafts.map((draft, i) => answer(i, draft)));
  const ids = heard.flatMap((one) => (one.kind === 'answer' ? [one.id] : []));
  expect(ids[ids.length - 1]).toBe(2);
  expect(ids.length).toBeLessThanOrEqual(2);
});

test('a draft that the door refuses is told with its issues', async () => {
  const heard = await told(answer(1, withValue(DRAFT, ['chargePoints', 0, 'charger', 'maxCurrentA'], 5)));
  expect(heard).toMatchObject([{ kind: 'refused', id: 1, issues: [{ path: ['chargePoints', 0, 'charger', 'maxCurrentA'] }] }]);
});

test('a rest ends what takes long', async () => {
  const years: Ask = { kind: 'years', id: 1, draft: DRAFT };
  const whole = (await told(years)).filter(({ kind }) => kind === 'years');
  expect(whole.length).toBe(10);
  const cut = (await told(years, { kind: 'rest', id: 2, draft: DRAFT })).filter(({ kind }) => kind === 'years');
  expect(cut.length).toBeLessThan(3);
});

test('a rest is heeded between two stages of a year, not only between two years', async () => {
  let pauses = 0;
  const { engine, heard, quiet } = listening(YEARS, (count) => {
    pauses = count;
    if (count === 3) engine.ask({ kind: 'rest', id: 2, draft: DRAFT });
  });
  engine.ask({ kind: 'years', id: 1, draft: DRAFT });
  await quiet();
  expect(heard).toEqual([]);
  // The one that heard of it, and one after each of the two asks.
  expect(pauses).toBe(5);
});

test('what is rehearsed for later says nothing and changes nothing; a household of measured columns has nothing to rehearse', async () => {
  const hours = (name: string, powerW: number): string => hoursCsv(name, (h) => powerW + (h % 24) * 90);
  const measured = withValue(withValue(DRAFT, ['pv'], { source: 'csv', file: 'roof.csv' }), ['household'], {
    source: 'csv',
    file: 'house.csv',
  });
  const files: Ask = {
    kind: 'files',
    files: [
      { name: 'roof.csv', text: hours('pv_w', 10) },
      { name: 'house.csv', text: hours('load_w', 200) },
    ],
  };
  for (const [draft, first] of [
    [DRAFT, []],
    [measured, [files]],
  ] as const) {
    const { engine, heard, quiet } = listening(1);
    const asked = async (ask: Ask): Promise<void> => {
      engine.ask(ask);
      await quiet();
    };
    for (const ask of first) engine.ask(ask);
    await asked(answer(1, draft));
    await asked({ kind: 'beside', id: 1, draft });
    await asked(answer(2, draft));
    expect(heard.map(({ kind }) => kind)).toEqual(['answer', 'beside', 'answer']);
    const [one, , two] = heard;
    expect(two?.kind === 'answer' && two.answer).toEqual(one?.kind === 'answer' && one.answer);
  }
});

test('a file that is dropped anew between two stages of a year: nothing of the old one is told later', async () => {
  const draft = withValue(DRAFT, ['household'], { source: 'csv', file: 'house.csv' });
  const files = (powerW: number): Ask => ({
    kind: 'files',
    files: [{ name: 'house.csv', text: hoursCsv('load_w', () => powerW) }],
  });
  const years: Ask = { kind: 'years', id: 1, draft };
  const lastYears = (heard: readonly Tell[]) => heard.filter(({ kind }) => kind === 'years').at(-1);
  const alone = listening();
  for (const ask of [files(900), years]) alone.engine.ask(ask);
  await alone.quiet();
  for (const pause of [1, 4, 9, 10, 11, 12]) {
    const { engine, heard, quiet } = listening(YEARS, (n) => n === pause && engine.ask(files(900)));
    for (const ask of [files(300), years]) engine.ask(ask);
    await quiet();
    engine.ask(years);
    await quiet();
    expect(lastYears(heard), `after ${pause} pauses`).toEqual(lastYears(alone.heard));
  }
});

test('a day before and after a change is told from two runs of the same days', async () => {
  const before = DRAFT;
  const draft = withValue(DRAFT, ['chargePoints', 0, 'charger', 'phases'], 1);
  const heard = await told({ kind: 'day', id: 1, draft, before, day: 3, language: 'de' });
  const day = heard.find((one) => one.kind === 'day');
  expect(day?.kind === 'day' && day.before?.pvKw).toEqual(day?.kind === 'day' && day.day.pvKw);
  expect(day?.kind === 'day' && day.day.told.sentences.length).toBeGreaterThan(0);
  expect(day?.kind === 'day' && day.day.sums.cars.carPvWh).not.toBe(day?.kind === 'day' && day.before?.sums.cars.carPvWh);
});

test('kinds of charger, a curve and sizes come from re-runs of the same household', async () => {
  const heard = await told(
    { kind: 'choice', id: 1, draft: DRAFT },
    { kind: 'curve', id: 1, draft: DRAFT },
    { kind: 'sizes', id: 1, draft: DRAFT },
  );
  const choice = heard.find((one) => one.kind === 'choice');
  expect(choice?.kind === 'choice' && choice.variants.map(({ charger }) => charger)).toEqual([1, 3, 'switchable']);
  const curve = heard.find((one) => one.kind === 'curve');
  expect(curve?.kind === 'curve' && [curve.minimum.length, curve.proportional.length]).toEqual([22, 22]);
  const sizes = heard.find((one) => one.kind === 'sizes');
  expect(sizes?.kind === 'sizes' && [sizes.roof.length, sizes.battery.length]).toEqual([6, 6]);
});

/** Every value in something, by where it stands. */
const leaves = (of: unknown, path = ''): [string, unknown][] =>
  typeof of === 'object' && of !== null
    ? Object.entries(of).flatMap(([key, value]) => leaves(value, `${path}.${key}`))
    : [[path, of]];

test('the answer that a page opens with is the one that the page then works out itself, days to the watt-hour, sums to a thousandth', async () => {
  const [heard] = await told(answer(1, DRAFT));
  if (heard?.kind !== 'answer') throw new Error('no answer');
  const written = firstAnswer(DRAFT, []);
  if (written === null) throw new Error('refused');
  const opened = readAnswer(JSON.parse(JSON.stringify(written)));
  const found = new Map(leaves(opened));
  for (const [path, value] of leaves(heard.answer)) {
    if (typeof value !== 'number' || path === '.tookMs') expect([path, found.get(path)]).toEqual([path, value]);
    else expect(Math.abs(Number(found.get(path)) - value), path).toBeLessThanOrEqual(path.startsWith('.days') ? 0.5 : 0.0005);
  }
  expect(found.size).toBe(leaves(heard.answer).length);
  expect(opened.days.some(({ carPvWh }) => carPvWh > 1000)).toBe(true);
});

test('a file that is dropped again under its name takes the place of the first; so does one that was refused', () => {
  const week = { start: '2025-05-12', days: 1 };
  const draft = withValue(withValue(DRAFT, ['period'], week), ['pv'], { source: 'csv', file: 'roof.csv' });
  const hours = (powerW: string): string =>
    [
      'time,pv_w',
      ...Array.from({ length: 24 }, (_, h) => `2025-05-12T${String(h).padStart(2, '0')}:00:00+02:00,${powerW}`),
      '',
    ].join('\n');
  const runs = new Runs(1);
  const dropped = (text: string): number | null => {
    runs.takeFiles([{ name: 'roof.csv', text }]);
    const checked = runs.households.enter(draft);
    return checked.ok ? Math.max(...runs.of(checked.value, 'own').columns.pvW) : null;
  };
  expect([hours('1000'), hours('many'), hours('2000')].map(dropped)).toEqual([1000, null, 2000]);
});

test('a household that the door refuses opens without an answer', () => {
  expect(firstAnswer(withValue(DRAFT, ['chargePoints', 0, 'charger', 'maxCurrentA'], 5), [])).toBeNull();
});

test('memory that is written over for the next household changes no answer, and no day that is still looked at', () => {
  /** Households of which each changes something that is made anew: the house, the size of the roof, where it looks. */
  const drafts = Array.from({ length: 24 }, (_, i) => {
    const house = withValue(DRAFT, ['household', 'annualKWh'], 3000 + 10 * Math.floor(i / 3));
    const size = withValue(house, ['pv', 'arrays', 0, 'kWp'], 6 + Math.floor((i + 1) / 3) / 10);
    return withValue(size, ['pv', 'arrays', 0, 'azimuthDeg'], 150 + Math.floor((i + 2) / 3));
  });
  const entered = (runs: Runs, draft: Draft) => {
    const checked = runs.households.enter(draft);
    if (!checked.ok) throw new Error('refused');
    return checked.value;
  };
  const runs = new Runs(2);
  const before = runs.of(entered(runs, DRAFT), 'before');
  const [pvW, loadW] = [before.profiles.pvW.slice(), before.profiles.loadW.slice()];
  for (const draft of drafts) {
    const alone = new Runs(1);
    expect(yearAnswer(entered(runs, draft), runs, () => 0)).toEqual(yearAnswer(entered(alone, draft), alone, () => 0));
  }
  expect([before.profiles.pvW, before.profiles.loadW]).toEqual([pvW, loadW]);
});

test('whatever decides when a car is there is heard: its usage, itself, its air, the period, a second one beside it', () => {
  const point = ['chargePoints', 0] as const;
  const trips = [{ days: ['mon', 'tue', 'wed', 'thu', 'fri'], leave: '08:00', return: '15:00', km: 60, jitterMin: 5 }];
  const changes: ((draft: Draft) => Draft)[] = [
    (draft) => withValue(draft, [...point, 'usage'], { source: 'weekly', trips }),
    (draft) => withValue(draft, [...point, 'vehicle', 'kWhPer100km'], 23),
    (draft) => withValue(draft, ['weather'], { source: 'synthetic', climate: 'helsinki' }),
    (draft) => withValue(draft, ['period', 'start'], '2025-01-01'),
    (draft) => withValue(draft, ['chargePoints', 1], { ...(draft.chargePoints as Draft[])[0], usage: { source: 'always' } }),
    (draft) => withValue(draft, point, undefined),
  ];
  const runs = new Runs(1);
  let draft = DRAFT;
  const answers = [...changes, (last: Draft) => last].map((change) => {
    const alone = new Runs(1);
    const [kept, fresh] = [runs, alone].map((those) => {
      const checked = those.households.enter(draft);
      if (!checked.ok) throw new Error(JSON.stringify(checked.issues));
      return yearAnswer(checked.value, those, () => 0);
    });
    expect(kept).toEqual(fresh);
    draft = change(draft);
    return JSON.stringify(kept?.total.cars);
  });
  expect(new Set(answers).size).toBe(answers.length);
});

test('a roof of many planes: nothing is written over that the roof still needs', () => {
  const plane = (i: number) => ({ kWp: 0.5 + 0.1 * i, tiltDeg: 5 * i, azimuthDeg: 20 * i });
  const many = withValue(
    DRAFT,
    ['pv', 'arrays'],
    Array.from({ length: 16 }, (_, i) => plane(i)),
  );
  const pvWOf = (runs: Runs, draft: Draft): Float64Array => {
    const checked = runs.households.enter(draft);
    if (!checked.ok) throw new Error('refused');
    return runs.households.profiles(checked.value).pvW;
  };
  // The same planes in another order have other neighbours to be mixed up with.
  const runs = new Runs(1);
  for (let turn = 0; turn < 4; turn++) {
    const turned = withValue(many, ['pv', 'arrays', 3, 'azimuthDeg'], 90 + turn);
    const alone = turned.pv as { arrays: readonly Draft[] };
    const inverter = { ratedW: 50_000 };
    const whole = pvWOf(runs, withValue(turned, ['pv', 'inverter'], inverter));
    const reversed = withValue(turned, ['pv', 'arrays'], [...alone.arrays].reverse());
    const other = pvWOf(new Runs(1), withValue(reversed, ['pv', 'inverter'], inverter));
    const apart = whole.reduce((most, w, k) => Math.max(most, Math.abs(w - (other[k] ?? Number.NaN))), 0);
    expect(apart).toBeLessThan(1e-6);
  }
});
