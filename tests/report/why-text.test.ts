import { describe, expect, test } from 'vitest';
import { STATES } from '../../src/charging/index.ts';
import { chainOf, EN, explained } from '../../src/explain/index.ts';
import { chainText, pickDay, ribbonText, STATE_SIGN, typicalDays, whatIfText, wrapped } from '../../src/report/index.ts';
import { smallRun } from './small-household.ts';

const { run, whatIfs } = smallRun('garage', 20);

describe('ribbon', () => {
  test('three signs an hour, every state its own', () => {
    expect(new Set(Object.values(STATE_SIGN)).size).toBe(STATES.length);
    const lines = ribbonText(run, 3, ['garage'], EN);
    const width = lines[1]!.indexOf('|') - 'state  '.length;
    expect(width).toBe(72);
    expect(lines[2]!.endsWith('|')).toBe(true);
    expect(lines[2]!.indexOf('|')).toBe(lines[1]!.indexOf('|'));
    expect(lines[0]!.slice(7)).toMatch(/^00 {7}03 {7}06 {7}09 {7}12/);
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(100);
  });
});

test('chain and changes fit a terminal', () => {
  const chain = chainOf(run, 0, explained(run).surplus[0]!, 0, run.grid.steps);
  const lines = [...chainText(chain, EN), ...whatIfText(whatIfs, 'EUR', EN)];
  for (const line of lines) expect(line.length, line).toBeLessThanOrEqual(100);
});

test('wrapped: breaks at words only', () => {
  expect(wrapped('one two three', 7)).toEqual(['one two', 'three']);
  expect(wrapped('indivisible', 3)).toEqual(['indivisible']);
});

describe('days by what they were like', () => {
  const pvWh = (day: number): number => run.ledger.days[day]!.tally.points[0]!.carPvWh;

  test('best, worst, median, most stalls', () => {
    const all = run.ledger.days.map((_, day) => pvWh(day));
    expect(pvWh(pickDay(run, 'best'))).toBe(Math.max(...all));
    expect(pvWh(pickDay(run, 'worst'))).toBe(Math.min(...all));
    const stalls = run.ledger.days.map(({ tally }) => tally.points[0]!.stalls);
    expect(stalls[pickDay(run, 'most-stalls')]).toBe(Math.max(...stalls));
  });

  test('a good day beats a usual one, a usual one a poor one', () => {
    const { good, usual, poor } = typicalDays(run);
    expect(pvWh(good)).toBeGreaterThanOrEqual(pvWh(usual));
    expect(pvWh(usual)).toBeGreaterThanOrEqual(pvWh(poor));
    expect(pvWh(poor)).toBeGreaterThan(0);
  });
});
