import { stepStartMs, wallClockAt } from '../base/index.ts';
import type { DayFacts, DayKind } from '../commissioning/index.ts';
import type { Form } from '../explain/index.ts';
import type { DatedTally, Run } from '../simulate/index.ts';
import { allPoints } from './sums.ts';

/** A day counts by what the roof gives, as a part of the best day of its month. */
const SUNNY_SHARE = 0.75;
const MIXED_SHARE = 1 / 3;

/** Kinds of days in the order in which they are shown. */
export const DAY_KINDS: readonly DayKind[] = ['sunny', 'mixed', 'dark'];

/** The days of one kind in one month, and what they put into the cars a day on average, Wh. */
export interface KindOfMonth {
  readonly days: number;
  readonly carPvWhADay: number;
}

/** A month of the run by kinds of days. */
export interface MonthByKind {
  readonly month: number;
  readonly kinds: Readonly<Record<DayKind, KindOfMonth>>;
  readonly carPvWh: number;
}

/** The kind of each day of a run. */
export function kindsOf({ ledger }: Run): DayKind[] {
  const best = new Map<string, number>();
  const monthOf = ({ year, month }: DatedTally): string => `${year}-${month}`;
  for (const day of ledger.days) best.set(monthOf(day), Math.max(best.get(monthOf(day)) ?? 0, day.tally.pvWh));
  return ledger.days.map((day) => {
    const most = best.get(monthOf(day)) ?? 0;
    const share = most > 0 ? day.tally.pvWh / most : 0;
    return share >= SUNNY_SHARE ? 'sunny' : share >= MIXED_SHARE ? 'mixed' : 'dark';
  });
}

/** The months of the calendar that a run holds, each by kinds of days. */
export function monthsByKind(run: Run): MonthByKind[] {
  const kinds = kindsOf(run);
  const intoCar = run.ledger.days.map(({ tally }) => allPoints(tally).carPvWh);
  return Array.from({ length: 12 }, (_, i) => i + 1).flatMap((month) => {
    const days = run.ledger.days.flatMap((day, d) => (day.month === month ? [d] : []));
    if (days.length === 0) return [];
    const ofKind = (kind: DayKind): KindOfMonth => {
      const mine = days.filter((d) => kinds[d] === kind);
      const sum = mine.reduce((wh, d) => wh + (intoCar[d] ?? 0), 0);
      return { days: mine.length, carPvWhADay: mine.length === 0 ? 0 : sum / mine.length };
    };
    const carPvWh = days.reduce((wh, d) => wh + (intoCar[d] ?? 0), 0);
    return [{ month, kinds: { sunny: ofKind('sunny'), mixed: ofKind('mixed'), dark: ofKind('dark') }, carPvWh }];
  });
}

/** A day of a kind that is like most of them: the middle one of those on which the sun reached a car, or of all where it never did. */
export function exampleOf(run: Run, kind: DayKind, form: Form): DayFacts | null {
  const kinds = kindsOf(run);
  const all = run.ledger.days.flatMap((day, d) => (kinds[d] === kind ? [{ day, d, wh: allPoints(day.tally).carPvWh }] : []));
  const reached = all.filter(({ wh }) => wh > 0);
  const ranked = (reached.length > 0 ? reached : all).sort((a, b) => a.wh - b.wh || a.d - b.d);
  const example = ranked[Math.floor(ranked.length / 2)];
  return example === undefined ? null : factsOf(run, example.day, example.d, form);
}

function factsOf(run: Run, day: DatedTally, d: number, form: Form): DayFacts {
  const sums = allPoints(day.tally);
  const [from = 0, to = 0] = [run.grid.dayStart[d], run.grid.dayStart[d + 1]];
  const starts = run.events.filter(({ event, step }) => event === 'start' && step >= from && step < to);
  const first = starts[0];
  return {
    date: form.date(day),
    roof: form.kwh(day.tally.pvWh),
    intoCar: form.kwh(sums.carPvWh),
    km: `${form.fixed(sums.pvKm, 0)} km`,
    firstStart:
      first === undefined ? '' : form.clock({ ...wallClockAt(run.grid.zone, stepStartMs(run.grid, first.step)), second: 0 }),
    starts: String(starts.length),
    hours: `${form.plain(sums.solarChargingH, 1)} ${form.hours}`,
  };
}
