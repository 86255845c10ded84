import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test, vi } from 'vitest';
import { bed, type Ended, inShell, mount, namesIn, RECORD, sixamp } from './bed.ts';

vi.setConfig({ testTimeout: 120_000 });

const { base, clear } = bed();
afterAll(clear);
const short = join(base, 'short.yaml');

/** The user's to mend: exit 2, the reason, what to do, and no stack. */
function told({ status, stdout, stderr }: Ended, reason: string): void {
  expect(stderr).toContain(reason);
  expect(stderr).toContain('Fix: ');
  expect(`${stdout}${stderr}`).not.toMatch(/^\s+at /m);
  expect(status).toBe(2);
}

describe('the disk is full', () => {
  test('a run leaves nothing; what was there stays', () => {
    const disk = join(base, 'small');
    mkdirSync(disk);
    const unmount = mount(disk, 'size=200k');
    if (unmount === null) return;
    try {
      mkdirSync(join(disk, 'out'));
      writeFileSync(join(disk, 'out', 'summary.json'), 'of an earlier run');
      told(sixamp(['run', short, '--out', join(disk, 'out')]), 'The disk is full.');
      expect(namesIn(join(disk, 'out'))).toEqual(['summary.json']);
      expect(readFileSync(join(disk, 'out', 'summary.json'), 'utf8')).toBe('of an earlier run');
    } finally {
      unmount();
    }
  });

  test('results that go there through the shell', () => {
    if (inShell('test -w /dev/full').status !== 0) {
      console.warn('PASSED OVER: this machine has no /dev/full.');
      return;
    }
    told(inShell(`$SIXAMP check ${short} > /dev/full`), 'The output can not be written (ENOSPC)');
  });
});

test('a disk that may not be written to', () => {
  const disk = join(base, 'fixed');
  mkdirSync(disk);
  const unmount = mount(disk, 'ro');
  if (unmount === null) return;
  try {
    writeFileSync(join(base, 'study.yaml'), 'scenario: short.yaml\nvary:\n  control.surplusShare: [1, 0.5]\noutputs: [pvKWh]\n');
    told(sixamp(['pilot', RECORD, '--out', join(disk, 'record.html')]), 'the disk is read-only');
    told(sixamp(['study', join(base, 'study.yaml'), '--out', join(disk, 'study')]), 'the disk is read-only');
  } finally {
    unmount();
  }
});

test('a file where a folder should be, a folder where a file should be, no name at all', () => {
  writeFileSync(join(base, 'file'), 'mine');
  mkdirSync(join(base, 'folder.html', 'below'), { recursive: true });
  told(sixamp(['pilot', RECORD, '--out', join(base, 'file', 'record.html')]), 'this is a file');
  told(sixamp(['pilot', RECORD, '--out', join(base, 'folder.html')]), 'A folder stands where a file should be written.');
  told(sixamp(['pilot', RECORD, '--out', '']), 'The name is empty.');
  expect(readFileSync(join(base, 'file'), 'utf8')).toBe('mine');
  expect(namesIn(join(base, 'folder.html'))).toEqual(['below']);
});

test('a reader that goes away: the files are written, and the command ends well', () => {
  const out = join(base, 'piped.html');
  const { status, stdout, stderr } = inShell(`$SIXAMP pilot ${RECORD} --out ${out} 2>&1 | head -1`);
  expect([status, stdout.split('\n').length, stderr]).toEqual([0, 2, '']);
  expect(readFileSync(out, 'utf8')).toContain('</html>');
});
