import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { LANGUAGES, wordsOf } from '../../src/explain/index.ts';
import { reportHtml } from '../../src/report/index.ts';
import { smallRun } from '../report/small-household.ts';
import { BROWSER, openBrowser } from './chromium.ts';
import { openSaved, violationsOn } from './saved-pages.ts';

vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

describe.skipIf(BROWSER === null)('the report in a browser', () => {
  let browser: Browser;
  let folder: string;
  beforeAll(async () => {
    browser = await openBrowser();
    folder = mkdtempSync(join(tmpdir(), 'sixamp-report-'));
    for (const language of LANGUAGES) {
      const html = await reportHtml({
        ...smallRun('<b>Haus</b>'),
        money: null,
        version: '0.0.0',
        remarks: [],
        words: wordsOf(language),
      });
      writeFileSync(join(folder, `${language}.html`), html);
    }
  });
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const opened = <T>(language: string, options: BrowserContextOptions, look: (page: Page) => Promise<T>): Promise<T> =>
    openSaved(browser, { folder, name: language }, options, look);

  const cases = LANGUAGES.flatMap((language) => (['light', 'dark'] as const).map((colorScheme) => ({ language, colorScheme })));
  test.each(cases)('axe finds nothing: $language, $colorScheme, wide and narrow', async ({ language, colorScheme }) => {
    for (const width of [390, 1200]) {
      expect(await opened(language, { colorScheme, viewport: { width, height: 900 } }, violationsOn)).toEqual([]);
    }
  });

  test('dark is dark, light is light, and print is light in either', async () => {
    const paper = (page: Page): Promise<string> => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    const screen = (colorScheme: 'light' | 'dark'): Promise<string> => opened('en', { colorScheme }, paper);
    const print = opened('en', { colorScheme: 'dark' }, async (page) => {
      await page.emulateMedia({ media: 'print' });
      return paper(page);
    });
    expect([await screen('light'), await screen('dark'), await print]).toEqual([
      'rgb(255, 255, 255)',
      'rgb(25, 25, 25)',
      'rgb(255, 255, 255)',
    ]);
  });

  test('a narrow screen never scrolls sideways; what is wider scrolls by itself, with the keyboard', async () => {
    for (const width of [320, 390, 820]) {
      const widest = await opened('de', { viewport: { width, height: 800 } }, (page) =>
        page.evaluate(() => document.documentElement.scrollWidth),
      );
      expect(widest).toBe(width);
    }
    const unreachable = await opened('de', { viewport: { width: 390, height: 800 } }, (page) =>
      page.evaluate(() => [...document.querySelectorAll('.scroll')].filter((box) => box.getAttribute('tabindex') !== '0').length),
    );
    expect(unreachable).toBe(0);
  });

  test('prints on A4: nothing is cut off at the right, no chart is cut in two', async () => {
    // A4 less the margins of the page's own @page rule, in CSS px.
    const width = Math.floor(((210 - 2 * 15) / 25.4) * 96);
    const { widest, tallest } = await opened('en', { viewport: { width, height: 1000 } }, async (page) => {
      await page.emulateMedia({ media: 'print' });
      return page.evaluate(() => ({
        widest: Math.max(...[...document.querySelectorAll('main *')].map((element) => element.getBoundingClientRect().right)),
        tallest: Math.max(
          ...[...document.querySelectorAll('figure, .together')].map((element) => element.getBoundingClientRect().height),
        ),
      }));
    });
    expect(widest).toBeLessThanOrEqual(width + 1);
    expect(tallest).toBeLessThan(((297 - 2 * 16) / 25.4) * 96);
    const pdf = await opened('en', {}, (page) => page.pdf({ preferCSSPageSize: true, printBackground: true }));
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    expect(pdf.length).toBeGreaterThan(50_000);
  });

  test('a hostile name is shown as it is written', async () => {
    const heading = await opened('en', {}, (page) => page.locator('h1').textContent());
    expect((heading ?? '').replace(/[\u2068\u2069]/g, '')).toMatch(/^<b>Haus<\/b>: solar charging /);
  });
});
