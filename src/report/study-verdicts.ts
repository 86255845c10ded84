import type { Scenario } from '../scenario/index.ts';
import {
  excludedSentence,
  notPromised,
  type PhaseOption,
  type PhasesAnswer,
  phaseName,
  phasesSentences,
  type ShareAnswer,
  type SharePoint,
  type SizeAnswer,
  settingName,
  shareSentences,
  sizeSentences,
  startLine,
  type Want,
  type YearsAnswer,
  yearsSentences,
} from '../study/index.ts';
import { curvesChart, optionsChart, yearsChart } from './chart-study.ts';
import { monthName } from './dates.ts';
import { brief, grouped, rounded } from './numbers.ts';
import { STUDY_CHART, type StudyReport, type StudyTable } from './study-report.ts';

const number = (value: number | null | undefined, decimals = 0): string =>
  value === null || value === undefined ? '-' : grouped(value, decimals);

/** What to expect over the years, as a report. */
export function yearsReport(answer: YearsAnswer, name: string, currency: string | null): StudyReport {
  const answerSentences = yearsSentences(answer, currency);
  const head = [
    'month',
    'PV kWh: usual',
    '9 of 10',
    '1 of 10',
    'PV km: usual',
    '9 of 10',
    '1 of 10',
    'solar h: usual',
    '9 of 10',
    '1 of 10',
  ];
  const cells = ({ pvKWh, kmOnPv, solarChargingH }: YearsAnswer['total']): string[] =>
    [pvKWh, kmOnPv, solarChargingH].flatMap(({ usual, inNineOfTen, inOneOfTen }) =>
      [usual, inNineOfTen, inOneOfTen].map((value) => brief(value)),
    );
  const table: StudyTable = {
    caption: `Reached in a usual year, in nine years of ten, and in one of ten (${answer.years} years)`,
    head,
    rows: [...answer.months.map((month) => [monthName(month.month), ...cells(month)]), ['year', ...cells(answer.total)]],
  };
  const { pvKWh } = answer.total;
  const subtitle = `the year: ${brief(pvKWh.usual)} kWh usual, ${brief(pvKWh.inNineOfTen)} in nine years of ten, ${brief(pvKWh.inOneOfTen)} in one of ten`;
  return {
    title: `${name}: what to expect over ${answer.years} years`,
    answer: answerSentences,
    minded: { heading: 'What is not promised', sentences: notPromised(answer) },
    tables: [table],
    charts: [
      {
        name: 'years',
        about: 'PV into the car by month: usual, and the band between nine years of ten and one of ten',
        spec: yearsChart(answer.months, name, subtitle),
        size: STUDY_CHART,
      },
    ],
    csvs: [{ name: 'years', rows: answer.each.map((values, year) => ({ year, ...roundedAll(values) })) }],
    json: { ok: true, ...answer, sentences: answerSentences, notPromised: notPromised(answer) },
  };
}

/** One phase, three phases, or switchable, as a report. */
export function phasesReport(answer: PhasesAnswer, name: string, currency: string | null): StudyReport {
  const options = new Map(answer.ranking.choices.map(({ option }) => [option.id, option]));
  const optionOf = (id: string): PhaseOption => options.get(id) ?? answer.ranking.winner.option;
  const sentences = [...phasesSentences(answer, currency, optionOf), ...excludedSentence(answer.excluded)];
  const { choices, winner, by } = answer.ranking;
  const price = by === 'cost' ? [`${currency ?? ''} a year`] : [];
  const table: StudyTable = {
    caption: `Means over ${answer.years} years, the same for all. Hours stand beside kWh and never rank.`,
    head: [
      'connection',
      ...price,
      'PV kWh',
      'solar %',
      'PV km',
      'grid kWh',
      'lost kWh',
      'starts/d',
      'switches/d',
      'missed km',
      'late',
      'peak A L1/L2/L3',
      'kVA',
      'imbal. A',
      'solar h',
    ],
    rows: choices.map(({ option, means: m }) => [
      `${phaseName(option)}${option === winner.option ? ' *' : ''}`,
      ...(by === 'cost' ? [number(m.cost)] : []),
      number(m.pvKWh),
      number(100 * (m.solarFraction ?? 0), 1),
      number(m.kmOnPv),
      number(m.gridKWh),
      number(m.lossesKWh),
      number(m.startsPerDay, 1),
      number(m.switchesPerDay, 1),
      number(m.missedKm),
      number(m.missedDepartures, 1),
      [m.peakImportL1A, m.peakImportL2A, m.peakImportL3A]
        .filter((value) => value !== null)
        .map((value) => number(value))
        .join('/'),
      number(m.ratedKVA, 1),
      number(m.imbalanceA),
      number(m.solarChargingH),
    ]),
  };
  const bars = choices.map(({ option, means }) => ({
    name: phaseName(option),
    pvKWh: means.pvKWh ?? 0,
    batteryKWh: means.batteryKWh ?? 0,
    gridKWh: means.gridKWh ?? 0,
  }));
  return {
    title: `${name}: one phase, three phases, or switchable`,
    answer: sentences,
    minded: {
      heading: 'How it was compared',
      sentences: [
        `On the same ${answer.years} years of weather and habits, ranked by ${by === 'cost' ? "the household's cost" : 'PV into the car'}; * marks the verdict.`,
      ],
    },
    tables: [table],
    charts: [
      {
        name: 'phases',
        about: 'Energy into the car by source, for each connection',
        spec: optionsChart(bars, name, `verdict: ${phaseName(winner.option)}`),
        size: STUDY_CHART,
      },
    ],
    csvs: [{ name: 'phases', rows: choices.map(({ option, means }) => ({ connection: option.id, ...roundedAll(means) })) }],
    json: { ok: true, ...answer, sentences },
  };
}

/** Which share to set, as a report with its card. */
export function shareReport(answer: ShareAnswer, scenario: Scenario, currency: string | null): StudyReport {
  const sentences = shareSentences(answer, currency);
  const money = currency === null ? [] : [`${currency} a year`];
  const row = ({ means: m, ...setting }: SharePoint): string[] => [
    settingName(setting),
    ...(currency === null ? [] : [number(m.cost)]),
    number(100 * (m.solarFraction ?? 0), 1),
    number(m.pvKWh),
    number(m.gridKWh),
    number(m.missedKm),
    number(m.starts),
    number(m.batteryCycles, 0),
    number(m.solarChargingH),
  ];
  const table: StudyTable = {
    caption: `Means over ${answer.years} years`,
    head: ['surplus share', ...money, 'solar %', 'PV kWh', 'grid kWh', 'missed km', 'starts', 'battery cycles', 'solar h'],
    rows: answer.points.map(row),
  };
  const curve = (topUp: SharePoint['topUp'], output: string, factor = 1) => ({
    label: topUp === 'minimum' ? 'topped up to the minimum' : 'topped up in proportion',
    points: answer.points
      .filter((point) => point.topUp === topUp)
      .map(({ share, means }) => ({ x: 100 * share, y: factor * (means[output] ?? 0) })),
  });
  const both = (output: string, factor = 1) => [curve('minimum', output, factor), curve('proportional', output, factor)];
  const best = answer.aims[0];
  const subtitle =
    best === undefined ? '' : `best ${best.aim === 'money' ? 'for the money' : 'for the PV fraction'}: ${settingName(best.best)}`;
  const frame = { heading: scenario.name, subtitle, x: 'surplus share, %' };
  const costs =
    currency === null
      ? []
      : [
          {
            name: 'share-cost',
            about: 'Cost of the household by surplus share',
            spec: curvesChart(both('cost'), { ...frame, y: `${currency} a year` }),
            size: STUDY_CHART,
          },
        ];
  const card = settingCard(answer, scenario);
  return {
    title: `${scenario.name}: which surplus share`,
    answer: sentences,
    minded: { heading: 'Setting card', sentences: card },
    tables: [table],
    charts: [
      ...costs,
      {
        name: 'share-pv',
        about: 'Solar fraction by surplus share',
        spec: curvesChart(both('solarFraction', 100), { ...frame, y: 'PV of all energy into the car, %', fromZero: true }),
        size: STUDY_CHART,
      },
    ],
    csvs: [{ name: 'share', rows: answer.points.map(({ means, ...rest }) => ({ ...rest, ...roundedAll(means) })) }],
    json: { ok: true, ...answer, sentences, card },
  };
}

/** What to set, and what it means in watts and amperes at each charge point. */
export function settingCard({ aims, seasons }: ShareAnswer, scenario: Scenario): string[] {
  const first = aims[0]?.best;
  if (first === undefined) return [];
  const settings =
    seasons?.pays === true
      ? ([
          ['April to September', seasons.summer],
          ['October to March', seasons.winter],
        ] as const)
      : ([['All year', first]] as const);
  return settings.flatMap(([season, setting]) => [
    `${season}: surplus share ${settingName(setting)}.`,
    ...scenario.chargePoints.flatMap((point) =>
      phasesAt(point).map((n) => {
        const least = Math.max(6, point.charger.minCurrentA, point.vehicle.minCurrentA[n - 1] ?? 6);
        return `${point.name}: ${startLine(setting.share, least, n, scenario.supply.voltageV, scenario.control.reserveW)}.`;
      }),
    ),
  ]);
}

/** Phases that a charge point can draw on. */
function phasesAt({ charger, vehicle }: Scenario['chargePoints'][number]): number[] {
  const most = charger.phases === 1 ? 1 : Math.min(3, vehicle.phases);
  return charger.phases === 'switchable' && most > 1 ? [1, most] : [most];
}

/** The sizes that reach a wish, as a report. */
export function sizeReport(
  answers: readonly SizeAnswer[],
  { want, wish, certainty, years }: { want: Want; wish: string; certainty: 'usual' | 'nine-of-ten'; years: number },
  name: string,
  currency: string | null,
): StudyReport {
  const sentences = answers.flatMap((answer) => sizeSentences(answer, want, certainty, currency));
  const percent = want.output === 'solarFraction';
  const shown = (value: number): number => (percent ? 100 * value : value);
  const unit = {
    solarFraction: 'solar fraction, %',
    pvKWh: 'PV into the car, kWh',
    kmOnPv: 'km on PV',
    cost: `${currency ?? ''} a year`,
  }[want.output];
  return {
    title: `${name}: how large for ${wish}`,
    answer: sentences,
    minded: {
      heading: 'How it was found',
      sentences: [
        `${certainty === 'usual' ? 'The usual year' : 'What nine years of ten reach'} of ${years} years of weather and habits; each size by itself, all else as written.`,
        ...(certainty === 'nine-of-ten' && years < 10
          ? ['With fewer than ten years, nine years of ten is every one of them.']
          : []),
        'A battery charges and discharges at half its capacity an hour and may feed the car; its energy in the car does not count as PV.',
      ],
    },
    tables: answers.map(({ dimension, unit: sized, seen }) => ({
      caption: `${dimension}: sizes looked at`,
      head: [`${dimension}, ${sized}`, unit, 'reaches it'],
      rows: seen.map(({ size, value, holds }) => [String(size), number(shown(value), percent ? 1 : 0), holds ? 'yes' : 'no']),
    })),
    charts: answers.map(({ dimension, unit: sized, seen }) => ({
      name: `size-${dimension}`,
      about: `${unit} by ${dimension}, and what is asked for`,
      spec: curvesChart(
        [
          { label: unit, points: seen.map(({ size, value }) => ({ x: size, y: shown(value) })) },
          {
            label: 'asked for',
            dashed: true,
            points: [seen[0], seen[seen.length - 1]].flatMap((one) =>
              one === undefined ? [] : [{ x: one.size, y: shown(want.value) }],
            ),
          },
        ],
        {
          heading: name,
          subtitle: wish,
          x: `${dimension === 'minimum' ? 'minimum starting current' : dimension === 'battery' ? 'home battery' : 'roof'}, ${sized}`,
          y: unit,
        },
      ),
      size: STUDY_CHART,
    })),
    csvs: [
      {
        name: 'size',
        rows: answers.flatMap(({ dimension, unit: sized, seen }) =>
          seen.map((one) => ({
            dimension,
            unit: sized,
            size: one.size,
            value: rounded(one.value, 4),
            reaches: one.holds ? 1 : 0,
          })),
        ),
      },
    ],
    json: { ok: true, want, certainty, years, answers, sentences },
  };
}

/** Values to a thousandth, nothing where there is none. */
export const roundedAll = (values: Readonly<Record<string, number | null>>): Record<string, number | null> =>
  Object.fromEntries(Object.entries(values).map(([name, value]) => [name, value === null ? null : rounded(value, 4)]));
