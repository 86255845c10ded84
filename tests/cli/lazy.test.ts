import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

const HEAVY = ['danfojs', 'chart.js', '@napi-rs/canvas', 'jsdom', 'cli-progress'];

test('what takes long to load is loaded on demand: no plain import of a heavy package in report and cli', () => {
  const found: string[] = [];
  for (const folder of ['src/report', 'src/cli']) {
    for (const file of readdirSync(folder).filter((name) => name.endsWith('.ts'))) {
      const text = readFileSync(`${folder}/${file}`, 'utf8');
      for (const [, kind = '', from = ''] of text.matchAll(/^(?:import|export)( type)? .*?from '([^']+)';$/gm)) {
        if (HEAVY.includes(from) && kind !== ' type') found.push(`${folder}/${file}: ${from}`);
      }
    }
  }
  expect(found).toEqual([]);
});
