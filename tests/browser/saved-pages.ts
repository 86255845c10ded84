import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { expect } from 'vitest';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Opens a page that stands in a folder, hands it over, and closes it: without a word in its console, and without a request to anywhere. */
export async function openSaved<T>(
  browser: Browser,
  file: { readonly folder: string; readonly name: string },
  options: BrowserContextOptions,
  look: (page: Page) => Promise<T>,
): Promise<T> {
  // The page forbids itself scripts; the checker is one.
  const context = await browser.newContext({ bypassCSP: true, ...options });
  const page = await context.newPage();
  const faults: string[] = [];
  page.on('console', (message) => faults.push(message.text()));
  page.on('pageerror', (error) => faults.push(error.message));
  page.on('request', (request) => {
    if (!request.url().startsWith('file:')) faults.push(request.url());
  });
  try {
    await page.goto(pathToFileURL(join(file.folder, `${file.name}.html`)).href);
    const seen = await look(page);
    expect(faults).toEqual([]);
    return seen;
  } finally {
    await context.close();
  }
}

interface Violation {
  readonly id: string;
  readonly impact: string;
  readonly nodes: readonly { readonly html: string }[];
}

/** What axe finds wrong with an open page, a line each. */
export async function violationsOn(page: Page): Promise<string[]> {
  await page.evaluate(AXE);
  const violations = await page.evaluate(
    async () => (await (globalThis as unknown as { axe: { run(): Promise<{ violations: Violation[] }> } }).axe.run()).violations,
  );
  return violations.map(({ id, impact, nodes }) => `${impact} ${id} ${nodes[0]?.html}`);
}
