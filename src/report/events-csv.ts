import { isoLocal, stepStartMs } from '../base/index.ts';
import type { ChargeEvent, Run } from '../simulate/index.ts';
import { CSV_LINE_END } from './csv.ts';
import { shortNumber } from './numbers.ts';

const HEADER = 'time,charge_point,event,phases_from,phases_to,surplus_w,threshold_w,held_s,reason';

/**
 * events.csv: everything that happened, in order, with the numbers that decided it. Charge points count from 1, as in steps.csv;
 * the time is the start of the step in which it took effect.
 */
export function eventsCsv(run: Run): string {
  const rows = run.events.map((event) => rowOf(run, event));
  return [HEADER, ...rows, ''].join(CSV_LINE_END);
}

function rowOf(run: Run, event: ChargeEvent): string {
  return [
    isoLocal(run.grid.zone, stepStartMs(run.grid, event.step)),
    event.point + 1,
    event.event,
    event.phasesFrom,
    event.phasesTo,
    shortNumber(event.surplusW, 3),
    shortNumber(event.thresholdW, 3),
    shortNumber(event.heldS, 3),
    event.reason,
  ].join(',');
}
