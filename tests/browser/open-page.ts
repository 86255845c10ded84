import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import { vi } from 'vitest';
import { COMMAND, ROOT } from '../tools/command.ts';

// A browser on a busy machine takes its time, and a page runs many years.
vi.setConfig({ testTimeout: 240_000, hookTimeout: 120_000 });

/** A browser is not a part of the project: where there is none, these tests are skipped with a line that says so. */
const CANDIDATES = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
const executablePath = CANDIDATES.find((path) => path !== undefined && existsSync(path));
export const hasBrowser = executablePath !== undefined;
if (!hasBrowser) console.warn('skipped: tests in tests/browser, no Chromium was found (CHROMIUM=/path/to/it names one)');

/** A folder for the files of a test. */
export const folder = mkdtempSync(join(tmpdir(), 'sixamp-page-'));

/** Runs the command. */
export function sixamp(...args: string[]): string {
  return execFileSync(process.execPath, [COMMAND, ...args], {
    cwd: ROOT,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'ignore'],
  });
}

/** Writes a page with a scenario in it. */
export function writePage(scenario: string | null, name: string): string {
  const out = join(folder, name);
  sixamp('page', ...(scenario === null ? [] : [scenario]), '--out', out);
  return out;
}

export const openBrowser = (): Promise<Browser> =>
  chromium.launch({ executablePath: executablePath ?? '', args: ['--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage'] });

/** A page opened from the disk, with everything noted that must not happen. */
export interface Opened {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Errors and warnings in the console, errors thrown, and requests that left the page. */
  readonly wrong: string[];
}

export interface OpenOptions {
  readonly widthPx?: number;
  readonly language?: 'en' | 'de';
  readonly theme?: 'light' | 'dark';
  readonly hash?: string;
}

export async function openPage(browser: Browser, file: string, options: OpenOptions = {}): Promise<Opened> {
  const context = await browser.newContext({
    viewport: { width: options.widthPx ?? 1200, height: 900 },
    locale: options.language === 'de' ? 'de-DE' : 'en-GB',
    colorScheme: options.theme ?? 'light',
    acceptDownloads: true,
  });
  const page = await context.newPage();
  const wrong: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') wrong.push(`${message.type()}: ${message.text()}`);
  });
  page.on('pageerror', (error) => wrong.push(`thrown: ${error.message}`));
  page.on('request', (request) => {
    if (!/^(file|blob|data):/.test(request.url())) wrong.push(`request: ${request.url()}`);
  });
  await page.goto(`file://${file}${options.hash ?? ''}`);
  await page.waitForSelector('.said, .problems', { timeout: 30_000 });
  return { page, context, wrong };
}

/** Waits until everything asked for has been answered and drawn. */
export async function settled(page: Page): Promise<void> {
  await page.waitForFunction(() => document.querySelector<HTMLElement>('main')?.dataset.state === 'settled', undefined, {
    timeout: 60_000,
  });
}

/** Opens everything that is folded, lays out what is out of sight, and waits for what is only made when it is seen. */
export async function unfold(page: Page): Promise<void> {
  await page.evaluate(async () => {
    for (const folded of document.querySelectorAll('details')) folded.open = true;
    for (const days of document.querySelectorAll<HTMLElement>('.days')) days.style.contentVisibility = 'visible';
    for (let frame = 0; frame < 3; frame++) await new Promise(requestAnimationFrame);
  });
}

/** Clicks something that saves a file. @returns its name and bytes */
export async function saved(page: Page, click: () => Promise<void>): Promise<{ name: string; bytes: Buffer }> {
  const [download] = await Promise.all([page.waitForEvent('download', { timeout: 60_000 }), click()]);
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}
