import { type SpawnSyncReturns, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { COMMAND, ROOT } from '../tools/command.ts';

const base = mkdtempSync(join(tmpdir(), 'sixamp-commissioning-'));
afterAll(() => rmSync(base, { recursive: true, force: true }));

/** The command, as a pipe sees it. */
function sixamp(...args: string[]): SpawnSyncReturns<string> {
  return spawnSync(process.execPath, [COMMAND, ...args], { cwd: ROOT, encoding: 'utf8' });
}

function written(name: string, text: string): string {
  const path = join(base, name);
  writeFileSync(path, text);
  return path;
}

const CAUTION = /Records what was entered\. Not a test, not a release\./;

describe('wiring', () => {
  const LOG = 'data/demo/invented-wiring.csv';
  test('3 where the order is not as expected, with where to look and the cautions', () => {
    const { status, stdout, stderr } = sixamp('wiring', LOG, '--expect', '1,2,3');
    expect([status, stderr]).toEqual([3, '']);
    expect(stdout).toMatch(/^The conductors are not as expected \(1, 2, 3\)\.\n {2}Charger: terminal 1 is on building phase 2\./);
    expect(stdout).toMatch(/not which of them is wrong|not which of the two is wrong/);
    expect(stdout).toMatch(/Says nothing about neutral, protective conductor or tests\./);
    expect(stdout).toMatch(/isolate, lock, prove dead\. After any change: retest\./);
    expect(stdout).toMatch(CAUTION);
  });

  test('0 where what is asked is as expected, 4 where the log cannot tell', () => {
    expect(sixamp('wiring', LOG, '--expect', '2').status).toBe(0);
    const open = sixamp('wiring', LOG, '--expect', '2,1,3');
    expect(open.status).toBe(4);
    expect(open.stdout).toMatch(/cannot tell whether the order is as expected \(2, 1, 3\)[\s\S]*a car that draws on two phases/);
    expect(sixamp('wiring', LOG).status).toBe(4);
  });

  test('JSON: one object with findings, texts and cautions', () => {
    const { status, stdout } = sixamp('wiring', LOG, '--expect', '1,2,3', '--json');
    const said = JSON.parse(stdout);
    expect([status, said.ok, said.verdict]).toEqual([3, true, 'not-as-expected']);
    expect(said.chargers[0].terminals[0]).toMatchObject({ state: 'known', phase: 2 });
    expect(said.cautions.length).toBe(4);
  });

  test('2 for an order that is none, a charger too many, a log that is none', () => {
    expect(sixamp('wiring', LOG, '--expect', '1,1,3')).toMatchObject({ status: 2, stdout: '' });
    expect(sixamp('wiring', LOG, '--expect', '1,2,3', '--expect', '2,3,1').stderr).toMatch(
      /The log has 1 charger, --expect stands 2 times\./,
    );
    const bad = sixamp('wiring', written('bad.csv', 'time|meter\n1|2\n'));
    expect([bad.status, bad.stdout]).toEqual([2, '']);
    expect(bad.stderr).toMatch(/names no column time/);
  });
});

describe('log', () => {
  const LOG = 'data/demo/invented-log.csv';
  test('beside a scenario: what differs, event by event, and a page', () => {
    const page = join(base, 'log.html');
    const { status, stdout } = sixamp('log', LOG, 'scenarios/hillside-house.yaml', '--out', page);
    expect(status).toBe(0);
    expect(stdout).toMatch(
      /Start delay and vehicle’s lag together +540 s \(510 to 570 s\), seen \d+ times {3}scenario: 240 s {2}DIFFERS/,
    );
    expect(stdout).toMatch(
      /Started too late: \d+ times\. It may come from, the likeliest first:\n {2}1\. the start delay is longer/,
    );
    expect(stdout).toMatch(/2025-06-12 \d\d:\d\d:00 {2}Should have started here; started \d+ min later/);
    expect(readFileSync(page, 'utf8')).toMatch(/Event by event/);
  });

  test('what the log does not tell, and what would; the reserve where it is known', () => {
    const { stdout } = sixamp('log', LOG);
    expect(stdout).toMatch(/\nWhat would tell the rest\n[\s\S]*offered_a/);
    expect(stdout).toMatch(/Surplus share \(with a reserve of 0 to 200 W\)/);
    expect(sixamp('log', LOG, '--reserve', '0').stdout).toMatch(/Surplus share \(with a reserve of 0 W\)/);
    expect(sixamp('log', LOG, '--reserve', '-5').status).toBe(2);
  });

  test('without a scenario: findings alone', () => {
    const { status, stdout } = sixamp('log', LOG);
    expect([status, /DIFFERS|Started too late/.test(stdout)]).toEqual([0, false]);
    const said = JSON.parse(sixamp('log', LOG, '--json').stdout);
    expect([said.ok, said.departures, said.findings.stopDelayS.value]).toEqual([true, null, 180]);
  });
});

describe('pilot', () => {
  test('line by line, no overall result, a page to sign', () => {
    const page = join(base, 'record.html');
    const { status, stdout } = sixamp('pilot', 'data/demo/pilot-record.yaml', '--out', page);
    expect(status).toBe(0);
    expect(stdout).toMatch(/There is no overall result\./);
    expect(stdout).toMatch(/C, vehicle ready: level \(V\) +7\.31 +\(5\u00a0…\u00a07\) +outside/);
    expect(stdout).toMatch(CAUTION);
    expect(stdout).toMatch(/From memory, not verified:/);
    expect(readFileSync(page, 'utf8')).toMatch(/class="blank"/);
  });

  test('in German, in JSON, and what is wrong with a record', () => {
    expect(sixamp('pilot', 'data/demo/pilot-record.yaml', '--lang', 'de').stdout).toMatch(/bietet 16 A je Außenleiter an/);
    expect(JSON.parse(sixamp('pilot', 'data/demo/pilot-record.yaml', '--json').stdout).pilot.length).toBe(21);
    const bad = sixamp('pilot', written('record.yaml', 'pilot: { A: { volts: 12 } }\n'));
    expect([bad.status, bad.stdout]).toEqual([2, '']);
    expect(bad.stderr).toMatch(/record\.yaml:1:22 {2}pilot\.A\.volts = 12\n {2}A record knows no key `volts` here\./);
    expect(sixamp('pilot', 'data/demo/pilot-record.yaml', '--lang', 'fr').status).toBe(2);
  });
});

describe('cable', () => {
  test('drop, loss, longest run by voltage drop alone, reminders with sources, cautions', () => {
    const { status, stdout } = sixamp('cable', '--length', '30', '--area', '2.5', '--phases', '1');
    expect(status).toBe(0);
    expect(stdout).toMatch(/8\.64 V, 3\.76 %: above the 3 % asked for/);
    expect(stdout).toMatch(/24\.0 m, by voltage drop alone: not ampacity, protection or loop impedance/);
    expect(stdout).toMatch(/a reminder, not advice[\s\S]*type B, or type A or F[\s\S]*read in a text that cites it/);
    expect(stdout).toMatch(/from memory, not verified/);
    expect(stdout).toMatch(CAUTION);
  });
  test('what is no cable: exit 2', () => {
    expect(sixamp('cable', '--length', '30').status).toBe(2);
    expect(sixamp('cable', '--length', '30', '--area', '2,5').status).toBe(2);
    expect(sixamp('cable', '--length', '30', '--area', '6', '--phases', '2').stderr).toMatch(/Allowed: 1, 3/);
    expect(sixamp('cable', '--length', '30', '--area', '6', '--metal', 'gold').stderr).toMatch(/Allowed: copper, aluminium/);
  });
});

describe('handover', () => {
  test('one page, in English and in German, with record and wiring in it', () => {
    const out = join(base, 'handover.html');
    const args = [
      'handover',
      'scenarios/measured-roof.yaml',
      '--out',
      out,
      '--pilot',
      'data/demo/pilot-record.yaml',
      '--wiring',
      'data/demo/invented-wiring.csv',
    ];
    expect(sixamp(...args)).toMatchObject({ status: 0, stdout: `${out}\n` });
    const html = readFileSync(out, 'utf8');
    expect(html).toMatch(/No adapters, no extension leads/);
    expect(html).toMatch(/The log does not show the order as planned/);
    expect(sixamp(...args, '--lang', 'de', '--json').status).toBe(0);
    expect(readFileSync(out, 'utf8')).toMatch(/Keine Adapter, keine Verlängerungen/);
  });
});
