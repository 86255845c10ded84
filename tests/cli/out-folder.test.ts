import { join, sep } from 'node:path';
import { expect, test } from 'vitest';
import { defaultFolder } from '../../src/cli/out-folder.ts';

test.each([
  ['scenarios/village-house.yaml', join('out', 'village-house')],
  ['C:/x/house.json', join('out', 'house')],
  ['..yaml', join('out', 'results')],
  ['in/...yaml', join('out', 'results')],
  ['../../../etc/..', join('out', 'results')],
  ['.yaml', join('out', '.yaml')],
  ['%2e%2e.yaml', join('out', '%2e%2e')],
  ['~.yaml', join('out', '~')],
])('where results of %s go: below out/', (file, folder) => {
  expect(defaultFolder(file)).toBe(folder);
  expect(join(folder, 'x').startsWith(`out${sep}`)).toBe(true);
});
