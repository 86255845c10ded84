import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { BROWSER, openBrowser } from '../browser/chromium.ts';
import { median, print } from './figures.ts';

/** The page in a browser: from opening it to the first answer, and from touching a field to the drawn answer. Nothing without a browser. */
const root = process.argv[2] ?? '.';
const OPENINGS = 5;
const TOUCHES = 25;
/** Fields by what their touch has made anew: the run alone, the roof, the house. */
const FIELDS = [
  ['charger', 'chargePoints.0.charger.maxCurrentA'],
  ['car', 'chargePoints.0.vehicle.kWhPer100km'],
  ['range that is never left', 'chargePoints.0.usage.floorKm'],
  ['size of the roof', 'pv.arrays.0.kWp'],
  ['where the roof looks', 'pv.arrays.0.azimuthDeg'],
  ['use of the house', 'household.annualKWh'],
] as const;

async function openingMs(browser: Browser, file: string): Promise<number> {
  const page = await browser.newPage();
  await page.goto(`file://${file}`);
  await page.waitForFunction(() => performance.getEntriesByName('opened to drawn').length > 0);
  const [ms] = await page.evaluate(() => performance.getEntriesByName('opened to drawn').map(({ duration }) => duration));
  await page.close();
  return ms ?? Number.NaN;
}

/** Each touch has a value that was not there before. */
async function touchesMs(browser: Browser, file: string): Promise<number[][]> {
  const page = await browser.newPage();
  await page.goto(`file://${file}`);
  await page.waitForFunction(() => document.querySelector('main')?.dataset.state === 'settled', undefined, { timeout: 120_000 });
  const all: number[][] = [];
  for (const [, key] of FIELDS) {
    const field = page.locator(`[id="field-${key}"] input[type="text"]`);
    const first = Number(await field.inputValue());
    await page.evaluate(() => performance.clearMeasures());
    for (let i = 1; i <= TOUCHES; i++) {
      await field.fill(String(first + (first > 50 ? i : i * 0.05)));
      await page.waitForFunction((count) => performance.getEntriesByName('touch to drawn').length >= count, i, { polling: 20 });
      await page.waitForTimeout(150);
    }
    all.push(await page.evaluate(() => performance.getEntriesByName('touch to drawn').map(({ duration }) => duration)));
  }
  return all;
}

if (BROWSER === null) print([]);
else {
  const folder = mkdtempSync(join(tmpdir(), 'sixamp-bench-'));
  const file = join(folder, 'page.html');
  const house = 'scenarios/hillside-house.yaml';
  const { status } = spawnSync(process.execPath, [join(root, 'dist/cli/main.js'), 'page', house, '--out', file], { cwd: root });
  if (status !== 0) throw new Error(`the page was not written: ${status}`);
  const browser = await openBrowser();
  const openings: number[] = [];
  for (let i = 0; i < OPENINGS; i++) openings.push(await openingMs(browser, file));
  const touches = await touchesMs(browser, file);
  await browser.close();
  rmSync(folder, { recursive: true });
  print([
    { name: 'page: opened to first answer', value: median(openings), unit: 'ms', goal: 1000 },
    ...FIELDS.flatMap(([name], i) => [
      { name: `page, touch to drawn: ${name}`, value: median(touches[i] ?? []), unit: 'ms', goal: 50 },
      { name: `page, touch to drawn: ${name}, quickest`, value: Math.min(...(touches[i] ?? [])), unit: 'ms' },
    ]),
  ]);
}
