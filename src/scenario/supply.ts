import { type Checked, type Issue, passed } from '../base/index.ts';
import { COUNTRY_CODES, type CountryCode, GRID_RULES, type GridRule, gridRule } from './grid-rules.ts';
import type { DayWindow, Supply } from './scenario.ts';
import { WEEKDAYS } from './schema/common.ts';
import type { ScenarioInput } from './schema.ts';
import { secondOfDay } from './time-text.ts';

type GridInput = ScenarioInput['grid'];

/** The house's connection; limits that are left out come from the country's rules, and a warning says which and from where. */
export function supplyOf(grid: GridInput): Checked<Supply> {
  const { phases, voltageV, mainFuseA, metering } = grid;
  const country = COUNTRY_CODES.find((code) => code === grid.country) ?? null;
  const filled = country === null ? null : imbalanceFrom(country, grid);
  const supply: Supply = {
    phases,
    voltageV,
    mainFuseA,
    metering,
    country,
    imbalanceLimitA: grid.imbalanceLimitA ?? filled?.value ?? null,
    exportLimitW: grid.exportLimitW ?? null,
    contractW: grid.contractW ?? null,
    dimming: grid.dimming === undefined ? null : { toW: grid.dimming.toW, windows: grid.dimming.windows.map(windowOf) },
  };
  return passed(supply, country === null ? [] : [...imbalanceWarnings(country, grid, filled), ...dimmingWarnings(country, grid)]);
}

/** A stretch of the day as the core keeps it. */
export function windowOf({ days, months, from, to }: WindowInput): DayWindow {
  return {
    weekdays: (days ?? WEEKDAYS).map((day) => WEEKDAYS.indexOf(day)),
    months: months ?? MONTHS,
    fromS: secondOfDay(from),
    toS: secondOfDay(to),
  };
}

type WindowInput = NonNullable<GridInput['dimming']>['windows'][number];

const MONTHS = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];

/** The country's limit of imbalance, where one is wanted: a single phase has nothing to be out of balance with. */
const imbalanceFrom = (country: CountryCode, { phases, imbalanceLimitA }: GridInput): GridRule | null =>
  phases === 1 || imbalanceLimitA !== undefined ? null : gridRule(country, 'imbalanceLimitA');

function imbalanceWarnings(country: CountryCode, grid: GridInput, filled: GridRule | null): Issue[] {
  if (grid.phases === 1 || grid.imbalanceLimitA !== undefined) return [];
  const base = { path: ['grid', 'country'], found: country };
  const { name } = GRID_RULES[country];
  if (filled === null) {
    const problem = `No limit of imbalance is on record for ${name}.`;
    const fix = 'check locally, and write imbalanceLimitA; a value as high as mainFuseA stands for no limit.';
    return [{ ...base, code: 'country-without-limit', problem, allowed: 'no limit', fix }];
  }
  const problem = `imbalanceLimitA is left out, and ${name} has one.`;
  const allowed = `${filled.value} A (${sourceText(filled)})`;
  const fix = `check locally, and write imbalanceLimitA: ${filled.value}, or what the grid operator says.`;
  return [{ ...base, code: 'limit-from-country', problem, allowed, fix }];
}

function dimmingWarnings(country: CountryCode, { dimming }: GridInput): Issue[] {
  const floor = gridRule(country, 'dimmingFloorW');
  if (floor === null || dimming === undefined || dimming.toW >= floor.value) return [];
  const problem = `In ${GRID_RULES[country].name} chargers are not dimmed below ${floor.value} W (${sourceText(floor)}).`;
  const fix = `check locally, and write ${floor.value} or more.`;
  const path = ['grid', 'dimming', 'toW'];
  return [{ code: 'dimming-below-floor', path, found: `${dimming.toW}`, problem, allowed: `${dimming.toW} W all the same`, fix }];
}

/** Where a rule was read, of when it is, and how sure that is. */
export const sourceText = ({ source, stand, sure }: GridRule): string => `${source}; ${stand}, ${SURE[sure]}`;

const SURE = { read: 'read there', 'second-hand': 'at second hand', 'from-memory': 'from memory' } as const;
