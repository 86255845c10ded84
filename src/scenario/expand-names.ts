import { CLIMATES, type NamedClimate } from '../sky/index.ts';
import { HABITS, type Habit, VEHICLE_KINDS, type VehicleKind } from '../vehicle/index.ts';
import { isRecord } from './walk.ts';

type Raw = Readonly<Record<string, unknown>>;

/**
 * A scenario as it was written, with the numbers behind the names filled in: `weather.climate`, `vehicle.kind` and `usage.habit` stand
 * for the keys of their tables that are not written beside them. A name that no table has is filled in with any entry, so that the name is all
 * that the schema then finds wrong.
 */
export function expandNames(raw: Raw): Raw {
  const { weather, chargePoints } = raw;
  return {
    ...raw,
    ...(isRecord(weather) && weather.source === 'synthetic' && Object.hasOwn(weather, 'climate')
      ? { weather: { ...climateKeys(weather.climate), ...weather } }
      : {}),
    ...(Array.isArray(chargePoints)
      ? { chargePoints: chargePoints.map((point: unknown) => (isRecord(point) ? expandPoint(point) : point)) }
      : {}),
  };
}

function climateKeys(name: unknown): Raw {
  const { monthlyGhiKWhM2, monthlyTempC } = entryOf<NamedClimate>(CLIMATES, name);
  return { monthlyGhiKWhM2, monthlyTempC };
}

function expandPoint(point: Raw): Raw {
  const { vehicle, usage } = point;
  return {
    ...point,
    ...(isRecord(vehicle) && Object.hasOwn(vehicle, 'kind') ? { vehicle: { ...kindKeys(vehicle.kind), ...vehicle } } : {}),
    ...(isRecord(usage) && usage.source === 'weekly' && Object.hasOwn(usage, 'habit')
      ? { usage: { ...habitKeys(usage.habit), ...usage } }
      : {}),
  };
}

function kindKeys(name: unknown): Raw {
  const { about: _, ...keys } = entryOf<VehicleKind>(VEHICLE_KINDS, name);
  return keys;
}

function habitKeys(name: unknown): Raw {
  const { about: _, ...keys } = entryOf<Habit>(HABITS, name);
  return keys;
}

function entryOf<T>(table: Readonly<Record<string, T>>, name: unknown): T {
  const found = typeof name === 'string' && Object.hasOwn(table, name) ? table[name] : Object.values(table)[0];
  if (found === undefined) throw new RangeError('table: has no entry');
  return found;
}
