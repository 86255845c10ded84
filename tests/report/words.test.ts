import { describe, expect, test } from 'vitest';
import { answerOf, monthTable, pickDays, summaryJson, summaryOf } from '../../src/report/index.ts';
import { inventedRun } from './invented-run.ts';

const year = inventedRun({ days: 365, stepS: 900 });
const yearAtOnce = inventedRun({ days: 365, stepS: 900, atOnce: true });
const facts = { scenarioName: 'Invented', version: '0.0.0', pointNames: ['garage'], assumptions: ['Invented throughout.'] };

describe('month table', () => {
  test('aligned, hours beside kWh and km, at most 100 columns', () => {
    const table = monthTable(year, yearAtOnce);
    expect(Math.max(...table.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
    expect(`\n${table}`).toMatchSnapshot();
  });

  test('a run of two months and a day has three lines', () => {
    const run = inventedRun({ firstDayMs: Date.UTC(2025, 4, 30), days: 33, stepS: 3600 });
    const table = monthTable(run, inventedRun({ firstDayMs: Date.UTC(2025, 4, 30), days: 33, stepS: 3600, atOnce: true }));
    expect(
      table
        .split('\n')
        .filter((line) => /^2025/.test(line))
        .map((line) => line.slice(0, 7)),
    ).toEqual(['2025-05', '2025-06', '2025-07']);
  });

  test('a month that the other run lacks stays empty', () => {
    const short = { ...yearAtOnce, ledger: { ...yearAtOnce.ledger, months: yearAtOnce.ledger.months.slice(0, 11) } };
    expect(monthTable(year, short)).toMatch(/2025-12 .*\|\n/);
  });
});

describe('answer', () => {
  test('a year', () => {
    expect(answerOf(year, yearAtOnce)).toMatchSnapshot();
  });

  test('one day is named by its date', () => {
    const day = inventedRun({ firstDayMs: Date.UTC(2025, 5, 21) });
    expect(answerOf(day, day)[0]).toMatch(/^21 June 2025: the roof puts /);
  });

  test('nothing charged, said plainly', () => {
    const none = inventedRun();
    for (const point of none.ledger.total.points) Object.assign(point, { carWh: 0, carPvWh: 0 });
    expect(answerOf(none, none)[0]).toBe('1 January 2025: nothing was charged.');
  });
});

describe('summary', () => {
  test('keys in order, units in their names, both runs', () => {
    const summary = summaryOf(year, yearAtOnce, facts);
    const read = JSON.parse(summaryJson(summary));
    expect(read).toEqual(summary);
    expect(Object.keys(read)).toEqual([
      'tool',
      'version',
      'scenario',
      'period',
      'run',
      'chargedAtOnce',
      'figures',
      'money',
      'assumptions',
    ]);
    expect(read.period).toEqual({
      from: '2025-01-01T00:00:00+01:00',
      to: '2026-01-01T00:00:00+01:00',
      days: 365,
      stepS: 900,
      timeZone: 'Europe/Vienna',
    });
    expect(summaryJson(summary)).toMatchSnapshot();
  });
});

describe('days worth a picture', () => {
  test('the best, and the middle of those with any PV in the car', () => {
    const wh = (day: number): number => year.ledger.days[day]?.tally.points[0]?.carPvWh ?? 0;
    const { best, median } = pickDays(year);
    const all = year.ledger.days
      .map((_, day) => wh(day))
      .filter((value) => value > 0)
      .sort((a, b) => a - b);
    expect(wh(best)).toBe(all[all.length - 1]);
    expect(wh(median)).toBe(all[Math.ceil(all.length / 2) - 1]);
  });

  test('without any PV in the car, the sunniest day', () => {
    const run = inventedRun({ firstDayMs: Date.UTC(2025, 3, 1), days: 3, stepS: 3600 });
    for (const { tally } of run.ledger.days) for (const point of tally.points) point.carPvWh = 0;
    const { best } = pickDays(run);
    const pv = run.ledger.days.map(({ tally }) => tally.pvWh);
    expect(pv[best]).toBe(Math.max(...pv));
  });
});
