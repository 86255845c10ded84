import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { COMMAND, ROOT } from '../tools/command.ts';

export const RECORD = join(ROOT, 'data/demo/pilot-record.yaml');

/** A household by hand, whose year is over quickly. */
export const house = (name: string, days: number, stepS: number): string => `name: ${name}
site: { latitude: 47.1, longitude: 15.4, timeZone: Europe/Vienna }
period: { start: 2025-06-02, days: ${days}, stepS: ${stepS} }
weather:
  source: synthetic
  monthlyGhiKWhM2: [38, 57, 97, 126, 152, 160, 168, 146, 104, 69, 38, 30]
  monthlyTempC: [-1, 1, 5, 10, 14, 18, 20, 19, 15, 10, 4, 0]
pv: { source: arrays, arrays: [{ kWp: 6.3, tiltDeg: 32, azimuthDeg: 190 }] }
household: { source: synthetic, annualKWh: 4100 }
chargePoints:
  - charger: { phases: switchable, maxCurrentA: 16 }
    vehicle: { batteryKWh: 58, phases: 3, maxCurrentA: 16, kWhPer100km: 17 }
    usage: { source: weekly, trips: [{ days: [mon, tue], leave: "07:20", return: "11:45", km: 46 }] }
`;

/** A folder for a test file, with a short and a long household in it. */
export function bed(): { base: string; clear(): void } {
  const base = mkdtempSync(join(tmpdir(), 'sixamp-faults-'));
  writeFileSync(join(base, 'short.yaml'), house('Short', 1, 3600));
  writeFileSync(join(base, 'long.yaml'), house('Long', 120, 60));
  return { base, clear: () => rmSync(base, { recursive: true, force: true }) };
}

/** How a command ended, and what it said. */
export interface Ended {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs a command to its end. */
export function sixamp(args: readonly string[], node: readonly string[] = [], env: NodeJS.ProcessEnv = {}): Ended {
  return spawnSync(process.execPath, [...node, COMMAND, ...args], {
    cwd: ROOT,
    encoding: 'utf8',
    env: { ...process.env, ...env },
  });
}

/** A line for the shell, with the command as `$SIXAMP`. */
export const inShell = (line: string): Ended =>
  spawnSync('bash', ['-o', 'pipefail', '-c', line], {
    cwd: ROOT,
    encoding: 'utf8',
    env: { ...process.env, SIXAMP: `${process.execPath} ${COMMAND}` },
  });

/** Starts a command, and tells how it ended. */
export function start(args: readonly string[]): { child: ChildProcess; ended: Promise<Ended> } {
  const child = spawn(process.execPath, [COMMAND, ...args], { cwd: ROOT, stdio: ['ignore', 'pipe', 'pipe'] });
  const said = { stdout: '', stderr: '' };
  child.stdout.on('data', (piece) => (said.stdout += String(piece)));
  child.stderr.on('data', (piece) => (said.stderr += String(piece)));
  return { child, ended: new Promise((resolve) => child.once('close', (status) => resolve({ status, ...said }))) };
}

/** Waits for something to become true. */
export async function until(isTrue: () => boolean): Promise<void> {
  for (let looks = 0; !isTrue(); looks++) {
    if (looks > 10_000) throw new Error('waited in vain');
    await new Promise((resolve) => setTimeout(resolve, 3));
  }
}

/** All names in a folder, hidden ones too; none where there is no folder. */
export const namesIn = (folder: string): string[] => (existsSync(folder) ? readdirSync(folder).sort() : []);

/** Every file of a folder with its bytes. */
export const bytesIn = (folder: string): Record<string, string> =>
  Object.fromEntries(
    namesIn(folder)
      .filter((name) => statSync(join(folder, name)).isFile())
      .map((name) => [name, readFileSync(join(folder, name)).toString('base64')]),
  );

/** A disk of its own on a folder, where the machine lets us (root on Linux); null, said aloud, where it does not. */
export function mount(folder: string, options: string): (() => void) | null {
  const { status } = spawnSync('mount', ['-t', 'tmpfs', '-o', options, 'none', folder], { stdio: 'ignore' });
  if (status === 0) return () => void spawnSync('umount', ['-l', folder]);
  console.warn(`PASSED OVER: no disk of ${options} can be mounted here (only root can).`);
  return null;
}
