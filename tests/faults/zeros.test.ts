/**
 * A gigabyte of nothing in the place of every kind of file: as it is, packed into a few megabytes, or from a pipe. The command says what
 * is wrong and ends with 2, soon and in little memory.
 */
import { closeSync, openSync, truncateSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { bed, house, inShell, namesIn, sixamp } from './bed.ts';

vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

const MB = 1 << 20;
const { base, clear } = bed();
afterAll(clear);
const at = (name: string): string => join(base, name);

/** Many parts packed one by one are one packed file (RFC 1952). */
function writePacked(name: string, fill: string, head = '', megabytes = 1024): void {
  const file = openSync(at(name), 'w');
  writeSync(file, gzipSync(head));
  const part = gzipSync(Buffer.alloc(MB, fill));
  for (let i = 0; i < megabytes; i++) writeSync(file, part);
  closeSync(file);
}

beforeAll(() => {
  writeFileSync(at('plain.csv'), '');
  truncateSync(at('plain.csv'), 1024 * MB);
  writePacked('zeros.csv', '\0');
  writePacked('digits.csv', '0');
  // Just below what is allowed.
  writePacked('line.csv', '0', 'time,load_w\n', 475);
  writePacked('empty-lines.csv', '\n', 'time,load_w\n', 475);
});

/** Tells at its end what the command took. */
const PEAK = `data:text/javascript,${encodeURIComponent(
  `import { writeSync } from 'node:fs';
  const took = () => process.cpuUsage().user / 1e6 + ' s ' + process.resourceUsage().maxRSS / 1000 + ' MB';
  process.on('exit', () => writeSync(2, 'TOOK ' + took()));`,
)}`;

/** Refused within so many seconds of a processor and megabytes of memory, for a reason; nothing written. */
function refused(args: readonly string[], reason: RegExp, mostS: number, mostMB: number): void {
  const before = namesIn(base);
  const { status, stdout, stderr } = sixamp(args, ['--import', PEAK]);
  const [, seconds, megabytes] = /TOOK (\S+) s (\S+) MB$/.exec(stderr) ?? [];
  expect(stderr).toMatch(reason);
  expect([status, stdout]).toEqual([2, '']);
  expect(stderr).not.toMatch(/^\s+at /m);
  expect(Number(seconds)).toBeLessThan(mostS);
  expect(Number(megabytes)).toBeLessThan(mostMB);
  expect(namesIn(base)).toEqual(before);
}

/** A scenario that takes some of its sections from a file. */
function scenarioWith(...changes: readonly (readonly [from: RegExp, section: string])[]): (file: string) => string {
  return (file) => {
    const text = changes.reduce((so, [from, section]) => so.replace(from, section), house('Zeros', 1, 3600));
    writeFileSync(at('scenario.yaml'), text.replaceAll('FILE', file));
    return at('scenario.yaml');
  };
}
const HOUSEHOLD = /household: .*/;
const PV = /pv: .*/;
const WEATHER = /weather:\n( {2}.*\n)+/;
const DATA: readonly (readonly [kind: string, make: (file: string) => string])[] = [
  ['load', scenarioWith([HOUSEHOLD, 'household: { source: csv, file: FILE }'])],
  ['profile', scenarioWith([HOUSEHOLD, 'household: { source: profile, file: FILE, annualKWh: 4000 }'])],
  ['PV', scenarioWith([PV, 'pv: { source: csv, file: FILE }'])],
  ['meter', scenarioWith([PV, 'pv: { source: csv, file: FILE }'], [HOUSEHOLD, 'household: { source: meter, file: FILE }'])],
  ['weather', scenarioWith([WEATHER, 'weather: { source: csv, file: FILE }\n'])],
  ['EPW', scenarioWith([WEATHER, 'weather: { source: epw, file: FILE }\n'])],
  ['stays', scenarioWith([/usage: .*/, 'usage: { source: csv, file: FILE }'])],
  ['prices', scenarioWith([/^/, 'tariff: { currency: EUR, importPerKWh: { file: FILE }, exportPerKWh: 0.1 }\n'])],
];

describe.each(DATA)('data of a scenario: %s', (_, make) => {
  test.each([
    ['plain.csv', /holds more than 500 MB/, 3, 250],
    ['zeros.csv', /is not plain text/, 3, 250],
    ['digits.csv', /holds more than 500 MB/, 10, 800],
  ] as const)('%s', (file, reason, mostS, mostMB) => refused(['check', make(file)], reason, mostS, mostMB));
});

test.each([
  ['one line', 'line.csv', /is not a time by ISO 8601/],
  ['empty lines', 'empty-lines.csv', /a header but no rows/],
] as const)('475 MB, allowed: %s', (_, file, reason) => {
  refused(['check', scenarioWith([HOUSEHOLD, 'household: { source: csv, file: FILE }'])(file)], reason, 60, 2000);
});

describe.each([
  ['log', [], 800, /holds more than 500 MB/],
  ['wiring', ['--expect', '1,2,3'], 800, /holds more than 500 MB/],
  ['check', [], 250, /holds more than 2 MB/],
  ['study', ['--out', at('out')], 250, /holds more than 2 MB/],
  ['pilot', ['--out', at('out.html')], 250, /holds more than 2 MB/],
] as const)('sixamp %s FILE', (command, options, mostMB, tooLarge) => {
  test.each([
    ['plain.csv', tooLarge],
    ['zeros.csv', /is not plain text/],
    ['digits.csv', tooLarge],
  ] as const)('%s', (file, reason) => refused([command, at(file), ...options], reason, 10, mostMB));
});

test('from a pipe or a device: refused at once, whatever comes', () => {
  for (const line of ['cat /dev/zero | $SIXAMP check /dev/stdin', '$SIXAMP check /dev/zero', '$SIXAMP log /dev/zero']) {
    const { status, stdout, stderr } = inShell(line);
    expect(stderr).toMatch(/This is a pipe or a device, not a file/);
    expect([stdout, status === 0]).toEqual(['', false]);
  }
});
