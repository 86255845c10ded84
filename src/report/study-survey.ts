import { type HeatMap, heatMapOf, type Influence, influences, paretoFront, type StudyRow, type Survey } from '../study/index.ts';
import { frontChart, heatChart, influenceChart } from './chart-study.ts';
import { grouped, rounded } from './numbers.ts';
import { STUDY_CHART, type StudyChart, type StudyCsv, type StudyReport, type StudyTable } from './study-report.ts';

/** A study of any keys, as a report: every variant, what moves the answer most, map and front where they are asked for. */
export async function surveyReport({ study, axes }: Survey, rows: readonly StudyRow[]): Promise<StudyReport> {
  const failed = rows.filter(({ problem }) => problem !== null);
  const moved = study.outputs
    .map((output) => ({ output, list: influences(axes, rows, output) }))
    .filter(({ list }) => list.length > 0);
  const front = study.front === undefined ? null : paretoFront(rows, study.front);
  const heat = study.heatMap === undefined ? null : heatMapOf(rows, study.heatMap);
  const charts: StudyChart[] = [
    ...(heat === null
      ? []
      : [
          {
            name: 'heat',
            about: `${heat.output} by ${heat.xKey} and ${heat.yKey}`,
            spec: heatChart(heat, study.name),
            size: STUDY_CHART,
          },
        ]),
    ...(front === null || study.front === undefined
      ? []
      : [
          {
            name: 'front',
            about: `Variants that no other beats in ${study.front.less} and ${study.front.more}`,
            spec: frontChart(rows, front, study.front, study.name),
            size: STUDY_CHART,
          },
        ]),
    ...moved.slice(0, 1).map(({ output, list }) => ({
      name: 'influence',
      about: `Which key moves ${output} most`,
      spec: influenceChart(list, output, study.name),
      size: STUDY_CHART,
    })),
  ];
  return {
    title: study.name,
    answer: [
      `${rows.length} variants, ${study.years} ${study.years === 1 ? 'year' : 'years'} each${study.sample === undefined ? ', the full grid' : `, drawn at random with seed ${study.sample.seed}`}.`,
      ...moved.map(({ output, list }) => influenceSentence(output, list)),
      ...(front === null || study.front === undefined
        ? []
        : [`${front.length} variants are beaten by no other in both less ${study.front.less} and more ${study.front.more}.`]),
    ],
    minded: {
      heading: 'Variants that could not be run',
      sentences: failed.slice(0, MOST_FAILURES).map(({ keys, problem }) => `${JSON.stringify(keys)}: ${problem}`),
    },
    tables: [rangeTable(study.outputs, rows), variantTable(study.outputs, rows)],
    charts,
    csvs: [
      { name: 'variants', rows: rows.map((row) => flat(row, failed.length > 0)) },
      await summaryCsv(rows, study.outputs),
      ...(await meansByKey(rows, study.outputs)),
      ...(heat === null ? [] : [heatCsv(heat)]),
    ],
    json: { ok: true, name: study.name, years: study.years, variants: rows, influences: moved, front, heatMap: heat },
  };
}

const MOST_FAILURES = 50;
const MOST_SHOWN = 40;

function influenceSentence(output: string, list: readonly Influence[]): string {
  const [first, second] = list;
  if (first === undefined) return '';
  const after = second === undefined ? '' : `, then ${second.keys.join(' with ')} (${grouped(100 * second.share, 0)} %)`;
  return `${output} moves most with ${first.keys.join(' with ')}: ${grouped(100 * first.share, 0)} % of its spread${after}.`;
}

const cell = (value: number | null | undefined): string =>
  value === null || value === undefined ? '-' : grouped(value, Math.abs(value) < 10 ? 3 : Math.abs(value) < 1000 ? 1 : 0);

function variantTable(outputs: readonly string[], rows: readonly StudyRow[]): StudyTable {
  const keys = Object.keys(rows[0]?.keys ?? {});
  const more = rows.length > MOST_SHOWN ? ` (the first ${MOST_SHOWN} of ${rows.length}; all stand in variants.csv)` : '';
  return {
    caption: `Variants${more}`,
    head: [...keys.map(shortKey), ...outputs],
    rows: rows
      .slice(0, MOST_SHOWN)
      .map(({ keys: own, values, problem }) => [
        ...keys.map((key) => textOf(own[key])),
        ...outputs.map((name) => (problem === null ? cell(values[name]) : 'failed')),
      ]),
  };
}

function rangeTable(outputs: readonly string[], rows: readonly StudyRow[]): StudyTable {
  return {
    caption: 'Over all variants',
    head: ['output', 'least', 'middle', 'most'],
    rows: outputs.map((name) => {
      const values = rows.map((row) => row.values[name]).filter((value) => typeof value === 'number');
      const sorted = Float64Array.from(values).sort();
      return [name, cell(sorted[0]), cell(sorted[Math.floor(sorted.length / 2)]), cell(sorted[sorted.length - 1])];
    }),
  };
}

/** The last two parts of a key: enough to know it by in a heading. */
const shortKey = (key: string): string => key.split('.').slice(-2).join('.');
const textOf = (value: unknown): string => (typeof value === 'string' ? value : JSON.stringify(value ?? null));

/** A variant as a row; the column `problem` stands only where some failed. */
function flat({ keys, values, problem }: StudyRow, some: boolean): Record<string, string | number | null> {
  const own = Object.entries(keys).map(([key, value]) => [
    key,
    typeof value === 'number' || typeof value === 'string' ? value : JSON.stringify(value),
  ]);
  const results = Object.entries(values).map(([name, value]) => [name, value === null ? null : rounded(value, 6)]);
  return { ...Object.fromEntries(own), ...Object.fromEntries(results), ...(some ? { problem: problem ?? '' } : {}) };
}

/** Percentiles of each output over all variants, by danfo.js. */
async function summaryCsv(rows: readonly StudyRow[], outputs: readonly string[]): Promise<StudyCsv> {
  const { Series } = await import('danfojs');
  const sound = rows.filter(({ problem }) => problem === null);
  return {
    name: 'summary',
    rows: outputs.flatMap((output) => {
      const values = sound.map((row) => row.values[output]).filter((value) => typeof value === 'number');
      if (values.length === 0) return [];
      const series = new Series(values);
      return [
        {
          output,
          count: values.length,
          mean: rounded(series.mean(), 6),
          least: series.min(),
          median: rounded(series.median(), 6),
          most: series.max(),
        },
      ];
    }),
  };
}

/** Means of the outputs for each value of each key that takes few, by danfo.js: what the key does, all else averaged over. */
async function meansByKey(rows: readonly StudyRow[], outputs: readonly string[]): Promise<StudyCsv[]> {
  const sound = rows.filter(
    ({ values, problem }) => problem === null && outputs.every((name) => typeof values[name] === 'number'),
  );
  const keys = Object.keys(sound[0]?.keys ?? {}).filter(
    (key) => new Set(sound.map((row) => textOf(row.keys[key]))).size <= MOST_GROUPS,
  );
  if (keys.length === 0) return [];
  const { DataFrame } = await import('danfojs');
  const found = keys.flatMap((key) => {
    const table = new DataFrame(sound.map((row) => ({ value: textOf(row.keys[key]), ...row.values })));
    const means = table
      .groupby(['value'])
      .col([...outputs])
      .mean();
    const names = means.columns as string[];
    return (means.values as (string | number)[][]).map((cells) => {
      const row = Object.fromEntries(names.map((name, i) => [name.replace(/_mean$/, ''), cells[i] ?? null]));
      return {
        key,
        value: row.value ?? null,
        ...Object.fromEntries(outputs.map((name) => [name, rounded(Number(row[name]), 6)])),
      };
    });
  });
  return [{ name: 'summary-by-key', rows: found }];
}

/** Keys with more values than this are no groups. */
const MOST_GROUPS = 50;

/** A heat map as a table: a row for each value up, a column for each value across. */
const heatCsv = ({ xs, ys, cells, yKey }: HeatMap): StudyCsv => ({
  name: 'heat',
  rows: ys.map((y, i) => ({
    [yKey]: textOf(y),
    ...Object.fromEntries(xs.map((x, j) => [textOf(x), roundedOrNull(cells[i]?.[j])])),
  })),
});

const roundedOrNull = (value: number | null | undefined): number | null =>
  value === null || value === undefined ? null : rounded(value, 6);
