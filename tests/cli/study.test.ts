import { type ChildProcess, type SpawnSyncReturns, spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { HOUSE } from '../study/bed.ts';
import { COMMAND, ROOT } from '../tools/command.ts';

vi.setConfig({ testTimeout: 120_000, hookTimeout: 60_000 });

const STUDY = `
name: A roof, a share
scenario: house.yaml
years: 2
vary:
  pv.arrays[0].kWp: { from: 2, to: 9, count: 8 }
  control.surplusShare: [1, 0.8, 0.6, 0.4, 0.2]
outputs: [pvKWh, cost, starts]
heatMap: { x: "pv.arrays[0].kWp", y: control.surplusShare, value: pvKWh }
front: { less: starts, more: pvKWh }
`;

let base: string;
beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), 'sixamp-study-'));
  writeFileSync(join(base, 'house.yaml'), HOUSE);
  writeFileSync(join(base, 'study.yaml'), STUDY);
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

const sixamp = (args: readonly string[]): SpawnSyncReturns<string> =>
  spawnSync(process.execPath, [COMMAND, ...args], { cwd: ROOT, encoding: 'utf8' });

const started = (args: readonly string[]): ChildProcess =>
  spawn(process.execPath, [COMMAND, ...args], { cwd: ROOT, stdio: 'ignore' });

/** Every file of a folder with its bytes. */
const bytesOf = (folder: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(folder)
      .sort()
      .map((name) => [name, readFileSync(join(folder, name)).toString('base64')]),
  );

const linesOf = (path: string): number => (existsSync(path) ? readFileSync(path, 'utf8').split('\n').length - 1 : 0);

test('killed in the middle and resumed: the same bytes as never stopped', async () => {
  const whole = join(base, 'whole');
  const killed = join(base, 'killed');
  const study = join(base, 'study.yaml');
  expect(sixamp(['study', study, '--out', whole]).status).toBe(0);

  const child = started(['study', study, '--out', killed]);
  const ended = new Promise((resolve) => child.once('exit', resolve));
  const journal = join(killed, 'study.journal');
  while (linesOf(journal) < 10) await new Promise((resolve) => setTimeout(resolve, 2));
  child.kill('SIGKILL');
  await ended;
  const left = linesOf(journal);
  expect(left).toBeGreaterThanOrEqual(10);
  expect(left).toBeLessThan(80);
  expect(existsSync(join(killed, 'variants.csv'))).toBe(false);

  const resumed = sixamp(['study', study, '--out', killed]);
  expect(resumed.status).toBe(0);
  expect(resumed.stderr).toMatch(/Going on: \d+ of 80 variants were done already/);
  expect(bytesOf(killed)).toEqual(bytesOf(whole));
});

test('one worker gives the same bytes as several', () => {
  const out = join(base, 'one');
  expect(sixamp(['study', join(base, 'study.yaml'), '--out', out, '--workers', '1']).status).toBe(0);
  expect(bytesOf(out)).toEqual(bytesOf(join(base, 'whole')));
  expect(Object.keys(bytesOf(out))).toContain('heat.svg');
});

test('a variant that fails is named with its values; the others run', () => {
  writeFileSync(
    join(base, 'wrong.yaml'),
    'scenario: house.yaml\nvary: { control.surplusShare: [1, 7, 0.5] }\noutputs: [pvKWh]\n',
  );
  const { status, stdout } = sixamp(['study', join(base, 'wrong.yaml'), '--out', join(base, 'wrong'), '--json']);
  expect(status).toBe(0);
  const { variants } = JSON.parse(stdout) as { variants: { keys: object; problem: string | null; values: object }[] };
  expect(variants.map(({ problem }) => problem === null)).toEqual([true, false, true]);
  expect(variants[1]?.problem).toContain('control.surplusShare = 7');
  expect(readFileSync(join(base, 'wrong', 'variants.csv'), 'utf8')).toContain('7,');
});

test('mistakes in a study and verdicts on long steps end with 2', () => {
  writeFileSync(join(base, 'bad.yaml'), 'scenario: house.yaml\nvarry: { a: [1] }\n');
  const bad = sixamp(['study', join(base, 'bad.yaml')]);
  expect(bad.status).toBe(2);
  expect(bad.stderr).toContain('varry');
  for (const command of [['phases'], ['share'], ['size', '--want', 'pvKWh >= 100']]) {
    const { status, stderr } = sixamp([...command, join(base, 'house.yaml')]);
    expect(status).toBe(2);
    expect(stderr).toContain('step-too-long-for-verdict');
  }
});
