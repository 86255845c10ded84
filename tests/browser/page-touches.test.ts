import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ROOT } from '../tools/command.ts';
import { hasBrowser, openBrowser, openPage, writePage } from './open-page.ts';

/** How long a touch takes is measured by `npm run bench`. */
const TOUCHES = 1000;

describe.skipIf(!hasBrowser)('the page under many hands', () => {
  let browser: Browser;
  let file = '';
  beforeAll(async () => {
    browser = await openBrowser();
    file = writePage(join(ROOT, 'scenarios/hillside-house.yaml'), 'touches.html');
  });
  afterAll(() => browser?.close());

  test(`${TOUCHES} random touches: no error in the console, nothing leaves the page, and it still answers`, {
    timeout: 600_000,
  }, async () => {
    const { page, context, wrong } = await openPage(browser, file);
    await page.evaluate(touchAtRandom, TOUCHES);
    expect(wrong).toEqual([]);
    expect(await page.locator('.problems pre').count()).toBe(0);
    await page.evaluate(() => location.reload());
    await page.waitForSelector('.said, .problems');
    expect(wrong).toEqual([]);
    await context.close();
  });
});

/** Runs in the page: touches whatever there is, one thing after the other, by a seeded chance. */
async function touchAtRandom(touches: number): Promise<void> {
  let state = 7;
  const chance = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  const one = <T>(list: readonly T[]): T | undefined => list[Math.floor(chance() * list.length)];
  const told = (element: Element, kind: string): boolean => element.dispatchEvent(new Event(kind, { bubbles: true }));
  for (let i = 0; i < touches; i++) {
    const element = one([...document.querySelectorAll<HTMLElement>('input, select, button, summary')]);
    if (element instanceof HTMLInputElement && element.type === 'range') {
      element.value = String(Number(element.min) + chance() * (Number(element.max) - Number(element.min)));
      told(element, 'input');
    } else if (element instanceof HTMLInputElement && element.type === 'text') {
      element.value = one(['', '0', '7', '12,5', '-3', '99999', 'words', '1e9', '2025-03-01']) ?? '';
      told(element, 'input');
      told(element, 'blur');
    } else if (element instanceof HTMLSelectElement) {
      element.value = one([...element.options])?.value ?? '';
      told(element, 'change');
    } else if (
      element !== undefined &&
      !/Picture|Bild|csv|json|Save|speichern|Open|öffnen|Print|drucken|Link|link/.test(element.textContent ?? '')
    ) {
      if (!(element instanceof HTMLInputElement && element.type === 'file')) element.click();
    }
    await new Promise((resolve) => setTimeout(resolve, chance() * 30));
  }
  await new Promise((resolve) => setTimeout(resolve, 3000));
}
