import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { formatIssue } from '../../src/scenario/index.ts';
import { enterFile } from '../scenario/door.ts';

const FOLDER = join(import.meta.dirname, 'broken');
const names = readdirSync(FOLDER)
  .filter((file) => file.endsWith('.yaml'))
  .map((file) => file.slice(0, -'.yaml'.length));

test('broken: one file a mistake, at least 35 of them', () => {
  expect(names.length).toBeGreaterThanOrEqual(35);
});

test.each(names)('broken/%s: refused with exactly the text beside it', (name) => {
  const fileName = `${name}.yaml`;
  const { checked, locate } = enterFile(join(FOLDER, fileName), fileName);
  if (checked.ok) throw new Error(`${fileName} passed the door`);
  const text = checked.issues.map((issue) => `${formatIssue(issue, fileName, locate)}\n`).join('');
  expect(text).toBe(readFileSync(join(FOLDER, `${name}.expected.txt`), 'utf8'));
});
