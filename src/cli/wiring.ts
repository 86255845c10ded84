import { type Checked, commissioning, formatWarning, type Locate } from '../index.ts';
import { recordOf, sayIssues } from './door.ts';
import { Exit, type ExitCode } from './exit-codes.ts';
import type { CommonOptions } from './options.ts';
import { InputProblem } from './problem.ts';
import { MAX_DATA_BYTES, readText } from './read-file.ts';
import { remark, say, sayJson, styled, type Terminal } from './terminal.ts';

/** Options of `sixamp wiring`. */
export interface WiringOptions extends CommonOptions {
  readonly expect: readonly string[];
}

const EXITS = { 'as-expected': Exit.fine, 'not-as-expected': Exit.notAsExpected, 'cannot-tell': Exit.cannotTell } as const;

/** `sixamp wiring`: which building phase each terminal of a charger is on, and whether that is as it was meant to be. */
export async function wiring(file: string, options: WiringOptions, terminal: Terminal): Promise<ExitCode> {
  const expected = options.expect.length === 0 ? null : options.expect.map(orderIn);
  const log = commissioning.readWiringLog(await readText(file, file, MAX_DATA_BYTES), file);
  if (!log.ok) return refused(log, file, options.json === true, terminal);
  if (expected !== null && expected.length !== log.value.chargers.length)
    throw wrongCount(expected.length, log.value.chargers.length);
  const finding = commissioning.wiringOf(log.value);
  const verdict = commissioning.verdictOn(finding, expected);
  const text = commissioning.wiringText(finding, verdict, expected);
  const cautions = [...commissioning.WIRING_CAUTION.en, ...commissioning.NOT_A_RELEASE.en];
  if (options.json) {
    const warnings = log.warnings.map((issue) => recordOf(issue, { fileName: file, locate: atTop }));
    sayJson(terminal, { ok: true, verdict, expected, ...finding, text, cautions, warnings });
    return EXITS[verdict];
  }
  for (const warning of log.warnings) remark(terminal, `${formatWarning(warning, file, atTop)}\n`);
  say(terminal, styled(terminal.out, 'bold', text.verdict));
  for (const line of [...text.findings, ...text.open, ...text.look]) say(terminal, `  ${line}`);
  say(terminal, `\n${text.basis}\n`);
  say(terminal, styled(terminal.out, 'bold', 'Cautions'));
  for (const caution of cautions) say(terminal, `  ${caution}`);
  return EXITS[verdict];
}

/** A log has no keys whose places could be looked up: its issues carry their own. */
export const atTop: Locate = () => ({ line: 1, column: 1 });

/** Says what is wrong with a log. */
export function refused(
  log: Extract<Checked<unknown>, { ok: false }>,
  file: string,
  json: boolean,
  terminal: Terminal,
): ExitCode {
  const whence = { fileName: file, locate: atTop };
  if (json) sayJson(terminal, { ok: false, issues: log.issues.map((issue) => recordOf(issue, whence)), warnings: [] });
  else sayIssues(whence, log.issues, terminal);
  return Exit.input;
}

/** An order such as `2,3,1`. */
function orderIn(text: string): number[] {
  const phases = text.split(',').map((part) => Number(part.trim()));
  const sound = phases.length <= 3 && phases.every((phase) => phase === 1 || phase === 2 || phase === 3);
  if (sound && new Set(phases).size === phases.length) return phases;
  throw new InputProblem('--expect', {
    code: 'order-unknown',
    found: text,
    problem: 'This is no order of conductors.',
    allowed: 'building phases on terminals 1, 2, 3, each once, such as 2,3,1 (or 2 alone for a charger on one phase)',
    fix: 'write them with commas and without spaces',
  });
}

const wrongCount = (given: number, chargers: number): InputProblem =>
  new InputProblem('--expect', {
    code: 'order-count',
    problem: `The log has ${chargers} ${chargers === 1 ? 'charger' : 'chargers'}, --expect stands ${given} ${given === 1 ? 'time' : 'times'}.`,
    allowed: 'one order for each charger of the log, or none',
    fix: 'write --expect once for each charger, in the order of the log',
  });
