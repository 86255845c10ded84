/**
 * Changes the code of a folder one place at a time and looks whether the tests notice.
 *
 *   MUTATION_FOLDER=charging npm run mutation        one of the folders below; takes minutes
 *
 * Tests are those beside the code, and where it is used; the slow random ones are left out, so the true score is higher.
 * Nothing is excluded from being changed, sentences neither: `tests/explain/words.test.ts` holds them word by word.
 */
const EXPLAIN =
  'account,available-plain,causes,chain-plain,conflicts,events,form,meaning,slice,stretches,variants,what-if-by-hand,words';
const FOLDERS = {
  charging: ['charging/*', 'simulate/*'],
  pv: ['pv/*', 'reference/pv'],
  sky: ['sky/*', 'reference/sky', 'reference/sun'],
  simulate: ['simulate/*', 'charging/*'],
  explain: [`explain/{${EXPLAIN}}`],
};

const folder = process.env.MUTATION_FOLDER ?? 'charging';
if (!(folder in FOLDERS)) throw new Error(`no such folder: ${folder}; there are ${Object.keys(FOLDERS).join(', ')}`);

export const tests = FOLDERS[folder].map((name) => `tests/${name}.test.ts`);

export default {
  mutate: [`src/${folder}/**/*.ts`, `!src/${folder}/index.ts`],
  testRunner: 'vitest',
  vitest: { configFile: '.config/vitest-mutation.ts' },
  coverageAnalysis: 'perTest',
  concurrency: 2,
  // The compiler is called by npm run types alone; its newest version is not one that the tool can ask.
  tsconfigFile: 'out/none.json',
  tempDirName: 'out/mutation',
  ignorePatterns: ['out', 'dist', 'notebooks'],
  reporters: ['clear-text', 'json'],
  jsonReporter: { fileName: `out/mutation-${folder}.json` },
  clearTextReporter: { logTests: false, reportTests: false, allowEmojis: false },
  thresholds: { high: 85, low: 85, break: null },
};
