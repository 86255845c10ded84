import { appendFileSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openJournal } from '../../src/cli/journal.ts';
import { InputProblem } from '../../src/cli/problem.ts';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'sixamp-journal-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const result = (index: number) => ({ index, values: { pvKWh: index / 3 }, months: {} });

test('a journal gives back what was added, to the last digit, and drops a line that was cut off', () => {
  const study = { name: 'a' };
  const first = openJournal(folder, study, false);
  for (const index of [0, 2, 1]) first.add(result(index));
  first.close();
  appendFileSync(join(folder, 'study.journal'), '{"index":7,"values":{"pvKW');
  const second = openJournal(folder, study, false);
  expect(second.found).toEqual([0, 2, 1].map(result));
  second.add(result(3));
  second.close();
  const lines = readFileSync(join(folder, 'study.journal'), 'utf8').split('\n');
  expect(lines).toHaveLength(6);
  expect(lines[4]).toBe(JSON.stringify(result(3)));
});

test('the journal of another study is refused, unless it is to be forgotten', () => {
  expect(() => openJournal(folder, { name: 'b' }, false)).toThrow(InputProblem);
  const anew = openJournal(folder, { name: 'b' }, true);
  expect(anew.found).toEqual([]);
  anew.remove();
  const again = openJournal(folder, { name: 'c' }, false);
  expect(again.found).toEqual([]);
  again.close();
});
