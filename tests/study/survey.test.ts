import { expect, test } from 'vitest';
import { heatMapOf, influences, paretoFront, readStudy, type StudyRow, surveyVariants } from '../../src/study/index.ts';

const read = (text: string) => readStudy(text, 'study.yaml');

function surveyOf(text: string) {
  const checked = read(text);
  if (!checked.ok) throw new Error(checked.issues.map(({ problem }) => problem).join(' '));
  return checked.value;
}

test('a grid: every value with every other, lists that are zipped together as one axis, years innermost', () => {
  const survey = surveyOf(`
scenario: a.yaml
years: 2
vary: { control.surplusShare: [1, 0.5], "pv.arrays[0].kWp": { from: 4, to: 8, step: 2 } }
zip: [{ battery.capacityKWh: [5, 10], battery.maxChargeW: [2500, 5000] }]
`);
  expect(survey.rows).toHaveLength(12);
  expect(survey.rows[1]).toEqual({
    'control.surplusShare': 1,
    'pv.arrays[0].kWp': 4,
    'battery.capacityKWh': 10,
    'battery.maxChargeW': 5000,
  });
  expect(surveyVariants(survey)[1]).toEqual({ keys: survey.rows[0], year: 1, people: 0 });
});

test('a sample: the same seed gives the same variants, and a further axis leaves the others alone', () => {
  const text = 'scenario: a.yaml\nsample: { count: 50, seed: 4 }\nvary: { control.surplusShare: { from: 0.2, to: 0.8 } }';
  const one = surveyOf(text);
  expect(surveyOf(text).rows).toEqual(one.rows);
  const shares = one.rows.map((row) => Number(row['control.surplusShare']));
  expect(Math.min(...shares)).toBeGreaterThanOrEqual(0.2);
  expect(Math.max(...shares)).toBeLessThanOrEqual(0.8);
  const two = surveyOf(`${text.slice(0, -2)}, control.reserveW: [0, 50] }`.replace('0.8, control', '0.8 }, control'));
  expect(two.rows.map((row) => Number(row['control.surplusShare']))).toEqual(shares);
});

test('mistakes are all found at once, with their places', () => {
  const checked = read('scenario: a.yaml\nyears: 0\nvary: { "a..b": [1] }\noutputs: [kWhs]\nhours: 3\n');
  if (checked.ok) throw new Error('passed');
  expect(checked.issues.map(({ place }) => place?.line).sort()).toEqual([2, 3, 4, 5]);
  const cross = read(
    'scenario: a.yaml\nvary: { a: [1] }\nzip: [{ b: [1, 2], c: [1] }]\nheatMap: { x: a, y: d, value: cost }\nfront: { less: cost, more: kmOnPv }\noutputs: [pvKWh]',
  );
  if (cross.ok) throw new Error('passed');
  expect(cross.issues.map(({ problem }) => problem).join(' ')).toMatch(/differ in length.*`d`.*`cost`.*`cost`.*`kmOnPv`/);
});

const row = (x: number, y: number, value: number): StudyRow => ({
  keys: { x, y },
  values: { value, gain: x - y },
  problem: null,
});
const rows = [0, 1, 2].flatMap((x) => [0, 1].map((y) => row(x, y, 10 * x + y)));

test('influences: parts of the variance, by hand', () => {
  const axes = ['x', 'y'].map((key) => ({ keys: [key], values: [[0], [1], [2]], between: null }));
  // x alone: 0.5, 10.5, 20.5 -> variance 66.67; y alone: 10, 11 -> 0.25; together 66.92.
  const [first, second] = influences(axes, rows, 'value');
  expect(first?.keys).toEqual(['x']);
  expect(first?.share).toBeCloseTo(66.6667 / 66.9167, 4);
  expect(first?.span).toBeCloseTo(20, 9);
  expect(second?.share).toBeCloseTo(0.25 / 66.9167, 4);
});

test('paretoFront: nobody on it is beaten in both, everybody else is', () => {
  const front = paretoFront(rows, { less: 'value', more: 'gain' });
  expect(front.map(({ keys }) => keys)).toEqual([
    { x: 0, y: 0 },
    { x: 1, y: 0 },
    { x: 2, y: 0 },
  ]);
});

test('heatMapOf: a cell for each pair, averages of the rest', () => {
  const map = heatMapOf([...rows, row(1, 1, 13)], { x: 'x', y: 'y', value: 'value' });
  expect(map.xs).toEqual([0, 1, 2]);
  expect(map.cells).toEqual([
    [0, 10, 20],
    [1, 12, 21],
  ]);
});
