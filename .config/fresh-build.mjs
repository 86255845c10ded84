// Before the tests: the command and the page are bundled, if a source is newer than the bundle. Tests start the command as its users do.
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const SOURCES = ['src', '.config', 'package.json'];

export default async function freshBuild() {
  const built = join(root, 'dist/page.html');
  const newestMs = Math.max(...SOURCES.flatMap((source) => changedMs(join(root, source))));
  if (!existsSync(built) || statSync(built).mtimeMs < newestMs) await import('./build.mjs');
}

/** When each file below a path was last changed. */
function changedMs(path) {
  if (!statSync(path).isDirectory()) return [statSync(path).mtimeMs];
  return readdirSync(path).flatMap((name) => changedMs(join(path, name)));
}
