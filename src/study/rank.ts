import { meanOf } from './quantiles.ts';
import type { TaskResult } from './task.ts';
import { sound } from './years.ts';

/** What is ranked by: the household's cost where there is a tariff, else PV into the cars. Hours never rank. */
export type RankedBy = 'cost' | 'pvKWh';

/** A choice with what it came to in each year. */
export interface Choice<Option> {
  readonly option: Option;
  /** Means over the years; null where the scenario lacks what an output needs. */
  readonly means: Readonly<Record<string, number | null>>;
  /** What it is ranked by, year by year. */
  readonly ranked: readonly number[];
}

/** The best of several choices, on the same years. */
export interface Ranking<Option> {
  readonly by: RankedBy;
  readonly choices: readonly Choice<Option>[];
  readonly winner: Choice<Option>;
  /** The simplest choice stands for a winner that is ahead by less than `tieBelow` in the unit of `by`. */
  readonly isTie: boolean;
  readonly tieBelow: number;
  /** The next best choice, or the best where the simplest stands for it; null where there is one choice only. */
  readonly rival: Choice<Option> | null;
  /** By how much the winner is ahead of the rival on average, in the unit of `by`; negative where the simplest stands for it. */
  readonly ahead: number;
  /** In how many years the winner is ahead of the rival. */
  readonly yearsAhead: number;
}

/** Choices closer than this part of what charging at once costs (or of the PV of the best) are called equal. */
export const TIE_SHARE = 0.02;

/**
 * Ranks options by what they came to on the same years.
 *
 * @param options  simplest first
 * @param results  of each option, its years
 */
export function rank<Option>(options: readonly Option[], results: readonly (readonly TaskResult[])[]): Ranking<Option> {
  const rows = results.map((years) => years.map((result) => sound(result).values));
  const by: RankedBy = rows.every((years) => years.every((values) => typeof values.cost === 'number')) ? 'cost' : 'pvKWh';
  const choices = options.map((option, i): Choice<Option> => {
    const years = rows[i] ?? [];
    return { option, means: meansOf(years), ranked: years.map((values) => values[by] ?? 0) };
  });
  const sign = by === 'cost' ? -1 : 1;
  const goodness = ({ ranked }: Choice<Option>): number => sign * meanOf(ranked);
  const best = choices.reduce((a, b) => (goodness(b) > goodness(a) ? b : a));
  const tieBelow = tieOf(by, best, rows);
  const winner = choices.find((choice) => goodness(best) - goodness(choice) < tieBelow) ?? best;
  const others = choices.filter((choice) => choice !== winner);
  const rival =
    winner !== best ? best : others.length === 0 ? null : others.reduce((a, b) => (goodness(b) > goodness(a) ? b : a));
  return {
    by,
    choices,
    winner,
    isTie: winner !== best,
    tieBelow,
    rival,
    ahead: rival === null ? 0 : goodness(winner) - goodness(rival),
    yearsAhead: rival === null ? 0 : winner.ranked.filter((value, y) => sign * (value - (rival.ranked[y] ?? 0)) > 0).length,
  };
}

type Values = Readonly<Record<string, number | null>>;

function tieOf(by: RankedBy, best: Choice<unknown>, rows: readonly (readonly Values[])[]): number {
  if (by === 'pvKWh') return TIE_SHARE * meanOf(best.ranked);
  const atOnce = (rows[0] ?? []).map((values) => Math.abs(values['atOnce.carCost'] ?? 0));
  return TIE_SHARE * meanOf(atOnce);
}

/** Mean of each value over the years; null where a year has none. */
export function meansOf(years: readonly Values[]): Record<string, number | null> {
  const names = Object.keys(years[0] ?? {});
  return Object.fromEntries(
    names.map((name) => {
      const values = years.map((year) => year[name]).filter((value) => typeof value === 'number');
      return [name, values.length === years.length ? meanOf(values) : null];
    }),
  );
}
