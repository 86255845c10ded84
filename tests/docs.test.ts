import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';

const src = join(import.meta.dirname, '../src');
const sourcesMd = readFileSync(join(import.meta.dirname, '../data/SOURCES.md'), 'utf8');

const files = (readdirSync(src, { recursive: true }) as string[]).filter((name) => name.endsWith('.ts'));

interface Example {
  readonly file: string;
  readonly expression: string;
  readonly said: string;
}

const docsOf = (file: string): string => [...readFileSync(join(src, file), 'utf8').matchAll(/\/\*\*[\s\S]*?\*\//g)].join('\n');

const examples: Example[] = files.flatMap((file) =>
  [...docsOf(file).matchAll(/@example\s+(.+?)\s+\/\/\s+(.+)$/gm)].map((match) => ({
    file,
    expression: match[1] ?? '',
    said: (match[2] ?? '').replace(/\s*\*\/$/, '').trim(),
  })),
);

/** A number says how exact it is by its digits: half a unit of the last one. */
function tolerance(said: string): number {
  const decimals = /\.(\d+)/.exec(said)?.[1]?.length ?? 0;
  return 0.5 * 10 ** -decimals * (1 + 1e-9);
}

/** What a docstring may call beside its own module: the folder's other exports and base. */
async function scopeOf(file: string): Promise<Record<string, unknown>> {
  const folder = file.includes('/') ? file.slice(0, file.indexOf('/')) : '.';
  const [base, index, own] = await Promise.all([
    import(join(src, 'base/index.ts')),
    import(join(src, folder, 'index.ts')),
    import(join(src, file)),
  ]);
  return { ...base, ...index, ...own };
}

describe('every @example is true', () => {
  test('there are many', () => {
    expect(examples.length).toBeGreaterThan(40);
  });

  test.each(examples)('$file: $expression', async ({ file, expression, said }) => {
    const scope = await scopeOf(file);
    const value: unknown = new Function(...Object.keys(scope), `return (${expression});`)(...Object.values(scope));
    if (typeof value === 'number') expect(Math.abs(value - Number(said))).toBeLessThanOrEqual(tolerance(said));
    else expect(value).toEqual(new Function(`return (${said});`)());
  });
});

describe('every @see names a source', () => {
  const keys = new Set([...sourcesMd.matchAll(/^\|\s*`?([a-z0-9-]+)`?\s*\|/gim)].map((match) => match[1]));
  const seen = files.flatMap((file) =>
    [...docsOf(file).matchAll(/@see\s+([A-Za-z0-9-]+)/g)].map((match) => ({ file, key: match[1] ?? '' })),
  );

  test('there are many', () => {
    expect(seen.length).toBeGreaterThan(20);
  });
  test.each(seen)('$file: $key', ({ key }) => {
    expect(keys).toContain(key);
  });
});
