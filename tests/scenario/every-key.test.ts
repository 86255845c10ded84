import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { readScenario, scenarioJsonSchema } from '../../src/scenario/index.ts';

const text = readFileSync(join(import.meta.dirname, 'fixtures/every-key.yaml'), 'utf8');

test('every key at once: it passes, with all its values', () => {
  const raw = parse(text);
  const { checked } = readScenario(JSON.stringify(raw), 'every-key.json');
  expect(checked.ok ? checked.value : checked.issues).toMatchObject(raw);
});

test('every key at once: no key of the schema is missing in it, but those it names in remarks', () => {
  const unseen = keysOf(scenarioJsonSchema()).filter((key) => !new RegExp(`\\b${key}:`).test(text));
  // clock, factor and settlementMin are keys of our own, beside those of the reference; the rest stand in its remarks as words.
  expect([...new Set(unseen)].sort()).toEqual(
    ['batteryUntilSoc', 'clock', 'factor', 'price', 'settlementMin'].filter((key) => unseen.includes(key)),
  );
});

function keysOf(schema: unknown): string[] {
  if (typeof schema !== 'object' || schema === null) return [];
  const here =
    'properties' in schema && typeof schema.properties === 'object' && schema.properties !== null
      ? Object.keys(schema.properties)
      : [];
  return [...here.filter((key) => /^[a-z]/i.test(key)), ...Object.values(schema).flatMap(keysOf)];
}
