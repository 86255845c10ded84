import { expect, test } from 'vitest';
import { finished, type Stages } from '../../src/base/index.ts';

test('stages are worked off in order, and what comes of them is handed out', () => {
  const seen: string[] = [];
  function* inner(): Stages<number> {
    seen.push('first');
    yield;
    seen.push('second');
    return 20;
  }
  function* outer(): Stages<number> {
    const part = yield* inner();
    yield;
    seen.push('third');
    return part + 3;
  }
  expect(finished(outer())).toBe(23);
  expect(seen).toEqual(['first', 'second', 'third']);
});
