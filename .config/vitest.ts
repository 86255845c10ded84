import { defineConfig } from 'vitest/config';

/**
 * What takes half a minute and more, and seldom finds what the rest does not: left out of a plain `npm test`, run wherever CI is set, as
 * `.ci/run` does.
 */
const SLOW = [
  'tests/browser/page-access.test.ts',
  'tests/browser/page-touches.test.ts',
  'tests/browser/commissioning-pages.test.ts',
  'tests/commissioning/whole-logs.test.ts',
  'tests/faults/zeros.test.ts',
  'tests/property/hundred-years.test.ts',
  'tests/reference/clouds.test.ts',
];
const withSlow = process.env.CI !== undefined && process.env.CI !== '';
if (!withSlow) process.stderr.write(`Left out, since they are slow (CI=true npm test runs them too): ${SLOW.join(', ')}\n`);

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts'],
    exclude: withSlow ? [] : SLOW,
    globalSetup: '.config/fresh-build.mjs',
    // Left to itself the runner keeps a processor free: of two that is half.
    maxWorkers: '100%',
    // The command is started as a process of its own in some tests; a loaded machine needs a while for that.
    testTimeout: 60_000,
  },
});
