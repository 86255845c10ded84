import type { Issue } from '../base/index.ts';
import { pathText } from './issue-text.ts';
import type { ScenarioInput } from './schema.ts';

/** A file that a scenario needs; the face reads it (unzipped where it ends in `.gz`). */
export interface FileRequest {
  /** Key that names it. */
  readonly path: readonly (string | number)[];
  /** Name as written, relative to the scenario's file. */
  readonly file: string;
  readonly kind:
    | 'weather-epw'
    | 'weather-csv'
    | 'pv-csv'
    | 'household-csv'
    | 'meter-csv'
    | 'profile-csv'
    | 'stays-csv'
    | 'prices-csv';
}

/** The files that a scenario needs. */
export function filesOf(input: ScenarioInput): FileRequest[] {
  const requests: FileRequest[] = [];
  const { tariff, weather, pv, household } = input;
  for (const key of ['importPerKWh', 'exportPerKWh'] as const) {
    const price = tariff?.[key];
    if (typeof price === 'object' && 'file' in price)
      requests.push({ path: ['tariff', key, 'file'], file: price.file, kind: 'prices-csv' });
  }
  if (weather?.source === 'epw') requests.push({ path: ['weather', 'file'], file: weather.file, kind: 'weather-epw' });
  if (weather?.source === 'csv') requests.push({ path: ['weather', 'file'], file: weather.file, kind: 'weather-csv' });
  if (pv.source === 'csv') requests.push({ path: ['pv', 'file'], file: pv.file, kind: 'pv-csv' });
  if (household.source !== 'synthetic') {
    const kind = ({ csv: 'household-csv', meter: 'meter-csv', profile: 'profile-csv' } as const)[household.source];
    requests.push({ path: ['household', 'file'], file: household.file, kind });
  }
  input.chargePoints.forEach(({ usage }, i) => {
    if (usage.source === 'csv')
      requests.push({ path: ['chargePoints', i, 'usage', 'file'], file: usage.file, kind: 'stays-csv' });
  });
  return requests;
}

/**
 * The issue of a file that could not be read, for the face that tried.
 *
 * @param why  in a few words: `there is no such file`
 */
export function fileUnreadable(request: FileRequest, why: string): Issue {
  return {
    code: 'file-unreadable',
    path: request.path,
    found: request.file,
    problem: `The file that \`${pathText(request.path)}\` names cannot be read: ${why}.`,
    allowed: 'a file, looked for from the folder of the scenario file',
    fix: 'correct the name, or put the file there.',
  };
}

/** The issue of a time zone that the platform does not know, for the face that asked it. */
export function timeZoneUnknown(input: ScenarioInput): Issue {
  return {
    code: 'time-zone-unknown',
    path: ['site', 'timeZone'],
    found: input.site.timeZone,
    problem: 'No time zone has this name.',
    allowed: 'an IANA name such as Europe/Vienna',
    fix: 'write a continent and a city of the same zone.',
  };
}
