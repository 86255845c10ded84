import type { ChartConfiguration } from 'chart.js';
import type { Catalogue, WhatIfs } from '../explain/index.ts';
import type { Scenario } from '../scenario/index.ts';
import type { MoneyBeside, ProfilesWithWeather, Run } from '../simulate/index.ts';
import { clearnessChart } from './chart-clearness.ts';
import { dateOf, dayChart } from './chart-day.ts';
import { monthsChart } from './chart-months.ts';
import { typicalDaysChart } from './chart-typical-days.ts';
import { type Fonts, openDrawing, type PictureSize } from './draw.ts';
import { eventsCsv } from './events-csv.ts';
import { monthsCsv } from './months-csv.ts';
import { pickDays } from './pick-days.ts';
import { reportHtml } from './report-html.ts';
import { runSky } from './run-sky.ts';
import { stepsCsv } from './steps-csv.ts';
import { type RunFacts, summaryJson, summaryOf } from './summary-json.ts';

/** A file of a run: its name in the folder, and what it holds, whole or piece by piece. */
export interface OutputFile {
  readonly name: string;
  readonly content: string | Uint8Array | Iterable<string | Uint8Array>;
}

/** What the files of a run are made from. */
export interface OutputInput {
  readonly run: Run;
  /** The same days charged at once. */
  readonly atOnce: Run;
  /** Null without a tariff. */
  readonly money: MoneyBeside | null;
  readonly scenario: Scenario;
  /** The weather of the run, or null: without it there are no pictures of the sky. */
  readonly profiles: Pick<ProfilesWithWeather, 'weather'>;
  readonly whatIfs: WhatIfs;
  /** What is worth knowing about the input. */
  readonly remarks: readonly string[];
  /** Words of the charts and of the report; CSV and JSON stay international. */
  readonly words: Catalogue;
  readonly facts: RunFacts;
  readonly fonts: Fonts;
}

const DAY_SIZE: PictureSize = { widthPx: 1000, heightPx: 560 };
const MONTHS_SIZE: PictureSize = { widthPx: 1000, heightPx: 520 };
const SKY_SIZE: PictureSize = { widthPx: 1000, heightPx: 440 };

/**
 * All files of a run, one after the other: summary.json, events.csv, months.csv, report.html, the charts (the months, the best day and a
 * middling one, the clearness of all days and typical ones, each as PNG and SVG), steps.csv. Nothing is written: faces write or offer them.
 */
export async function* outputFiles(input: OutputInput): AsyncGenerator<OutputFile, void, undefined> {
  const { run, atOnce, facts } = input;
  yield { name: 'summary.json', content: summaryJson(summaryOf(run, atOnce, facts, input.money)) };
  yield { name: 'events.csv', content: eventsCsv(run) };
  yield { name: 'months.csv', content: await monthsCsv(run) };
  yield { name: 'report.html', content: await reportHtml({ ...input, version: facts.version }) };
  const draw = await openDrawing(input.fonts);
  for (const { name, spec, size } of charts(input)) {
    const { png, svg } = draw(spec, size);
    yield { name: `${name}.png`, content: png };
    yield { name: `${name}.svg`, content: svg };
  }
  yield { name: 'steps.csv', content: stepsCsv(run) };
}

interface NamedChart {
  readonly name: string;
  readonly spec: ChartConfiguration;
  readonly size: PictureSize;
}

function charts(input: OutputInput): NamedChart[] {
  const { run, atOnce, facts, words } = input;
  const { best, median } = pickDays(run);
  const heading = facts.scenarioName;
  const days = [...new Set([best, median])].map((day): NamedChart => {
    const spec = dayChart(run, { day, heading, pointNames: facts.pointNames, widthPx: DAY_SIZE.widthPx, words });
    return { name: `day-${dateOf(run, day)}`, spec: spec as ChartConfiguration, size: DAY_SIZE };
  });
  return [
    { name: 'months', spec: monthsChart(run, atOnce, heading, words) as ChartConfiguration, size: MONTHS_SIZE },
    ...days,
    ...skyCharts(input),
  ];
}

function skyCharts({ run, scenario, profiles, facts }: OutputInput): NamedChart[] {
  if (profiles.weather === null) return [];
  const sky = runSky(run.grid, profiles.weather, scenario.site);
  const typical = typicalDaysChart(sky, facts.scenarioName);
  const clearness = clearnessChart(sky, facts.scenarioName);
  return [
    { name: 'clearness', spec: clearness as ChartConfiguration, size: SKY_SIZE },
    ...(typical === null ? [] : [{ name: 'typical-days', spec: typical as ChartConfiguration, size: SKY_SIZE }]),
  ];
}

/** Whether a name in an output folder is one that a run writes: what a later run may replace or clear away. */
export const isOutputName = (name: string): boolean =>
  /^(report\.html|steps\.csv|events\.csv|months\.csv|summary\.json|(months|clearness|typical-days)\.(png|svg)|day-\d{4}-\d{2}-\d{2}\.(png|svg))$/.test(
    name,
  );
