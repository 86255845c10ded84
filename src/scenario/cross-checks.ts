import type { Issue } from '../base/index.ts';
import { highestCurrentA, minCurrentA, possiblePhases } from '../charging/index.ts';
import { byPhases } from './by-phases.ts';
import { foundText } from './issue-text.ts';
import { WEEKDAYS } from './schema/common.ts';
import type { ScenarioInput } from './schema.ts';
import { tariffIssues } from './tariff.ts';
import { dayMsOf, secondOfDay } from './time-text.ts';

type Parts = Partial<ScenarioInput>;
type Point = ScenarioInput['chargePoints'][number];
type Path = readonly (string | number)[];

/**
 * What does not fit together, section by section; sections that are missing or wrong by themselves are passed over.
 *
 * @param written  names of all sections that the user wrote, right or wrong
 */
export function crossChecks(parts: Parts, written: readonly string[]): Issue[] {
  return [
    ...periodChecks(parts),
    ...weatherChecks(parts, written),
    ...pvChecks(parts),
    ...householdChecks(parts),
    ...tariffIssues(parts),
    ...(parts.chargePoints ?? []).flatMap((point, i) => pointChecks(point, ['chargePoints', i], parts)),
  ];
}

const issue = (code: string, path: Path, found: unknown, problem: string, allowed: string, fix: string): Issue => ({
  code,
  path,
  found: foundText(found),
  problem,
  allowed,
  fix,
});

function periodChecks({ period }: Parts): Issue[] {
  if (period === undefined) return [];
  const issues: Issue[] = [];
  const dayMs = dayMsOf(period.start);
  const year = Number(period.start.slice(0, 4));
  if (dayMs === null || year < 1950 || year > 2099) {
    const problem =
      dayMs === null ? 'There is no such day in the calendar.' : 'Sun and clocks are reckoned for 1950 to 2099 only.';
    const fix = 'write a day that exists, in those years.';
    issues.push(issue('no-such-day', ['period', 'start'], period.start, problem, 'a day as YYYY-MM-DD, 1950 to 2099', fix));
  }
  if (3600 % period.stepS !== 0) {
    const near = STEPS.reduce((best, step) => (Math.abs(step - period.stepS) < Math.abs(best - period.stepS) ? step : best));
    const problem = 'An hour must be a whole number of steps.';
    const allowed = '5 to 3600, a divisor of 3600 (seconds)';
    issues.push(
      issue(
        'step-not-a-divisor',
        ['period', 'stepS'],
        period.stepS,
        problem,
        allowed,
        `write ${near}, the nearest that is allowed.`,
      ),
    );
  }
  return issues;
}

/** Steps that divide an hour. */
const STEPS = Array.from({ length: 3600 }, (_, i) => i + 1).filter((step) => step >= 5 && 3600 % step === 0);

function weatherChecks({ weather, pv }: Parts, written: readonly string[]): Issue[] {
  if (weather === undefined) {
    if (pv?.source !== 'arrays' || written.includes('weather')) return [];
    const problem = 'PV from arrays needs weather, and there is none.';
    const fix = 'add a section `weather`, or measured PV with `source: csv`.';
    return [issue('weather-missing', ['pv', 'source'], pv.source, problem, 'weather with source synthetic, epw or csv', fix)];
  }
  if (weather.source !== 'synthetic' || weather.climate !== undefined) return [];
  const tables = [
    ['monthlyGhiKWhM2', weather.monthlyGhiKWhM2],
    ['monthlyTempC', weather.monthlyTempC],
  ] as const;
  return tables
    .filter(([, table]) => table === undefined)
    .map(([key]) => {
      const problem = `Synthetic weather needs \`${key}\`.`;
      return issue(
        'missing-key',
        ['weather', key],
        undefined,
        problem,
        '12 numbers, January to December',
        `add a line \`${key}: […]\`.`,
      );
    });
}

/** A day that the calendar has; its year does not matter, as days outside the period have no effect. */
function dayIssues(day: string, path: Path): Issue[] {
  if (dayMsOf(day) !== null) return [];
  const problem = 'There is no such day in the calendar.';
  return [issue('no-such-day', path, day, problem, 'a day as YYYY-MM-DD', 'write a day that exists.')];
}

const daysIssues = (days: readonly string[], path: Path): Issue[] => days.flatMap((day, i) => dayIssues(day, [...path, i]));

/** Stretches of days: each ends where it begins or later, and begins after the one before it. */
function stretchIssues(stretches: readonly { from: string; to: string }[], path: Path): Issue[] {
  return stretches.flatMap(({ from, to }, i) => {
    const wrong = [...dayIssues(from, [...path, i, 'from']), ...dayIssues(to, [...path, i, 'to'])];
    if (wrong.length > 0) return wrong;
    if (to < from) {
      const problem = `The stretch would end before it begins, on ${from}.`;
      return [issue('stretch-backwards', [...path, i, 'to'], to, problem, `${from} or later`, 'correct one of the two days.')];
    }
    const before = stretches[i - 1];
    if (before === undefined || from > before.to) return [];
    const problem = `The stretch begins before the one above it is over, on ${before.to}.`;
    const fix = 'sort the stretches, and join those that overlap.';
    return [issue('stretches-overlap', [...path, i, 'from'], from, problem, 'stretches that follow each other', fix)];
  });
}

function pvChecks({ pv, grid }: Parts): Issue[] {
  return pv?.phases === undefined ? [] : phaseListIssues(pv.phases, ['pv', 'phases'], grid?.phases ?? 3);
}

/** A list of building phases: each once, and none that the grid does not have. */
function phaseListIssues(phases: readonly number[], path: Path, gridPhases: number): Issue[] {
  const issues: Issue[] = [];
  if (new Set(phases).size < phases.length) {
    const problem = 'A phase stands in the list twice.';
    issues.push(issue('phase-twice', path, phases, problem, 'each phase once', 'write each phase once.'));
  }
  if (gridPhases === 1 && phases.some((phase) => phase > 1)) {
    const problem = 'The grid connection has one phase, number 1.';
    issues.push(
      issue('phase-beyond-grid', path, phases, problem, '[1], or grid.phases: 3', 'write [1], or correct grid.phases.'),
    );
  }
  return issues;
}

function householdChecks({ household, grid, pv }: Parts): Issue[] {
  const path: Path = ['household'];
  const issues: Issue[] = [];
  if (household?.source === 'meter' && pv !== undefined && pv.source !== 'csv') {
    const problem = 'The house is what balances the meter, and for that PV must be measured over the same time.';
    const fix = 'write measured PV with `source: csv` in pv, or another source here.';
    issues.push(issue('meter-without-pv', ['household', 'source'], 'meter', problem, 'pv with source csv', fix));
  }
  if (household?.source === 'synthetic' || household?.source === 'profile')
    issues.push(...daysIssues(household.daysOff, [...path, 'daysOff']));
  if (household?.source === 'synthetic') issues.push(...stretchIssues(household.holidays, [...path, 'holidays']));
  return [...issues, ...splitChecks(household?.phaseSplit, grid?.phases ?? 3)];
}

function splitChecks(split: readonly number[] | undefined, gridPhases: number): Issue[] {
  if (split === undefined) return [];
  const path: Path = ['household', 'phaseSplit'];
  const sum = split.reduce((a, b) => a + b, 0);
  if (Math.abs(sum - 1) > 0.001) {
    const problem = `The shares of the three phases add up to ${Number(sum.toFixed(4))}, not to 1.`;
    return [
      issue(
        'split-not-one',
        path,
        split,
        problem,
        '3 shares that add up to 1',
        'correct the shares, or remove the line to use thirds.',
      ),
    ];
  }
  if (gridPhases === 1 && split[0] !== 1) {
    const problem = 'The grid connection has one phase, and all load is on it.';
    return [issue('phase-beyond-grid', path, split, problem, '[1, 0, 0]', 'remove the line, or correct grid.phases.')];
  }
  return [];
}

function pointChecks(point: Point, path: Path, parts: Parts): Issue[] {
  const gridPhases = parts.grid?.phases ?? 3;
  return [
    ...chargerChecks(point.charger, [...path, 'charger'], gridPhases),
    ...togetherChecks(point, path),
    ...(point.usage.source === 'weekly' ? weeklyChecks(point.usage, [...path, 'usage']) : []),
  ];
}

function chargerChecks(charger: Point['charger'], path: Path, gridPhases: number): Issue[] {
  const issues: Issue[] = [];
  if (charger.minCurrentA > charger.maxCurrentA) {
    const problem = `The least current of the charger is above its highest, ${charger.maxCurrentA} A.`;
    const allowed = `6 to ${charger.maxCurrentA} (amperes per phase)`;
    issues.push(
      issue(
        'charger-minimum-above-maximum',
        [...path, 'minCurrentA'],
        charger.minCurrentA,
        problem,
        allowed,
        'correct one of the two.',
      ),
    );
  }
  if (gridPhases === 1 && charger.phases !== 1) {
    const problem = 'A charger cannot put three phases on the cable where the grid connection has one.';
    issues.push(
      issue(
        'phase-beyond-grid',
        [...path, 'phases'],
        charger.phases,
        problem,
        '1, or grid.phases: 3',
        'write 1, or correct grid.phases.',
      ),
    );
  }
  for (const key of ['wiring', 'wiringAsBuilt'] as const) {
    const wiring = charger[key];
    if (wiring === undefined) continue;
    issues.push(...phaseListIssues(wiring, [...path, key], gridPhases));
    if (charger.phases !== 1 && wiring.length < 3) {
      const problem = `The charger has three terminals, and ${key} names the phase of ${wiring.length}.`;
      issues.push(
        issue('wiring-too-short', [...path, key], wiring, problem, '1, 2, 3 in the order of the terminals', 'name all three.'),
      );
    }
  }
  return issues;
}

/** Charger and vehicle must be able to charge together on some number of phases; this one fact refuses a scenario at the door. */
function togetherChecks({ charger, vehicle, believes }: Point, path: Path): Issue[] {
  if (charger.minCurrentA > charger.maxCurrentA || believes !== undefined) return [];
  const facts = { ...vehicle, minCurrentA: byPhases(vehicle.minCurrentA) };
  if (possiblePhases(charger, facts).length > 0) return [];
  const counts =
    charger.phases === 'switchable' ? ([1, vehicle.phases] as const) : ([charger.phases === 1 ? 1 : vehicle.phases] as const);
  const needA = Math.min(...counts.map((n) => minCurrentA(charger, facts, n)));
  const n = counts.find((count) => minCurrentA(charger, facts, count) === needA) ?? 1;
  const haveA = round(highestCurrentA(charger, facts));
  const least = Math.min(charger.maxCurrentA, vehicle.maxCurrentA);
  const stepped = haveA < least ? ` (${least} A in steps of ${charger.currentStepA} A)` : '';
  const problem = `This car needs ${needA} A on ${phasesText(n)}, but charger and car together reach ${haveA} A${stepped}: it would never charge.`;
  const allowed = `a charger and a car that reach ${needA} A a phase together`;
  return [issue('never-charges', [...path, 'charger', 'maxCurrentA'], charger.maxCurrentA, problem, allowed, CORRECT_CURRENTS)];
}

const CORRECT_CURRENTS = 'correct the currents of charger or vehicle; if they are right, this pair cannot charge.';
const phasesText = (n: number): string => (n === 1 ? 'one phase' : n === 2 ? 'each of two phases' : 'each of three phases');
const round = (value: number): number => Number(value.toFixed(6));

function weeklyChecks(usage: Extract<Point['usage'], { source: 'weekly' }>, path: Path): Issue[] {
  return [
    ...tripChecks(usage.trips, [...path, 'trips']),
    ...daysIssues(usage.daysOff, [...path, 'daysOff']),
    ...stretchIssues(usage.holidays, [...path, 'holidays']),
  ];
}

type Trip = Extract<Point['usage'], { source: 'weekly' }>['trips'][number];

function tripChecks(trips: readonly Trip[], path: Path): Issue[] {
  const issues: Issue[] = [];
  trips.forEach((trip, i) => {
    if (trip.leave !== trip.return) return;
    const problem = 'The car comes back in the minute in which it leaves.';
    const allowed = 'a time after leaving; an earlier one is on the next day';
    issues.push(
      issue('trip-without-time', [...path, i, 'return'], trip.return, problem, allowed, 'correct one of the two times.'),
    );
  });
  return [...issues, ...overlaps(trips, path)];
}

/** Trips of a week that overlap: the car cannot leave while it is away. Jitter is not looked at; it pushes trips, it drops none. */
function overlaps(trips: readonly Trip[], path: Path): Issue[] {
  const drives = trips.flatMap((trip, i) => [...new Set(trip.days)].map((day) => driveOf(trip, i, day)));
  drives.sort((a, b) => a.leaveS - b.leaveS);
  const found = new Map<number, Issue>();
  drives.forEach((drive, k) => {
    const next = drives[k + 1] ?? { ...(drives[0] ?? drive), leaveS: (drives[0] ?? drive).leaveS + S_PER_WEEK };
    if (drives.length < 2 || next.leaveS >= drive.returnS || found.has(next.trip)) return;
    const day = WEEKDAYS[Math.floor(next.leaveS / S_PER_DAY) % 7];
    const problem = `On ${day} the car would leave at ${trips[next.trip]?.leave} while it is still away on another trip.`;
    const allowed = 'trips that follow each other';
    found.set(
      next.trip,
      issue(
        'trips-overlap',
        [...path, next.trip, 'leave'],
        trips[next.trip]?.leave,
        problem,
        allowed,
        'correct the times or the days.',
      ),
    );
  });
  return [...found.values()];
}

const S_PER_DAY = 86_400;
const S_PER_WEEK = 7 * S_PER_DAY;

function driveOf(trip: Trip, index: number, day: (typeof WEEKDAYS)[number]): { trip: number; leaveS: number; returnS: number } {
  const dayS = WEEKDAYS.indexOf(day) * S_PER_DAY;
  const leaveS = secondOfDay(trip.leave);
  const returnS = secondOfDay(trip.return);
  return { trip: index, leaveS: dayS + leaveS, returnS: dayS + returnS + (returnS <= leaveS ? S_PER_DAY : 0) };
}
