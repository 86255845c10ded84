import { sky, vehicle } from '../index.ts';
import { type Draft, type Plain, valueAt, withValue } from './draft.ts';

/** A charge point's car and week, by the names of their tables; null for numbers of the scenario's own. */
export type KindName = keyof typeof vehicle.VEHICLE_KINDS;
export type HabitName = keyof typeof vehicle.HABITS;

export const KINDS = Object.keys(vehicle.VEHICLE_KINDS) as KindName[];
export const WEEKS = Object.keys(vehicle.HABITS) as HabitName[];

const car = (point: number) => ['chargePoints', point, 'vehicle'] as const;
const usage = (point: number) => ['chargePoints', point, 'usage'] as const;

const nameIn = <Name extends string>(names: readonly Name[], value: Plain | undefined): Name | null =>
  names.find((name) => name === value) ?? null;

export const kindOf = (draft: Draft, point: number): KindName | null => nameIn(KINDS, valueAt(draft, [...car(point), 'kind']));
export const weekOf = (draft: Draft, point: number): HabitName | null =>
  nameIn(WEEKS, valueAt(draft, [...usage(point), 'habit']));

/** Another kind of car: its numbers take the place of those written; how full it is at the start is kept. */
export function withKind(draft: Draft, point: number, kind: string): Draft {
  const startSoc = valueAt(draft, [...car(point), 'startSoc']);
  return withValue(draft, car(point), { kind, ...(startSoc === undefined ? {} : { startSoc }) });
}

/** Another week; what must be in the battery is kept. */
export function withWeek(draft: Draft, point: number, habit: string): Draft {
  const kept: Record<string, Plain> = {};
  for (const key of ['floorKm', 'departureKm'] as const) {
    const value = valueAt(draft, [...usage(point), key]);
    if (value !== undefined) kept[key] = value;
  }
  return withValue(
    draft,
    usage(point),
    habit === 'always' ? { source: 'always', ...kept } : { source: 'weekly', habit, ...kept },
  );
}

/** How many charge points a draft has. */
export function pointsOf(draft: Draft): number {
  const points = valueAt(draft, ['chargePoints']);
  return Array.isArray(points) ? points.length : 0;
}

/** One more charge point, on one phase for a second car: where the building has three, on another than the first, so that they share the fuses. */
export function withPoint(draft: Draft): Draft {
  const wiring = valueAt(draft, ['grid', 'phases']) === 1 ? {} : { wiring: [2, 3, 1] };
  return withValue(draft, ['chargePoints', pointsOf(draft)], {
    charger: { phases: 1, maxCurrentA: 16, ...wiring },
    vehicle: { kind: 'compact' },
    usage: { source: 'weekly', habit: 'school-and-errands' },
  });
}

export type ClimateName = keyof typeof sky.CLIMATES;
export const PLACES = Object.keys(sky.CLIMATES) as ClimateName[];

/** The clock of each climate's country. */
const ZONES: Readonly<Record<ClimateName, string>> = {
  amsterdam: 'Europe/Amsterdam',
  athens: 'Europe/Athens',
  berlin: 'Europe/Berlin',
  brussels: 'Europe/Brussels',
  bucharest: 'Europe/Bucharest',
  budapest: 'Europe/Budapest',
  copenhagen: 'Europe/Copenhagen',
  dublin: 'Europe/Dublin',
  edinburgh: 'Europe/London',
  frankfurt: 'Europe/Berlin',
  hamburg: 'Europe/Berlin',
  helsinki: 'Europe/Helsinki',
  innsbruck: 'Europe/Vienna',
  lisbon: 'Europe/Lisbon',
  london: 'Europe/London',
  lyon: 'Europe/Paris',
  madrid: 'Europe/Madrid',
  marseille: 'Europe/Paris',
  milan: 'Europe/Rome',
  munich: 'Europe/Berlin',
  oslo: 'Europe/Oslo',
  paris: 'Europe/Paris',
  prague: 'Europe/Prague',
  rome: 'Europe/Rome',
  seville: 'Europe/Madrid',
  stockholm: 'Europe/Stockholm',
  vienna: 'Europe/Vienna',
  warsaw: 'Europe/Warsaw',
  zagreb: 'Europe/Zagreb',
  zurich: 'Europe/Zurich',
};

export const placeOf = (draft: Draft): ClimateName | null => nameIn(PLACES, valueAt(draft, ['weather', 'climate']));

/** The household moved to a place: its climate, and where it lies on the map and on the clock. */
export function withPlace(draft: Draft, name: string): Draft {
  const climate = nameIn(PLACES, name);
  if (climate === null) return draft;
  const { latitude, longitude, elevationM } = sky.CLIMATES[climate];
  const seed = valueAt(draft, ['weather', 'seed']);
  const weather = { source: 'synthetic', climate, ...(seed === undefined ? {} : { seed }) };
  const site = { latitude, longitude, elevationM, timeZone: ZONES[climate] };
  return withValue(withValue(draft, ['weather'], weather), ['site'], site);
}
