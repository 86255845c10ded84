import { WH_PER_KWH } from '../base/index.ts';
import { type AccountLine, type Catalogue, type Chain, differencesOf, rowsOfChain, type WhatIfs } from '../explain/index.ts';

/** Where a sentence breaks in a terminal. */
const TEXT_WIDTH = 100;
const BAR_WIDTH = 20;

/** An account as lines for a terminal: the time, and the sentence beside it. */
export function accountText(lines: readonly AccountLine[], names: readonly string[], { form }: Catalogue): string[] {
  const times = lines.map(({ from, to, fromStep, toStep }) => form.clock(from) + (toStep > fromStep ? `–${form.clock(to)}` : ''));
  const width = Math.max(0, ...times.map((time) => time.length)) + 2;
  return lines.flatMap((line, i) => {
    const who = names.length > 1 ? `${names[line.point] ?? ''}: ` : '';
    return wrapped(who + line.text, TEXT_WIDTH - width).map(
      (part, j) => (j === 0 ? (times[i] ?? '').padEnd(width) : ' '.repeat(width)) + part,
    );
  });
}

/** A text in lines of at most so many letters; a longer word stands alone. */
export function wrapped(text: string, width: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines[lines.length - 1];
    if (last !== undefined && last.length + 1 + word.length <= width) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/** Where the hours went, as a table with bars for a terminal. Links in which nothing fell are left out. */
export function chainText(chain: Chain, { chain: words, form }: Catalogue): string[] {
  const rows = rowsOfChain(chain).filter((row) => !row.less || row.hours > 0 || row.energyWh > 0);
  const labels = rows.map((row) => (row.less ? `  − ${words.rows[row.name]}` : words.rows[row.name]));
  const width = Math.max(...labels.map((label) => label.length)) + 1;
  const fullH = Math.max(rows[0]?.hours ?? 0, 1e-9);
  let leftH = 0;
  const lines = rows.map((row, i) => {
    leftH = row.less ? leftH - row.hours : row.hours;
    const number = (value: number): string => (value === 0 ? '' : form.fixed(value, 1)).padStart(9);
    const bar = row.less ? barText(leftH / fullH, row.hours / fullH, '·') : barText(0, row.hours / fullH, '█');
    return `${(labels[i] ?? '').padEnd(width)}${number(row.hours)}  ${bar}${number(row.energyWh / WH_PER_KWH)}`;
  });
  return [`${''.padEnd(width)}${words.hours.padStart(9)}  ${' '.repeat(BAR_WIDTH)}${words.energy.padStart(9)}`, ...lines];
}

function barText(from: number, size: number, sign: string): string {
  const first = Math.round(Math.max(0, from) * BAR_WIDTH);
  const end = Math.round(Math.max(0, from + size) * BAR_WIDTH);
  return (' '.repeat(first) + sign.repeat(Math.max(0, end - first))).padEnd(BAR_WIDTH).slice(0, BAR_WIDTH);
}

/** What one change would have done, as lines for a terminal; best first by PV energy, each from its own re-run. */
export function whatIfText({ asItIs, changes }: WhatIfs, currency: string, words: Catalogue): string[] {
  const { form, whatIf, variants, table } = words;
  const labels = [whatIf.asItIs, ...changes.map(({ name }) => variants[name])];
  const width = Math.max(...labels.map((label) => label.length)) + 2;
  const kWh = (energyWh: number): string => form.fixed(energyWh / WH_PER_KWH, 1).padStart(9);
  const indent = ' '.repeat(width + 11);
  const lines = changes.flatMap((change, i) => {
    const told = wrapped(whatIf.differences(differencesOf(change, asItIs), currency), TEXT_WIDTH - indent.length);
    const head = `${(labels[i + 1] ?? '').padEnd(width)}${kWh(change.outcome.carPvWh)}  `;
    return told.map((part, j) => (j === 0 ? head : indent) + part);
  });
  return [`${''.padEnd(width)}${table.pv.padStart(9)}`, `${(labels[0] ?? '').padEnd(width)}${kWh(asItIs.carPvWh)}`, ...lines];
}
