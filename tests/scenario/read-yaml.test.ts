import { expect, test } from 'vitest';
import { checkScenario, pathText, readScenario } from '../../src/scenario/index.ts';
import { codesOf } from './door.ts';

const SITE = 'site: { latitude: 47, longitude: 15, timeZone: Europe/Vienna }\n';

test('locate: a value where there is one, else its key, else the section above', () => {
  const { locate } = readScenario(`${SITE}pv:\n  arrays:\n    - kWp: 6\n      tiltDeg:\n`, 'x.yaml');
  expect(locate(['pv', 'arrays', 0, 'kWp'])).toEqual({ line: 4, column: 12 });
  expect(locate(['pv', 'arrays', 0, 'tiltDeg'])).toEqual({ line: 5, column: 7 });
  expect(locate(['pv', 'arrays', 0, 'azimuthDeg'])).toEqual({ line: 4, column: 7 });
  expect(locate(['household'])).toEqual({ line: 1, column: 1 });
});

test('locate: follows an alias to the value it stands for', () => {
  const { locate } = readScenario(`a: &s\n  latitude: 99\nsite: *s\n`, 'x.yaml');
  expect(locate(['site', 'latitude'])).toEqual({ line: 2, column: 13 });
});

test('JSON is read as it is, a byte order mark passed over', () => {
  const { checked, locate } = readScenario('\uFEFF{\n  "site": { "latitude": 99 }\n}', 'x.json');
  expect(checked.ok).toBe(false);
  expect(locate(['site', 'latitude'])).toEqual({ line: 2, column: 25 });
});

test.each([
  ['nothing', '', 'scenario-empty'],
  ['only a remark', '# only a remark', 'scenario-empty'],
  ['null', 'null', 'scenario-empty'],
  ['words', 'just words', 'scenario-not-keys'],
  ['a list', '[1, 2]', 'scenario-not-keys'],
  ['control characters', '\u0000\u0001', 'scenario-not-keys'],
  ['20,000 open brackets', '['.repeat(20_000), 'yaml-too-deep'],
  ['20,000 brackets', '['.repeat(20_000) + ']'.repeat(20_000), 'yaml-too-deep'],
  ['20,000 dashes', '- '.repeat(20_000), 'yaml-too-deep'],
  ['sections without end', Array.from({ length: 900 }, (_, i) => `${' '.repeat(i)}a:`).join('\n'), 'yaml-too-deep'],
  ['a million characters', `a: ${'x'.repeat(1_000_001)}`, 'scenario-too-large'],
  ['an alias for nothing', 'a: *nowhere', 'yaml-alias-unknown'],
  ['a tag of its own', 'a: !mine 3', 'yaml-syntax'],
])('no scenario: %s', (_, text, code) => {
  expect(codesOf(readScenario(text, 'x.yaml').checked)).toContain(code);
});

test('values that YAML knows and numbers are not: .nan, .inf, yes, dates', () => {
  const raw = (value: string) => readScenario(`${SITE}control: { smoothingS: ${value} }`, 'x.yaml').checked;
  for (const value of ['.nan', '.inf', '-.inf', 'yes', '2025-01-01', '0x', '[]', '{}', 'true', '"30"', '~']) {
    const checked = raw(value);
    expect([value, checked.ok ? [] : checked.issues.map((issue) => pathText(issue.path))]).toEqual([
      value,
      expect.arrayContaining(['control.smoothingS']),
    ]);
  }
});

test('keys that objects have by themselves are unknown keys like any other', () => {
  const { checked } = readScenario(`${SITE}__proto__: { a: 1 }\nconstructor: 2\ntoString: 3\n`, 'x.yaml');
  const unknown = checked.ok ? [] : checked.issues.filter((issue) => issue.code === 'unknown-key').map((issue) => issue.path[0]);
  expect(unknown).toEqual(expect.arrayContaining(['constructor', 'toString']));
});

test('any plain data is refused in words, never by an exception', () => {
  const odd = [null, 1, 'x', true, [], {}, [[]], { a: 1 }, [null], { source: null }, { source: 'csv' }, { source: [] }];
  for (const section of [
    'site',
    'period',
    'grid',
    'tariff',
    'weather',
    'pv',
    'household',
    'battery',
    'chargePoints',
    'control',
    'name',
  ]) {
    for (const value of odd) {
      const checked = checkScenario({ [section]: value });
      expect(checked.ok).toBe(false);
      for (const issue of checked.ok ? [] : checked.issues) {
        expect(issue.problem).toMatch(/\.$/);
        expect(issue.fix).toMatch(/\.$/);
        expect(issue.problem + issue.fix + issue.allowed).not.toMatch(/undefined|NaN|\[object/);
      }
    }
  }
});
