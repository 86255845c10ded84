import { readFileSync } from 'node:fs';
import { JSDOM } from 'jsdom';
import { describe, expect, test } from 'vitest';
import { DE, EN, explained, LANGUAGES, wordsOf } from '../../src/explain/index.ts';
import { reportHtml, whyHtml } from '../../src/report/index.ts';
import { methodSources } from '../../src/report/method-sources.ts';
import { smallRun } from './small-household.ts';

const HOSTILE = [
  '<script>alert(1)</script>',
  '"><img src=x onerror=alert(1)>',
  '</title></style><b>bold</b>',
  "'; drop table; -- &amp; &#60;",
  '\u202eאבג\u2067 run away \u202c',
  ']]> {{x}} %s',
];

const report = async (name: string, words = EN): Promise<{ html: string; document: Document }> => {
  const small = smallRun(name);
  const html = await reportHtml({ ...small, version: '0.0.0', money: null, remarks: [], words });
  return { html, document: new JSDOM(html).window.document };
};

describe('report.html', () => {
  test.each(HOSTILE)('a hostile name stays text: %s', async (name) => {
    const { html, document } = await report(name);
    const calm = await report('garage');
    const tags = (page: Document): string => [...page.querySelectorAll('*')].map(({ tagName }) => tagName).join(' ');
    // A name may make no element of any kind: the page has those of any other name.
    expect(tags(document)).toBe(tags(calm.document));
    expect(document.querySelectorAll('script, img, link, iframe, object, b').length).toBe(0);
    const shown = name.replace(/[\u202a-\u202e\u2066-\u2069]/g, '');
    expect(document.querySelector('h1')!.textContent).toContain(`\u2068${shown}\u2069`);
    // Nothing reaches beyond the isolate that a name stands in.
    expect(html.match(/\u2068/g)!.length).toBe(html.match(/\u2069/g)!.length);
    expect(html).not.toMatch(/[\u202a-\u202e]/);
  });

  test('one file: nothing is loaded from anywhere', async () => {
    const { html } = await report('garage');
    expect(html).not.toMatch(/\b(?:src|href)=|@import|https?:\/\/(?!www\.w3\.org)/);
    expect(html).toContain("default-src 'none'");
  });

  test('every picture has a name, and a table behind it', async () => {
    const { document } = await report('garage');
    const figures = [...document.querySelectorAll('figure')];
    expect(figures.length).toBe(4);
    for (const figure of figures) {
      const picture = figure.querySelector('svg[role=img]')!;
      expect(picture.getAttribute('aria-label')!.length).toBeGreaterThan(20);
      expect(figure.querySelector('table') ?? figure.parentElement!.querySelector('table')).not.toBeNull();
    }
    const ids = [...document.querySelectorAll('[id]')].map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const { caption } of document.querySelectorAll('table')) expect(caption?.textContent?.length).toBeGreaterThan(5);
  });

  test.each(LANGUAGES)('%s: the sections in order, in one language', async (language) => {
    const words = wordsOf(language);
    const { document } = await report('garage', words);
    expect(document.documentElement.lang).toBe(language);
    const headings = [...document.querySelectorAll('h2')].map(({ textContent }) => textContent);
    const { cautionsHeading, answer, household, months, chain, days, whatIf, assumptions } = words.report;
    expect(headings).toEqual([cautionsHeading, answer, household, months, chain, days, whatIf, assumptions]);
    const text = document.querySelector('main')!.textContent ?? '';
    const other = language === 'en' ? [' und ', ' der ', ' die '] : [' the ', ' and ', ' of '];
    for (const word of other) expect(text).not.toContain(word);
  });

  test('three numbers: kWh first, hours never alone', async () => {
    const { document } = await report('garage');
    const figures = [...document.querySelectorAll('.key-figures dd')].map(({ textContent }) => textContent);
    expect(figures.map((text) => text!.split(' ')[1])).toEqual(['kWh', 'km', 'h']);
  });

  test('rows of the chain add up as they are shown', async () => {
    const { document } = await report('garage');
    const rows = [...document.querySelectorAll('.chain tbody tr')];
    const hours = (row: Element): number => Number((row.querySelectorAll('td')[0]!.textContent || '0').replace(/[−, ]/g, ''));
    let left = hours(rows[0]!);
    for (const row of rows.slice(1)) {
      if (row.classList.contains('less')) left -= hours(row);
      else expect(Math.abs(left - hours(row))).toBeLessThan(0.5);
    }
  });
});

test('the page of one day tells that day', async () => {
  const { scenario, run, whatIfs } = smallRun();
  const html = await whyHtml({
    scenario,
    whole: explained(run),
    whatIfs: { ...whatIfs, days: { firstDay: 2, endDay: 3 }, isWhole: false },
    told: [2],
    version: '0.0.0',
    words: DE,
  });
  const { document } = new JSDOM(html).window;
  expect(document.title).toContain('03.04.2025');
  expect(document.querySelectorAll('.account').length).toBe(1);
});

test('every source that the report names stands in the table of sources', () => {
  const table = readFileSync(new URL('../../data/SOURCES.md', import.meta.url), 'utf8');
  for (const { key } of methodSources(smallRun().scenario)) expect(table).toContain(`| ${key} |`);
});
