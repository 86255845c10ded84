import { chance } from '../../src/base/index.ts';
import { planOf, type Run, runPlan } from '../../src/simulate/index.ts';
import { logged, passingClouds, steppy } from '../commissioning/made-logs.ts';
import { loggedRun } from '../commissioning/made-run.ts';
import { type HandCase, scenarioOf } from '../simulate/hand.ts';

const DAY_MS = Date.UTC(2025, 5, 12);
const stamp = (k: number, fromMs: number): string => new Date(fromMs + k * 60_000).toISOString().replace('.000', '');

function day(seed: number, hours: number, peakW: number, hand: Omit<HandCase, 'pv'>): Run {
  const draw = chance(seed, 'demo log');
  const steps = hours * 60;
  const scenario = scenarioOf({ ...hand, pv: [[steps, 0]] });
  const loads = [1, 2, 3].map(() => steppy(draw, steps, 60, 1)) as [Float64Array, Float64Array, Float64Array];
  const loadW = loads[0].map((w, k) => w + loads[1][k]! + loads[2][k]!);
  return runPlan(planOf(scenario), { pvW: passingClouds(draw, steps, 60, peakW), loadByPhaseW: loads, loadW });
}

const text = (about: string, head: string, rows: readonly string[]): string =>
  `# Invented (tests/tools/write-demo-logs.ts): ${about}\n${head}\n${rows.join('\n')}\n`;

/** The invented logs in data/demo, by name. The same seeds give the same bytes. */
export const demoLogs = (): Record<string, string> => ({ 'invented-wiring.csv': wiringText(), 'invented-log.csv': logText() });

function wiringText(): string {
  const wiringRun = day(11, 8, 6500, { control: { startDelayS: 120, stopDelayS: 120, switchUpDelayS: 300, restartPauseS: 120 } });
  const currents = logged(wiringRun, { order: [[2, 1, 3]], signs: [1, 1, 1] }, chance(11, 'demo currents'));
  const terminals = currents.chargers.flatMap((charger) => (charger.kind === 'currents' ? charger.terminalsA : []));
  return text(
    'currents at the meter and at a charger whose terminals 1 and 2 are exchanged',
    'time,meter_l1_a,meter_l2_a,meter_l3_a,charger_l1_a,charger_l2_a,charger_l3_a',
    Array.from({ length: currents.table.rows }, (_, k) =>
      [stamp(k, DAY_MS + 8 * 3_600_000), ...[...currents.meterA, ...terminals].map((a) => a[k]!.toFixed(1))].join(','),
    ),
  );
}

function logText(): string {
  const slow = { startDelayS: 480, stopDelayS: 180, switchUpDelayS: 600, restartPauseS: 300 };
  const logRun = day(12, 16, 8000, { smoothingS: 30, vehicle: { minCurrentA: [8, 8, 8], startLagS: 60 }, control: slow });
  const draw = chance(12, 'demo noise');
  const made = loggedRun(logRun, 'grid', (deviation) => deviation * draw.normal());
  const lineA = (line: number, k: number): number => (made.phases![k]! >= line ? made.currentA![k]! : 0);
  return text(
    'a system with a longer start delay than its scenario says, and a car that starts at 8 A',
    'time,grid_w,car_w,car_l1_a,car_l2_a,car_l3_a',
    Array.from({ length: made.table.rows }, (_, k) =>
      [
        stamp(k, DAY_MS + 4 * 3_600_000),
        made.gridW![k]!.toFixed(0),
        made.carW[k]!.toFixed(0),
        ...[1, 2, 3].map((line) => lineA(line, k).toFixed(2)),
      ].join(','),
    ),
  );
}
