import { type Checked, failed, type Issue, passed } from '../base/index.ts';
import { type LogTable, logColumn, readLog } from './read-log.ts';

/** Currents on the three phases or terminals, A, row by row. */
export type ThreeA = readonly [Float64Array, Float64Array, Float64Array];

/** What a log says about one charger: the current at each terminal, or only whether it is on. */
export type ChargerColumns =
  | { readonly kind: 'currents'; readonly terminalsA: ThreeA }
  | { readonly kind: 'on'; readonly on: Float64Array };

/** Currents at the grid meter and at the chargers. */
export interface WiringLog {
  readonly table: LogTable;
  /** As logged: import counts up, unless a transformer is reversed. */
  readonly meterA: ThreeA;
  readonly chargers: readonly ChargerColumns[];
}

/** Most chargers that are looked at together. */
export const MOST_CHARGERS = 3;

const METER = ['meter_l1_a', 'meter_l2_a', 'meter_l3_a'] as const;
const prefixOf = (charger: number): string => (charger === 0 ? 'charger' : `charger${charger + 1}`);
const terminalNames = (charger: number): string[] => [1, 2, 3].map((n) => `${prefixOf(charger)}_l${n}_a`);
const onName = (charger: number): string => `${prefixOf(charger)}_on`;

const COLUMNS = [
  ...METER.map((name) => logColumn(name, -1000, 1000, 'A')),
  ...[0, 1, 2].flatMap((charger) => [
    ...terminalNames(charger).map((name) => logColumn(name, -200, 200, 'A')),
    logColumn(onName(charger), 0, 1, '0 or 1'),
  ]),
];

const ALLOWED =
  'time,meter_l1_a,meter_l2_a,meter_l3_a and charger_l1_a,charger_l2_a,charger_l3_a or charger_on; charger2_ and charger3_ for more';

/** Reads `time,meter_l1_a,meter_l2_a,meter_l3_a,charger_l1_a,charger_l2_a,charger_l3_a` or `…,charger_on`, and `charger2_…`, `charger3_…`. */
export function readWiringLog(text: string, file: string): Checked<WiringLog> {
  const read = readLog(text, file, COLUMNS);
  if (!read.ok) return read;
  const table = read.value;
  const meterA = three(table, METER);
  const chargers = Array.from({ length: MOST_CHARGERS }, (_, i) => chargerIn(table, i));
  const given = chargers.flatMap((charger) => (charger === null ? [] : [charger]));
  if (meterA === null || given.length === 0 || chargers[0] === null) {
    const lacking =
      meterA === null ? METER.find((name) => !table.columns.has(name)) : 'charger_l1_a … charger_l3_a or charger_on';
    return failed([columnsIssue(file, `The log has no column ${lacking}.`)]);
  }
  const half = chargers.findIndex((charger, i) => charger === null && terminalNames(i).some((name) => table.columns.has(name)));
  if (half >= 0) return failed([columnsIssue(file, `Charger ${half + 1} lacks the current of a terminal.`)]);
  const turned = given.map((charger) => (charger.kind === 'on' ? charger : turnedUp(charger.terminalsA)));
  const notes = turned.flatMap((charger, i) => ('turned' in charger ? charger.turned.map((t) => turnedNote(file, i, t)) : []));
  return passed({ table, meterA, chargers: turned }, [...read.warnings, ...notes]);
}

function columnsIssue(file: string, problem: string): Issue {
  const fix = 'name the columns in the first line as allowed; their order does not matter.';
  return { code: 'log-columns', path: [], found: '', problem, allowed: ALLOWED, fix, place: { file, line: 1, column: 1 } };
}

function three(table: LogTable, names: readonly string[]): ThreeA | null {
  const [a, b, c] = names.map((name) => table.columns.get(name));
  return a === undefined || b === undefined || c === undefined ? null : [a, b, c];
}

function chargerIn(table: LogTable, charger: number): ChargerColumns | null {
  const terminalsA = three(table, terminalNames(charger));
  if (terminalsA !== null) return { kind: 'currents', terminalsA };
  const on = table.columns.get(onName(charger));
  return on === undefined ? null : { kind: 'on', on };
}

/** A car never feeds back: a terminal whose current is mostly below zero has its transformer the wrong way round. */
function turnedUp(terminalsA: ThreeA): ChargerColumns & { readonly turned: readonly number[] } {
  const turned: number[] = [];
  const up = (currentA: Float64Array, i: number): Float64Array => {
    let below = 0;
    let above = 0;
    for (const a of currentA) {
      if (a < -3) below++;
      if (a > 3) above++;
    }
    if (below <= above) return currentA;
    turned.push(i + 1);
    return currentA.map((a) => -a);
  };
  return { kind: 'currents', terminalsA: [up(terminalsA[0], 0), up(terminalsA[1], 1), up(terminalsA[2], 2)], turned };
}

const turnedNote = (file: string, charger: number, terminal: number): Issue => ({
  code: 'log-terminal-negative',
  path: [],
  found: `${prefixOf(charger)}_l${terminal}_a`,
  problem:
    'The current of this terminal is below zero while the car draws: its transformer is the wrong way round, or the sign is.',
  allowed: 'its amount, counted up',
  fix: 'turn the sign in the logger to silence this.',
  place: { file, line: 1, column: 1 },
});
