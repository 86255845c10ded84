import { readFileSync } from 'node:fs';
import { JSDOM } from 'jsdom';
import { describe, expect, test } from 'vitest';
import {
  causeTexts,
  type LineVerdict,
  type PilotRecord,
  type PilotState,
  PROXIMITY_CODES,
  pilotFinePrint,
  pilotLines,
  proximityCodeOf,
  readPilotRecord,
} from '../../src/commissioning/index.ts';
import { LANGUAGES } from '../../src/explain/index.ts';
import { pilotPage } from '../../src/report/index.ts';

const lineOf = (record: PilotRecord, state: PilotState, quantity: string) =>
  pilotLines(record).pilot.find((line) => line.state === state && line.quantity === quantity)!;

/** Levels and resistors from memory are so in the output too; the test holds the output to that, not the standard to our memory. */
describe('levels, both sides of each edge', () => {
  const near = 1e-6;
  // Levels of IEC 61851-1 Annex A with ±1 V: B, C, D read second-hand; A, E, F from memory.
  test.each<[PilotState, number, number, boolean]>([
    ['A', 11, 13, true],
    ['B', 8, 10, false],
    ['C', 5, 7, false],
    ['D', 2, 4, false],
    ['E', -1, 1, true],
    ['F', -13, -11, true],
  ])('%s: %d to %d V', (state, min, max, fromMemory) => {
    const verdict = (voltageV: number): LineVerdict => lineOf({ pilot: { [state]: { voltageV } } }, state, 'voltageV').verdict;
    expect([min, max, (min + max) / 2].map(verdict)).toEqual(['within', 'within', 'within']);
    expect([min - near, max + near].map(verdict)).toEqual(['outside', 'outside']);
    expect(lineOf({}, state, 'voltageV').sure === 'from-memory').toBe(fromMemory);
  });

  // The same manuals: vehicle resistors 2740, 882, 246 ohm behind 1 kohm and a diode of 0.7 V give 8.98, 6.00, 2.93 V.
  test.each<[PilotState, number]>([
    ['B', 8.98],
    ['C', 6.0],
    ['D', 2.93],
  ])('%s: the published resistors give %d V, within', (state, voltageV) => {
    expect(lineOf({ pilot: { [state]: { voltageV } } }, state, 'voltageV').verdict).toBe('within');
  });

  test('lower level, frequency and contactor', () => {
    const record: PilotRecord = { pilot: { B: { lowV: -9, frequencyHz: 1006, contactor: 'closed' }, C: { contactor: 'open' } } };
    for (const [quantity, cause] of [
      ['lowV', 'diode'],
      ['frequencyHz', 'generator'],
      ['contactor', 'welded'],
    ]) {
      expect(lineOf(record, 'B', quantity!)).toMatchObject({ verdict: 'outside', cause });
    }
    expect(lineOf(record, 'C', 'contactor')).toMatchObject({ verdict: 'outside', cause: 'does-not-close' });
    expect(lineOf({ pilot: { D: { contactor: 'open' } } }, 'D', 'contactor').verdict).toBe('not-judged');
  });
});

describe('duty cycle against the set current', () => {
  const line = (dutyPercent: number, setCurrentA?: number) =>
    lineOf({ ...(setCurrentA === undefined ? {} : { setCurrentA }), pilot: { B: { dutyPercent } } }, 'B', 'dutyPercent');
  test('16 A: 25.67 to 27.67 %', () => {
    expect([25.67, 26.67, 27.66].map((duty) => line(duty, 16).verdict)).toEqual(['within', 'within', 'within']);
    expect([25.66, 27.67].map((duty) => line(duty, 16))).toMatchObject([
      { verdict: 'outside', cause: 'setting' },
      { verdict: 'outside', cause: 'setting' },
    ]);
  });
  test('no set current: any that offers something', () => {
    expect([7.9, 8, 97, 97.1].map((duty) => line(duty).verdict)).toEqual(['outside', 'within', 'within', 'outside']);
    expect(line(7.9).cause).toBe('no-offer');
    expect(line(5)).toMatchObject({ verdict: 'not-judged', offer: { kind: 'digital' } });
    expect(line(100)).toMatchObject({ verdict: 'not-judged', offer: { kind: 'steady' } });
  });
});

// Nominal values: a communication module's readme (680, 220, 100 ohm); 1500 ohm and all ranges from memory.
describe('coding of cables', () => {
  test.each([
    [13, 1500, 1000, 2700],
    [20, 680, 330, 1000],
    [32, 220, 150, 330],
    [63, 100, 50, 150],
  ])('%d A: %d ohm, %d to %d', (cableA, nominal, min, max) => {
    const code = PROXIMITY_CODES.find((one) => one.cableA === cableA)!;
    expect(code.nominalOhm.value).toBe(nominal);
    expect(proximityCodeOf(nominal)?.cableA).toBe(cableA);
    const verdict = (proximityOhm: number): LineVerdict => pilotLines({ proximityOhm, cableA }).proximity.verdict;
    expect([min, max, nominal].map(verdict)).toEqual(['within', 'within', 'within']);
    expect([min - 0.1, max + 0.1].map(verdict)).toEqual(['outside', 'outside']);
    expect(code.acceptedOhm.sure).toBe('from-memory');
  });
  test('where ranges touch the thinner cable is meant; outside every range none', () => {
    expect([1000, 330, 150, 50].map((ohm) => proximityCodeOf(ohm)?.cableA)).toEqual([13, 20, 32, 63]);
    expect([49.9, 2700.1].map(proximityCodeOf)).toEqual([null, null]);
  });
  test('a cable that is not coded exactly may stand for less, never for more', () => {
    expect(pilotLines({ proximityOhm: 1500, cableA: 16 }).proximity.verdict).toBe('within');
    expect(pilotLines({ proximityOhm: 680, cableA: 16 }).proximity).toMatchObject({ verdict: 'outside', cause: 'cable-code' });
  });
});

describe('the record', () => {
  test('what was not measured stays in the list', () => {
    const { pilot, proximity, safety } = pilotLines({});
    expect(pilot.map((line) => line.verdict)).toEqual(Array(pilot.length).fill('not-measured'));
    expect(pilot.length).toBe(21);
    expect(proximity.verdict).toBe('not-measured');
    expect(safety.map(({ name }) => name)).toEqual([
      'protectiveConductor',
      'residualCurrentDevice',
      'insulation',
      'phaseSequence',
      'earthing',
      'brokenNeutral',
    ]);
  });

  test('mistakes: place, what is allowed, the nearest key', () => {
    const { checked } = readPilotRecord(
      'pilot:\n  A: { voltage: 12 }\n  B: { voltageV: "9,1", dutyPercent: 120 }\nsafty: 3\n',
      'r.yaml',
    );
    expect(checked.ok).toBe(false);
    if (checked.ok) return;
    expect(checked.issues.map(({ code, path, fix }) => [code, path.join('.'), fix.slice(0, 17)])).toEqual([
      ['unknown-key', 'pilot.A.voltage', 'write `voltageV`,'],
      ['decimal-comma', 'pilot.B.voltageV', 'write 9.1.'],
      ['not-allowed', 'pilot.B.dutyPercent', 'write what is all'],
      ['unknown-key', 'safty', 'write `safety`, t'],
    ]);
  });

  test.each(LANGUAGES)('every cause has words: %s', (language) => {
    const wrong = { voltageV: 20, lowV: 0, dutyPercent: 99, frequencyHz: 1, contactor: 'closed' as const };
    const record: PilotRecord = {
      proximityOhm: 1,
      pilot: { A: wrong, B: wrong, C: { ...wrong, dutyPercent: 12, contactor: 'open' }, D: wrong, E: wrong, F: wrong },
      setCurrentA: 16,
    };
    const low: PilotRecord = { pilot: { A: { voltageV: 0 }, B: { voltageV: 0 }, C: { voltageV: 0 } } };
    const causes = new Set([...causeTexts(pilotLines(record), language), ...causeTexts(pilotLines(low), language)]);
    expect(causes.size).toBe(14);
    expect(pilotFinePrint(language).length).toBeGreaterThan(100);
  });
});

describe('the page', () => {
  const NASTY = '<script>alert(1)</script> "x" \u202Egnp';
  test.each(LANGUAGES)('cautions, lines, blanks to write on; markup stays text: %s', async (language) => {
    const html = await pilotPage({ station: NASTY, remarks: '<img src=x>', pilot: { C: { voltageV: 7.3 } } }, language);
    const { document } = new JSDOM(html).window;
    expect(document.querySelectorAll('script, img').length).toBe(0);
    expect(document.querySelector('td')?.textContent).toBe(NASTY);
    expect(document.querySelector('.cautions')?.textContent).toMatch(
      language === 'de' ? /Keine Prüfung, keine Freigabe/ : /Not a test, not a release/,
    );
    expect(document.querySelectorAll('.blank').length).toBe(5 + 20 + 1 + 6);
    expect(html).not.toMatch(/https?:/);
    expect(document.documentElement.lang).toBe(language);
    expect(document.querySelectorAll('strong').length).toBe(1);
  });

  test('the record in data/demo can be read', () => {
    const { checked } = readPilotRecord(readFileSync('data/demo/pilot-record.yaml', 'utf8'), 'pilot-record.yaml');
    expect(checked.ok).toBe(true);
  });
});
