import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Issue } from '../../src/base/index.ts';
import { readPilotRecord, readRunLog, readWiringLog } from '../../src/commissioning/index.ts';
import { spanOf, takeFile } from '../../src/page/intake.ts';
import { FIRST_DRAFT } from '../../src/page/start.ts';
import { SPEECH } from '../../src/page/words/index.ts';
import { checkScenario, type Locate, readScenario } from '../../src/scenario/index.ts';
import { readStudy } from '../../src/study/index.ts';
import { throughDoor } from '../scenario/door.ts';
import { casesOf } from '../tools/thorough.ts';
import { anyValue, damaged } from './damage.ts';

/** No text of a few kilobytes may take more of a processor, ms. (The clock on the wall also counts what other work takes.) */
const MOST_MS = 3000;
const RUNS = { numRuns: casesOf(100) };
// The same texts every time; `SEED=7 npx vitest run …` tries others.
fc.configureGlobal({ seed: Number(process.env.SEED ?? 20_250_602) });

const ROOT = join(import.meta.dirname, '../..');
const textOf = (path: string): string => readFileSync(join(ROOT, path), 'utf8');

const SECTIONS = {
  weather: `weather:
  source: synthetic
  monthlyGhiKWhM2: [38, 57, 97, 126, 152, 160, 168, 146, 104, 69, 38, 30]
  monthlyTempC: [-1, 1, 5, 10, 14, 18, 20, 19, 15, 10, 4, 0]
`,
  tariff: '',
  pv: 'pv: { source: arrays, arrays: [{ kWp: 6.3, tiltDeg: 32, azimuthDeg: 190 }] }\n',
  household: 'household: { source: synthetic, annualKWh: 4100 }\n',
  usage: `    usage:
      source: weekly
      trips:
        - { days: [mon, tue], leave: "07:20", return: "16:45", km: 46 }
`,
};

/** A sound scenario of two days, some of its sections other ones. */
function scenario(sections: Partial<typeof SECTIONS> = {}): string {
  const { weather, tariff, pv, household, usage } = { ...SECTIONS, ...sections };
  return `name: Sound
site: { latitude: 47.1, longitude: 15.4, timeZone: Europe/Vienna }
period: { start: 2025-06-02, days: 2, stepS: 300 }
${weather}${tariff}${pv}${household}chargePoints:
  - charger: { phases: switchable, maxCurrentA: 16 }
    vehicle: { batteryKWh: 58, phases: 3, maxCurrentA: 16, kWhPer100km: 17 }
${usage}`;
}

/** Half-hourly rows of the two days. */
const rows = (header: string, row: (i: number) => string): string =>
  `${header}\n${Array.from({ length: 97 }, (_, i) => `${new Date(Date.UTC(2025, 5, 1, 22, 30 * i)).toISOString().slice(0, 19)}Z,${row(i)}\n`).join('')}`;

const PV = rows('time,pv_w', (i) => `${40 * i}`);
/** The roof beside a meter, whole. */
const PV_FILE = 'pv.csv';

/** Data files by kind: the scenario that names one as data.csv, and a sound text of it. */
const FILES: readonly (readonly [kind: string, scenario: string, text: string])[] = [
  [
    'load',
    scenario({ household: 'household: { source: csv, file: data.csv, maxGapMin: 60 }\n' }),
    rows('time,load_w', (i) => `${200 + i}`),
  ],
  [
    'load by phase',
    scenario({ household: 'household: { source: csv, file: data.csv }\n' }),
    rows('time,l1_w,l2_w,l3_w', (i) => `${i},${2 * i},7.5`),
  ],
  ['PV', scenario({ pv: 'pv: { source: csv, file: data.csv }\n' }), PV],
  [
    'weather',
    scenario({ weather: 'weather: { source: csv, file: data.csv }\n' }),
    rows('time,ghi_w_m2,temp_c,wind_m_s', (i) => `${i},${10 + i / 10},2`),
  ],
  [
    'prices',
    scenario({ tariff: 'tariff: { currency: EUR, importPerKWh: { file: data.csv }, exportPerKWh: 0.08 }\n' }),
    rows('time,price', (i) => `${(i - 20) / 200}`),
  ],
  [
    'meter',
    scenario({ pv: `pv: { source: csv, file: ${PV_FILE} }\n`, household: 'household: { source: meter, file: data.csv }\n' }),
    rows('time,import_w,export_w', (i) => `${300 + i},${40 * i}`),
  ],
  [
    'profile of the day',
    scenario({ household: 'household: { source: profile, file: data.csv, annualKWh: 3500, dynamic: true }\n' }),
    `hour,${['winter', 'transition', 'summer'].flatMap((season) => ['workday', 'saturday', 'sunday'].map((day) => `${season}_${day}`)).join(',')}\n${Array.from({ length: 24 }, (_, h) => `${h},1,1,1,2,2,2.5,3,3,${h}\n`).join('')}`,
  ],
  [
    'stays',
    scenario({ usage: '    usage: { source: csv, file: data.csv }\n' }),
    'arrive,depart,km\n2025-06-01T18:00:00Z,2025-06-02T05:30:00Z,40\n2025-06-02T14:00:00Z,2025-06-03T06:00:00Z,52.5\n',
  ],
];

const EPW = (() => {
  const head = readFileSync(join(ROOT, 'tests/cases/broken/epw-hours-missing.epw'), 'utf8').split(/\r?\n/).slice(0, 8);
  const days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
  const hours = days.flatMap((count, month) =>
    Array.from(
      { length: count * 24 },
      (_, i) => `2005,${month + 1},${Math.floor(i / 24) + 1},${(i % 24) + 1},0,?,10,5,70,98000,0,0,300,0,0,0,0,0,0,0,180,2`,
    ),
  );
  return `${[...head, ...hours].join('\n')}\n`;
})();
const EPW_SCENARIO = scenario({ weather: 'weather: { source: epw, file: data.csv }\n' });

const LOG = textOf('data/demo/invented-log.csv').split('\n').slice(0, 80).join('\n');
const WIRING = textOf('data/demo/invented-wiring.csv').split('\n').slice(0, 80).join('\n');
const RECORD = textOf('data/demo/pilot-record.yaml');
const STUDY = textOf('scenarios/studies/roof-and-share.yaml');

const atTop: Locate = () => ({ line: 1, column: 1 });

/** Each issue is told in words, short, at a place that is there. */
function soundIssues(issues: readonly Issue[], texts: Readonly<Record<string, string>>, locate: Locate): void {
  expect(issues.length).toBeGreaterThan(0);
  expect(issues.length).toBeLessThanOrEqual(150);
  for (const { code, path, found, problem, fix, place } of issues) {
    expect(code).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
    expect(problem.length).toBeGreaterThan(10);
    expect(problem.length + found.length + fix.length).toBeLessThan(2500);
    expect(`${problem}${fix}`).not.toMatch(/undefined|\[object|Error:|\bat .*:\d+:\d+/);
    const at = place ?? { file: 'x.yaml', ...locate(path) };
    const lines = (texts[at.file] ?? '').split(/\r\n|\n|\r/);
    expect(at.line).toBeGreaterThanOrEqual(1);
    expect(at.line).toBeLessThanOrEqual(Math.max(1, lines.length));
    expect(at.column).toBeGreaterThanOrEqual(1);
    expect(at.column).toBeLessThanOrEqual((lines[at.line - 1]?.length ?? 0) + 2);
  }
}

/** No NaN gets through the door. */
function noNaN(value: unknown, key = ''): void {
  if (typeof value === 'number' && Number.isNaN(value)) throw new Error(`${key} is NaN`);
  if (value instanceof Float64Array) {
    for (const one of value) noNaN(one, key);
  } else if (typeof value === 'object' && value !== null) {
    for (const [name, part] of Object.entries(value)) noNaN(part, name);
  }
}

function inTime<T>(work: () => T): T {
  const from = process.cpuUsage();
  const result = work();
  expect(process.cpuUsage(from).user / 1000).toBeLessThan(MOST_MS);
  return result;
}

describe('damaged texts: issues with a place or something sound, never anything else', () => {
  const throughBoth = (text: string, data: string): void => {
    const { checked, locate } = inTime(() =>
      throughDoor(text, 'x.yaml', (name) => (name === 'data.csv' ? data : name === PV_FILE ? PV : null)),
    );
    if (checked.ok) noNaN(checked.value);
    else soundIssues(checked.issues, { 'x.yaml': text.replace(/^\uFEFF/, ''), 'data.csv': data, [PV_FILE]: PV }, locate);
  };

  test('scenarios', () => {
    fc.assert(
      fc.property(damaged(scenario(), textOf('scenarios/hillside-house.yaml'), textOf('scenarios/courtyard.yaml')), (text) => {
        // Cut short, so that a sound one is not laid out over a whole year.
        throughBoth(text.replace(/^(period:\n {2}start: 2025-01-01\n)/m, '$1  days: 2\n'), '');
      }),
      { numRuns: casesOf(300) },
    );
  });

  test('scenarios with any data in the place of a section', () => {
    const keys = [
      'name',
      'site',
      'period',
      'grid',
      'tariff',
      'weather',
      'pv',
      'household',
      'battery',
      'chargePoints',
      'control',
      'x',
    ];
    fc.assert(
      fc.property(fc.constantFrom(...keys), anyValue, (key, value) => {
        const { checked, locate } = readScenario(scenario(), 'x.yaml');
        if (!checked.ok) throw new Error('the sound one is refused');
        const again = inTime(() => checkScenario({ ...(JSON.parse(JSON.stringify(checked.value)) as object), [key]: value }));
        if (!again.ok) soundIssues(again.issues, { 'x.yaml': scenario() }, locate);
      }),
      RUNS,
    );
  });

  test.each(FILES)('%s', (_, text, data) => {
    fc.assert(
      fc.property(damaged(data), (broken) => throughBoth(text, broken)),
      RUNS,
    );
  });

  test('EPW', () => {
    fc.assert(
      fc.property(damaged(EPW), (broken) => throughBoth(EPW_SCENARIO, broken)),
      { numRuns: 30 },
    );
  });

  test('studies', () => {
    fc.assert(
      fc.property(damaged(STUDY), (text) => {
        const read = inTime(() => readStudy(text, 'x.yaml'));
        if (!read.ok) soundIssues(read.issues, { 'x.yaml': text.replace(/^\uFEFF/, '') }, atTop);
        else expect(read.value.rows.length * read.value.study.years).toBeLessThanOrEqual(1_000_000);
      }),
      RUNS,
    );
  });

  test('pilot records', () => {
    fc.assert(
      fc.property(damaged(RECORD), (text) => {
        const { checked, locate } = inTime(() => readPilotRecord(text, 'x.yaml'));
        if (!checked.ok) soundIssues(checked.issues, { 'x.yaml': text.replace(/^\uFEFF/, '') }, locate);
      }),
      RUNS,
    );
  });

  test('logs', () => {
    fc.assert(
      fc.property(damaged(LOG), damaged(WIRING), (log, wiring) => {
        for (const read of [() => readRunLog(log, 'x.csv', 230), () => readWiringLog(wiring, 'y.csv')]) {
          const checked = inTime<ReturnType<typeof readRunLog> | ReturnType<typeof readWiringLog>>(read);
          if (!checked.ok) soundIssues(checked.issues, { 'x.csv': log, 'y.csv': wiring }, atTop);
        }
      }),
      RUNS,
    );
  });

  test('what is dropped on the page', () => {
    const { words } = SPEECH.en;
    const csv = fc.tuple(fc.constantFrom('a.csv', 'a.csv.gz', 'b.txt', '<b>.csv'), damaged(...FILES.map(([, , data]) => data)));
    const yaml = fc.tuple(fc.constantFrom('a.yaml', 'a.json', '<b>.yml'), damaged(scenario()));
    fc.assert(
      fc.property(fc.oneof(csv, yaml), ([name, text]) => {
        const taken = inTime(() => takeFile(name, text, FIRST_DRAFT, words));
        expect(['scenario', 'data', 'refused']).toContain(taken.kind);
        if (taken.kind === 'refused') expect(taken.said.length).toBeGreaterThan(10);
        const span = spanOf(text);
        if (span !== null) expect(span.from).toMatch(/^\d{4}-\d{2}-\d{2}$/);
      }),
      RUNS,
    );
  });
});

describe('the same text in other clothes is read as the same', () => {
  const CLOTHES: readonly (readonly [name: string, put: (text: string) => string])[] = [
    ['byte order mark', (text) => `\uFEFF${text}`],
    ['carriage return and line feed', (text) => text.replaceAll('\n', '\r\n')],
    ['carriage return alone', (text) => text.replaceAll('\n', '\r')],
    ['no line end at the end', (text) => text.trimEnd()],
    ['empty lines at the end', (text) => `${text}\n\n\n`],
  ];

  test.each(CLOTHES)('%s', (_, put) => {
    const read = (text: string, data: string): unknown => {
      const { checked } = throughDoor(text, 'x.yaml', (name) => (name === PV_FILE ? PV : data));
      if (!checked.ok) throw new Error(JSON.stringify(checked.issues));
      return checked;
    };
    for (const [, text, data] of [...FILES, ['EPW', EPW_SCENARIO, EPW] as const]) {
      expect(read(put(text), put(data))).toEqual(read(text, data));
    }
    expect(readStudy(put(STUDY), 'x.yaml')).toEqual(readStudy(STUDY, 'x.yaml'));
    expect(readPilotRecord(put(RECORD), 'x.yaml').checked).toEqual(readPilotRecord(RECORD, 'x.yaml').checked);
    expect(readRunLog(put(LOG), 'x.csv', 230)).toEqual(readRunLog(LOG, 'x.csv', 230));
    expect(readWiringLog(put(WIRING), 'x.csv')).toEqual(readWiringLog(WIRING, 'x.csv'));
  });
});
