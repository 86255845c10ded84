// The benchmark: npm run bench
//
//   npm run bench                          every part: a table, out/bench.json, and how that compares with the result last stored
//   npm run bench -- --parts core,starts   some parts: core, study, starts, page
//   npm run bench -- --against COMMIT      that commit and this tree in turn, five times: medians and ratios (the core, unless parts are named)
//   npm run bench -- --json                the figures alone, as JSON
//   npm run bench -- --store               keeps the result in tests/bench/last.json
//
// Each part is bundled as the command is (a loader in between would be measured too) and has a process of its own.
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { build } from 'esbuild';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const STORED = join(ROOT, 'tests/bench/last.json');
const PARTS = ['core', 'study', 'starts', 'page'];
const ROUNDS = 5;

const { values: options } = parseArgs({
  options: {
    parts: { type: 'string' },
    against: { type: 'string' },
    json: { type: 'boolean', default: false },
    store: { type: 'boolean', default: false },
  },
});
const parts = options.parts?.split(',') ?? (options.against === undefined ? PARTS : ['core']);
const unknown = parts.filter((part) => !PARTS.includes(part));
if (unknown.length > 0) throw new Error(`no such part: ${unknown.join(', ')}; there are ${PARTS.join(', ')}`);

// Inside node_modules, so that packages kept outside the bundles are found.
const folder = mkdtempSync(join(ROOT, 'node_modules/.bench-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));
process.on('SIGINT', () => process.exit(130));

/** Bundles the parts of a tree. @returns what runs them all once */
async function bundled(tree, name) {
  const out = join(folder, name);
  // The engine of a study looks for its worker beside the folder it runs in, as in the command's own bundle.
  const entries = [
    ...parts.map((part) => [`bench/${part}`, join(tree, `tests/bench/${part}.ts`)]),
    ['cli/study-worker', join(tree, 'src/cli/study-worker.ts')],
  ];
  await build({
    entryPoints: Object.fromEntries(entries),
    outdir: out,
    outExtension: { '.js': '.mjs' },
    bundle: true,
    format: 'esm',
    platform: 'node',
    packages: 'external',
    logLevel: 'error',
  });
  if (parts.some((part) => part === 'starts' || part === 'page'))
    execFileSync(process.execPath, [join(tree, '.config/build.mjs')], { cwd: tree });
  return () => parts.flatMap((part) => figuresOf(join(out, `bench/${part}.mjs`), tree));
}

function figuresOf(script, tree) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [script, tree], { encoding: 'utf8' });
  if (status !== 0) throw new Error(`${script}: ${stderr}`);
  return JSON.parse(stdout);
}

/** A commit's files, in a folder beside the bundles. */
function treeOf(commit) {
  const tree = join(folder, 'tree');
  mkdirSync(tree);
  execFileSync('tar', ['-x', '-C', tree], { input: execFileSync('git', ['archive', commit], { cwd: ROOT, maxBuffer: 2 ** 30 }) });
  if (!existsSync(join(tree, 'tests/bench/core.ts'))) throw new Error(`${commit}: has no benchmark in parts`);
  return tree;
}

const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
const machine = `Node ${process.version}, ${cpus().length} x ${cpus()[0]?.model ?? 'unknown'}`;
const digits = (value) => (value >= 100 ? 0 : value >= 10 ? 1 : 2);
const shown = (value) => (value === undefined ? '' : value.toFixed(digits(Math.abs(value))));
const line = (...cells) =>
  console.log(
    cells
      .map((cell, i) => (i === 0 ? cell.padEnd(54) : cell.padStart(10)))
      .join(' ')
      .trimEnd(),
  );

/** Old and new in turn, so that a slow spell of the machine meets both. */
async function compare(commit) {
  const runs = { old: await bundled(treeOf(commit), 'old'), new: await bundled(ROOT, 'new') };
  const found = { old: new Map(), new: new Map() };
  for (let round = 0; round < ROUNDS; round++) {
    for (const side of round % 2 === 0 ? ['old', 'new'] : ['new', 'old']) {
      for (const { name, value } of runs[side]()) found[side].set(name, [...(found[side].get(name) ?? []), value]);
    }
  }
  const rows = [...found.new].map(([name, values]) => ({ name, old: median(found.old.get(name) ?? []), new: median(values) }));
  if (options.json) console.log(JSON.stringify({ against: commit, machine, rounds: ROUNDS, rows }));
  else {
    console.log(`${machine}; ${commit} and this tree in turn, medians of ${ROUNDS}`);
    line('', 'old', 'new', 'new / old');
    for (const row of rows) line(row.name, shown(row.old), shown(row.new), shown(row.new / row.old));
  }
}

async function measure() {
  const figures = (await bundled(ROOT, 'new'))();
  const stored = existsSync(STORED) ? JSON.parse(readFileSync(STORED, 'utf8')) : null;
  const before = new Map(stored?.figures.map(({ name, value }) => [name, value]) ?? []);
  const result = { machine, figures };
  mkdirSync(join(ROOT, 'out'), { recursive: true });
  writeFileSync(join(ROOT, 'out/bench.json'), `${JSON.stringify(result, null, 2)}\n`);
  if (options.store) writeFileSync(STORED, `${JSON.stringify(result, null, 2)}\n`);
  if (options.json) return console.log(JSON.stringify(result));
  console.log(machine);
  if (stored !== null)
    console.log(`stored: ${stored.machine}; at another hour, so a hint: --against COMMIT measures both in turn`);
  line('', 'found', '', 'goal', 'stored', 'found / stored');
  for (const { name, value, unit, goal, atLeast } of figures) {
    const wanted =
      goal === undefined
        ? ''
        : `${atLeast ? '>= ' : '<= '}${shown(goal)}${(atLeast ? value >= goal : value <= goal) ? '' : ' !'}`;
    const old = before.get(name);
    line(name, shown(value), unit, wanted, shown(old), old === undefined ? '' : shown(value / old));
  }
}

await (options.against === undefined ? measure() : compare(options.against));
