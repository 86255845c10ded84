import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';
import { isThorough } from '../tests/tools/thorough.ts';

/**
 * What takes a quarter of a minute and more, and seldom finds what the rest does not: left out of a plain `npm test`, run wherever CI is set, as
 * `.ci/run` does.
 */
const SLOW = [
  'tests/browser/page-access.test.ts',
  'tests/browser/page-touches.test.ts',
  'tests/browser/commissioning-pages.test.ts',
  'tests/browser/report.test.ts',
  'tests/commissioning/whole-logs.test.ts',
  'tests/faults/zeros.test.ts',
  'tests/property/hundred-years.test.ts',
];
if (!isThorough)
  process.stderr.write(
    `Quick: random tests run a quarter of their cases, and the slow files are left out (CI=true npm test runs it all): ${SLOW.join(', ')}\n`,
  );

/** Tests that start a browser take longest and wait most: begun first, they never run alone at the end. */
class BrowsersFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    const inBrowser = ({ moduleId }: TestSpecification): boolean => moduleId.includes('/tests/browser/');
    return [...sorted.filter(inBrowser), ...sorted.filter((file) => !inBrowser(file))];
  }
}

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts'],
    exclude: isThorough ? [] : SLOW,
    globalSetup: '.config/fresh-build.mjs',
    // Files share what they import: loading it anew for each of them takes as long as a third of the tests.
    isolate: false,
    sequence: { sequencer: BrowsersFirst },
    // Left to itself the runner keeps a processor free: of two that is half.
    maxWorkers: '100%',
    // The command is started as a process of its own in some tests; a loaded machine needs a while for that.
    testTimeout: 60_000,
  },
});
