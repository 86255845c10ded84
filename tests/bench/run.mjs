// Bundles the benchmark like the command is bundled (a loader in between would be measured too) and runs it.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = fileURLToPath(new URL('../..', import.meta.url));
// Inside node_modules, so that packages kept outside the bundle are found.
const folder = mkdtempSync(join(root, 'node_modules/.bench-'));
try {
  const outfile = join(folder, 'bench.mjs');
  await build({
    entryPoints: [join(root, 'tests/bench/bench.ts')],
    outfile,
    bundle: true,
    format: 'esm',
    platform: 'node',
    packages: 'external',
    logLevel: 'error',
  });
  const run = spawnSync(process.execPath, [outfile, root, ...process.argv.slice(2)], { stdio: 'inherit' });
  process.exitCode = run.status ?? 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
