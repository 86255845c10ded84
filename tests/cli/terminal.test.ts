import { afterEach, describe, expect, test, vi } from 'vitest';
import { progress } from '../../src/cli/progress.ts';
import { styled, type Terminal } from '../../src/cli/terminal.ts';

/** A stream that keeps what it is told. */
function stream(isTTY: boolean): NodeJS.WriteStream & { readonly written: string[] } {
  const written: string[] = [];
  const write = (text: string): boolean => written.push(text) > 0;
  return { isTTY, written, write, on: () => {}, columns: 80 } as never;
}

afterEach(() => vi.unstubAllEnvs());

describe('styled', () => {
  test('colours on a terminal, none in a pipe, none with NO_COLOR', () => {
    vi.stubEnv('NO_COLOR', '');
    vi.stubEnv('TERM', 'xterm');
    expect(styled(stream(true), 'bold', 'x')).toBe('\u001b[1mx\u001b[22m');
    expect(styled(stream(false), 'bold', 'x')).toBe('x');
    vi.stubEnv('NO_COLOR', '1');
    expect(styled(stream(true), 'bold', 'x')).toBe('x');
  });
});

describe('progress', () => {
  const terminal = (isTTY: boolean): Terminal & { err: { written: string[] } } => ({ out: stream(isTTY), err: stream(isTTY) });

  test('quiet in a pipe, and for work that takes no second', async () => {
    for (const isTTY of [false, true]) {
      const quiet = terminal(isTTY);
      const bar = progress(quiet, 2);
      await bar.at(1, 'next');
      bar.end();
      expect(quiet.err.written).toEqual([]);
    }
  });
});
