import { readFileSync } from 'node:fs';
import { join } from 'node:path';
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
import { median, print } from './figures.ts';

/** Kernel, profiles and ledger of a one-minute year. */
const root = process.argv[2] ?? '.';
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
function inTurn(things: Record<string, () => number>): Map<string, number[]> {
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
  return times;
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
const buffers = freshColumns(plan, profiles);
const log = runLoop(plan, profiles, buffers);

const times = inTurn({
  kernel: kernel(plan, profiles),
  kernelNeverFull: kernel(neverFull, profiles),
  kernelNoShortcut: kernel(noShortcut, profiles),
  kernelTwoAndBattery: kernel(twoAndBattery, profiles),
  profiles: () => makeProfiles(year).pvW.length,
  ledger: () => tally(plan, buffers, log.events, log.drives).total.pvWh,
});

const KERNEL_GOAL_NS = 15;
const PROFILES_GOAL_MS = 400;
const msOf = (name: string): number[] => (times.get(name) ?? []).sort((a, b) => a - b);
const nsPerStep = (name: string): number => (median(msOf(name)) * 1e6) / steps;
print([
  { name: 'kernel: law, loop, columns', value: nsPerStep('kernel'), unit: 'ns a step', goal: KERNEL_GOAL_NS },
  { name: 'kernel, least of all rounds', value: ((msOf('kernel')[0] ?? Number.NaN) * 1e6) / steps, unit: 'ns a step' },
  { name: 'kernel, car always there and never full', value: nsPerStep('kernelNeverFull'), unit: 'ns a step' },
  { name: 'kernel, no shortcut through the nights', value: nsPerStep('kernelNoShortcut'), unit: 'ns a step' },
  { name: 'kernel, two charge points and a battery', value: nsPerStep('kernelTwoAndBattery'), unit: 'ns a step', goal: 100 },
  { name: 'profiles: sun, clouds, roof, house', value: median(msOf('profiles')), unit: 'ms a year', goal: PROFILES_GOAL_MS },
  { name: 'ledger: days, months, total', value: median(msOf('ledger')), unit: 'ms a year' },
]);
