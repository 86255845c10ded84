import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import {
  completeScenario,
  freshColumns,
  makeProfiles,
  type Plan,
  type Profiles,
  planOf,
  readScenario,
  runLoop,
  type Scenario,
  tally,
} from '../../src/index.ts';
import { zoneOfPlatform } from '../../src/report/index.ts';

/** Milliseconds of one thing, measured so often: the least and the median. */
interface Timing {
  readonly leastMs: number;
  readonly medianMs: number;
}

const root = process.argv[2] ?? '.';
const asJson = process.argv.includes('--json');
const REPEATS = 15;

/** A scenario of the repository as the door makes it. */
function household(name: string): Scenario {
  const path = join(root, 'scenarios', `${name}.yaml`);
  const read = readScenario(readFileSync(path, 'utf8'), path);
  if (!read.checked.ok) throw new Error(`${name} does not pass the door`);
  const { site, period } = read.checked.value;
  const year = Number(period.start.slice(0, 4));
  const zone = zoneOfPlatform(site.timeZone, Date.UTC(year, 0, 1), Date.UTC(year + 1, 0, 1));
  if (zone === null) throw new Error(`${site.timeZone} is unknown`);
  const complete = completeScenario(read.checked.value, new Map(), zone);
  if (!complete.ok) throw new Error(`${name} is not complete`);
  return complete.value;
}

/** Times things in turn, round by round, so that a slow spell of the machine meets all of them. */
function inTurn(things: Record<string, () => number>): Record<string, Timing> {
  const names = Object.keys(things);
  const times = new Map(names.map((name) => [name, [] as number[]]));
  let consumed = 0;
  for (let round = -3; round < REPEATS; round++) {
    for (const name of names) {
      const from = performance.now();
      consumed += things[name]?.() ?? 0;
      const took = performance.now() - from;
      if (round >= 0) times.get(name)?.push(took);
    }
  }
  if (Number.isNaN(consumed)) throw new Error('a result is not a number');
  return Object.fromEntries(names.map((name) => [name, timing(times.get(name) ?? [])]));
}

function timing(times: number[]): Timing {
  const sorted = [...times].sort((a, b) => a - b);
  return { leastMs: sorted[0] ?? 0, medianMs: sorted[Math.floor(sorted.length / 2)] ?? 0 };
}

/** The kernel alone: law, loop and columns, with profiles and buffers ready. */
function kernel(plan: Plan, profiles: Profiles): () => number {
  const columns = freshColumns(plan, profiles);
  return () => runLoop(plan, profiles, columns).events.length;
}

const year = household('hillside-house');
const plan = planOf(year);
const profiles = makeProfiles(year);
const steps = plan.grid.steps;
// A car that is always there and never full keeps the law at work in every step of daylight.
const neverFull = planOf({
  ...year,
  chargePoints: year.chargePoints.map((point) => ({
    ...point,
    usage: { kind: 'always' as const },
    vehicle: { ...point.vehicle, batteryWh: 1e9 },
  })),
});
// No shortcut through stretches of idle steps.
const noShortcut = { ...plan, isPlain: false };
const battery = {
  capacityWh: 8000,
  maxChargeW: 4000,
  maxDischargeW: 4000,
  roundTripShare: 0.9,
  startSoc: 0.5,
  phases: [1, 2, 3],
  priority: { kind: 'battery' as const },
  dischargeToCar: false,
};
const twoAndBattery = planOf({
  ...year,
  battery,
  chargePoints: year.chargePoints.flatMap((point) => [
    point,
    { ...point, charger: { ...point.charger, wiring: [2, 3, 1], wiringAsBuilt: [2, 3, 1] } },
  ]),
});
const columns = freshColumns(plan, profiles);
const log = runLoop(plan, profiles, columns);

const times = inTurn({
  kernel: kernel(plan, profiles),
  kernelNeverFull: kernel(neverFull, profiles),
  kernelNoShortcut: kernel(noShortcut, profiles),
  kernelTwoAndBattery: kernel(twoAndBattery, profiles),
  profiles: () => makeProfiles(year).pvW.length,
  ledger: () => tally(plan, columns, log.events, log.drives).total.pvWh,
});

/** Studies have a process of their own: the memory measured is theirs alone. */
function studyFigures(): StudyFigures {
  const script = fileURLToPath(new URL('study.mjs', import.meta.url));
  const { stdout, stderr } = spawnSync(process.execPath, [script, root], { encoding: 'utf8' });
  if (stdout === '') throw new Error(`study: ${stderr}`);
  return JSON.parse(stdout) as StudyFigures;
}

interface StudyFigures {
  readonly studySFor1000: number;
  readonly studyVariantsPerS: number;
  readonly studyVariantsPerSOneWorker: number;
  readonly studyTwoWorkersGain: number;
  /** Of one thread and what hands it its work. */
  readonly studyCpuMsPerVariant: number;
  /** Peak of the process: after a thousand variants of a year, and after ten thousand short ones on top. */
  readonly studyMemoryMB: number;
  readonly studyMemoryAfter10000MB: number;
  /** Of 100, of 1,000, of 10,000 variants of five days. */
  readonly studyShortMsPerVariant: readonly number[];
}

const study = studyFigures();
const nsPerStep = (ms: number): number => (ms * 1e6) / steps;
const result = {
  kernelNsPerStep: nsPerStep(times.kernel?.medianMs ?? 0),
  kernelNsPerStepLeast: nsPerStep(times.kernel?.leastMs ?? 0),
  kernelNeverFullNsPerStep: nsPerStep(times.kernelNeverFull?.medianMs ?? 0),
  kernelNoShortcutNsPerStep: nsPerStep(times.kernelNoShortcut?.medianMs ?? 0),
  kernelTwoAndBatteryNsPerStep: nsPerStep(times.kernelTwoAndBattery?.medianMs ?? 0),
  profilesMsPerYear: times.profiles?.medianMs ?? 0,
  ledgerMsPerYear: times.ledger?.medianMs ?? 0,
  ...study,
  steps,
  repeats: REPEATS,
  node: process.version,
  machine: `${cpus().length} × ${cpus()[0]?.model ?? 'unknown'}`,
};
if (asJson) {
  console.log(JSON.stringify(result));
} else {
  const row = (what: string, value: number, unit: string): void =>
    console.log(`${what.padEnd(46)}${value.toFixed(1).padStart(9)} ${unit}`);
  console.log(`Node ${result.node}, ${result.machine}; ${steps} steps of a minute, median of ${REPEATS} rounds in turn`);
  row('kernel: law, loop, columns', result.kernelNsPerStep, 'ns a step');
  row('  least', result.kernelNsPerStepLeast, 'ns a step');
  row('kernel, car always there and never full', result.kernelNeverFullNsPerStep, 'ns a step');
  row('kernel, no shortcut through the nights', result.kernelNoShortcutNsPerStep, 'ns a step');
  row('kernel, two charge points and a battery', result.kernelTwoAndBatteryNsPerStep, 'ns a step');
  row('profiles: sun, clouds, roof, house', result.profilesMsPerYear, 'ms a year');
  row('ledger: days, months, total', result.ledgerMsPerYear, 'ms a year');
  row('study: 1,000 variants of a year, two workers', study.studySFor1000, 's');
  row('  variants a second, two workers', study.studyVariantsPerS, 'a second');
  row('  variants a second, one worker', study.studyVariantsPerSOneWorker, 'a second');
  row('  two workers against one', study.studyTwoWorkersGain, 'times');
  row('  processor time of a variant, one worker', study.studyCpuMsPerVariant, 'ms');
  row('  peak memory', study.studyMemoryMB, 'MB');
  row('  peak memory after 10,000 short variants more', study.studyMemoryAfter10000MB, 'MB');
  for (const [i, ms] of study.studyShortMsPerVariant.entries())
    row(`  five days, ${(100 * 10 ** i).toLocaleString('en')} variants`, ms, 'ms a variant');
}
