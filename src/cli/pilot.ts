import { commissioning, type Language } from '../index.ts';
import { pilotPage } from '../report/index.ts';
import { recordOf, sayIssues } from './door.ts';
import { Exit, type ExitCode } from './exit-codes.ts';
import { languageOf } from './language.ts';
import type { CommonOptions } from './options.ts';
import { MAX_SCENARIO_BYTES, readText } from './read-file.ts';
import { say, sayJson, styled, type Terminal } from './terminal.ts';
import { writePage } from './write-page.ts';

/** Options of commands that write a page. */
export interface PageOptions extends CommonOptions {
  readonly out?: string;
  readonly lang?: string;
}

/** `sixamp pilot`: a record of pilot values held against the published levels, line by line; no overall result. */
export async function pilot(file: string, options: PageOptions, terminal: Terminal): Promise<ExitCode> {
  const language = languageOf(options.lang);
  const record = await readRecord(file, options.json === true, terminal);
  if (record === null) return Exit.input;
  if (options.out !== undefined) await writePage(options.out, await pilotPage(record, language));
  const lines = commissioning.pilotLines(record);
  if (options.json) {
    sayJson(terminal, {
      ok: true,
      ...lines,
      cautions: commissioning.NOT_A_RELEASE[language],
      finePrint: commissioning.pilotFinePrint(language),
      files: options.out === undefined ? [] : [options.out],
    });
    return Exit.fine;
  }
  sayRecord(lines, language, terminal);
  if (options.out !== undefined) say(terminal, `\n${options.out}`);
  return Exit.fine;
}

/** Reads a record, or says what is wrong with it. */
export async function readRecord(file: string, json: boolean, terminal: Terminal): Promise<commissioning.PilotRecord | null> {
  const { checked, locate } = commissioning.readPilotRecord(await readText(file, file, MAX_SCENARIO_BYTES), file);
  if (checked.ok) return checked.value;
  const whence = { fileName: file, locate };
  if (json) sayJson(terminal, { ok: false, issues: checked.issues.map((issue) => recordOf(issue, whence)), warnings: [] });
  else sayIssues(whence, checked.issues, terminal);
  return null;
}

function sayRecord(lines: commissioning.PilotLines, language: Language, terminal: Terminal): void {
  const words = commissioning.PILOT_WORDS[language];
  say(terminal, styled(terminal.out, 'bold', words.title));
  for (const caution of commissioning.NOT_A_RELEASE[language]) say(terminal, `  ${caution}`);
  say(terminal);
  say(terminal, words.noOverall);
  const texts = [
    ...lines.pilot.map((line) => commissioning.pilotLineText(line, language)),
    commissioning.proximityText(lines.proximity, language),
  ];
  const width = Math.max(...texts.map(({ name }) => name.length));
  for (const { name, measured, published, verdict, fromMemory } of texts) {
    const against = published === '' ? '' : `(${published}${fromMemory ? ' *' : ''})`;
    say(terminal, `  ${name.padEnd(width)}  ${(measured || '-').padStart(6)}  ${against.padEnd(16)}  ${verdict}`);
  }
  for (const { name, stated } of lines.safety) say(terminal, `  ${words.safety[name].padEnd(width)}  ${stated ?? '-'}`);
  const causes = commissioning.causeTexts(lines, language);
  if (causes.length > 0) say(terminal, `\n${words.causesHeading}`);
  for (const cause of causes) say(terminal, `  ${cause}`);
  say(terminal, `\n* ${commissioning.pilotFinePrint(language)}`);
}
