import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { differences, textDiffers } from '../../.config/notebook-compare.ts';
import {
  cellsWithLostOutputs,
  type Notebook,
  notebookSchema,
  notebookText,
  textOf,
  tidied,
} from '../../.config/notebook-file.ts';

const folder = join(import.meta.dirname, '../../notebooks');
const names = readdirSync(folder).filter((name) => name.endsWith('.ipynb'));
const textOfFile = (name: string): string => readFileSync(join(folder, name), 'utf8');
const read = (name: string): Notebook => notebookSchema.parse(JSON.parse(textOfFile(name)));

test('the four notebooks are there', () => {
  expect(names.sort()).toEqual(['phases.ipynb', 'promise.ipynb', 'share.ipynb', 'validation.ipynb']);
});

describe.each(names)('%s', (name) => {
  test('is nbformat 4.5, with nothing in it that another run would change', () => {
    expect(notebookText(read(name))).toBe(textOfFile(name));
  });
  test('asks its question first and answers it in the first screen, with a figure and a picture', () => {
    const [question, answer] = read(name).cells;
    expect(textOf(question?.source ?? [])).toMatch(/^# .+\?\n/);
    expect(question?.source.length).toBeLessThanOrEqual(4);
    const outputs = answer?.cell_type === 'code' ? answer.outputs : [];
    const [sentence, picture] = outputs;
    expect(textOf(sentence?.data['text/markdown'] ?? '')).toMatch(/\*\*.*\d.*\*\*/s);
    expect(Object.keys(picture?.data ?? {})).toEqual(['image/png', 'image/svg+xml', 'text/html', 'text/plain']);
  });
  test('no cell over 20 lines; every cell ran, in order; every output is there as text too', () => {
    const { cells } = read(name);
    for (const { id, source } of cells) expect(source.length, id).toBeLessThanOrEqual(20);
    const code = cells.flatMap((cell) => (cell.cell_type === 'code' ? [cell] : []));
    expect(code.map((cell) => cell.execution_count)).toEqual(code.map((_, i) => i + 1));
    expect(cellsWithLostOutputs(read(name))).toEqual([]);
    const outputs = code.flatMap((cell) => cell.outputs);
    for (const { data } of outputs) expect(Object.keys(data)).toContain('text/plain');
    expect(outputs.filter(({ data }) => 'image/png' in data).length).toBeGreaterThanOrEqual(4);
    expect(outputs.some(({ data }) => textOf(data['text/html'] ?? '').startsWith('<table>'))).toBe(true);
  });
  test('no path of a machine, nothing that is not a number', () => {
    const said = read(name).cells.flatMap((cell) =>
      cell.cell_type === 'code' ? cell.outputs.map(({ data }) => textOf(data['text/plain'] ?? '')) : [],
    );
    expect(said.join('\n')).not.toMatch(/\b(NaN|undefined|Infinity)\b/);
    expect(textOfFile(name)).not.toMatch(/file:\/\/|\/(home|root|tmp|work|Users|var)\//);
  });
});

const CELL = { cell_type: 'code' as const, id: 'a', metadata: {}, execution_count: 1, source: ['1'] };
const withText = (text: string): Notebook => ({
  ...read('promise.ipynb'),
  cells: [{ ...CELL, outputs: [{ output_type: 'display_data', data: { 'text/plain': [text] }, metadata: {} }] }],
});

describe('a notebook out of Jupyter', () => {
  const fresh = (output: object): string =>
    JSON.stringify({
      cells: [
        { cell_type: 'markdown', id: 'q', metadata: { tags: [] }, source: '# Why?\nSo.' },
        {
          cell_type: 'code',
          id: 'a',
          metadata: { execution: { 'iopub.status.busy': '2026-11-25T12:18:36.434000Z' } },
          execution_count: 1,
          outputs: [output],
          source: 'say()',
        },
      ],
      metadata: { language_info: { version: '6.0.3' } },
    });
  test('loses its times and keeps what was shown', () => {
    const text = notebookText(tidied(fresh({ output_type: 'display_data', data: { 'text/plain': 'so\nbe it' }, metadata: {} })));
    expect(text).not.toMatch(/2026|6\.0\.3|tags/);
    expect(JSON.parse(text).cells[1].outputs[0].data).toEqual({ 'text/plain': ['so\n', 'be it'] });
  });
  test('what a cell printed or threw is refused', () => {
    expect(() => tidied(fresh({ output_type: 'stream', name: 'stdout', text: 'x' }))).toThrow(/cell a: an output of kind stream/);
    expect(() => tidied(fresh({ output_type: 'error', ename: 'RangeError' }))).toThrow(/RangeError/);
  });
});

describe('a notebook run anew against the one that is kept', () => {
  test('itself: no difference', () => {
    const notebook = read('promise.ipynb');
    expect(differences(notebook, notebook)).toEqual([]);
  });
  test.each([
    ['2,840 km', '2,850 km', null],
    ['2,840 km', '2,900 km', '2,900 instead of 2,840'],
    ['0.972', '0.973', null],
    ['0.972', '0.99', '0.99 instead of 0.972'],
    ['20 starts', '21 starts', null],
    ['one phase', 'switchable', 'other words: "switchable" instead of "one phase"'],
  ])('%s, then %s: %s', (kept, anew, wanted) => {
    expect(textDiffers(kept, anew)).toBe(wanted);
  });
  test('names the cell, the output and the kind', () => {
    expect(differences(withText('4 km'), withText('9 km'))).toEqual(['cell a, output 1, text/plain: 9 instead of 4']);
  });
  test('a picture in which a bar has grown', () => {
    const notebook = read('phases.ipynb');
    const grown = JSON.parse(JSON.stringify(notebook)) as Notebook;
    const answer = grown.cells[1];
    if (answer?.cell_type !== 'code') throw new Error('no answer');
    const data = answer.outputs[1]?.data ?? {};
    const svg = textOf(data['image/svg+xml'] ?? '');
    data['image/svg+xml'] = svg.replace(/ d="M(\d+)/, (_, x: string) => ` d="M${Number(x) + 40}`);
    expect(differences(notebook, grown).join()).toMatch(/cell answer, output 2, image\/svg\+xml: shape 1 reaches/);
  });
});

test('an output that was lost on the way is missed', () => {
  const notebook = read('promise.ipynb');
  const id = notebook.cells.find((cell) => cell.cell_type === 'code')?.id ?? '';
  const cells = notebook.cells.map((cell) =>
    cell.cell_type === 'code' && cell.id === id ? { ...cell, outputs: cell.outputs.slice(1) } : cell,
  );
  expect(cellsWithLostOutputs({ ...notebook, cells })).toEqual([id]);
});
