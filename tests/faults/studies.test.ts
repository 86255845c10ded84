import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { bed, bytesIn, house, namesIn, sixamp, start, until } from './bed.ts';

vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

const { base, clear } = bed();
const study = join(base, 'study.yaml');
const whole = join(base, 'whole');

/** Loaded into the command: ends the youngest worker, as want of memory does, once the study is well under way. */
const KILLER = `
import { existsSync, readFileSync } from 'node:fs';
let youngest;
process.on('worker', (worker) => { youngest = worker; });
const isUnderWay = () => existsSync(process.env.JOURNAL) && readFileSync(process.env.JOURNAL, 'utf8').split('\\n').length > 3;
const look = setInterval(() => { if (isUnderWay()) { clearInterval(look); youngest.terminate(); } }, 1);
look.unref();
`;

beforeAll(() => {
  writeFileSync(join(base, 'house.yaml'), house('Study', 10, 300));
  writeFileSync(
    study,
    'scenario: house.yaml\nvary:\n  pv.arrays[0].kWp: [3, 5, 7, 9]\n  control.surplusShare: [1, 0.7, 0.4]\noutputs: [pvKWh, starts]\n',
  );
  writeFileSync(join(base, 'killer.mjs'), KILLER);
  expect(sixamp(['study', study, '--out', whole, '--workers', '1']).status).toBe(0);
});
afterAll(clear);

test('a worker that dies: it is said, what is done is kept, the same command goes on', () => {
  const out = join(base, 'died');
  const env = { JOURNAL: join(out, 'study.journal') };
  const died = sixamp(['study', study, '--out', out, '--workers', '2'], ['--import', join(base, 'killer.mjs')], env);
  expect(died.stderr).toBe(
    'sixamp failed: a worker ended before its work was done (code 1).\n' +
      '  Fix: run it again, with fewer --workers if memory is short; a study goes on where it stopped\n',
  );
  expect([died.status, died.stdout]).toEqual([1, '']);
  expect(namesIn(out)).toEqual(['study.journal']);
  const again = sixamp(['study', study, '--out', out, '--workers', '1']);
  expect(again.stderr).toMatch(/^Going on: \d+ of 12 variants were done already\.\n$/);
  expect(bytesIn(out)).toEqual(bytesIn(whole));
});

test('stopped from the keyboard, beside a second one that was turned away: what is done is kept, and a damaged journal loses no more than it must', async () => {
  const out = join(base, 'stopped');
  const journal = join(out, 'study.journal');
  const { child, ended } = start(['study', study, '--out', out, '--workers', '1']);
  await until(() => existsSync(journal) && readFileSync(journal, 'utf8').split('\n').length > 5);
  child.kill('SIGSTOP');
  const second = sixamp(['study', study, '--out', out]);
  expect([second.status, second.stdout]).toEqual([2, '']);
  expect(second.stderr).toContain('Another run of a study works in this folder.');
  child.kill('SIGCONT');
  child.kill('SIGINT');
  const { status, stderr } = await ended;
  expect(status).toBe(130);
  expect(stderr).toMatch(/Stopped\. What is done \(\d+ results\) is kept in .*: the same command goes on from there\./);
  expect(namesIn(out)).toEqual(['study.journal']);

  // As a disk leaves it after a loss of power: zeros in the middle.
  const lines = readFileSync(journal, 'utf8').split('\n');
  writeFileSync(journal, [...lines.slice(0, 3), '\0'.repeat(40), ...lines.slice(4)].join('\n'));
  const resumed = sixamp(['study', study, '--out', out, '--workers', '1']);
  expect([resumed.status, resumed.stderr]).toEqual([0, 'Going on: 2 of 12 variants were done already.\n']);
  expect(bytesIn(out)).toEqual(bytesIn(whole));
  rmSync(out, { recursive: true });
});
