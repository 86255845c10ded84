/**
 * Runs the notebooks by Jupyter with the Deno kernel out of node_modules.
 *
 *   npm run notebooks          executes all of them (or those named) and writes their outputs back
 *   npm run notebooks:check    executes them elsewhere and compares with what is kept
 *
 * Exit code 1: a notebook failed, differs or took too long; 3: something is not installed.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { differences, TOLERANCE_TEXT } from './notebook-compare.ts';
import { cellsWithLostOutputs, notebookSchema, notebookText, tidied } from './notebook-file.ts';

const root = new URL('..', import.meta.url).pathname.replace(/\/$/, '');
const folder = join(root, 'notebooks');
const deno = join(root, 'node_modules/deno/deno');
/** What a notebook may take on a machine with nothing else to do, and when a busy one gives up, s. */
const WANTED_S = 60;
const MOST_S = 120;
const MOST_ATTEMPTS = 3;

const isThere = (command, args) => spawnSync(command, args, { stdio: 'ignore' }).status === 0;

function missing() {
  const lacks = [];
  if (!existsSync(deno)) lacks.push('the Deno kernel: npm ci (or, where scripts are off, node node_modules/deno/install.cjs)');
  if (!isThere('jupyter-nbconvert', ['--version']))
    lacks.push('Jupyter: apt-get install jupyter-nbconvert python3-nbclient, or pip install nbconvert nbclient');
  return lacks;
}

/** A folder with the kernel's card and room for what comes out. */
function workplace() {
  const place = mkdtempSync(join(tmpdir(), 'sixamp-notebooks-'));
  const kernel = join(place, 'kernels/deno');
  mkdirSync(kernel, { recursive: true });
  const argv = [deno, 'jupyter', '--kernel', '--conn', '{connection_file}'];
  writeFileSync(join(kernel, 'kernel.json'), JSON.stringify({ argv, display_name: 'Deno', language: 'typescript' }));
  return place;
}

/** A notebook, executed and tidied, and how long that took; again where outputs were lost on the way. */
function executed(name, place) {
  for (let attempts = 1; ; attempts++) {
    const done = executedOnce(name, place);
    const lost = cellsWithLostOutputs(done.notebook);
    if (lost.length === 0) return done;
    if (attempts === MOST_ATTEMPTS) throw new Error(`outputs of the cells ${lost.join(', ')} were lost, ${attempts} times over`);
    console.log(`${name}: outputs of the cells ${lost.join(', ')} were lost on the way; once more`);
  }
}

function executedOnce(name, place) {
  // On a busy machine outputs come late: wait for them, and fail rather than lose one.
  const settings = { kernel_name: 'deno', timeout: 300, iopub_timeout: 60, raise_on_iopub_timeout: 'True' };
  const options = Object.entries(settings).map(([key, value]) => `--ExecutePreprocessor.${key}=${value}`);
  const args = ['--to', 'notebook', '--execute', ...options];
  const env = { ...process.env, JUPYTER_PATH: place, DENO_DIR: join(place, 'deno'), DENO_NO_UPDATE_CHECK: '1', NO_COLOR: '1' };
  const began = performance.now();
  const { status, stderr } = spawnSync('jupyter-nbconvert', [...args, '--output-dir', place, join(folder, name)], {
    env,
    encoding: 'utf8',
  });
  const tookS = (performance.now() - began) / 1000;
  if (status !== 0) throw new Error(stderr.split('\n').slice(-40).join('\n'));
  const notebook = tidied(readFileSync(join(place, name), 'utf8'));
  if (notebookText(notebook).includes(root)) throw new Error('an output holds the path of this machine');
  return { notebook, tookS };
}

const kept = (name) => notebookSchema.parse(JSON.parse(readFileSync(join(folder, name), 'utf8')));

function write(name, place) {
  const { notebook, tookS } = executed(name, place);
  writeFileSync(join(folder, name), notebookText(notebook));
  return { tookS, wrong: [] };
}

function compare(name, place) {
  const { notebook, tookS } = executed(name, place);
  const slow = tookS > MOST_S ? [`took more than ${MOST_S} s`] : [];
  return { tookS, wrong: [...differences(kept(name), notebook), ...slow] };
}

function attempt(name, place, work) {
  try {
    const { tookS, wrong } = work(name, place);
    const slow = tookS > WANTED_S ? ` (more than the ${WANTED_S} s that it may take on a quiet machine)` : '';
    console.log(`${name}: ${tookS.toFixed(0)} s${slow}${wrong.length === 0 ? '' : `, ${wrong.length} wrong`}`);
    for (const line of wrong) console.error(`  ${line}`);
    return wrong.length === 0;
  } catch (error) {
    console.error(`${name}: failed\n${error instanceof Error ? error.message : error}`);
    return false;
  }
}

function main([mode, ...named]) {
  const work = { run: write, check: compare }[mode];
  if (work === undefined) {
    console.error('usage: notebooks.mjs run|check [NAME.ipynb …]');
    return 2;
  }
  const lacks = missing();
  if (lacks.length > 0) {
    console.error(['To run the notebooks, install', ...lacks.map((what) => `  ${what}`)].join('\n'));
    return 3;
  }
  if (mode === 'check') console.log(`notebooks: ${TOLERANCE_TEXT}; each within ${WANTED_S} s, on a busy machine ${MOST_S} s`);
  const names = named.length > 0 ? named : readdirSync(folder).filter((name) => name.endsWith('.ipynb'));
  const place = workplace();
  try {
    const good = names.map((name) => attempt(name, place, work));
    if (good.every(Boolean)) return 0;
    if (mode === 'check') console.error('If the figures are meant to change: npm run notebooks, then read what changed.');
    return 1;
  } finally {
    rmSync(place, { recursive: true, force: true });
  }
}

process.exitCode = main(process.argv.slice(2));
