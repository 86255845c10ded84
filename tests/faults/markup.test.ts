import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { JSDOM } from 'jsdom';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { handover } from '../../src/cli/handover.ts';
import { log } from '../../src/cli/log.ts';
import { page } from '../../src/cli/page.ts';
import { pilot } from '../../src/cli/pilot.ts';
import { run } from '../../src/cli/run.ts';
import type { Terminal } from '../../src/cli/terminal.ts';
import { why } from '../../src/cli/why.ts';
import { bed, house, namesIn, sixamp } from './bed.ts';

vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

/** Ends whatever element it stands in, and begins one of its own. */
const EVIL = `</script></style></title>--><x-evil onerror='1'>"&amp;`;
const { base, clear } = bed();
const stream = { isTTY: false, write: () => true };
const silent = { out: stream, err: stream } as unknown as Terminal;
const scenario = join(base, 'evil.yaml');

beforeAll(() => {
  const quoted = JSON.stringify(EVIL);
  writeFileSync(
    scenario,
    house(quoted, 4, 300)
      .replace('{ kWp: 6.3,', `{ name: ${quoted}, kWp: 6.3,`)
      .replace('- charger:', `- name: ${quoted}\n    charger:`),
  );
});
afterAll(clear);

/** The pages and pictures in a folder hold the text as text. */
function harmless(folder: string, least: number): void {
  const shown = readdirSync(folder).filter((name) => /\.(html|svg)$/.test(name));
  expect(shown.length).toBeGreaterThanOrEqual(least);
  for (const name of shown) {
    const contentType = name.endsWith('.svg') ? 'image/svg+xml' : 'text/html';
    const { document } = new JSDOM(readFileSync(join(folder, name), 'utf8'), { contentType }).window;
    expect(document.querySelectorAll('x-evil, [onerror], parsererror').length, name).toBe(0);
    if (contentType === 'text/html') expect(document.documentElement.textContent, name).toMatch(/x-evil|\\u003cx-evil/);
  }
}

test('report and pictures of a run, days told', async () => {
  expect(await run(scenario, { out: join(base, 'run') }, silent)).toBe(0);
  harmless(join(base, 'run'), 4);
  expect(await why(scenario, { day: 'best', out: join(base, 'why') }, silent)).toBe(0);
  harmless(join(base, 'why'), 1);
});

test('hand-over sheet, test record, report on a log, page for a browser', async () => {
  const record = join(base, 'record.yaml');
  writeFileSync(
    record,
    ['station', 'place', 'date', 'testedBy', 'instrument', 'remarks'].map((key) => `${key}: ${JSON.stringify(EVIL)}\n`).join(''),
  );
  const named = join(base, "<x-evil onerror='1'>.csv");
  writeFileSync(named, readFileSync(join(import.meta.dirname, '../../data/demo/invented-log.csv')));
  const out = (name: string): string => join(base, 'sheets', name);
  expect(await handover(scenario, { out: out('handover.html'), pilot: record }, silent)).toBe(0);
  expect(await pilot(record, { out: out('record.html') }, silent)).toBe(0);
  expect(await log(named, scenario, { out: out('log.html') }, silent)).toBe(0);
  expect(await page(scenario, { out: out('page.html') }, silent)).toBe(0);
  harmless(join(base, 'sheets'), 4);
});

test('report and tables of a study, whose values and name are anybody’s', () => {
  const study = join(base, 'study.yaml');
  const value = JSON.stringify(EVIL);
  writeFileSync(study, `name: ${value}\nscenario: evil.yaml\nvary:\n  name: [${value}, plain]\noutputs: [pvKWh]\n`);
  expect(sixamp(['study', study, '--out', join(base, 'study'), '--workers', '1']).status).toBe(0);
  harmless(join(base, 'study'), 1);
  expect(namesIn(join(base, 'study'))).toContain('variants.csv');
});
