import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

/** Where a browser is looked for; CHROMIUM names another. */
const PLACES = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

/** The browser that is there, or null. */
export const BROWSER = PLACES.find((place) => place !== undefined && existsSync(place)) ?? null;

if (BROWSER === null) {
  process.stderr.write('No Chromium is found, so no page is opened in a browser: tests in tests/browser are skipped.\n');
}

/** Starts it: headless, and without looking for anything on the network. */
export const openBrowser = (): Promise<Browser> =>
  chromium.launch({
    executablePath: BROWSER ?? '',
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
