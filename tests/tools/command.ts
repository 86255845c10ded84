import { fileURLToPath } from 'node:url';

export const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/** The command as its users start it: bundled from the sources as they are now (.config/fresh-build.mjs sees to that). */
export const COMMAND = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));
