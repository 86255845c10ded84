import type { ZoneOf } from '../index.ts';
import { zoneOfPlatform } from '../report/index.ts';

/** The platform's zones; each table is read once. */
export function platformZones(): ZoneOf {
  const known = new Map<string, ReturnType<ZoneOf>>();
  return (name, fromMs, toMs) => {
    const key = `${name} ${fromMs} ${toMs}`;
    let zone = known.get(key);
    if (zone === undefined) {
      zone = zoneOfPlatform(name, fromMs, toMs);
      known.set(key, zone);
    }
    return zone;
  };
}
