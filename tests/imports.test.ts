import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';

/** Which folder may import which others: the table of the design page. Anything not named here is refused. */
const MAY_IMPORT: Record<string, readonly string[]> = {
  base: [],
  sky: ['base'],
  pv: ['base'],
  house: ['base'],
  vehicle: ['base'],
  charging: ['base'],
  scenario: ['base', 'sky', 'pv', 'house', 'vehicle', 'charging'],
  simulate: ['base', 'sky', 'pv', 'house', 'vehicle', 'charging', 'scenario'],
  explain: ['base', 'charging', 'scenario', 'simulate'],
  study: ['base', 'scenario', 'simulate', 'explain'],
  commissioning: ['base', 'charging', 'scenario', 'explain'],
  report: ['base', 'sky', 'pv', 'house', 'vehicle', 'charging', 'scenario', 'simulate', 'explain', 'study', 'commissioning'],
  cli: ['index', 'report', 'page'],
  page: ['index', 'report'],
  index: ['base', 'sky', 'pv', 'house', 'vehicle', 'charging', 'scenario', 'simulate', 'explain', 'study', 'commissioning'],
};

/** Folders that touch no platform. */
const CORE = [
  'base',
  'sky',
  'pv',
  'house',
  'vehicle',
  'charging',
  'scenario',
  'simulate',
  'explain',
  'study',
  'commissioning',
  'index',
];

/** npm packages that a core folder may use. */
const CORE_PACKAGES: Record<string, readonly string[]> = {
  sky: ['suncalc'],
  scenario: ['zod', 'yaml'],
  commissioning: ['zod'],
  study: ['zod'],
};

const root = join(import.meta.dirname, '../src');

interface Import {
  readonly from: string;
  readonly spec: string;
  readonly file: string;
}

const sources = (readdirSync(root, { recursive: true }) as string[])
  .filter((name) => name.endsWith('.ts') || name.endsWith('.tsx'))
  .map((name) => ({
    name,
    folder: name.includes('/') ? (name.split('/')[0] ?? '') : 'index',
    text: readFileSync(join(root, name), 'utf8'),
  }));

const imports: Import[] = sources.flatMap(({ name, folder, text }) =>
  [...text.matchAll(/^(?:import|export)\s(?:[^;'"]*?\sfrom\s)?'([^']+)'|\bimport\(\s*'([^']+)'\s*\)/gm)].map((match) => ({
    from: folder,
    spec: match[1] ?? match[2] ?? '',
    file: name,
  })),
);

/** Folder that a relative import leads to, or null within the folder. */
function folderOf({ from, spec, file }: Import): string | null {
  const parts = join(file, '..', spec).split('/');
  const folder = parts.length > 1 ? (parts[0] ?? '') : 'index';
  return folder === from ? null : folder;
}

const relative = imports.filter(({ spec }) => spec.startsWith('.'));
const outside = imports.filter(({ spec }) => !spec.startsWith('.'));

describe('imports go one way', () => {
  test('there is something to look at', () => {
    expect(sources.length).toBeGreaterThan(30);
    expect(relative.length).toBeGreaterThan(30);
  });

  test('only along the table', () => {
    const wrong = relative.filter((one) => {
      const to = folderOf(one);
      return to !== null && !MAY_IMPORT[one.from]?.includes(to);
    });
    expect(wrong).toEqual([]);
  });

  test('outsiders import a folder by its index only', () => {
    // The page takes from report only what needs neither danfo.js nor jsdom nor a canvas: report/browser.ts is that entry.
    const isEntry = ({ from, spec }: Import): boolean =>
      /(^|\/)index\.ts$/.test(spec) || (from === 'page' && spec.endsWith('/report/browser.ts'));
    const wrong = relative.filter((one) => folderOf(one) !== null && !isEntry(one));
    expect(wrong).toEqual([]);
  });

  test('packages in the core: only those named', () => {
    const wrong = outside.filter(({ from, spec }) => CORE.includes(from) && !CORE_PACKAGES[from]?.includes(spec));
    expect(wrong).toEqual([]);
  });

  test('node: only in the command', () => {
    expect(outside.filter(({ from, spec }) => spec.startsWith('node:') && from !== 'cli')).toEqual([]);
  });

  test('danfo.js only in report, and only when a table is made', () => {
    const wrong = outside.filter(({ spec, from }) => spec.startsWith('danfojs') && from !== 'report');
    expect(wrong).toEqual([]);
    const eager = sources.filter(({ text }) => /^import [^\n]*'danfojs/m.test(text) && !/^import type/m.test(text));
    expect(eager.map(({ name }) => name)).toEqual([]);
  });
});

describe('the core touches no clock, chance, zone or locale of the machine', () => {
  const BANNED = [
    /\bMath\.random\b/,
    /\bDate\.now\b/,
    /new Date\(\s*\)/,
    /\bIntl\b/,
    /\.toLocale/,
    /\bperformance\b/,
    /\bprocess\b/,
    /\bconsole\b/,
  ];
  const LOCAL_TIME = /\.get(FullYear|Month|Date|Day|Hours|Minutes|Seconds|TimezoneOffset)\(/;

  test.each(CORE)('%s', (folder) => {
    const found = sources
      .filter((source) => source.folder === folder)
      .flatMap(({ name, text }) => {
        const code = text.replace(/\/\*[\s\S]*?\*\/|\/\/[^\n]*/g, '');
        return [...BANNED, LOCAL_TIME].filter((banned) => banned.test(code)).map((banned) => `${name}: ${banned}`);
      });
    expect(found).toEqual([]);
  });
});

test('every folder opens with its five answers', () => {
  const folders = new Set(
    sources.map(({ folder }) => folder).filter((folder) => folder !== 'index' && folder !== 'cli' && folder !== 'page'),
  );
  for (const folder of folders) {
    const index = sources.find(({ name }) => name === `${folder}/index.ts`);
    expect(index?.text, folder).toMatch(/^\/\*\*[\s\S]*In:[\s\S]*Out:[\s\S]*Left out:[\s\S]*Start reading/);
  }
});
