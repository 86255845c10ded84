import { spawn } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, expect, test, vi } from 'vitest';
import { bed, bytesIn, house, namesIn, sixamp, start, until } from './bed.ts';

vi.setConfig({ testTimeout: 120_000 });

const { base, clear } = bed();
afterAll(clear);

test.each([
  ['SIGINT', 130],
  ['SIGTERM', 143],
] as const)('%s while files are written: nothing half-written, no folder, one line', async (signal, code) => {
  const out = join(base, signal, 'deep', 'out');
  const { child, ended } = start(['run', join(base, 'long.yaml'), '--out', out]);
  await until(() => namesIn(dirname(out)).length > 0);
  child.kill(signal);
  const { status, stdout, stderr } = await ended;
  expect([status, stdout, stderr]).toEqual([code, '', 'Stopped. Nothing was written.\n']);
  expect(namesIn(base)).not.toContain(signal);
});

test('killed outright: nothing under its final name, and the next run clears away what was left', async () => {
  const out = join(base, 'killed', 'out');
  const { child, ended } = start(['run', join(base, 'long.yaml'), '--out', out]);
  await until(() => namesIn(dirname(out)).length > 0);
  child.kill('SIGKILL');
  expect((await ended).status).toBe(null);
  expect(namesIn(dirname(out))).toEqual([`.out.${hostname()}-${child.pid}.tmp`]);
  expect(sixamp(['run', join(base, 'short.yaml'), '--out', out]).status).toBe(0);
  expect(namesIn(dirname(out))).toEqual(['out']);
});

/** Writes twenty files that all hold the same word into a folder, again and again. */
const WRITER = `
import { writeFolder } from '${new URL('../../src/cli/write-whole.ts', import.meta.url).pathname}';
const [folder, word] = process.argv.slice(2);
const files = Array.from({ length: 20 }, (_, i) => ({ name: 'file-' + i, content: word }));
for (let times = 0; times < 15; times++) await writeFolder(folder, files, () => false);
`;

test('many writers into one folder at the same time: at any moment of rest the files of one of them', async () => {
  const out = join(base, 'shared', 'out');
  const script = join(base, 'writer.mts');
  writeFileSync(script, WRITER);
  const words = ['one', 'two', 'three'];
  const codes = words.map(async (word) => {
    const child = spawn(process.execPath, ['--import', 'tsx', script, out, word], { stdio: 'inherit' });
    return new Promise((resolve) => child.once('close', resolve));
  });
  expect(await Promise.all(codes)).toEqual([0, 0, 0]);
  const held = Object.values(bytesIn(out));
  expect([held.length, new Set(held).size]).toEqual([20, 1]);
  expect(namesIn(dirname(out))).toEqual(['out']);
});

test('two runs into one folder at the same time: the files of one of them, none of the other, no trace', async () => {
  writeFileSync(join(base, 'other.yaml'), house('Other', 1, 3600).replace('kWp: 6.3', 'kWp: 3.1'));
  const out = join(base, 'both');
  const both = ['short', 'other'].map((name) => start(['run', join(base, `${name}.yaml`), '--out', out]).ended);
  for (const { status, stderr } of await Promise.all(both)) expect([status, stderr]).toEqual([0, '']);
  const read = (name: string): string => readFileSync(join(out, name), 'utf8');
  const { scenario: name } = JSON.parse(read('summary.json')) as { scenario: string };
  expect(read('report.html')).toContain(name);
  expect(read('report.html')).not.toContain(name === 'Short' ? 'Other' : 'Short');
  expect(namesIn(out).filter((file) => file.startsWith('.'))).toEqual([]);
});
