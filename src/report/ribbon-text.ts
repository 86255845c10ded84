import { S_PER_H, stepStartMs, W_PER_KW, wallClockAt } from '../base/index.ts';
import { type StateName, stateName } from '../charging/index.ts';
import type { Catalogue } from '../explain/index.ts';
import type { Run } from '../simulate/index.ts';

/** A sign for each state that can be told from the others without any colour. */
export const STATE_SIGN: Readonly<Record<StateName, string>> = {
  away: ' ',
  full: '=',
  short: '.',
  proving: ':',
  resting: 'z',
  waking: 'w',
  surplus: '#',
  topped: '+',
  ceiling: '^',
  bridging: '~',
  switching: 'x',
  'held-fuse': '!',
  'held-imbalance': '%',
  'held-contract': '$',
  'held-dimmed': 'v',
  must: 'M',
  'at-once': 'A',
  refusing: '?',
  'gave-up': '0',
};

const LEVELS = [' ', '▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'] as const;
/** Signs an hour. */
const PER_HOUR = 3;
const HOURS_BETWEEN_MARKS = 3;
/** Letters that a line may have. */
const TEXT_WIDTH = 100;

/**
 * A day as a few lines for a terminal: the clock, what the roof gave (the tallest block is its highest power on that day), and a sign
 * every twenty minutes for the state that each charge point was in longest.
 *
 * @param day    day of the run, from 0
 * @param names  one per charge point; told where there are several
 */
export function ribbonText(run: Run, day: number, names: readonly string[], words: Catalogue): string[] {
  const { grid, columns } = run;
  const from = grid.dayStart[day] ?? 0;
  const to = grid.dayStart[day + 1] ?? 0;
  const slots = slotsOf(from, to, S_PER_H / PER_HOUR / grid.stepS);
  const labels = [words.account.roof, ...columns.points.map((_, i) => shortened(pointLabel(i, names, words)))];
  const width = Math.max(...labels.map((label) => label.length)) + 2;
  const highestW = columns.pvW.subarray(from, to).reduce((most, w) => Math.max(most, w), 0);
  const used = new Set<StateName>();
  const cars = columns.points.map((point) =>
    slots.map((slot) => {
      const state = longest(point.state, slot);
      used.add(state);
      return STATE_SIGN[state];
    }),
  );
  const line = (label: string, signs: readonly string[], end = ''): string =>
    `${label.padEnd(width)}${signs.join('')}${end}`.trimEnd();
  return [
    line('', clockMarks(run, from, slots.length)),
    line(words.account.roof, roofSigns(columns.pvW, slots, highestW), `|  ${words.form.fixed(highestW / W_PER_KW, 1)} kW`),
    ...cars.map((signs, i) => line(labels[i + 1] ?? '', signs, '|')),
    ...legendLines(used, words, TEXT_WIDTH - width).map((text) => ' '.repeat(width) + text),
  ];
}

const pointLabel = (i: number, names: readonly string[], { charts }: Catalogue): string =>
  names.length > 1 ? (names[i] ?? charts.car(i + 1)) : charts.state;

const shortened = (name: string): string => (name.length > 14 ? `${name.slice(0, 13)}…` : name);

type Slot = readonly [from: number, to: number];

/** Twenty minutes each; a whole step where steps are longer. */
function slotsOf(from: number, to: number, steps: number): Slot[] {
  const count = Math.round((to - from) / steps);
  return Array.from({ length: count }, (_, i) => {
    const first = from + Math.floor(i * steps);
    return [first, Math.max(first + 1, Math.min(to, from + Math.floor((i + 1) * steps)))];
  });
}

function longest(states: Uint8Array, [from, to]: Slot): StateName {
  const counts = new Map<number, number>();
  for (const code of states.subarray(from, to)) counts.set(code, (counts.get(code) ?? 0) + 1);
  let best = states[from] ?? 0;
  for (const [code, count] of counts) if (count > (counts.get(best) ?? 0)) best = code;
  return stateName(best);
}

function roofSigns(pvW: Float64Array, slots: readonly Slot[], highestW: number): string[] {
  return slots.map(([from, to]) => {
    const meanW = pvW.subarray(from, to).reduce((sum, w) => sum + w, 0) / (to - from);
    const level = meanW <= 0 ? 0 : Math.max(1, Math.round((meanW / highestW) * (LEVELS.length - 1)));
    return LEVELS[level] ?? ' ';
  });
}

/** "00" at midnight, "03" three hours on by the clock on the wall. */
function clockMarks({ grid }: Run, from: number, count: number): string[] {
  const signs: string[] = Array.from({ length: count }, () => ' ');
  for (let i = 0; i < count; i += PER_HOUR) {
    const { hour } = wallClockAt(grid.zone, stepStartMs(grid, from) + (i / PER_HOUR) * S_PER_H * 1000);
    if (hour % HOURS_BETWEEN_MARKS !== 0) continue;
    [signs[i], signs[i + 1]] = [String(Math.floor(hour / 10)), String(hour % 10)];
  }
  return signs;
}

/** What the signs mean, in as many lines as it takes. */
function legendLines(used: ReadonlySet<StateName>, { states }: Catalogue, width: number): string[] {
  const lines: string[] = [];
  for (const state of Object.keys(STATE_SIGN) as StateName[]) {
    if (!used.has(state) || state === 'away') continue;
    const entry = `${STATE_SIGN[state]} ${states[state]}`;
    const last = lines[lines.length - 1];
    if (last !== undefined && last.length + 2 + entry.length <= width) lines[lines.length - 1] = `${last}  ${entry}`;
    else lines.push(entry);
  }
  return lines;
}
