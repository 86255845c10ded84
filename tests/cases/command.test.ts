/**
 * Every broken file once more, through the command itself as it is called on a command line (in this process: 270 of its own would take
 * minutes): exit 2, exactly the issues that stand beside the file, nothing on the standard output, no stack, nothing written.
 */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { runCommand } from '../../src/cli/command.ts';

const FOLDER = join(import.meta.dirname, 'broken');
const bed = mkdtempSync(join(tmpdir(), 'sixamp-broken-'));
const out = join(bed, 'out');
afterAll(() => rmSync(bed, { recursive: true, force: true }));

interface Ended {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs a command line here, and listens to what it says. */
async function sixamp(...args: readonly string[]): Promise<Ended> {
  const said = { stdout: '', stderr: '' };
  const own = { stdout: process.stdout.write, stderr: process.stderr.write };
  const streams = ['stdout', 'stderr'] as const;
  for (const name of streams) {
    process[name].write = (text: string | Uint8Array) => {
      said[name] += String(text);
      return true;
    };
  }
  try {
    return { status: await runCommand(args), ...said };
  } finally {
    for (const name of streams) process[name].write = own[name];
  }
}

/** What the terminal shows of a text: control characters do no harm there. */
const shown = (text: string): string => text.replace(/[^\P{Cc}\n\t]|\p{Bidi_Control}/gu, '\ufffd');

/** Refused as it should be; its issues as they stand in the files beside the broken ones. */
function refused({ status, stdout, stderr }: Ended, file: string): string {
  expect(status, stderr).toBe(2);
  expect(stdout).toBe('');
  expect(stderr).not.toMatch(/^\s+at .*:\d+/m);
  expect(stderr).not.toMatch(/undefined|\[object|sixamp failed/);
  expect(readdirSync(bed)).toEqual([]);
  // An empty line stands after each issue, and their number below them all.
  const issues = stderr.replace(/^\d+ errors? in .*; nothing was run\.\n/m, '').replaceAll('\n\n', '\n');
  return issues.replaceAll(file, file.slice(file.lastIndexOf('/') + 1));
}

/** The files of one kind, and the command that reads them. */
const KINDS = [
  { folder: '', ends: '.yaml', command: 'run' },
  { folder: 'studies', ends: '.yaml', command: 'study' },
  { folder: 'records', ends: '.yaml', command: 'pilot' },
  { folder: 'logs', ends: '.csv', command: 'log' },
] as const;
const namesOf = (folder: string, ends: string): string[] =>
  readdirSync(join(FOLDER, folder)).filter((name) => name.endsWith(ends));
const expectedOf = (file: string): string => shown(readFileSync(file.replace(/\.\w+$/, '.expected.txt'), 'utf8'));

describe.each(KINDS)('sixamp $command FILE, broken/$folder', ({ folder, ends, command }) => {
  test.each(namesOf(folder, ends))('%s', async (name) => {
    const file = join(FOLDER, folder, name);
    const expected = expectedOf(file);
    expect(refused(await sixamp(command, file, '--out', out), file)).toBe(expected);

    const { status, stdout, stderr } = await sixamp(command, file, '--out', out, '--json');
    expect([status, stderr]).toEqual([2, '']);
    const { ok, issues } = JSON.parse(stdout) as { ok: boolean; issues: { code: string }[] };
    expect(ok).toBe(false);
    for (const { code } of issues) expect(expected).toContain(`[${code}]`);
    expect(readdirSync(bed)).toEqual([]);
  });
});

describe('every tenth scenario by the other commands that take one', () => {
  const OTHERS: readonly (readonly [command: string, ...options: string[]])[] = [
    ['check'],
    ['hours'],
    ['hours', '--years', '2', '--out', out],
    ['why', '--day', 'best', '--out', out],
    ['phases', '--out', out],
    ['share', '--out', out],
    ['size', '--want', 'pvKWh >= 1', '--by', 'roof', '--out', out],
    ['page', '--out', out],
    ['handover', '--out', out],
  ];
  const files = namesOf('', '.yaml').filter((_, i) => i % 10 === 0);
  test.each(OTHERS)('sixamp %s %s %s', async (command, ...options) => {
    for (const name of files) {
      const file = join(FOLDER, name);
      expect(refused(await sixamp(command, file, ...options), file)).toBe(expectedOf(file));
    }
  });
  test('sixamp wiring, by logs', async () => {
    for (const name of namesOf('logs', '.csv')) {
      const file = join(FOLDER, 'logs', name);
      expect(refused(await sixamp('wiring', file, '--expect', '1,2,3'), file)).toContain(`${name}:`);
    }
  });
});
