import { draws, type RunLog } from './run-log.ts';

/** A stretch of rows in which the car draws on one number of phases. `to` is the first row after it. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  /** Phases, or null where the log does not say. */
  readonly n: number | null;
  /** The log has a gap, begins or ends at this side: no event is known there. */
  readonly cutBefore: boolean;
  readonly cutAfter: boolean;
  /** First row in which the charger offered current for this stretch; null where the log does not say. */
  readonly offered: number | null;
  /** First row after it in which the charger offers none, or the stretch's end where the log does not say. */
  readonly withdrawn: number;
}

/** All stretches of a log, in the order of time. */
export function stretchesIn(log: RunLog): Stretch[] {
  const { rows, gapBefore } = log.table;
  const stretches: Stretch[] = [];
  let from = -1;
  for (let k = 0; k <= rows; k++) {
    const on = k < rows && draws(log, k);
    const breaks =
      k === rows || gapBefore[k] === 1 || (from >= 0 && on && phasesAt(log, k) !== phasesAt(log, from) && isSteadyChange(log, k));
    if (from >= 0 && (!on || breaks)) {
      stretches.push(stretchOf(log, from, k, stretches[stretches.length - 1]));
      from = -1;
    }
    if (on && from < 0) from = k;
  }
  return stretches;
}

const phasesAt = ({ phases }: RunLog, k: number): number | null => phases?.[k] ?? null;

/** A change of phases that holds for another row: one row between two states shows part of both. */
const isSteadyChange = (log: RunLog, k: number): boolean => phasesAt(log, k + 1) === phasesAt(log, k);

function stretchOf(log: RunLog, from: number, to: number, before: Stretch | undefined): Stretch {
  const { gapBefore, rows } = log.table;
  return {
    from,
    to,
    n: phasesAt(log, Math.min(to - 1, from + 1)),
    cutBefore: from === 0 || gapBefore[from] === 1,
    cutAfter: to >= rows || gapBefore[to] === 1,
    offered: offeredSince(log, from, before?.to ?? 0),
    withdrawn: to,
  };
}

function offeredSince({ offeredA, table }: RunLog, from: number, least: number): number | null {
  if (offeredA === null) return null;
  let k = from;
  while (k > least && (offeredA[k - 1] ?? 0) > 0 && table.gapBefore[k] !== 1) k--;
  return k;
}

/** A change of phases takes no longer than this, pause and lag together, s. */
const LONGEST_SWITCH_S = 480;

/** What lies between two stretches. */
export interface Between {
  readonly before: Stretch;
  readonly after: Stretch;
  /** Rows without current. */
  readonly rows: number;
  /** The numbers of phases differ and the time is short: a change of phases, unless the surplus was gone. */
  readonly mayBeSwitch: boolean;
}

/** The pauses of a log: what lies between one stretch and the next, no gap in it. */
export function betweenIn(stretches: readonly Stretch[], intervalS: number, gapBefore: Uint8Array): Between[] {
  return stretches.slice(1).flatMap((after, i) => {
    const before = stretches[i];
    if (before === undefined) return [];
    for (let k = before.to; k <= after.from; k++) if (gapBefore[k] === 1) return [];
    const rows = after.from - before.to;
    const mayBeSwitch = before.n !== after.n && before.n !== null && rows * intervalS <= LONGEST_SWITCH_S;
    return [{ before, after, rows, mayBeSwitch }];
  });
}
