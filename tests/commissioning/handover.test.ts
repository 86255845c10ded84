import { join } from 'node:path';
import { JSDOM } from 'jsdom';
import { describe, expect, test } from 'vitest';
import { dutiesOf, HANDOVER_WORDS } from '../../src/commissioning/index.ts';
import { LANGUAGES, wordsOf } from '../../src/explain/index.ts';
import { handoverPage } from '../../src/report/index.ts';
import { GRID_RULES, type Scenario } from '../../src/scenario/index.ts';
import { makeProfiles, simulate } from '../../src/simulate/index.ts';
import { enterFile, scenarioOf } from '../scenario/door.ts';

const scenario = scenarioOf(
  enterFile(join(import.meta.dirname, '../../scenarios/hillside-house.yaml'), 'hillside-house.yaml').checked,
);
const run = simulate(scenario, makeProfiles(scenario));
const inCountry = (country: keyof typeof GRID_RULES | null, change: Partial<Scenario> = {}): Scenario => ({
  ...scenario,
  ...change,
  supply: { ...scenario.supply, country },
});

describe('duties by country, from dated data', () => {
  test('Germany: 11 kW on three phases is reported, needs no consent, takes part in dimming', () => {
    expect(dutiesOf(inCountry('DE')).map(({ rule, applies }) => [rule, applies])).toEqual([
      ['notifyAboveKVA', true],
      ['approvalAboveKVA', false],
      ['threePhaseAboveKVA', true],
      ['imbalanceLimitA', null],
      ['dimmingFloorW', true],
    ]);
  });

  // Worked example of a network operator (lew-verteilnetz.de): 11 + 11 kVA need consent.
  test('Germany: two of 11 kW need consent', () => {
    const two = inCountry('DE', { chargePoints: [...scenario.chargePoints, ...scenario.chargePoints] });
    expect(dutiesOf(two).find(({ rule }) => rule === 'approvalAboveKVA')?.applies).toBe(true);
  });

  // A network operator (e-netze.at): notification up to 11 kW on three phases, approval above.
  test('Austria: 11 kW is reported and needs no approval, 22 kW does', () => {
    const applies = (one: Scenario) =>
      dutiesOf(one)
        .filter((duty) => duty.applies)
        .map(({ rule }) => rule);
    expect(applies(inCountry('AT'))).toEqual(['notifyAboveKVA']);
    const point = scenario.chargePoints[0]!;
    const strong = inCountry('AT', { chargePoints: [{ ...point, charger: { ...point.charger, maxCurrentA: 32 } }] });
    expect(applies(strong)).toEqual(['notifyAboveKVA', 'approvalAboveKVA']);
  });

  test('every duty has a source, a date or "undated", and words in both languages', () => {
    for (const country of Object.keys(GRID_RULES) as (keyof typeof GRID_RULES)[]) {
      for (const { source, stand, text } of dutiesOf(inCountry(country))) {
        expect([source.length > 5, stand !== '', text.en !== text.de]).toEqual([true, true, true]);
      }
    }
    expect(dutiesOf(inCountry(null))).toEqual([]);
    expect(dutiesOf(inCountry('CZ'))).toEqual([]);
  });
});

describe.each(LANGUAGES)('the sheet: %s', (language) => {
  const words = HANDOVER_WORDS[language];
  const page = async (one: Scenario): Promise<Document> => {
    const html = await handoverPage({ scenario: one, run, record: {}, wiring: null, words: wordsOf(language) });
    expect(html).not.toMatch(/https?:\/\//);
    return new JSDOM(html).window.document;
  };

  test('all sections, cautions, thresholds in kW, blank lines, three signatures', async () => {
    const document = await page(inCountry('DE'));
    const headings = [...document.querySelectorAll('h2')].map((heading) => heading.textContent);
    for (const heading of [
      words.system,
      words.thresholds,
      words.see,
      words.trouble,
      words.never,
      words.wiring,
      words.record,
      words.duties,
    ]) {
      expect(headings).toContain(heading);
    }
    const text = document.body.textContent ?? '';
    expect(text).toMatch(language === 'de' ? /1,43 kW/ : /1\.43 kW/);
    expect(text).toContain(language === 'de' ? 'Keine Prüfung, keine Freigabe' : 'Not a test, not a release');
    expect(text).toContain(words.checkLocally);
    expect(document.querySelectorAll('.signature div').length).toBe(3);
    expect(document.querySelectorAll('.blank').length).toBeGreaterThan(25);
    expect(document.querySelectorAll('tbody tr').length).toBeGreaterThan(40);
  });

  test('no country, or none with rules: ask the operator', async () => {
    expect((await page(inCountry(null))).body.textContent).toContain(words.noCountry);
    expect((await page(inCountry('CZ'))).body.textContent).toContain(words.noDuties);
  });

  test('a hostile name stays text', async () => {
    const nasty = '<script>alert(1)</script><img src=x onerror=alert(2)>';
    const document = await page({
      ...inCountry('DE'),
      name: nasty,
      chargePoints: scenario.chargePoints.map((point) => ({ ...point, name: nasty })),
    });
    expect(document.querySelectorAll('script, img').length).toBe(0);
    expect(document.querySelector('h1')?.textContent).toContain(nasty);
  });
});
