import { type SpawnSyncReturns, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { SMALL } from '../report/small-household.ts';
import { COMMAND, ROOT } from '../tools/command.ts';

// Other work on the machine must not fail a test.
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

let base: string;
let file: string;
beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), 'sixamp-why-'));
  file = join(base, 'small.yaml');
  writeFileSync(file, SMALL.replaceAll('NAME', 'garage').replace('DAYS', '14'));
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

function why(...args: string[]): SpawnSyncReturns<string> {
  return spawnSync(process.execPath, [COMMAND, 'why', file, ...args], { cwd: ROOT, encoding: 'utf8' });
}

describe('sixamp why', () => {
  test('a day: ribbon, sentences, where the hours went, what would have changed it', () => {
    const { status, stdout, stderr } = why('--day', '2025-04-05');
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toMatch(/^garage\n\nSaturday, 5 April 2025\n/);
    expect(stdout).toMatch(/\nstate {2}.{72}\|\n/);
    expect(stdout).toMatch(/\n\d\d:\d\d {8}starts on /);
    expect(stdout).toMatch(/\nWhere the hours went\n/);
    expect(stdout).toMatch(/\nWhat would have changed it\n/);
    expect(stdout).toMatch(/\ncharged at once +[\d,.]+ {2}/);
    for (const line of stdout.split('\n')) expect(line.length, line).toBeLessThanOrEqual(101);
  });

  test('days by what they were like, and stretches', () => {
    for (const day of ['worst', 'best', 'median', 'most-stalls']) {
      const { status, stdout } = why('--day', day);
      expect([status, stdout.includes('(the ')]).toEqual([0, true]);
    }
    expect(why('--from', '2025-04-02', '--to', '2025-04-03').stdout).toMatch(/Wednesday, 2 April[\s\S]*Thursday, 3 April/);
    expect(why().stdout).toMatch(/\n1 April 2025 to 14 April 2025\n {2}the day with least PV in the car: 2025-04-/);
  });

  test('German', () => {
    const { stdout } = why('--day', '2025-04-05', '--lang', 'de');
    expect(stdout).toMatch(/\nSamstag, 05\.04\.2025\n/);
    expect(stdout).toMatch(/beginnt auf (einer Phase|drei Phasen): Der Überschuss liegt seit \d\d:\d\d über den \d,\d\d kW/);
    expect(stdout).not.toMatch(/ the /);
  });

  test('--json holds what is printed, and what was compared', () => {
    const read = JSON.parse(why('--day', '2025-04-05', '--json').stdout);
    expect(read).toMatchObject({ ok: true, scenario: 'garage', from: '2025-04-05', to: '2025-04-05', warnings: [] });
    expect(read.days[0].account[0]).toMatchObject({ chargePoint: 'garage', text: expect.stringMatching(/\.$/) });
    const rows = read.whereTheHoursWent[0].rows;
    expect(rows.at(-1)).toMatchObject({ name: 'solar', takenOff: false });
    expect(rows.at(-1).pvKWh).toBeCloseTo(read.days[0].sums.chargePoints[0].carPvKWh, 2);
    expect(read.changes.map(({ name }: { name: string }) => name)).toContain('at-once');
  });

  test('--out writes pictures and a page, and leaves other files alone', () => {
    const out = join(base, 'out');
    expect(why('--day', '2025-04-05', '--out', out).status).toBe(0);
    expect(readdirSync(out).sort()).toEqual(['day-2025-04-05.png', 'day-2025-04-05.svg', 'why-2025-04-05.html']);
    why('--from', '2025-04-06', '--out', out);
    expect(readdirSync(out)).toEqual(expect.arrayContaining(['day-2025-04-05.png', 'why-2025-04-06-to-2025-04-14.html']));
    expect(readFileSync(join(out, 'why-2025-04-05.html'), 'utf8')).toContain('5 April 2025');
  });

  test('days that are not there, stretches that run backwards, a language that we do not speak', () => {
    const wrong = why('--day', '2026-01-01');
    expect([wrong.status, wrong.stdout]).toEqual([2, '']);
    expect(wrong.stderr).toBe(
      '--day  2026-01-01\n  There is no such day in this run.\n' +
        '  Allowed: a day from 2025-04-01 to 2025-04-14, or worst, best, median, most-stalls\n' +
        '  Fix: write the day as year-month-day, such as 2025-04-12   [day-unknown]\n',
    );
    expect(why('--from', '2025-04-05', '--to', '2025-04-02').stderr).toContain('The last day comes before the first.');
    expect(why('--day', 'best', '--from', '2025-04-02').stderr).toContain('says two things');
    expect(why('--lang', 'fr').stderr).toContain('[language-unknown]');
  });
});
