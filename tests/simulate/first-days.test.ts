import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { firstDays, timeGrid, UTC } from '../../src/base/index.ts';
import { simulate } from '../../src/simulate/index.ts';
import { scenarioOf, throughDoor } from '../scenario/door.ts';

const ROOT = join(import.meta.dirname, '../..');

test.each(['hillside-house', 'courtyard', 'mill-house'])('what comes after a day does not change it: %s', (name) => {
  const text = readFileSync(join(ROOT, `scenarios/${name}.yaml`), 'utf8').replace(
    /^( {2}start: \S+\n)( {2}days: .*\n)?/m,
    '$1  days: 60\n',
  );
  const whole = scenarioOf(throughDoor(text, `${name}.yaml`, () => null).checked);
  const [run, part] = [simulate(whole), simulate({ ...whole, grid: firstDays(whole.grid, 32) })];
  // The last two days lead over to what was left out.
  const end = part.grid.dayStart[30]!;
  expect(part.grid.steps).toBeGreaterThan(end);
  expect(part.ledger.days.slice(0, 30)).toEqual(run.ledger.days.slice(0, 30));
  for (const [i, car] of part.columns.points.entries()) {
    expect(car.state.subarray(0, end)).toEqual(run.columns.points[i]!.state.subarray(0, end));
    expect(car.powerW.subarray(0, end)).toEqual(run.columns.points[i]!.powerW.subarray(0, end));
  }
  expect(part.events.filter(({ step }) => step < end)).toEqual(run.events.filter(({ step }) => step < end));
});

test('firstDays: whole days from the start, all where there are no more', () => {
  const grid = timeGrid(Date.UTC(2025, 2, 29), 3, 3600, UTC);
  expect(firstDays(grid, 2)).toEqual(timeGrid(Date.UTC(2025, 2, 29), 2, 3600, UTC));
  expect(firstDays(grid, 3)).toBe(grid);
  expect(firstDays(grid, 9)).toBe(grid);
  for (const days of [0, -1, 1.5]) expect(() => firstDays(grid, days)).toThrow(`days = ${days}`);
});
