import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { spanOf, takeFile, textOf } from '../../src/page/intake.ts';
import { FIRST_DRAFT } from '../../src/page/start.ts';
import { SPEECH } from '../../src/page/words/index.ts';

const { words } = SPEECH.en;
const take = (name: string, text: string) => takeFile(name, text, FIRST_DRAFT, words);

test('measured PV takes the place of the roof, and the run covers the days of the file', () => {
  const text = readFileSync(join(import.meta.dirname, '../../data/demo/invented-week-pv.csv'), 'utf8');
  const taken = take('week.csv', text);
  expect(taken.kind === 'data' && taken.draft).toMatchObject({
    pv: { source: 'csv', file: 'week.csv' },
    period: { start: '2025-05-12', days: 7 },
  });
});

test('times without an offset are taken as those of the wall clock', () => {
  expect(spanOf('time,load_w\n2025-01-01 12:00,1\n2025-01-01 12:15,1\n2025-01-03 23:45,1\n')).toEqual({
    from: '2025-01-02',
    days: 2,
    isLocal: true,
  });
  expect(take('load.csv', 'time,load_w\n2025-01-01T00:00,1\n2025-01-01T12:00,1\n').kind).toBe('data');
});

test('what is not known is refused with what is', () => {
  expect(take('x.csv', 'day,weather\n1,fine\n')).toMatchObject({ kind: 'refused', said: expect.stringContaining('time,pv_w') });
  expect(take('x.yaml', 'name: [\n').kind).toBe('refused');
  expect(take('x.json', '[1, 2]').kind).toBe('refused');
});

test('a scenario with a wrong value is taken: what is wrong is shown under its field', () => {
  const taken = take('x.yaml', 'name: Wrong\npv: { source: arrays, arrays: [] }\n');
  expect(taken).toEqual({ kind: 'scenario', draft: { name: 'Wrong', pv: { source: 'arrays', arrays: [] } } });
});

test('a packed file is unpacked; one that unpacks without end is not read, and half a one is refused', async () => {
  const packed = (bytes: Uint8Array): File => new File([gzipSync(bytes)], 'load.csv.gz');
  expect(await textOf(packed(Buffer.from('\uFEFFtime,load_w\n')))).toBe('time,load_w\n');
  expect(await textOf(packed(Buffer.alloc(201_000_000)))).toBeNull();
  const half = gzipSync(Buffer.from('time,load_w\n')).subarray(0, 15);
  await expect(textOf(new File([half], 'half.csv.gz'))).rejects.toThrow();
});
