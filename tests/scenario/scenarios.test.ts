import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { enterFile } from './door.ts';

const FOLDER = join(import.meta.dirname, '../../scenarios');

test.each(readdirSync(FOLDER).filter((file) => file.endsWith('.yaml')))(
  'scenarios/%s: passes the door and says that it is invented',
  (file) => {
    expect(readFileSync(join(FOLDER, file), 'utf8')).toMatch(/^# Invented/);
    const { checked } = enterFile(join(FOLDER, file), file);
    expect(checked.ok ? [] : checked.issues).toEqual([]);
  },
);

test('measured-roof: its one gap is bridged and noted', () => {
  const { checked } = enterFile(join(FOLDER, 'measured-roof.yaml'), 'measured-roof.yaml');
  expect(checked.ok && checked.warnings.map((warning) => warning.code)).toEqual(['gaps-bridged']);
});
