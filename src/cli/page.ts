import { readFile } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';
import { filesOf, readScenario } from '../index.ts';
import { type DataFile, type Draft, FIRST_DRAFT, firstAnswer, type Start } from '../page/index.ts';
import { enter } from './door.ts';
import { Exit, type ExitCode } from './exit-codes.ts';
import type { CommonOptions } from './options.ts';
import { InputProblem } from './problem.ts';
import { MAX_DATA_BYTES, MAX_SCENARIO_BYTES, readText } from './read-file.ts';
import { say, sayJson, type Terminal } from './terminal.ts';
import { packageVersion } from './version.ts';
import { writePage } from './write-page.ts';

/** Options of `sixamp page`. */
export interface PageOptions extends CommonOptions {
  readonly out?: string;
}

const DEFAULT_OUT = 'solar-charging.html';
/** The page without a household; source and bundle lie equally deep below it. */
const TEMPLATE = new URL('../../dist/page.html', import.meta.url);

/** `sixamp page`: writes the page into one file, with a household in it if one is named. */
export async function page(file: string | undefined, options: PageOptions, terminal: Terminal): Promise<ExitCode> {
  const household =
    file === undefined ? { draft: FIRST_DRAFT, files: [] } : await householdOf(file, options.json === true, terminal);
  if (household === null) return Exit.input;
  const out = options.out ?? DEFAULT_OUT;
  const template = await readFile(TEMPLATE, 'utf8').catch(() => {
    throw new InputProblem(fileURLToPath(TEMPLATE), {
      code: 'page-not-built',
      problem: 'The page has not been built.',
      allowed: '',
      fix: 'run npm run build in the folder of the package',
    });
  });
  const { draft, files } = household;
  const start: Start = { draft, files, version: packageVersion(), answer: firstAnswer(draft, files) };
  // A "<" would end the script element that holds the household, if it stood in a name.
  const written = JSON.stringify(start).replaceAll('<', '\\u003c');
  const content = template.replace('{{START}}', () => written);
  await writePage(out, content);
  if (options.json) sayJson(terminal, { ok: true, file: out, bytes: Buffer.byteLength(content), warnings: [] });
  else say(terminal, `${out}: open it in a browser. It needs no network, and sends nothing.`);
  return Exit.fine;
}

/** The scenario as it was written, and the texts of the files that it names; null if anything is wrong. */
async function householdOf(
  file: string,
  json: boolean,
  terminal: Terminal,
): Promise<{ draft: Draft; files: readonly DataFile[] } | null> {
  const entered = await enter(file, json, terminal);
  if (entered === null) return null;
  const text = await readText(file, file, MAX_SCENARIO_BYTES);
  const { checked } = readScenario(text, file);
  const requests = checked.ok ? filesOf(checked.value) : [];
  const files = await Promise.all(
    requests.map(async ({ file: name }) => ({ name, text: await readText(resolve(dirname(file), name), name, MAX_DATA_BYTES) })),
  );
  return { draft: parse(text) as Draft, files };
}
