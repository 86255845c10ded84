import { commissioning, formatWarning, isoWithOffset, type Scenario } from '../index.ts';
import { type LogReport, logPage } from '../report/index.ts';
import { enter, recordOf } from './door.ts';
import { Exit, type ExitCode } from './exit-codes.ts';
import type { CommonOptions } from './options.ts';
import { MAX_DATA_BYTES, readText } from './read-file.ts';
import { remark, say, sayJson, styled, type Terminal } from './terminal.ts';
import { atTop, refused } from './wiring.ts';
import { writePage } from './write-page.ts';

/** Options of `sixamp log`. */
export interface LogOptions extends CommonOptions {
  readonly out?: string;
  /** Kept back from the surplus, W, where it is known. */
  readonly reserve?: number;
}

/** Where no scenario says otherwise. */
const USUAL_VOLTAGE_V = 230;
const USUAL: commissioning.Assumed = { reserveW: 50, reserveRangeW: [0, 200], smoothingS: null };
/** So many departures are listed on a terminal; all are in the page and in JSON. */
const LISTED = 20;

/** `sixamp log`: how a running system is set, and where it departs from what a scenario says. */
export async function log(
  file: string,
  scenarioFile: string | undefined,
  options: LogOptions,
  terminal: Terminal,
): Promise<ExitCode> {
  const json = options.json === true;
  const entered = scenarioFile === undefined ? null : await enter(scenarioFile, json, terminal);
  if (scenarioFile !== undefined && entered === null) return Exit.input;
  const scenario = entered?.scenario ?? null;
  const voltageV = scenario?.supply.voltageV ?? USUAL_VOLTAGE_V;
  const read = commissioning.readRunLog(await readText(file, file, MAX_DATA_BYTES), file, voltageV);
  if (!read.ok) return refused(read, file, json, terminal);
  const { table } = read.value;
  const assumed = assumedOf(scenario, options.reserve);
  const findings = commissioning.runFindings(read.value, assumed);
  const rules = scenario === null ? null : commissioning.rulesFor(scenario, table.intervalS);
  const departures =
    rules === null || read.value.surplusW === null ? null : commissioning.departuresFrom(read.value, rules, assumed, findings);
  const lines = commissioning.findingLines(findings, rules, table.intervalS);
  const offH = scenario === null ? null : commissioning.clockOffH(read.value, scenario.site.longitudeDeg);
  const notes = [
    ...(offH === null ? [] : [clockNote(offH)]),
    ...assumptions(scenario, assumed),
    ...read.warnings.map(({ problem, allowed }) => `${problem} Assumed: ${allowed}.`),
  ];
  const report: LogReport = {
    logName: file,
    scenarioName: scenario?.name ?? null,
    rows: table.rows,
    intervalS: table.intervalS,
    fromMs: table.atMs[0] ?? 0,
    toMs: table.atMs[table.rows - 1] ?? 0,
    lines,
    departures,
    notes,
  };
  if (options.out !== undefined) await writePage(options.out, await logPage(report));
  if (json) {
    const warnings = read.warnings.map((issue) => recordOf(issue, { fileName: file, locate: atTop }));
    const files = options.out === undefined ? [] : [options.out];
    sayJson(terminal, { ok: true, findings, lines, departures, notes, files, warnings });
    return Exit.fine;
  }
  for (const warning of read.warnings) remark(terminal, `${formatWarning(warning, file, atTop)}\n`);
  sayReport(report, terminal);
  if (options.out !== undefined) say(terminal, `\n${options.out}`);
  return Exit.fine;
}

function assumedOf(scenario: Scenario | null, reserveW: number | undefined): commissioning.Assumed {
  const from = scenario === null ? USUAL : commissioning.assumedFrom(scenario);
  return reserveW === undefined ? from : { ...from, reserveW, reserveRangeW: [reserveW, reserveW] };
}

const clockNote = (offH: number): string =>
  `By the sun the log’s clock seems to be off by about ${Math.round(Math.abs(offH))} hours, or pv_w is not the roof: times here are the log’s own. What is found does not hang on it.`;

function assumptions(scenario: Scenario | null, { reserveW, reserveRangeW, smoothingS }: commissioning.Assumed): string[] {
  const smoothing = smoothingS === null ? 'several smoothings were tried' : `smoothing ${smoothingS} s as in the scenario`;
  const [least, most] = reserveRangeW;
  const reserve =
    least === most ? `Reserve ${reserveW} W` : `Reserve ${reserveW} W, for the share anything from ${least} to ${most} W`;
  const lines = [
    `${reserve}; ${smoothing}. A meter shows threshold and reserve together: a reserve that is really other shifts the surplus share.`,
    `${scenario?.supply.voltageV ?? USUAL_VOLTAGE_V} V between phase and neutral.`,
  ];
  if (scenario !== null && scenario.chargePoints.length > 1) lines.push('Of several charge points the first is looked at.');
  if (scenario?.battery != null) lines.push('The home battery is not looked at: what it takes first counts as surplus here.');
  if (scenario?.supply.metering === 'per-phase')
    lines.push('The scenario’s meter counts each phase for itself; here the phases are added up.');
  return lines;
}

function sayReport({ logName, lines, departures, notes, scenarioName }: LogReport, terminal: Terminal): void {
  say(terminal, styled(terminal.out, 'bold', `What ${logName} says`));
  const width = Math.max(...lines.map(({ name }) => name.length));
  for (const { name, found, set, differs } of lines) {
    const beside = set === '' ? '' : `   scenario: ${set}${differs ? '  DIFFERS' : ''}`;
    say(terminal, `  ${name.padEnd(width)}  ${found}${beside}`);
  }
  const reveals = commissioning.revealsOf(lines);
  if (reveals.length > 0) say(terminal, '\nWhat would tell the rest');
  for (const one of reveals) say(terminal, `  ${one}`);
  if (departures !== null) sayDepartures(departures, terminal);
  else if (scenarioName !== null) say(terminal, '\nWithout the surplus in the log, nothing can be held against the scenario.');
  say(terminal, '\nAssumed');
  for (const note of notes) say(terminal, `  ${note}`);
}

function sayDepartures(departures: readonly commissioning.Departure[], terminal: Terminal): void {
  say(terminal);
  if (departures.length === 0) {
    say(terminal, 'Every start, stall and change of phases came when the law says.');
    return;
  }
  for (const { heading, count, causes } of commissioning.departureGroups(departures)) {
    say(
      terminal,
      `${styled(terminal.out, 'bold', heading)}: ${count} ${count === 1 ? 'time' : 'times'}. It may come from, the likeliest first:`,
    );
    causes.forEach((cause, i) => {
      say(terminal, `  ${i + 1}. ${cause}`);
    });
  }
  say(terminal);
  for (const one of departures.slice(0, LISTED)) {
    say(terminal, `  ${isoWithOffset(one.atMs, 0).slice(0, 19).replace('T', ' ')}  ${commissioning.departureText(one)}`);
  }
  if (departures.length > LISTED) say(terminal, `  and ${departures.length - LISTED} more; --out writes them all`);
}
