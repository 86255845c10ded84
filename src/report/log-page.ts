import { isoWithOffset } from '../base/index.ts';
import {
  CAUTIONS_HEADING,
  type Departure,
  departureGroups,
  departureText,
  type FindingLine,
  NOT_A_RELEASE,
  revealsOf,
} from '../commissioning/index.ts';
import { openPage, tableOf } from './page-shell.ts';

/** What a report on a log is made from. */
export interface LogReport {
  readonly logName: string;
  /** Null where no scenario was given. */
  readonly scenarioName: string | null;
  readonly rows: number;
  readonly intervalS: number;
  readonly fromMs: number;
  readonly toMs: number;
  readonly lines: readonly FindingLine[];
  /** Null where there was nothing to hold the log against. */
  readonly departures: readonly Departure[] | null;
  /** What was assumed, and what was repaired in the log. */
  readonly notes: readonly string[];
}

/** Times of departures are shown as the log has them: in UTC where its times carry an offset. */
const clock = (ms: number): string => isoWithOffset(ms, 0).slice(0, 19).replace('T', ' ');

/** The report on a log as a page for the complaint file. */
export async function logPage(report: LogReport): Promise<string> {
  const page = await openPage({
    lang: 'en',
    title: `What the log ${report.logName} says`,
    cautionsHeading: CAUTIONS_HEADING.en,
    cautions: [
      'Told from a log alone: what was not logged (car away or full, limits, doings by hand) can not be known.',
      ...NOT_A_RELEASE.en,
    ],
  });
  const { el, main } = page;
  const against = report.scenarioName === null ? '' : ` Held against the scenario ${report.scenarioName}.`;
  main.append(
    el(
      'p',
      `${report.rows} rows every ${report.intervalS} s, from ${clock(report.fromMs)} to ${clock(report.toMs)} (UTC, or the log’s own clock where it says no offset).${against}`,
    ),
    el('h2', 'How the system is set'),
    tableOf(
      page,
      report.scenarioName === null ? 'Found in the log, with intervals' : 'Found in the log, with intervals, beside the scenario',
      report.scenarioName === null ? ['What', 'Found'] : ['What', 'Found', 'Set to'],
      report.lines.map(({ name, found, set, differs }) =>
        report.scenarioName === null
          ? [name, found]
          : [name, found, differs ? el('span', [`${set}, `, el('strong', 'differs')]) : set],
      ),
    ),
  );
  const reveals = revealsOf(report.lines);
  if (reveals.length > 0)
    main.append(
      el('h2', 'What would tell the rest'),
      el(
        'ul',
        reveals.map((one) => el('li', one)),
      ),
    );
  if (report.departures !== null) main.append(...departureParts(report.departures, page));
  main.append(
    el('h2', 'Assumed and repaired'),
    el(
      'ul',
      report.notes.map((note) => el('li', note)),
    ),
  );
  return page.html();
}

function departureParts(departures: readonly Departure[], page: Awaited<ReturnType<typeof openPage>>): HTMLElement[] {
  const { el } = page;
  const heading = el('h2', 'Where it did otherwise than the law with the scenario’s settings');
  if (departures.length === 0)
    return [heading, el('p', 'Nowhere: every start, stall and change of phases came when the law says.')];
  const parts = departureGroups(departures).flatMap(({ heading: title, count, causes }) => [
    el('h3', `${title}: ${count} ${count === 1 ? 'time' : 'times'}`),
    el('p', 'What it may come from, the likeliest first:'),
    el(
      'ol',
      causes.map((cause) => el('li', cause)),
    ),
  ]);
  // Date and time each stay whole on a narrow screen.
  const timeOf = (ms: number): HTMLElement => {
    const [date = '', time = ''] = clock(ms).split(' ');
    return el('span', [el('span', date, { class: 'whole' }), ' ', el('span', time, { class: 'whole' })]);
  };
  const rows = departures.map((one) => [timeOf(one.atMs), departureText(one)]);
  return [heading, ...parts, el('h2', 'Event by event'), tableOf(page, 'Every departure', ['Time', 'What happened'], rows)];
}
