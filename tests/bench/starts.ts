import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { median, print } from './figures.ts';

/** How long each command takes from being called to its end, as its users start it: the bundle, a process each time. */
const root = process.argv[2] ?? '.';
const REPEATS = 7;
const HOUSE = 'scenarios/hillside-house.yaml';
const folder = mkdtempSync(join(tmpdir(), 'sixamp-bench-'));

const COMMANDS: readonly { readonly name: string; readonly args: readonly string[]; readonly goal?: number }[] = [
  { name: '--help', args: ['--help'] },
  { name: 'check', args: ['check', HOUSE], goal: 250 },
  { name: 'why --day', args: ['why', HOUSE, '--day', '2025-05-09'], goal: 1000 },
  { name: 'hours', args: ['hours', HOUSE] },
  { name: 'run', args: ['run', HOUSE, '--out', join(folder, 'run')] },
  { name: 'page', args: ['page', HOUSE, '--out', join(folder, 'page.html')] },
  { name: 'wiring', args: ['wiring', 'data/demo/invented-wiring.csv', '--expect', '1,2,3'] },
  { name: 'log', args: ['log', 'data/demo/invented-log.csv', HOUSE] },
  { name: 'pilot', args: ['pilot', 'data/demo/pilot-record.yaml'] },
];

function msOf(args: readonly string[]): number {
  const from = performance.now();
  const { status, stderr } = spawnSync(process.execPath, [join(root, 'dist/cli/main.js'), ...args], {
    cwd: root,
    encoding: 'utf8',
  });
  if (status === null || status === 1 || status === 2) throw new Error(`${args.join(' ')}: ${status} ${stderr}`);
  return performance.now() - from;
}

const times = new Map(COMMANDS.map(({ name }) => [name, [] as number[]]));
// Round by round, so that a slow spell of the machine meets all of them.
for (let round = 0; round < REPEATS; round++) for (const { name, args } of COMMANDS) times.get(name)?.push(msOf(args));
rmSync(folder, { recursive: true });
print(
  COMMANDS.map(({ name, goal }) => ({
    name: `sixamp ${name}`,
    value: median(times.get(name) ?? []),
    unit: 'ms',
    ...(goal === undefined ? {} : { goal }),
  })),
);
