// Bundles the command, the library and the page into dist/; packages stay outside. `npm ci` runs this through `prepare`, tests before they start.
import { chmodSync, existsSync, mkdtempSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { buildPage } from './page.mjs';

process.chdir(fileURLToPath(new URL('..', import.meta.url)));
const { dependencies } = JSON.parse(readFileSync('package.json', 'utf8'));
// Built beside and put in place at once: whoever runs the command meanwhile meets the old one or the new one, whole.
const fresh = mkdtempSync('.dist-');
process.on('exit', () => rmSync(fresh, { recursive: true, force: true }));
const common = {
  outbase: 'src',
  outdir: `${fresh}/new`,
  bundle: true,
  // Packages stay outside, but for the two that the door needs: file by file zod takes 50 ms longer, yaml 20 (its second form is in modules).
  external: Object.keys(dependencies).filter((name) => name !== 'zod' && name !== 'yaml'),
  alias: { yaml: './node_modules/yaml/browser/index.js' },
  platform: 'node',
  format: 'esm',
  target: 'node20',
  logLevel: 'warning',
};
// Commands load on demand: each import() becomes a part of its own. The library goes by itself: beside it every part would hold all of it.
await build({
  ...common,
  entryPoints: ['src/cli/main.ts', 'src/cli/study-worker.ts'],
  splitting: true,
  chunkNames: 'parts/[name]-[hash]',
});
await build({ ...common, entryPoints: ['src/index.ts'] });
chmodSync(`${fresh}/new/cli/main.js`, 0o755);
await buildPage(`${fresh}/new`);
if (existsSync('dist')) renameSync('dist', `${fresh}/old`);
renameSync(`${fresh}/new`, 'dist');
