import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Checked } from '../../src/base/index.ts';
import { readPilotRecord, readRunLog } from '../../src/commissioning/index.ts';
import { formatIssue, type Locate } from '../../src/scenario/index.ts';
import { readStudy } from '../../src/study/index.ts';
import { enterFile } from '../scenario/door.ts';

const FOLDER = join(import.meta.dirname, 'broken');
const atTop: Locate = () => ({ line: 1, column: 1 });

interface Read {
  readonly checked: Checked<unknown>;
  readonly locate: Locate;
}

/** The files of one kind: where they stand, how many at least, and how they are read. */
const KINDS: readonly { folder: string; ends: string; least: number; read(path: string, name: string): Read }[] = [
  { folder: '', ends: '.yaml', least: 200, read: enterFile },
  {
    folder: 'studies',
    ends: '.yaml',
    least: 25,
    read: (path, name) => ({ checked: readStudy(readFileSync(path, 'utf8'), name), locate: atTop }),
  },
  { folder: 'records', ends: '.yaml', least: 20, read: (path, name) => readPilotRecord(readFileSync(path, 'utf8'), name) },
  {
    folder: 'logs',
    ends: '.csv',
    least: 15,
    read: (path, name) => ({ checked: readRunLog(readFileSync(path, 'utf8'), name, 230), locate: atTop }),
  },
];

describe.each(KINDS)('broken/$folder', ({ folder, ends, least, read }) => {
  const names = readdirSync(join(FOLDER, folder)).filter((name) => name.endsWith(ends));

  test(`one file a mistake, at least ${least} of them`, () => {
    expect(names.length).toBeGreaterThanOrEqual(least);
  });

  // After a change that is meant: `npx vitest run --config .config/vitest.ts tests/cases/broken.test.ts -u`, and read what changed.
  test.each(names)('%s: refused with exactly the text beside it', async (name) => {
    const { checked, locate } = read(join(FOLDER, folder, name), name);
    if (checked.ok) throw new Error(`${name} passed the door`);
    const text = checked.issues.map((issue) => `${formatIssue(issue, name, locate)}\n`).join('');
    await expect(text).toMatchFileSnapshot(join(FOLDER, folder, `${name.slice(0, -ends.length)}.expected.txt`));
  });
});
