import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { ROOT } from '../tools/command.ts';
import { isThorough } from '../tools/thorough.ts';
import { folder, hasBrowser, type Opened, openBrowser, openPage, saved, settled, sixamp, writePage } from './open-page.ts';

const SCENARIO = join(ROOT, 'scenarios/hillside-house.yaml');
const MEASURED = join(ROOT, 'scenarios/measured-roof.yaml');

describe.skipIf(!hasBrowser)('the page, opened from the disk', () => {
  let browser: Browser;
  let empty = '';
  let hillside = '';
  /** Six weeks of it: what does not depend on a whole year stands sooner. */
  let weeks = '';
  beforeAll(async () => {
    browser = await openBrowser();
    empty = writePage(null, 'empty.html');
    hillside = writePage(SCENARIO, 'hillside.html');
    const short = join(folder, 'weeks.yaml');
    writeFileSync(short, readFileSync(SCENARIO, 'utf8').replace('  start: 2025-01-01\n', '  start: 2025-04-21\n  days: 42\n'));
    weeks = writePage(short, 'weeks.html');
  });
  afterAll(() => browser?.close());

  /** Opens a page, lets the test use it, and holds it to what no page may ever do. */
  async function using(
    file: string,
    use: (page: Page, opened: Opened) => Promise<void>,
    options: Parameters<typeof openPage>[2] = {},
  ) {
    const opened = await openPage(browser, file, options);
    try {
      await use(opened.page, opened);
      expect(opened.wrong).toEqual([]);
    } finally {
      await opened.context.close();
    }
  }

  test('one file, small enough: at most 600 kB, 250 kB packed', () => {
    const bytes = readFileSync(empty);
    expect(bytes.length).toBeLessThanOrEqual(600_000);
    expect(gzipSync(bytes, { level: 9 }).length).toBeLessThanOrEqual(250_000);
  });

  test('something stands there before the page has worked anything out, and the page then finds the same', async () => {
    const opened = await browser.newContext({ locale: 'en-GB' });
    const page = await opened.newPage();
    // A page whose workers never answer shows what it was written with.
    await page.addInitScript(() => {
      window.Worker = class extends Worker {
        override postMessage(): void {}
      };
    });
    await page.goto(`file://${empty}`);
    const written = await page.locator('.said p').first().textContent();
    await opened.close();
    await using(empty, async (working) => {
      await working.waitForFunction(() => performance.getEntriesByName('opened to drawn').length > 1);
      expect(await working.locator('.said p').first().textContent()).toBe(written);
    });
  });

  test('promise: a salesperson sees the sentence settle after ten years, and a larger roof change it', async () => {
    await using(empty, async (page) => {
      await settled(page);
      const before = await page.locator('.said p').first().textContent();
      expect(before).toMatch(
        /^In nine years of ten this roof puts at least [\d,]+ kWh into the car, enough for [\d,]+ km a year\.$/,
      );
      await page.getByLabel('Size of the roof', { exact: true }).fill('12');
      await settled(page);
      expect(await page.locator('.said p').first().textContent()).not.toBe(before);
      await expect(page.locator('.promise table').first().locator('tbody tr').count()).resolves.toBe(5);
    });
  });

  test('choice: a designer compares three kinds of charger and takes another', async () => {
    await using(weeks, async (page) => {
      await page.getByRole('tab', { name: /Choice/ }).click();
      await page.waitForSelector('.variants');
      const cells = await page.locator('.variants tbody tr').first().locator('td').allInnerTexts();
      expect(cells.map((cell) => /[\d,]+ kWh/.test(cell))).toEqual([true, true, true]);
      await page.getByRole('button', { name: 'Choose: one phase' }).click();
      await settled(page);
      expect(await page.locator('.variants .tag').textContent()).toBe('chosen now');
      expect(await page.getByRole('radio', { name: 'one phase' }).isChecked()).toBe(true);
      await expect(page.locator('.choice .pair canvas').count()).resolves.toBe(2);
    });
  });

  test('setting: an advisor moves the share, reads what it means in kilowatts, and finds the knee', async () => {
    await using(weeks, async (page) => {
      await page.getByRole('tab', { name: /Setting/ }).click();
      await settled(page);
      expect(await page.locator('.setting .said').textContent()).toContain('1.38 kW');
      await page.getByRole('slider', { name: /Surplus share/ }).fill('50');
      await page.waitForFunction(() => document.querySelector('.setting .said')?.textContent?.includes('0.69 kW'));
      await settled(page);
      expect(await page.locator('.setting .notes li').first().textContent()).toMatch(/knee/);
      await page.locator('.setting .under summary').click();
      await page.waitForSelector('.setting .scroll tbody tr');
      await expect(page.locator('.setting .scroll tbody tr').count()).resolves.toBe(22);
    });
  });

  test('a day: picked by keyboard, told in sentences, and set beside itself after a change', async () => {
    await using(hillside, async (page) => {
      await page.waitForSelector('.day-head h3');
      await page.locator('.day[aria-selected="true"]').focus();
      const first = await page.locator('.day-head h3').textContent();
      await page.keyboard.press('ArrowRight');
      await page.waitForFunction((was) => document.querySelector('.day-head h3')?.textContent !== was, first);
      await page.getByRole('button', { name: 'Best day' }).click();
      await page.waitForFunction((was) => document.querySelector('.day-head h3')?.textContent === was, first);
      expect(await page.locator('.story li').count()).toBeGreaterThan(2);
      await page.getByRole('radio', { name: 'one phase' }).check();
      await page.waitForSelector('.story >> nth=1');
      expect(await page.locator('.ribbon').count()).toBe(2);
      expect(await page.locator('.days .mind').textContent()).toMatch(/The change moves -?\+?[\d.−-]+ kWh/);
      await page.getByRole('button', { name: 'Compare from here on' }).click();
      await page.waitForFunction(() => document.querySelectorAll('.ribbon').length === 1);
    });
  });

  test('a second charge point: added, set by itself, told apart in the story of the day, and removed', async () => {
    await using(weeks, async (page) => {
      await settled(page);
      await page.getByRole('button', { name: 'Add a second charge point' }).click();
      await settled(page);
      expect(await page.locator('.issue').count()).toBe(0);
      const second = page.getByRole('group', { name: 'Charge point 2' });
      expect(await second.count()).toBe(2);
      await second.first().getByRole('radio', { name: 'three phases' }).check();
      await settled(page);
      // The first, named in the scenario, stays as it was.
      const first = page.getByRole('group', { name: 'Charge point 1: carport' });
      expect(await first.first().getByRole('radio', { name: 'switchable' }).isChecked()).toBe(true);
      await second.last().getByLabel('Usable battery', { exact: true }).fill('0');
      await page.waitForSelector('.issue');
      await second.last().getByLabel('Usable battery', { exact: true }).fill('30');
      await settled(page);
      expect(await page.locator('.ribbon').count()).toBeGreaterThanOrEqual(2);
      const story = (await page.locator('.story').last().locator('li').allInnerTexts()).join(' ');
      expect(story).toContain('car 2: ');
      expect(story).toContain('carport: ');
      await page.getByRole('button', { name: 'Remove charge point 2' }).click();
      await settled(page);
      expect(await page.getByRole('group', { name: 'Charge point 2' }).count()).toBe(0);
    });
  });

  // A year of minutes takes the command and the page five seconds each.
  test.each(isThorough ? ['hillside-house', 'measured-roof'] : ['measured-roof'])(
    'downloads are the files of the command, byte for byte: %s',
    async (name) => {
      const scenario = join(ROOT, `scenarios/${name}.yaml`);
      const out = mkdtempSync(join(folder, 'run-'));
      sixamp('run', scenario, '--out', join(out, 'files'));
      await using(writePage(scenario, `${name}-files.html`), async (page) => {
        for (const file of ['months.csv', 'events.csv', 'steps.csv', 'summary.json']) {
          const { name: called, bytes } = await saved(page, () => page.getByRole('button', { name: file }).click());
          expect(called).toBe(file);
          expect(differences(bytes, readFileSync(join(out, 'files', file))), file).toEqual([]);
        }
      });
    },
  );

  test('a saved scenario is read by the command, and by the page again', async () => {
    await using(empty, async (page) => {
      await page.getByLabel('Use of the house', { exact: true }).fill('4321');
      const { name, bytes } = await saved(page, () => page.getByRole('button', { name: 'Save as scenario' }).click());
      expect(name).toBe('first-look.yaml');
      const file = join(folder, name);
      writeFileSync(file, bytes);
      expect(JSON.parse(sixamp('check', file, '--json')).ok).toBe(true);
      expect(bytes.toString()).toContain('annualKWh: 4321');
      await page.getByLabel('Use of the house', { exact: true }).fill('2000');
      await page.locator('input[type="file"]').setInputFiles(file);
      await page.waitForFunction(() => document.querySelector('.taken')?.textContent?.includes('first-look.yaml'));
      expect(await page.getByLabel('Use of the house', { exact: true }).inputValue()).toBe('4321');
    });
  });

  test('measured PV dropped on the page takes the place of the roof', async () => {
    await using(empty, async (page) => {
      await drop(page, 'invented-week-pv.csv', readFileSync(join(ROOT, 'data/demo/invented-week-pv.csv'), 'utf8'));
      await page.waitForFunction(() => document.querySelector('.taken')?.textContent?.includes('measured PV'));
      await settled(page);
      expect(await page.locator('.problems').count()).toBe(0);
      expect(await page.locator('.household').textContent()).toContain('Measured, from invented-week-pv.csv');
      // Mended and dropped again under the same name, it is read anew.
      const sentence = await page.locator('.said').first().textContent();
      const text = readFileSync(join(ROOT, 'data/demo/invented-week-pv.csv'), 'utf8');
      await drop(
        page,
        'invented-week-pv.csv',
        text.replace(/,(\d+)$/gm, (_, watts) => `,${8 * Number(watts)}`),
      );
      await page.waitForFunction((before) => document.querySelector('.said')?.textContent !== before, sentence);
    });
  });

  test('bad files are refused in words, and change nothing', async () => {
    await using(weeks, async (page) => {
      const household = (): Promise<string[]> =>
        page.locator('.household input').evaluateAll((fields) => fields.map((field) => (field as HTMLInputElement).value));
      const before = await household();
      expect(before.length).toBeGreaterThan(10);
      for (const [name, text, said] of [
        ['notes.csv', 'day,weather\n1,fine\n', 'names no columns that are known'],
        ['broken.yaml', 'name: [\n', 'broken.yaml:'],
        ['picture.json', '"a text"', 'picture.json:'],
      ] as const) {
        await drop(page, name, text);
        await page.waitForFunction((part) => document.querySelector('.taken')?.textContent?.includes(part), said);
      }
      expect(await household()).toEqual(before);
    });
  });

  test('errors stand under their field, in the words of the door, and go when mended', async () => {
    await using(weeks, async (page) => {
      const field = page.getByLabel('Most it offers', { exact: true });
      await field.fill('5');
      await page.waitForSelector('.problems');
      const under = await page.locator('[id="field-chargePoints.0.charger.maxCurrentA"] .issue').textContent();
      expect(under).toContain('6 to 80 (amperes per phase)');
      expect(await field.getAttribute('aria-invalid')).toBe('true');
      await field.fill('sixteen');
      await page.waitForFunction(() => document.querySelector('.problems')?.textContent?.includes('number'));
      await field.fill('16');
      await page.waitForFunction(() => document.querySelector('.problems') === null);
    });
  });

  test('touches that come faster than they are drawn all count, and what is being typed stays as it is', async () => {
    await using(weeks, async (page) => {
      await settled(page);
      // In one turn, so that nothing can be drawn between them.
      const stands = await page.evaluate(() => {
        const type = (key: string, text: string): string => {
          const field = document.querySelector<HTMLInputElement>(`[id="field-${key}"] input[type="text"]`);
          if (field === null) throw new Error(`${key} is not on the page`);
          field.value = text;
          field.dispatchEvent(new Event('input', { bubbles: true }));
          return field.value;
        };
        return [
          type('household.annualKWh', '4321.'),
          type('battery.capacityKWh', '0'),
          type('battery.capacityKWh', '6.'),
          type('battery.capacityKWh', '6.5'),
          type('grid.mainFuseA', '40'),
        ];
      });
      expect(stands).toEqual(['4321.', '0', '6.', '6.5', '40']);
      await settled(page);
      const house = page.locator('[id="field-household.annualKWh"] input[type="text"]');
      expect(await house.inputValue()).toBe('4321.');
      const { bytes } = await saved(page, () => page.getByRole('button', { name: 'Save as scenario' }).click());
      expect(parse(bytes.toString())).toMatchObject({
        household: { annualKWh: 4321 },
        battery: { capacityKWh: 6.5 },
        grid: { mainFuseA: 40 },
      });
      // No battery is 0 kWh of one; a nought is also how a smaller one begins.
      const battery = page.locator('[id="field-battery.capacityKWh"] input[type="text"]');
      await battery.fill('0');
      await settled(page);
      expect(await battery.inputValue()).toBe('0');
    });
  });

  test('the address holds the household: a copied link brings it back', async () => {
    await using(empty, async (page) => {
      await page.getByLabel('Size of the roof', { exact: true }).fill('5.5');
      await page.getByRole('tab', { name: /Setting/ }).click();
      await page.waitForFunction(() => location.hash.length > 10);
      await page.waitForTimeout(800);
      const hash = new URL(page.url()).hash;
      await using(
        empty,
        async (again) => {
          expect(await again.getByLabel('Size of the roof', { exact: true }).inputValue()).toBe('5.5');
          expect(await again.getByRole('tab', { name: /Setting/ }).getAttribute('aria-selected')).toBe('true');
        },
        { hash },
      );
      await using(
        empty,
        async (again) => {
          expect(await again.getByLabel('Size of the roof', { exact: true }).inputValue()).toBe('8');
        },
        { hash: `${hash.slice(0, 60)}!` },
      );
    });
  });

  test('the promise prints on one sheet of A4', async () => {
    await using(hillside, async (page) => {
      await settled(page);
      await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
      const pdf = await page.pdf({ format: 'A4', preferCSSPageSize: true });
      expect(pdf.toString('latin1').match(/\/Type\s*\/Page[^s]/g)?.length).toBe(1);
    });
  });

  test('a scenario whose files came along is run without asking for them', async () => {
    await using(writePage(MEASURED, 'measured.html'), async (page) => {
      await settled(page);
      expect(await page.locator('.problems').count()).toBe(0);
      expect(await page.locator('.promise .hint').first().textContent()).toContain('one year is known');
    });
  });

  test('a name that looks like markup stays text', async () => {
    const scenario = join(folder, 'hostile.yaml');
    const name = '</script><img src=x onerror=alert(1)>';
    writeFileSync(scenario, readFileSync(SCENARIO, 'utf8').replace(/^name: .*/m, `name: "${name}"`));
    await using(writePage(scenario, 'hostile.html'), async (page) => {
      expect(await page.locator('.in-words').textContent()).toContain(name);
    });
  });
});

/**
 * Where two files differ. A browser and Node round the last place of sines and powers each in its own way, so of the half million rows of
 * a made-up year a few differ in the seventh decimal of a watt: a last digit that is one up or down is no difference. All else is, to
 * the byte.
 */
function differences(page: Buffer, command: Buffer): string[] {
  if (page.equals(command)) return [];
  const theirs = command.toString().split('\r\n');
  const found = page
    .toString()
    .split('\r\n')
    .flatMap((row, i) => (row === theirs[i] || isRounding(row, theirs[i] ?? '') ? [] : [`${i + 1}: ${row} | ${theirs[i]}`]));
  return found.slice(0, 5);
}

function isRounding(one: string, other: string): boolean {
  const [cells, others] = [one.split(','), other.split(',')];
  return (
    cells.length === others.length &&
    cells.every((cell, i) => cell === others[i] || Math.abs(Number(cell) - Number(others[i])) < 1.01 * LAST_PLACE_W)
  );
}
const LAST_PLACE_W = 1e-7;

/** Drops a file as a person would. */
async function drop(page: Page, name: string, text: string): Promise<void> {
  await page.evaluate(
    ([called, content]) => {
      const dataTransfer = new DataTransfer();
      dataTransfer.items.add(new File([content ?? ''], called ?? ''));
      document.body.dispatchEvent(new DragEvent('drop', { dataTransfer, bubbles: true, cancelable: true }));
    },
    [name, text],
  );
}
