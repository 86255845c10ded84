import { describe, expect, test } from 'vitest';
import {
  barsChart,
  layersChart,
  openDrawing,
  phasesMap,
  pictureBundle,
  sentencesBundle,
  spreadsChart,
  tableBundle,
  winnersChart,
} from '../../src/report/index.ts';
import type { PhaseOption, Ranking } from '../../src/study/index.ts';

const draw = await openDrawing([]);
const SIZE = { widthPx: 900, heightPx: 400 };
const textsOf = (svg: string): string[] => [...svg.matchAll(/<text [^>]*>([^<]*)</g)].map((match) => match[1] ?? '');
const FRAME = { heading: 'Heading', subtitle: 'subtitle' };

describe('outputs of a cell', () => {
  test('a picture: PNG, SVG and words', () => {
    const drawn = draw(barsChart(['a'], [{ label: 'one', values: [1] }], { ...FRAME, values: 'kWh' }), SIZE);
    const bundle = pictureBundle(drawn, 'a bar');
    expect(Buffer.from(bundle['image/png'] ?? '', 'base64').equals(drawn.png)).toBe(true);
    expect([bundle['image/svg+xml'], bundle['text/plain']]).toEqual([drawn.svg, '[picture: a bar]']);
    expect(bundle['text/html']).toMatch(/^<img src="data:image\/png;base64,.* alt="a bar" width="900">$/);
  });
  test('sentences: paragraphs, and plain lines', () => {
    expect(sentencesBundle(['One.', 'Two.'])).toEqual({ 'text/markdown': 'One.\n\nTwo.', 'text/plain': 'One.\nTwo.' });
  });
  test('a table: numbers to a decimal, nothing as a dash, text kept from being markup', () => {
    const frame = {
      columns: ['name', 'kWh'],
      values: [
        ['a < b', 1.25],
        ['c', null],
        ['d', 3],
      ],
    };
    const bundle = tableBundle(frame, 'Table');
    expect(bundle['text/html']).toContain('<tr><td>a &lt; b</td><td style="text-align: right">1.3</td></tr>');
    expect(bundle['text/plain']).toBe('Table\nname   kWh\n----------\na < b  1.3\nc        -\nd        3');
  });
});

describe('charts', () => {
  test('layers: each in the legend, the axis ends where it is told', () => {
    const layers = [
      { label: 'measured', look: 'dots', points: [{ x: 2, y: 5 }] },
      {
        label: 'model',
        look: 'line',
        points: [
          { x: 10, y: 1 },
          { x: 0, y: 3 },
        ],
      },
      {
        label: 'limit',
        look: 'level',
        points: [
          { x: 0, y: 4 },
          { x: 10, y: 4 },
        ],
      },
    ] as const;
    const spec = layersChart(layers, { ...FRAME, x: 'hour', y: 'kW', xTo: 24, xStep: 4 });
    expect(spec.data.datasets[1]?.data[0]).toEqual({ x: 0, y: 3 });
    const texts = textsOf(draw(spec, SIZE).svg);
    expect(texts).toEqual(expect.arrayContaining(['measured', 'model', 'limit', 'hour', 'kW', '24', '20']));
    expect(texts).not.toContain('25');
  });
  test('bars: a legend only where there are several', () => {
    const of = (labels: string[]) =>
      barsChart(
        ['x'],
        labels.map((label) => ({ label, values: [1] })),
        { ...FRAME, values: 'v' },
      );
    expect(textsOf(draw(of(['one']), SIZE).svg)).not.toContain('one');
    expect(textsOf(draw(of(['one', 'two']), SIZE).svg)).toEqual(expect.arrayContaining(['one', 'two']));
  });
  test('spreads: from the low to the high end, the usual one marked', () => {
    const spec = spreadsChart([{ name: 'weather', low: 2, usual: 3, high: 5 }], {
      ...FRAME,
      values: 'km',
      ends: 'ends',
      middle: 'usual',
    });
    expect(spec.data.datasets.map(({ data }) => data[0])).toEqual([{ x: 3, y: 'weather' }, [2, 5]]);
    expect(textsOf(draw(spec, SIZE).svg)).toEqual(expect.arrayContaining(['weather', 'ends', 'usual', 'km']));
  });
  test('winners: a lead below the limit is none', () => {
    const ranking = (phases: PhaseOption['phases'], ahead: number): Ranking<PhaseOption> => {
      const choice = { option: { id: 'x', phases, maxCurrentA: 16 }, means: {}, ranked: [] };
      return { by: 'cost', choices: [choice], winner: choice, isTie: false, tieBelow: 12, rival: choice, ahead, yearsAhead: 1 };
    };
    const map = phasesMap([[ranking(1, 3), ranking('switchable', 1234.4)]], ['5', '10'], ['6 A'], 'EUR');
    expect(map.cells).toEqual([
      [
        { winner: 'one phase', lead: 'no clear lead', isTie: true },
        { winner: 'switchable', lead: 'by EUR 1,234', isTie: false },
      ],
    ]);
    const texts = textsOf(draw(winnersChart(map, { ...FRAME, x: 'roof', y: 'minimum' }), SIZE).svg);
    expect(texts).toEqual(expect.arrayContaining(['one phase', 'no clear lead', 'by EUR 1,234', '6 A', '10']));
  });
});
