import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { InputProblem } from '../../src/cli/problem.ts';
import { writeFolder } from '../../src/cli/write-whole.ts';

// Other work on the machine must not fail a test.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

let base: string;
beforeEach(() => {
  base = mkdtempSync(join(tmpdir(), 'sixamp-write-'));
});
afterEach(() => rmSync(base, { recursive: true, force: true }));

const none = (): boolean => false;
function* failing(): Generator<string> {
  yield 'first half\n';
  throw new Error('no second half');
}

describe('a folder of files', () => {
  test('new, with folders on the way: strings, bytes and pieces arrive whole', async () => {
    const out = join(base, 'a', 'b');
    const files = [
      { name: 'text', content: 'é\n' },
      { name: 'bytes', content: Uint8Array.of(1, 2) },
      { name: 'pieces', content: ['one,', 'two'] },
    ];
    expect(await writeFolder(out, files, none)).toEqual(['text', 'bytes', 'pieces']);
    expect(readFileSync(join(out, 'text'), 'utf8')).toBe('é\n');
    expect([...readFileSync(join(out, 'bytes'))]).toEqual([1, 2]);
    expect(readFileSync(join(out, 'pieces'), 'utf8')).toBe('one,two');
    expect(readdirSync(join(base, 'a'))).toEqual(['b']);
  });

  test('a failing piece leaves nothing, not even the folders on the way', async () => {
    const files = [
      { name: 'whole', content: 'x' },
      { name: 'half', content: failing() },
    ];
    await expect(writeFolder(join(base, 'a', 'b'), files, none)).rejects.toThrow('no second half');
    expect(readdirSync(base)).toEqual([]);
  });

  test('a failing piece leaves what was there as it was', async () => {
    writeFileSync(join(base, 'steps.csv'), 'old');
    const files = [
      { name: 'steps.csv', content: 'new' },
      { name: 'half', content: failing() },
    ];
    await expect(writeFolder(base, files, none)).rejects.toThrow('no second half');
    expect(readdirSync(base)).toEqual(['steps.csv']);
    expect(readFileSync(join(base, 'steps.csv'), 'utf8')).toBe('old');
  });

  test('a folder that is there: replaced, stale charts of ours cleared, strangers kept', async () => {
    for (const name of ['steps.csv', 'day-2025-01-01.png', 'notes.txt']) writeFileSync(join(base, name), 'old');
    await writeFolder(base, [{ name: 'steps.csv', content: 'new' }], (name) => /\.(csv|png)$/.test(name));
    expect(readdirSync(base).sort()).toEqual(['notes.txt', 'steps.csv']);
    expect(readFileSync(join(base, 'steps.csv'), 'utf8')).toBe('new');
  });

  test('a file where the folder should be', async () => {
    writeFileSync(join(base, 'file'), 'x');
    await expect(writeFolder(join(base, 'file'), [], none)).rejects.toThrow(InputProblem);
    await expect(writeFolder(join(base, 'file', 'below'), [], none)).rejects.toThrow(
      'A part of this path is a file, not a folder.',
    );
  });
});

const SCRIPT = `
import { dropPending, writeFolder } from '${new URL('../../src/cli/write-whole.ts', import.meta.url).pathname}';

process.on('SIGINT', () => { dropPending(); process.exit(130); });
async function* slow() { for (;;) { yield 'row\\n'; console.log('wrote'); await new Promise((go) => setTimeout(go, 5)); } }
await writeFolder(process.argv[2], [{ name: 'steps.csv', content: slow() }], () => false);
`;

/** Starts a write that never ends, sends a signal in the middle of it, and waits for the end. */
async function stopInTheMiddle(folder: string, signal: NodeJS.Signals): Promise<number | null> {
  const script = join(base, 'write.mts');
  writeFileSync(script, SCRIPT);
  const child = spawn(process.execPath, ['--import', 'tsx', script, folder], { stdio: ['ignore', 'pipe', 'inherit'] });
  child.stdout.once('data', () => child.kill(signal));
  return new Promise((resolve) => child.on('close', (code) => resolve(code)));
}

describe('stopped in the middle', () => {
  test('from the keyboard: nothing is left, and what was there stays', async () => {
    const out = join(base, 'out');
    expect(await stopInTheMiddle(out, 'SIGINT')).toBe(130);
    expect(readdirSync(base)).toEqual(['write.mts']);
  });

  test('killed outright: no file under its final name', async () => {
    const out = join(base, 'out');
    await writeFolder(out, [{ name: 'steps.csv', content: 'old' }], none);
    expect(await stopInTheMiddle(out, 'SIGKILL')).toBe(null);
    expect(readFileSync(join(out, 'steps.csv'), 'utf8')).toBe('old');
    expect(readdirSync(out).filter((name) => !name.startsWith('.'))).toEqual(['steps.csv']);
  });
});
