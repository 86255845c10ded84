/**
 * Shows that every reference test notices a model that is off by twice the tolerance, up or down (tests/reference/nudges.ts):
 * `npm run nudge`, or `npm run nudge -- sun` for one file. Ends with 1 if a test passes all the same, or has neither a nudge nor a reason to have none.
 */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { startVitest, type TestCase } from 'vitest/node';
import { NUDGES, type Nudge, UNMOVED } from '../reference/nudges.ts';

const ROOT = join(import.meta.dirname, '../..');
const FOLDER = 'tests/reference';

interface Options {
  readonly nudge?: string;
  readonly tests?: RegExp;
}

/** The tests of one file that ran, behind a nudge or without one. */
async function outcome(file: string, { nudge, tests }: Options = {}): Promise<readonly TestCase[]> {
  const vitest = await startVitest('test', [`${FOLDER}/${file}.test.ts`], {
    root: ROOT,
    config: join(ROOT, '.config/vitest.ts'),
    watch: false,
    reporters: [{}],
    silent: true,
    // No test of this folder starts the command; a loaded machine takes a while for 200 homes.
    globalSetup: [],
    hookTimeout: 600_000,
    testTimeout: 600_000,
    setupFiles: nudge === undefined ? [] : [join(import.meta.dirname, 'nudged.ts')],
    env: { NUDGE: nudge ?? '' },
    ...(tests === undefined ? {} : { testNamePattern: tests }),
  });
  const ran = vitest.state
    .getTestModules()
    .flatMap((module) => [...module.children.allTests()])
    .filter((test) => test.result().state !== 'skipped');
  await vitest.close();
  return ran;
}

/** Failed because the test found a figure to be off, not because the nudge broke the program (which throws RangeError and TypeError). */
const noticed = (test: TestCase): boolean => {
  const { state, errors = [] } = test.result();
  return state === 'failed' && errors.every(({ name }) => name === 'AssertionError' || name === 'Error');
};

/** Tells a nudge's outcome in a line; true if every test noticed it, up and down. */
async function isNoticed(nudge: Nudge, index: number, present: readonly string[]): Promise<boolean> {
  const wanted = present.filter((name) => nudge.tests.test(name)).length;
  let isFine = wanted > 0;
  const told: string[] = [];
  for (const way of [1, -1]) {
    const ran = await outcome(nudge.file, { nudge: `${index} ${way}`, tests: nudge.tests });
    const missed = ran.filter((test) => !noticed(test));
    isFine &&= ran.length === wanted && missed.length === 0;
    told.push(`${way === 1 ? 'up' : 'down'} ${ran.length - missed.length} of ${wanted}`);
    if (ran.length < wanted) console.log(`    did not run: ${wanted - ran.length} of ${wanted}`);
    for (const test of missed)
      console.log(`    ${test.result().state === 'failed' ? 'breaks' : 'passes all the same'}: ${test.fullName}`);
  }
  console.log(
    `${isFine ? '  ' : '!!'} ${nudge.file.padEnd(10)} ${nudge.model.padEnd(24)} ${nudge.by.padEnd(40)} ${told.join(', ')}`,
  );
  return isFine;
}

/** Tests with neither a nudge nor a reason. */
function uncovered(file: string, names: readonly string[]): readonly string[] {
  const patterns = [
    ...NUDGES.filter((nudge) => nudge.file === file).map(({ tests }) => tests),
    ...UNMOVED.filter(([of]) => of === file).map(([, tests]) => tests),
  ];
  return names.filter((name) => !patterns.some((pattern) => pattern.test(name)));
}

/** All nudges of one test file; how many of them, and of its tests, are not as they should be. */
async function judge(file: string): Promise<number> {
  const names = (await outcome(file)).map(({ fullName }) => fullName);
  if (names.length === 0) console.log(`   ${file}: passed over, its data are not there`);
  let bad = 0;
  for (const name of uncovered(file, names)) {
    bad++;
    console.log(`!! ${file}: no nudge for ${name}`);
  }
  for (const [index, nudge] of NUDGES.entries()) {
    if (nudge.file === file && names.some((name) => nudge.tests.test(name)) && !(await isNoticed(nudge, index, names))) bad++;
  }
  return bad;
}

const only = process.argv[2];
const files = readdirSync(join(ROOT, FOLDER)).flatMap((name) => (name.endsWith('.test.ts') ? [name.slice(0, -8)] : []));
let bad = 0;
for (const file of files) {
  const isMoved = NUDGES.some((nudge) => nudge.file === file);
  if (only === undefined ? isMoved : file === only) bad += await judge(file);
}
console.log(bad === 0 ? 'Every test noticed its nudges.' : `${bad} of them went wrong.`);
process.exit(bad === 0 ? 0 : 1);
