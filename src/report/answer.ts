import { WH_PER_KWH } from '../base/index.ts';
import type { PointTally, Run } from '../simulate/index.ts';
import { brief, grouped } from './numbers.ts';
import { allPoints, solarShare } from './sums.ts';

/**
 * The answer to the main question in three sentences: what the roof put into the car, how often charging was interrupted, and
 * what the same days charged at once would have given. Several charge points are added up.
 */
export function answerOf(run: Run, atOnce: Run): string[] {
  const sums = allPoints(run.ledger.total);
  const beside = allPoints(atOnce.ledger.total);
  const lines = [roofSentence(periodName(run), sums), interruptionSentence(sums), atOnceSentence(beside)];
  if (sums.missedKm >= 0.5) lines.push(missedSentence(sums));
  return lines;
}

function roofSentence(period: string, sums: PointTally): string {
  if (sums.carWh === 0) return `${period}: nothing was charged.`;
  return (
    `${period}: the roof puts ${kWh(sums.carPvWh)} kWh into the car, ${percent(solarShare(sums))} of all it charges, ` +
    `enough for ${km(sums.pvKm)} km, in ${brief(sums.solarChargingH)} solar charging hours.`
  );
}

function interruptionSentence(sums: PointTally): string {
  const counts = [count(sums.starts, 'start', 'starts'), count(sums.stalls, 'stall', 'stalls')];
  if (sums.switches > 0) counts.push(count(sums.switches, 'phase switch', 'phase switches'));
  const last = counts.pop() ?? '';
  const battery = sums.carBatteryWh > 0 ? `, the home battery ${kWh(sums.carBatteryWh)} kWh` : '';
  return (
    `Charging draws power for ${brief(sums.chargingH)} hours, with ${counts.join(', ')} and ${last}; ` +
    `the grid adds ${kWh(sums.carGridWh)} kWh${battery}.`
  );
}

function atOnceSentence(beside: PointTally): string {
  return (
    `Charged at once on every return: ${kWh(beside.carPvWh)} kWh from PV, ${km(beside.pvKm)} km, ` +
    `${brief(beside.solarChargingH)} solar charging hours, and ${kWh(beside.carGridWh)} kWh from the grid.`
  );
}

const missedSentence = (sums: PointTally): string =>
  `Mind: ${km(sums.missedKm)} of ${km(sums.drivenKm)} km found the battery empty and had to be charged elsewhere.`;

/** `2025` for a whole calendar year, else the first and the last day. */
export function periodName(run: Run): string {
  const { grid } = run;
  const from = isoDate(grid.dayMs[0] ?? 0);
  const to = isoDate(grid.dayMs[grid.dayMs.length - 1] ?? 0);
  const year = from.slice(0, 4);
  if (from === `${year}-01-01` && to === `${year}-12-31`) return year;
  return from === to ? from : `${from} to ${to}`;
}

const isoDate = (dayMs: number): string => new Date(dayMs).toISOString().slice(0, 10);
const count = (n: number, one: string, many: string): string => `${grouped(n, 0)} ${n === 1 ? one : many}`;
const kWh = (energyWh: number): string => brief(energyWh / WH_PER_KWH);
const km = (distance: number): string => grouped(distance, 0);
const percent = (share: number): string => `${grouped(share * 100, 0)} %`;
