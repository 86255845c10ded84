import { type SpawnSyncReturns, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { COMMAND, ROOT } from '../tools/command.ts';

// Other work on the machine must not fail a test.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

/** A June week by hand: small enough to run in a second, coarse enough to be quick. */
const SCENARIO = `
name: June week
site: { latitude: 47.3, longitude: 13.2, timeZone: Europe/Vienna }
period: { start: 2025-06-02, days: 7, stepS: 300 }
weather:
  source: synthetic
  monthlyGhiKWhM2: [34, 54, 95, 127, 157, 160, 166, 142, 103, 67, 37, 27]
  monthlyTempC: [-1, 1, 5, 9, 14, 17, 19, 19, 15, 10, 4, 0]
pv: { source: arrays, arrays: [{ kWp: 8, tiltDeg: 30, azimuthDeg: 180 }] }
household: { source: synthetic, annualKWh: 3500 }
chargePoints:
  - name: garage
    charger: { phases: switchable, maxCurrentA: 16 }
    vehicle: { batteryKWh: 58, phases: 3, maxCurrentA: 16, minCurrentA: { 1: 6, 2: 6, 3: 6 }, kWhPer100km: 17 }
    usage: { source: always }
`;

let base: string;
let file: string;
beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), 'sixamp-cli-'));
  file = join(base, 'week.yaml');
  writeFileSync(file, SCENARIO);
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

/** The command, as a pipe sees it. */
function sixamp(args: readonly string[], env: Record<string, string> = {}): SpawnSyncReturns<string> {
  return spawnSync(process.execPath, [COMMAND, ...args], {
    cwd: ROOT,
    encoding: 'utf8',
    env: { ...process.env, ...env },
  });
}

describe('usage', () => {
  test('help: on the standard output, with an example, for each command', () => {
    for (const args of [['--help'], ['check', '--help'], ['run', '--help'], ['hours', '--help']]) {
      const { status, stdout, stderr } = sixamp(args);
      expect([status, stderr]).toEqual([0, '']);
      expect(stdout).toMatch(/Usage: sixamp/);
      expect(stdout).toMatch(/Example:\n {2}sixamp \w+ scenarios\//);
    }
    expect(sixamp([]).stdout).toBe(sixamp(['--help']).stdout);
  });

  test('version is that of package.json', () => {
    const { version } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
    expect(sixamp(['--version']).stdout).toBe(`${version}\n`);
  });

  test('unknown command: four lines, the one that was meant, exit 2', () => {
    const { status, stdout, stderr } = sixamp(['chek', 'home.yaml']);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(
      /^sixamp chek home\.yaml\n {2}Unknown command 'chek'\.\n {2}Allowed: check, run, hours, why, .*\n {2}Fix: write check {3}\[unknown-command\]\n$/,
    );
  });

  test('unknown option and missing file: exit 2', () => {
    expect(sixamp(['check', 'home.yaml', '--jsn']).stderr).toMatch(
      /Unknown option '--jsn'\.\n {2}Fix: write --json {3}\[unknown-option\]/,
    );
    expect(sixamp(['hours']).stderr).toMatch(/Missing required argument 'file'\.\n {2}Fix: see sixamp hours --help/);
    expect(sixamp(['hours']).status).toBe(2);
  });

  test('with --json even a wrong command line answers with one object', () => {
    const { status, stdout, stderr } = sixamp(['chek', '--json']);
    expect([status, stderr]).toEqual([2, '']);
    expect(JSON.parse(stdout)).toMatchObject({ ok: false, issues: [{ code: 'unknown-command' }], warnings: [] });
  });
});

describe('input', () => {
  test('a file that is not there', () => {
    const { status, stdout, stderr } = sixamp(['check', 'nowhere.yaml']);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(/^nowhere\.yaml\n {2}There is no such file\.\n {2}Fix: .* {3}\[file-unreadable\]\n$/);
  });

  test('a scenario with mistakes: all of them, on the error stream, no colours in a pipe', () => {
    const wrong = join(base, 'wrong.yaml');
    writeFileSync(
      wrong,
      SCENARIO.replace('latitude: 47.3', 'latitude: 147.3').replace('maxCurrentA: 16 }', 'maxCurrentA: 160 }'),
    );
    const { status, stdout, stderr } = sixamp(['check', wrong]);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain('site.latitude = 147.3');
    expect(stderr).toContain('chargePoints[0].charger.maxCurrentA = 160');
    expect(stderr).toMatch(/2 errors in .*wrong\.yaml; nothing was run\.\n$/);
    expect(stderr).not.toContain('\u001b');
    const read = JSON.parse(sixamp(['check', wrong, '--json']).stdout);
    expect(read.issues.map((issue: { line: number }) => issue.line)).toEqual([3, 13]);
  });

  test('a byte order mark does no harm', () => {
    const marked = join(base, 'marked.yaml');
    writeFileSync(marked, `\uFEFF${SCENARIO}`);
    expect(sixamp(['check', marked]).status).toBe(0);
  });
});

describe('commands', () => {
  test('check says what the scenario means', () => {
    const { status, stdout } = sixamp(['check', file]);
    expect(status).toBe(0);
    expect(stdout).toMatch(/^June week\n/);
    expect(stdout).toContain('1.38 kW');
    expect(JSON.parse(sixamp(['check', file, '--json']).stdout)).toMatchObject({ ok: true, scenario: 'June week', warnings: [] });
  });

  test('hours prints the months and the answer; --json has the same numbers, units in their names', () => {
    const { status, stdout } = sixamp(['hours', file]);
    expect(status).toBe(0);
    expect(stdout).toMatch(/2025-06 +[\d.,]+/);
    expect(stdout).toMatch(/2 June 2025 to 8 June 2025: the roof puts [\d,]+ kWh into the car/);
    const read = JSON.parse(sixamp(['hours', file, '--json']).stdout);
    expect(read).toMatchObject({ ok: true, scenario: 'June week', months: [{ year: 2025, month: 6 }] });
    expect(read.months[0].run.chargePoints[0].carPvKWh).toBe(read.run.chargePoints[0].carPvKWh);
  });

  test('run writes the folder whole, twice the same, and keeps what is not its own', () => {
    const out = join(base, 'out');
    const first = sixamp(['run', file, '--out', out]);
    expect([first.status, first.stderr]).toEqual([0, '']);
    const names = readdirSync(out).sort();
    expect(names).toEqual(
      expect.arrayContaining(['events.csv', 'months.csv', 'months.png', 'months.svg', 'steps.csv', 'summary.json']),
    );
    const bytes = names.map((name) => readFileSync(join(out, name)));
    writeFileSync(join(out, 'notes.txt'), 'mine');
    const second = JSON.parse(sixamp(['run', file, '--out', out, '--json']).stdout);
    expect(second.files.sort()).toEqual(names);
    expect(names.map((name, i) => Buffer.compare(readFileSync(join(out, name)), bytes[i] ?? Buffer.alloc(0)))).toEqual(
      names.map(() => 0),
    );
    expect(existsSync(join(out, 'notes.txt'))).toBe(true);
  });

  test('run into a place that is a file', () => {
    const { status, stderr } = sixamp(['run', file, '--out', file]);
    expect(status).toBe(2);
    expect(stderr).toContain('[out-is-a-file]');
  });

  test('a reader that goes away is no error', () => {
    const line = `"${process.execPath}" "${COMMAND}" hours "${file}" --json | head -1`;
    const { stdout, stderr } = spawnSync('bash', ['-o', 'pipefail', '-c', line], { cwd: ROOT, encoding: 'utf8' });
    expect([stdout, stderr]).toEqual(['{\n', '']);
  });
});
