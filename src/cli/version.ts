import { readFileSync } from 'node:fs';

/** The package's version; source and bundle lie equally deep below package.json. */
export function packageVersion(): string {
  const text = readFileSync(new URL('../../package.json', import.meta.url), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}
