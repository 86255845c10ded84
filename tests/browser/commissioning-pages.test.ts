import { type SpawnSyncReturns, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { COMMAND, ROOT } from '../tools/command.ts';
import { BROWSER, openBrowser } from './chromium.ts';
import { openSaved, violationsOn } from './saved-pages.ts';

vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

const RECORD = 'data/demo/pilot-record.yaml';
const HANDOVER = ['handover', 'scenarios/measured-roof.yaml', '--pilot', RECORD, '--wiring', 'data/demo/invented-wiring.csv'];

/** The pages that the commands of commissioning write, as their users would have them written. */
const PAGES: Readonly<Record<string, readonly string[]>> = {
  log: ['log', 'data/demo/invented-log.csv', 'scenarios/hillside-house.yaml'],
  'pilot-en': ['pilot', RECORD],
  'pilot-de': ['pilot', RECORD, '--lang', 'de'],
  'handover-en': HANDOVER,
  'handover-de': [...HANDOVER, '--lang', 'de'],
};
const NAMES = Object.keys(PAGES);

function sixamp(...args: string[]): SpawnSyncReturns<string> {
  return spawnSync(process.execPath, [COMMAND, ...args], {
    cwd: ROOT,
    encoding: 'utf8',
  });
}

describe.skipIf(BROWSER === null)('the pages of commissioning in a browser', () => {
  let browser: Browser;
  let folder: string;
  beforeAll(async () => {
    browser = await openBrowser();
    folder = mkdtempSync(join(tmpdir(), 'sixamp-commissioning-pages-'));
    for (const [name, args] of Object.entries(PAGES)) {
      const { status } = sixamp(...args, '--out', join(folder, `${name}.html`));
      expect([name, status]).toEqual([name, 0]);
    }
  });
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const opened = <T>(name: string, options: BrowserContextOptions, look: (page: Page) => Promise<T>): Promise<T> =>
    openSaved(browser, { folder, name }, options, look);

  const cases = NAMES.flatMap((name) => (['light', 'dark'] as const).map((colorScheme) => ({ name, colorScheme })));

  test.each(cases)('axe finds nothing: $name, $colorScheme, wide and narrow', async ({ name, colorScheme }) => {
    for (const width of [390, 1200]) {
      expect(await opened(name, { colorScheme, viewport: { width, height: 900 } }, violationsOn)).toEqual([]);
    }
  });

  test.each(NAMES)('%s: a narrow screen never scrolls sideways', async (name) => {
    for (const width of [320, 390, 820]) {
      const widest = await opened(name, { viewport: { width, height: 800 } }, (page) =>
        page.evaluate(() => document.documentElement.scrollWidth),
      );
      expect([name, widest]).toEqual([name, width]);
    }
  });

  test.each(NAMES)('%s: prints on A4 with nothing cut off, in light colours, the cautions with it', async (name) => {
    // A4 less the margins of the page's own @page rule, in CSS px.
    const width = Math.floor(((210 - 2 * 15) / 25.4) * 96);
    const { widest, paper, text } = await opened(
      name,
      { colorScheme: 'dark', viewport: { width, height: 1000 } },
      async (page) => {
        await page.emulateMedia({ media: 'print' });
        return page.evaluate(() => ({
          widest: Math.max(...[...document.querySelectorAll('main *')].map((element) => element.getBoundingClientRect().right)),
          paper: getComputedStyle(document.body).backgroundColor,
          text: document.body.textContent,
        }));
      },
    );
    expect(widest).toBeLessThanOrEqual(width + 1);
    expect(paper).toBe('rgb(255, 255, 255)');
    expect(text).toMatch(/Not a test, not a release\.|Keine Prüfung, keine Freigabe\./);
    const pdf = await opened(name, {}, (page) => page.pdf({ preferCSSPageSize: true, printBackground: true }));
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
  });
});
