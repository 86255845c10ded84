import { linkSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { takeLock } from '../../src/cli/lock.ts';
import { defaultFolder } from '../../src/cli/out-folder.ts';
import { InputProblem } from '../../src/cli/problem.ts';
import { MAX_DATA_BYTES, readText } from '../../src/cli/read-file.ts';
import { stopSoon, undisturbed, whenStopped } from '../../src/cli/stopping.ts';
import { studyProgress } from '../../src/cli/study-progress.ts';
import { say, type Terminal } from '../../src/cli/terminal.ts';
import { writeFolder } from '../../src/cli/write-whole.ts';

let base: string;
beforeEach(() => {
  base = mkdtempSync(join(tmpdir(), 'sixamp-parts-'));
});
afterEach(() => {
  vi.useRealTimers();
  rmSync(base, { recursive: true, force: true });
});

/** No process has this number: the kernel's largest is smaller. */
const NOBODY = 4_194_305;
const none = (): boolean => false;

describe('locks', () => {
  const path = (): string => join(base, '.lock');
  const heldBy = (holder: object): void => writeFileSync(path(), JSON.stringify(holder));

  test('held by a process that runs, here or elsewhere: not taken', () => {
    const giveBack = takeLock(path());
    expect(takeLock(path())).toBe(null);
    giveBack?.();
    expect(readdirSync(base)).toEqual([]);
    heldBy({ host: `not-${hostname()}`, pid: NOBODY });
    expect(takeLock(path())).toBe(null);
    writeFileSync(path(), 'something else');
    expect(takeLock(path())).toBe(null);
  });

  test('held by a process that is gone: taken over', () => {
    heldBy({ host: hostname(), pid: NOBODY });
    const giveBack = takeLock(path());
    expect(giveBack).not.toBe(null);
    giveBack?.();
    expect(readdirSync(base)).toEqual([]);
  });
});

describe('files put in place', () => {
  test('one that can not be: those before it are put back', async () => {
    for (const name of ['a', 'b']) writeFileSync(join(base, name), 'old');
    // A name that is free when it is looked at and a folder when it is written to.
    const files = (async function* () {
      yield { name: 'a', content: 'new' };
      yield { name: 'new', content: 'new' };
      yield { name: 'c', content: 'new' };
    })();
    const writing = writeFolder(base, files, none, (name) => {
      if (name === 'c') mkdirSync(join(base, 'c', 'taken'), { recursive: true });
    });
    await expect(writing).rejects.toThrow('A folder stands where a file should be written.');
    expect(readdirSync(base).sort()).toEqual(['a', 'b', 'c']);
    expect(readFileSync(join(base, 'a'), 'utf8')).toBe('old');
  });

  test('what dead processes left is cleared away; what living ones write, and strangers, are not', async () => {
    const left = `.out.${hostname()}-${NOBODY}.tmp`;
    const others = [`.out.${hostname()}-${process.ppid}.tmp`, `.out.elsewhere-${NOBODY}.tmp`, '.out.mine.tmp'];
    for (const name of [left, ...others]) mkdirSync(join(base, name));
    await writeFolder(join(base, 'out'), [{ name: 'a', content: 'x' }], none);
    expect(readdirSync(base).sort()).toEqual([...others, 'out'].sort());
  });

  test('names of nothing but points do not lead out of the folder for results', () => {
    expect(defaultFolder('a/house.yaml')).toBe(join('out', 'house'));
    for (const name of ['...yaml', '..yaml', 'a/...json']) expect(defaultFolder(name)).toBe(join('out', 'results'));
  });
});

describe('a stop', () => {
  test('waits for what must not be cut in two, and then tells', async () => {
    const order: string[] = [];
    const forget = whenStopped(() => 'kept');
    const work = undisturbed(async () => {
      stopSoon((told) => order.push(...told));
      await new Promise((resolve) => setTimeout(resolve, 5));
      order.push('done');
    });
    await work;
    expect(order).toEqual(['done', 'kept']);
    forget();
  });
});

describe('texts of files', () => {
  const put = (bytes: Uint8Array | string): string => {
    writeFileSync(join(base, 'file'), bytes);
    return join(base, 'file');
  };
  const codeOf = async (path: string, most = MAX_DATA_BYTES): Promise<string> =>
    readText(path, 'file', most).then(
      () => 'read',
      (error: unknown) => (error instanceof InputProblem ? error.issue.code : String(error)),
    );

  test('UTF-16 with its mark, either way round, is read as the same text', async () => {
    const text = 'time,pv_w\n2025-06-02T00:00:00Z,1\nZürich\n';
    const low = Buffer.from(`\uFEFF${text}`, 'utf16le');
    expect(await readText(put(low), 'file', 1e6)).toBe(text);
    expect(await readText(put(Buffer.from(low).swap16()), 'file', 1e6)).toBe(text);
    expect(await readText(put(gzipSync(low)), 'file', 1e6)).toBe(text);
    // Without the mark it could be anything.
    expect(await codeOf(put(Buffer.from(text, 'utf16le')))).toBe('file-not-text');
  });

  test('gigabytes of zeros, plain, packed or from a device: refused at once, in little memory', async () => {
    const before = process.memoryUsage.rss();
    const fromMs = performance.now();
    const path = put('');
    truncateSync(path, 400_000_000);
    expect(await codeOf(path)).toBe('file-not-text');
    truncateSync(path, 5_000_000_000);
    expect(await codeOf(path)).toBe('file-too-large');
    const gz = gzipSync(Buffer.alloc(100_000_000));
    expect(await codeOf(put(gz))).toBe('file-not-text');
    // Eight hundred megabytes of spaces in less than one.
    const spaces = gzipSync(Buffer.alloc(20_000_000, 32));
    expect(await codeOf(put(Buffer.concat(Array.from({ length: 40 }, () => spaces))), 50_000_000)).toBe('file-too-large');
    expect(await codeOf('/dev/zero')).toBe('file-unreadable');
    expect(performance.now() - fromMs).toBeLessThan(5000);
    expect(process.memoryUsage.rss() - before).toBeLessThan(400_000_000);
  });

  test('names that no file can have', async () => {
    expect(await codeOf(join(base, 'a\0b'))).toBe('file-unreadable');
    expect(await codeOf(join(base, 'x'.repeat(5000)))).toBe('file-unreadable');
    expect(await codeOf(join(put('x'), 'below'))).toBe('file-unreadable');
  });

  test('a file under two names is one file: nothing is written through the other', async () => {
    writeFileSync(join(base, 'mine.csv'), 'mine');
    mkdirSync(join(base, 'out'));
    linkSync(join(base, 'mine.csv'), join(base, 'out', 'steps.csv'));
    await writeFolder(join(base, 'out'), [{ name: 'steps.csv', content: 'new' }], none);
    expect(readFileSync(join(base, 'mine.csv'), 'utf8')).toBe('mine');
  });
});

describe('on the terminal', () => {
  /** A terminal that keeps what it is told. */
  function keeping(): { terminal: Terminal; said: () => string } {
    let said = '';
    const write = (text: string): boolean => {
      said += text;
      return true;
    };
    const stream = { isTTY: true, columns: 80, write, on: () => stream };
    return { terminal: { out: stream, err: stream } as unknown as Terminal, said: () => said };
  }

  test('control characters of a name do not reach it, our own styles do', () => {
    const { terminal, said } = keeping();
    say(terminal, '\u001b[1mbold\u001b[22m \u001b[2J\u001b]0;title\u0007 \u202edlog\u0000\tend');
    expect(said()).toBe('\u001b[1mbold\u001b[22m \ufffd[2J\ufffd]0;title\ufffd \ufffddlog\ufffd\tend\n');
  });

  test('a clock that jumps back or forward by years does not touch progress', async () => {
    vi.useFakeTimers({ toFake: ['Date'] });
    const { terminal, said } = keeping();
    const bar = studyProgress(terminal, 'variants');
    for (const year of ['2025', '1999', '2099']) {
      vi.setSystemTime(new Date(`${year}-01-01T00:00:00Z`));
      for (let done = 1; done < 40; done++) await bar.at(done, 100);
    }
    bar.end();
    expect(said()).not.toMatch(/NaN|Infinity|-\d/);
  });
});
