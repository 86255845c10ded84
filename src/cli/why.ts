import type { ChartConfiguration } from 'chart.js';
import {
  type AccountLine,
  accountOf,
  allDays,
  type Catalogue,
  type Chain,
  chainOf,
  type DayRange,
  differencesOf,
  type Explained,
  explained,
  firstDays,
  isoLocal,
  makeProfiles,
  type Run,
  rowsOfChain,
  simulate,
  stepStartMs,
  stepsOfDays,
  type TimeGrid,
  type WhatIfOutcome,
  type WhatIfs,
  wallClockAt,
  whatIfs,
} from '../index.ts';
import {
  accountText,
  allPoints,
  chainText,
  DAY_PICKS,
  type DayPick,
  dateOf,
  dayChart,
  openDrawing,
  periodName,
  pickDay,
  ribbonText,
  rounded,
  solarShare,
  sumsOf,
  whatIfText,
  whyHtml,
  wrapped,
} from '../report/index.ts';
import { type Entered, enter } from './door.ts';
import { Exit, type ExitCode } from './exit-codes.ts';
import { chartFonts } from './fonts.ts';
import type { CommonOptions, LanguageOption } from './options.ts';
import { InputProblem } from './problem.ts';
import { progress } from './progress.ts';
import { say, sayJson, styled, type Terminal } from './terminal.ts';
import { packageVersion } from './version.ts';
import { wordsFor } from './words.ts';
import { type NamedContent, writeFolder } from './write-whole.ts';

/** Options of `sixamp why`. */
export interface WhyOptions extends CommonOptions, LanguageOption {
  readonly day?: string;
  readonly from?: string;
  readonly to?: string;
  readonly all?: boolean;
  readonly out?: string;
}

/** Days that are told one by one, at most; of longer stretches only the sums are told. */
const MOST_TOLD = 7;
const PARTS = 3;
const PICTURE = { widthPx: 1000, heightPx: 560 } as const;

/** What the command found out. */
interface Findings {
  readonly entered: Entered;
  readonly whole: Explained;
  readonly days: DayRange;
  readonly told: readonly number[];
  readonly chains: readonly Chain[];
  readonly whatIfs: WhatIfs;
  readonly words: Catalogue;
}

/** `sixamp why`: every start, stall and switch of some days accounted for, where the hours went, and what would have changed it. */
export async function why(file: string, options: WhyOptions, terminal: Terminal): Promise<ExitCode> {
  const words = wordsFor(options);
  const entered = await enter(file, options.json === true, terminal);
  if (entered === null) return Exit.input;
  const found = await findOut(entered, options, words, terminal);
  const files = options.out === undefined ? [] : await writeFiles(options.out, found);
  if (options.json)
    sayJson(terminal, { ...asJson(found, options), ...(options.out === undefined ? {} : { folder: options.out, files }) });
  else tell(found, options, terminal);
  if (options.out !== undefined && !options.json)
    say(terminal, `${words.account.files(files.length, options.out)}: ${files.join(', ')}`);
  return Exit.fine;
}

async function findOut(entered: Entered, options: WhyOptions, words: Catalogue, terminal: Terminal): Promise<Findings> {
  const bar = progress(terminal, PARTS);
  try {
    await bar.at(0, 'weather, roof and house');
    const { grid } = entered.scenario;
    const scenario = { ...entered.scenario, grid: firstDays(grid, daysNeeded(grid, options)) };
    const profiles = makeProfiles(scenario);
    await bar.at(1, 'charging');
    const whole = explained(simulate(scenario, profiles));
    const { run, surplus } = whole;
    const days = daysOf(run, options);
    await bar.at(2, 'what would have changed it');
    const [from, to] = stepsOfDays(run, days);
    const count = days.endDay - days.firstDay;
    return {
      entered,
      whole,
      days,
      told: count > MOST_TOLD ? [] : Array.from({ length: count }, (_, i) => days.firstDay + i),
      chains: surplus.map((own, i) => chainOf(run, i, own, from, to)),
      whatIfs: whatIfs(scenario, run, profiles, days),
      words,
    };
  } finally {
    bar.end();
  }
}

/** Days that are run beyond the last one asked for: its evening light and its night lead over to the next. */
const DAYS_BEYOND = 2;

/** How many days of the run are needed: what comes after a day does not change it. All where none is named, or the names make no sense. */
function daysNeeded(grid: TimeGrid, { day, from, to }: WhyOptions): number {
  const last = dayNamed(grid, to ?? day ?? '');
  const first = from === undefined ? 0 : dayNamed(grid, from);
  const isOneThing = day === undefined || (from === undefined && to === undefined);
  return isOneThing && first >= 0 && first <= last ? last + 1 + DAYS_BEYOND : grid.dayMs.length;
}

/** A day by its date, or −1. */
const dayNamed = ({ dayMs }: TimeGrid, date: string): number =>
  dayMs.findIndex((ms) => new Date(ms).toISOString().slice(0, 10) === date);

/** The days that the options ask for; all of them where they ask for none. */
function daysOf(run: Run, { day, from, to }: WhyOptions): DayRange {
  if (day !== undefined) {
    if (from !== undefined || to !== undefined)
      throw wrongDay('--day', day, run, '--day together with --from or --to says two things.');
    const pick = DAY_PICKS.find((name) => name === day);
    const found = pick === undefined ? dayOf(run, '--day', day) : pickDay(run, pick);
    return { firstDay: found, endDay: found + 1 };
  }
  const { endDay } = allDays(run);
  const first = from === undefined ? 0 : dayOf(run, '--from', from);
  const last = to === undefined ? endDay - 1 : dayOf(run, '--to', to);
  if (last < first) throw wrongDay('--to', to ?? '', run, 'The last day comes before the first.');
  return { firstDay: first, endDay: last + 1 };
}

function dayOf(run: Run, option: string, text: string): number {
  const found = dayNamed(run.grid, text);
  if (found >= 0) return found;
  throw wrongDay(option, text, run, 'There is no such day in this run.');
}

function wrongDay(option: string, found: string, run: Run, problem: string): InputProblem {
  const last = run.ledger.days.length - 1;
  const picks = option === '--day' ? `, or ${DAY_PICKS.join(', ')}` : '';
  return new InputProblem(option, {
    code: 'day-unknown',
    found,
    problem,
    allowed: `a day from ${dateOf(run, 0)} to ${dateOf(run, last)}${picks}`,
    fix: 'write the day as year-month-day, such as 2025-04-12',
  });
}

function tell(found: Findings, options: WhyOptions, terminal: Terminal): void {
  const { entered, whole, told, chains, words, days } = found;
  const { run } = whole;
  const names = namesOf(entered);
  const bold = (text: string): string => styled(terminal.out, 'bold', text);
  say(terminal, bold(entered.scenario.name));
  for (const day of told) {
    const [from, to] = stepsOfDays(run, { firstDay: day, endDay: day + 1 });
    say(terminal, `\n${bold(dayTitle(run, day, words))}${pickNote(options, words)}`);
    for (const line of wrapped(daySums(run, day, words), 100)) say(terminal, line);
    say(terminal);
    for (const line of ribbonText(run, day, names, words)) say(terminal, line);
    say(terminal);
    for (const line of accountText(linesOf(found, from, to, options), names, words)) say(terminal, line);
  }
  if (told.length === 0) sayNotable(run, days, terminal, words);
  chains.forEach((chain, i) => {
    say(terminal, `\n${bold(words.account.chainHeading)}${names.length > 1 ? `, ${names[i] ?? ''}` : ''}`);
    for (const line of chainText(chain, words)) say(terminal, line);
  });
  say(terminal, `\n${bold(words.account.whatIfHeading)}`);
  for (const line of wrapped(words.whatIf.note(found.whatIfs.isWhole), 100)) say(terminal, line);
  for (const line of whatIfText(found.whatIfs, entered.scenario.tariff?.currency ?? '', words)) say(terminal, line);
}

const namesOf = ({ scenario }: Entered): string[] => scenario.chargePoints.map(({ name }) => name);

const linesOf = ({ whole, words }: Findings, from: number, to: number, { all = false }: WhyOptions): AccountLine[] =>
  accountOf(whole, from, to, words, { every: all });

function dayTitle(run: Run, day: number, { account }: Catalogue): string {
  const dated = run.ledger.days[day];
  if (dated === undefined) return '';
  return account.day(dated, wallClockAt(run.grid.zone, stepStartMs(run.grid, run.grid.dayStart[day] ?? 0)).weekday);
}

function pickNote({ day }: WhyOptions, { account }: Catalogue): string {
  const pick = DAY_PICKS.find((name) => name === day);
  return pick === undefined ? '' : ` (${account.dayHeading[pick]})`;
}

function daySums(run: Run, day: number, { account }: Catalogue): string {
  const dated = run.ledger.days[day];
  const sums = allPoints({ points: dated?.tally.points ?? [] });
  return sums.carWh === 0 ? account.nothing : account.sums(sums, solarShare(sums));
}

/** Of a long stretch, where to look closer. */
function sayNotable(run: Run, days: DayRange, terminal: Terminal, words: Catalogue): void {
  say(terminal, periodOf(run, days, words));
  if (days.endDay - days.firstDay !== run.ledger.days.length) return;
  for (const pick of DAY_PICKS satisfies readonly DayPick[]) {
    const day = pickDay(run, pick);
    say(terminal, `  ${words.account.dayHeading[pick]}: ${dateOf(run, day)}  (--day ${pick})`);
  }
}

const periodOf = (run: Run, { firstDay, endDay }: DayRange, words: Catalogue): string =>
  periodName({ grid: { ...run.grid, dayMs: run.grid.dayMs.subarray(firstDay, endDay) } }, words);

async function writeFiles(folder: string, found: Findings): Promise<string[]> {
  const { whole, told, entered, words, days } = found;
  const { run } = whole;
  const names = namesOf(entered);
  const draw = told.length > 0 ? await openDrawing(await chartFonts()) : null;
  const files: NamedContent[] = told.flatMap((day) => {
    const spec = dayChart(run, { day, heading: entered.scenario.name, pointNames: names, widthPx: PICTURE.widthPx, words });
    const pictures = draw?.(spec as ChartConfiguration, PICTURE);
    const name = `day-${dateOf(run, day)}`;
    return pictures === undefined
      ? []
      : [
          { name: `${name}.png`, content: pictures.png },
          { name: `${name}.svg`, content: pictures.svg },
        ];
  });
  const [first, last] = [dateOf(run, days.firstDay), dateOf(run, days.endDay - 1)];
  const name = first === last ? `why-${first}.html` : `why-${first}-to-${last}.html`;
  const html = await whyHtml({ ...found, scenario: entered.scenario, version: packageVersion() });
  return writeFolder(folder, [...files, { name, content: html }], () => false);
}

function asJson(found: Findings, options: WhyOptions): object {
  const { entered, whole, told, chains, whatIfs: changed, words } = found;
  const { run } = whole;
  const names = namesOf(entered);
  return {
    ok: true,
    scenario: entered.scenario.name,
    from: dateOf(run, found.days.firstDay),
    to: dateOf(run, found.days.endDay - 1),
    days: told.map((day) => {
      const [from, to] = stepsOfDays(run, { firstDay: day, endDay: day + 1 });
      const tally = run.ledger.days[day]?.tally;
      return {
        date: dateOf(run, day),
        sums: tally && sumsOf(tally, names),
        account: linesOf(found, from, to, options).map((line) => lineRecord(run, line, names)),
      };
    }),
    whereTheHoursWent: chains.map((chain, i) => ({
      chargePoint: names[i],
      rows: rowsOfChain(chain).map(({ name, less, hours, energyWh }) => ({
        name,
        takenOff: less,
        hours: rounded(hours, 6),
        pvKWh: rounded(energyWh / 1000, 6),
      })),
    })),
    asItIs: outcomeRecord(changed.asItIs),
    changes: changed.changes.map(({ name, outcome, rankByPv, rankByCost }) => ({
      name,
      text: words.whatIf.differences(differencesOf({ outcome }, changed.asItIs), entered.scenario.tariff?.currency ?? ''),
      ...outcomeRecord(outcome),
      rankByPv,
      rankByCost,
    })),
    warnings: entered.warningRecords,
  };
}

const lineRecord = ({ grid }: Run, line: AccountLine, names: readonly string[]) => ({
  from: isoLocal(grid.zone, stepStartMs(grid, line.fromStep)),
  to: isoLocal(grid.zone, stepStartMs(grid, line.toStep)),
  chargePoint: names[line.point],
  kind: line.kind,
  name: line.name,
  text: line.text,
});

const outcomeRecord = (outcome: WhatIfOutcome) => ({
  carKWh: rounded(outcome.carWh / 1000, 3),
  carPvKWh: rounded(outcome.carPvWh / 1000, 3),
  carBatteryKWh: rounded(outcome.carBatteryWh / 1000, 3),
  carGridKWh: rounded(outcome.carGridWh / 1000, 3),
  pvKm: rounded(outcome.pvKm, 3),
  solarChargingH: rounded(outcome.solarChargingH, 3),
  starts: outcome.starts,
  stalls: outcome.stalls,
  switches: outcome.switches,
  missedKm: rounded(outcome.missedKm, 3),
  leftInCarsKWh: rounded(outcome.leftWh / 1000, 3),
  cost: outcome.cost === null ? null : rounded(outcome.cost, 2),
});
