import { basename, extname, join } from 'node:path';
import { commissioning, makeProfiles, simulate } from '../index.ts';
import { type HandoverInput, handoverPage } from '../report/index.ts';
import { type Entered, enter } from './door.ts';
import { Exit, type ExitCode } from './exit-codes.ts';
import type { PageOptions } from './pilot.ts';
import { readRecord } from './pilot.ts';
import { InputProblem } from './problem.ts';
import { MAX_DATA_BYTES, readText } from './read-file.ts';
import { say, sayJson, type Terminal } from './terminal.ts';
import { refused } from './wiring.ts';
import { wordsFor } from './words.ts';
import { writePage } from './write-page.ts';

/** Options of `sixamp handover`. */
export interface HandoverOptions extends PageOptions {
  readonly pilot?: string;
  readonly wiring?: string;
}

/** `sixamp handover`: the sheet that stays with the customer. */
export async function handover(file: string, options: HandoverOptions, terminal: Terminal): Promise<ExitCode> {
  const json = options.json === true;
  const words = wordsFor(options);
  const entered = await enter(file, json, terminal);
  if (entered === null) return Exit.input;
  const record = options.pilot === undefined ? {} : await readRecord(options.pilot, json, terminal);
  if (record === null) return Exit.input;
  const wiring = options.wiring === undefined ? null : await wiringIn(options.wiring, entered, json, terminal);
  if (wiring === 'refused') return Exit.input;
  const { scenario } = entered;
  const run = simulate(scenario, makeProfiles(scenario));
  const out = options.out ?? join('out', `${basename(file, extname(file))}-handover.html`);
  await writePage(out, await handoverPage({ scenario, run, record, wiring, words }));
  if (json) sayJson(terminal, { ok: true, files: [out], wiring: wiring?.verdict ?? null, warnings: entered.warningRecords });
  else say(terminal, out);
  return Exit.fine;
}

/** What a log of currents shows, held against the order that the scenario plans. */
async function wiringIn(
  file: string,
  { scenario }: Entered,
  json: boolean,
  terminal: Terminal,
): Promise<HandoverInput['wiring'] | 'refused'> {
  const log = commissioning.readWiringLog(await readText(file, file, MAX_DATA_BYTES), file);
  if (!log.ok) {
    refused(log, file, json, terminal);
    return 'refused';
  }
  const count = scenario.chargePoints.length;
  if (log.value.chargers.length !== count) {
    throw new InputProblem(file, {
      code: 'log-chargers',
      problem: `The log has ${log.value.chargers.length} chargers, the scenario ${count}.`,
      allowed: 'a log of the chargers of the scenario, in their order',
      fix: 'give the log of this household',
    });
  }
  const finding = commissioning.wiringOf(log.value);
  return {
    finding,
    verdict: commissioning.verdictOn(
      finding,
      scenario.chargePoints.map(({ charger }) => charger.wiring),
    ),
  };
}
