import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { schemaText } from '../tools/schema-text.ts';

const ROOT = join(import.meta.dirname, '../..');
const stored = readFileSync(join(ROOT, 'data/scenario.schema.json'), 'utf8');
const validate = new Ajv2020({ allErrors: true }).compile(JSON.parse(stored));

test('data/scenario.schema.json: is what src/scenario makes of it (npx tsx tests/tools/write-schema.ts)', () => {
  expect(stored).toBe(schemaText());
});

test('data/scenario.schema.json: every key says what it means', () => {
  const silent = undescribed(JSON.parse(stored), '');
  expect(silent).toEqual([]);
});

test('data/scenario.schema.json: takes every scenario of ours and the one with every key', () => {
  const scenarios = readdirSync(join(ROOT, 'scenarios'))
    .filter((file) => file.endsWith('.yaml'))
    .map((file) => join(ROOT, 'scenarios', file));
  for (const file of [...scenarios, join(import.meta.dirname, 'fixtures/every-key.yaml')]) {
    expect([file, validate(parse(readFileSync(file, 'utf8'))), validate.errors]).toEqual([file, true, null]);
  }
});

test('data/scenario.schema.json: refuses an unknown key and a value out of range', () => {
  const raw = parse(readFileSync(join(ROOT, 'scenarios/hillside-house.yaml'), 'utf8'));
  expect(validate({ ...raw, house: 1 })).toBe(false);
  expect(validate({ ...raw, site: { ...raw.site, latitude: 91 } })).toBe(false);
});

function undescribed(schema: unknown, path: string): string[] {
  if (typeof schema !== 'object' || schema === null) return [];
  const found: string[] = [];
  for (const [key, value] of Object.entries(schema)) {
    const isKey = path.endsWith('/properties') && key !== 'source';
    if (isKey && !(typeof value === 'object' && value !== null && 'description' in value)) found.push(`${path}/${key}`);
    found.push(...undescribed(value, `${path}/${key}`));
  }
  return found;
}
