import { LEAST_CURRENT_A } from '../charging/index.ts';
import { resolutionOf, rowsWithin, tracked } from './run-current.ts';
import type { Between, Stretch } from './run-events.ts';
import type { RunLog } from './run-log.ts';
import type { RunEvents } from './run-thresholds.ts';

/** A setting that a log may show. */
export type Setting =
  | 'phases'
  | 'leastCurrent'
  | 'step'
  | 'share'
  | 'startDelay'
  | 'stopDelay'
  | 'switchUp'
  | 'switchDown'
  | 'pause'
  | 'lag';

/** Whether a log holds enough for each setting, by a rule that counts what happened and does not look at what was found. */
export type Enough = Readonly<Record<Setting, boolean>>;

/** Starts, or ends of charging, that are needed. */
export const ENOUGH_EVENTS = 8;
/** Changes of phases one way that their delay needs, and ends of charging that the least current needs. */
export const ENOUGH_CHANGES = 5;
/** Rows at currents other than the two most common ones, and at levels other than these, that the step needs. */
export const ENOUGH_FOLLOWING = 60;
/** Rows of charging that show the phases; starts that show the lag. */
const ENOUGH_ROWS = 3;
/** The surplus must have been seen at every height, in tenths of what six amperes take, in so many rows each; the lowest are passed over. */
export const ENOUGH_AT_HEIGHT = 10;
const HEIGHTS = 10;
const LOWEST_HEIGHT = 2;

/**
 * The rule for "holds enough". It counts what happened and does not look at what was found; nothing beside a gap counts.
 *
 * The start delay needs eight starts, the stop delay eight ends of charging that are no change of phases, the delay before more or
 * fewer phases five changes that way with the surplus there; all of them a surplus and currents per phase. The surplus share needs the starts, the ends and
 * the least current, and a surplus that was seen at every height below what six amperes take. The least current needs five ends of
 * charging on the fewest phases, the step sixty rows at currents other than the two most common ones, written to hundredths, the pause three changes of
 * phases, the lag three starts and what the charger offers.
 */
export function enoughIn(
  log: RunLog,
  stretches: readonly Stretch[],
  between: readonly Between[],
  { starts, stops }: RunEvents,
): Enough {
  const stalls = stops.filter(({ maySwitch }) => !maySwitch).length;
  const { currentA, surplusW } = log;
  const whole = surplusW !== null && currentA !== null;
  const shown = stretches.filter(({ from, to }) => to - from >= ENOUGH_ROWS);
  const least = shown.reduce((n, one) => Math.min(n, one.n ?? 3), 3);
  const ends = stretches.filter(({ n, cutAfter }) => n === least && !cutAfter).length;
  const leastW = least * LEAST_CURRENT_A * log.voltageV;
  const changes = (up: boolean): number =>
    between.filter(
      ({ mayBeSwitch, before, after }) =>
        // With the surplus gone it is a stall, whatever the phases of the next start.
        mayBeSwitch && (after.n ?? 0) > (before.n ?? 0) === up && (surplusW?.[before.to] ?? 0) >= leastW,
    ).length;
  const startDelay = whole && starts.length >= ENOUGH_EVENTS;
  const stopDelay = whole && stalls >= ENOUGH_EVENTS;
  const leastCurrent = whole && ends >= ENOUGH_CHANGES;
  return {
    phases: currentA !== null && shown.length > 0,
    leastCurrent,
    step: currentA !== null && isFine(log) && tracked(rowsWithin(currentA, stretches)) >= ENOUGH_FOLLOWING,
    share: startDelay && stopDelay && leastCurrent && seenAtEveryHeight(surplusW, leastW),
    startDelay,
    stopDelay,
    switchUp: whole && changes(true) >= ENOUGH_CHANGES,
    switchDown: whole && changes(false) >= ENOUGH_CHANGES,
    pause: changes(true) + changes(false) >= ENOUGH_ROWS,
    lag: log.offeredA !== null && starts.length >= ENOUGH_ROWS,
  };
}

/** Currents written so finely that the finest step would show, A. */
const FINE_A = 0.02;

const isFine = ({ table, currentA }: RunLog): boolean => resolutionOf(table.columns.get('car_l1_a') ?? currentA ?? []) <= FINE_A;

function seenAtEveryHeight(surplusW: Float64Array, topW: number): boolean {
  const rows = new Uint32Array(HEIGHTS);
  for (const w of surplusW) {
    const height = Math.floor((HEIGHTS * w) / topW);
    if (height >= 0 && height < HEIGHTS) rows[height] = (rows[height] ?? 0) + 1;
  }
  return rows.subarray(LOWEST_HEIGHT).every((count) => count >= ENOUGH_AT_HEIGHT);
}
