import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'yaml';
import { openEngine } from '../../src/cli/engine.ts';
import { OUTPUT_NAMES, type StudyBase, type Task } from '../../src/index.ts';
import { print } from './figures.ts';

/**
 * Studies as the command runs them: how many variants of a one-minute year a second with one worker and with two, what memory they
 * take, and how time grows with their number (on variants of five days, else ten thousand would take minutes).
 */
const root = process.argv[2] ?? '.';
const raw = parse(readFileSync(join(root, 'scenarios', 'hillside-house.yaml'), 'utf8')) as Record<string, unknown>;

/** Tasks that differ in the share and, every fifty, in the roof; all outputs are wanted. */
const tasksOf = (count: number): Task[] =>
  Array.from({ length: count }, (_, index) => ({
    index,
    variant: {
      keys: { 'control.surplusShare': (index % 50) / 50, 'pv.arrays[0].kWp': 3 + (Math.floor(index / 50) % 40) * 0.1 },
      year: 0,
      people: 0,
    },
    outputs: OUTPUT_NAMES,
    monthly: [],
  }));

async function secondsFor(base: StudyBase, workers: number, counts: readonly number[]): Promise<number[]> {
  const engine = openEngine(base, workers);
  // Threads, profiles and warm code first.
  await engine.run(tasksOf(10 * workers), () => {});
  const seconds: number[] = [];
  for (const count of counts) {
    const from = performance.now();
    let failed = 0;
    await engine.run(tasksOf(count), (result) => {
      if ('problem' in result) failed++;
    });
    if (failed > 0) throw new Error(`${failed} variants failed`);
    seconds.push((performance.now() - from) / 1000);
  }
  await engine.close();
  return seconds;
}

const peakMB = (): number => process.resourceUsage().maxRSS / 1024;
const year: StudyBase = { raw, files: new Map() };
const days: StudyBase = { raw: { ...raw, period: { start: '2025-06-01', days: 5 } }, files: new Map() };
const ONE = 100;
const TWO = [200, 800];

const two = await secondsFor(year, 2, TWO);
const [firstMB, cpu] = [peakMB(), process.cpuUsage()];
const [one = Number.NaN] = await secondsFor(year, 1, [ONE]);
const oneCpuS = process.cpuUsage(cpu).user / 1e6;
const [first = Number.NaN, second = Number.NaN] = two;
const short = await secondsFor(days, 2, [100, 1000, 10_000]);
const perS = 1000 / (first + second);
print([
  { name: 'study: 1,000 variants of a year, two workers', value: first + second, unit: 's', goal: 15 },
  { name: 'study, two workers', value: perS, unit: 'variants a second' },
  { name: 'study, one worker', value: ONE / one, unit: 'variants a second' },
  { name: 'study, two workers against one', value: perS * (one / ONE), unit: 'times', goal: 1.8, atLeast: true },
  { name: 'study, processor time, one worker', value: (1000 * oneCpuS) / (ONE + 10), unit: 'ms a variant' },
  { name: 'study, peak memory', value: firstMB, unit: 'MB', goal: 500 },
  { name: 'study, peak memory after 10,000 short variants more', value: peakMB(), unit: 'MB', goal: 500 },
  ...short.map((s, i) => ({
    name: `study, five days, ${100 * 10 ** i} variants`,
    value: (1000 * s) / (100 * 10 ** i),
    unit: 'ms a variant',
  })),
]);
