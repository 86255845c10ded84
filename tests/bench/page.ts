import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { BROWSER, openBrowser } from '../browser/chromium.ts';
import { type Figure, median, print } from './figures.ts';

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

/** Each touch has a value that was not there before. It is made within the page: a driver that looked on would take its share of the processor. */
async function touchesMs(browser: Browser, file: string): Promise<number[][]> {
  const page = await browser.newPage();
  await page.goto(`file://${file}`);
  await page.waitForFunction(() => document.querySelector('main')?.dataset.state === 'settled', undefined, { timeout: 120_000 });
  const all: number[][] = [];
  for (const [, key] of FIELDS) {
    all.push(
      await page.evaluate(
        async ([id, touches]) => {
          const field = document.querySelector<HTMLInputElement>(`[id="${id}"] input[type="text"]`);
          if (field === null) throw new Error(`${id} is not on the page`);
          performance.clearMeasures();
          const first = Number(field.value);
          for (let i = 1; i <= touches; i++) {
            const drawn = new Promise<void>((resolve) => {
              const observer = new PerformanceObserver((list) => {
                if (list.getEntriesByName('touch to drawn').length === 0) return;
                observer.disconnect();
                resolve();
              });
              observer.observe({ entryTypes: ['measure'] });
            });
            field.focus();
            // What a person types goes past the property that the page's library watches.
            Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')?.set?.call(
              field,
              String(first + (first > 50 ? i : i * 0.05)),
            );
            field.dispatchEvent(new Event('input', { bubbles: true }));
            await drawn;
            await new Promise((resolve) => setTimeout(resolve, 150));
          }
          return performance.getEntriesByName('touch to drawn').map(({ duration }) => duration);
        },
        [`field-${key}`, TOUCHES] as const,
      ),
    );
  }
  await page.close();
  return all;
}

/** Touches in a browser of its own, which runs where this process may. */
async function figuresOf(name: string, file: string): Promise<Figure[]> {
  const browser = await openBrowser();
  const touches = await touchesMs(browser, file);
  await browser.close();
  return FIELDS.flatMap(([field], i) => [
    { name: `${name}: ${field}`, value: median(touches[i] ?? []), unit: 'ms', goal: 50 },
    { name: `${name}: ${field}, quickest`, value: Math.min(...(touches[i] ?? [])), unit: 'ms' },
  ]);
}

/** Holds this process, and all that it starts from now on, on one processor. @returns whether the machine can do that */
function holdOnOne(): boolean {
  return spawnSync('taskset', ['-a', '-cp', '0', String(process.pid)]).status === 0;
}

/** The page with a household of the repository, or with text of its own. */
function writtenPage(folder: string, name: string, scenario: string): string {
  const from = join(folder, `${name}.yaml`);
  const to = join(folder, `${name}.html`);
  writeFileSync(from, scenario);
  const { status } = spawnSync(process.execPath, [join(root, 'dist/cli/main.js'), 'page', from, '--out', to], { cwd: root });
  if (status !== 0) throw new Error(`the page was not written: ${status}`);
  return to;
}

const BATTERY = `battery:
  capacityKWh: 8
  maxChargeW: 4000
  maxDischargeW: 4000
  dischargeToCar: false
`;

if (BROWSER === null) print([]);
else {
  const folder = mkdtempSync(join(tmpdir(), 'sixamp-bench-'));
  const house = readFileSync(join(root, 'scenarios/hillside-house.yaml'), 'utf8');
  const plain = writtenPage(folder, 'plain', house);
  const battery = writtenPage(folder, 'battery', house.replace('chargePoints:', `${BATTERY}chargePoints:`));
  const browser = await openBrowser();
  const openings: number[] = [];
  for (let i = 0; i < OPENINGS; i++) openings.push(await openingMs(browser, plain));
  await browser.close();
  const figures = [
    { name: 'page: opened to first answer', value: median(openings), unit: 'ms', goal: 1000 },
    ...(await figuresOf('page, touch to drawn', plain)),
    ...(await figuresOf('page with a home battery', battery)),
  ];
  if (holdOnOne()) {
    figures.push(...(await figuresOf('page on one processor', plain)));
    figures.push(...(await figuresOf('page with a home battery, on one processor', battery)));
  }
  rmSync(folder, { recursive: true });
  print(figures);
}
