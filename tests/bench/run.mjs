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
  // The engine looks for its worker beside the folder it runs in, as in the command's own bundle.
  await build({
    entryPoints: {
      'bench/bench': join(root, 'tests/bench/bench.ts'),
      'bench/study': join(root, 'tests/bench/study.ts'),
      'cli/study-worker': join(root, 'src/cli/study-worker.ts'),
    },
    outdir: folder,
    outExtension: { '.js': '.mjs' },
    bundle: true,
    format: 'esm',
    platform: 'node',
    packages: 'external',
    logLevel: 'error',
  });
  const run = spawnSync(process.execPath, [join(folder, 'bench/bench.mjs'), root, ...process.argv.slice(2)], {
    stdio: 'inherit',
  });
  process.exitCode = run.status ?? 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
