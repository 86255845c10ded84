import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ROOT } from '../tools/command.ts';
import { folder, hasBrowser, openBrowser, openPage, settled, unfold, writePage } from './open-page.ts';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const CASES = (['en', 'de'] as const).flatMap((language) => (['light', 'dark'] as const).map((theme) => ({ language, theme })));

const SECOND_POINT = { en: 'Add a second charge point', de: 'Zweiten Ladepunkt dazu' } as const;

interface Violation {
  readonly id: string;
  readonly nodes: readonly { readonly html: string; readonly failureSummary: string }[];
}

describe.skipIf(!hasBrowser)('the page for everyone', () => {
  let browser: Browser;
  let year = '';
  let weeks = '';
  beforeAll(async () => {
    browser = await openBrowser();
    const scenario = join(ROOT, 'scenarios/hillside-house.yaml');
    year = writePage(scenario, 'access.html');
    // What is looked at many times over has the same elements for a few weeks as for a year, and stands sooner.
    const short = join(folder, 'weeks.yaml');
    const text = readFileSync(scenario, 'utf8').replace('  start: 2025-01-01\n', '  start: 2025-04-21\n  days: 42\n');
    writeFileSync(short, text);
    weeks = writePage(short, 'weeks.html');
  });
  afterAll(() => browser?.close());

  test.each(CASES)(
    'axe finds nothing: $language, $theme, every view, wide and narrow',
    { timeout: 240_000 },
    async ({ language, theme }) => {
      for (const widthPx of [1440, 390]) {
        const { page, context } = await openPage(browser, weeks, { language, theme, widthPx });
        expect(await page.evaluate(() => [document.documentElement.lang, document.documentElement.dataset.theme])).toEqual([
          language,
          theme,
        ]);
        await page.evaluate(AXE);
        for (const view of ['promise', 'choice', 'setting']) {
          await page.click(`#tab-${view}`);
          await settled(page);
          await unfold(page);
          if (view === 'setting') {
            await page.getByRole('button', { name: SECOND_POINT[language] }).click();
            await settled(page);
            await unfold(page);
          }
          const violations = await page.evaluate(async () => {
            const axe = (globalThis as unknown as { axe: { run(options: object): Promise<{ violations: Violation[] }> } }).axe;
            return (await axe.run({ resultTypes: ['violations'] })).violations;
          });
          const found = violations.map(({ id, nodes }) => ({
            id,
            first: nodes[0]?.html,
            why: nodes[0]?.failureSummary,
            count: nodes.length,
          }));
          expect(found, `${view} at ${widthPx} px`).toEqual([]);
        }
        await context.close();
      }
    },
  );

  test('nothing runs off the side at 390, 820 and 1440 px', { timeout: 240_000 }, async () => {
    for (const widthPx of [390, 820, 1440]) {
      const { page, context } = await openPage(browser, widthPx === 390 ? year : weeks, { widthPx });
      for (const view of ['promise', 'choice', 'setting']) {
        await page.click(`#tab-${view}`);
        await settled(page);
        await unfold(page);
        if (view === 'setting') {
          await page.getByRole('button', { name: SECOND_POINT.en }).click();
          await settled(page);
          await unfold(page);
        }
        expect(await page.locator('.under .scroll').count(), `tables of ${view}`).toBeGreaterThan(1);
        expect(
          await page.evaluate(() => document.documentElement.scrollWidth - innerWidth),
          `${view} at ${widthPx} px`,
        ).toBeLessThanOrEqual(0);
      }
      await context.close();
    }
  });

  test('by keyboard alone: tabs by arrows, a day by arrows, a slider by arrows', async () => {
    const { page, context, wrong } = await openPage(browser, year);
    await settled(page);
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.className)).toBe('skip');
    await page.keyboard.press('Enter');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('answer');
    await page.keyboard.press('Tab');
    await page.keyboard.press('ArrowRight');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('tab-choice');
    await page.locator('.day[aria-selected="true"]').focus();
    const label = await page.evaluate(() => document.activeElement?.getAttribute('aria-label'));
    await page.keyboard.press('ArrowDown');
    await page.waitForFunction((was) => document.activeElement?.getAttribute('aria-label') !== was, label);
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-selected'))).toBe('true');
    expect(wrong).toEqual([]);
    await context.close();
  });
});
