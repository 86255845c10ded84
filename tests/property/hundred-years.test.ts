import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { expect, test } from 'vitest';

interface Held {
  readonly heapMB: number;
  readonly arraysMB: number;
  readonly rssMB: number;
}

// Three quarters of a minute of a processor: a hundred years by the minute through the whole core.
test('a hundred years in one process: no more memory after the hundredth than after the twentieth', { timeout: 600_000 }, () => {
  const script = join(import.meta.dirname, '../tools/hundred-years.mjs');
  const { stdout, stderr, status } = spawnSync(process.execPath, ['--expose-gc', script], { encoding: 'utf8' });
  expect(status, stderr).toBe(0);
  const { kWh, after20, after100 } = JSON.parse(stdout) as { kWh: number[]; after20: Held; after100: Held };
  expect(kWh).toHaveLength(100);
  // Each year is another one.
  expect(new Set(kWh).size).toBe(100);
  expect(after100.heapMB).toBeLessThan(after20.heapMB + 4);
  // The arrays of a year or two may still be held, or not any more; those of eighty take five thousand.
  expect(after100.arraysMB).toBeLessThan(Math.max(after20.arraysMB, 250));
  expect(after100.rssMB).toBeLessThan(1.2 * after20.rssMB + 20);
});
