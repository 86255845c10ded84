import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import type { Checked, Issue } from '../../src/base/index.ts';
import { zoneOfPlatform } from '../../src/report/platform-zone.ts';
import {
  completeScenario,
  filesOf,
  fileUnreadable,
  type Locate,
  periodMs,
  readScenario,
  type Scenario,
  timeZoneUnknown,
} from '../../src/scenario/index.ts';

/** A scenario taken through both halves of the door, as a face does it. */
export function throughDoor(
  text: string,
  fileName: string,
  fileText: (name: string) => string | null,
): { checked: Checked<Scenario>; locate: Locate } {
  const { checked, locate } = readScenario(text, fileName);
  if (!checked.ok) return { checked, locate };
  const input = checked.value;
  const { fromMs, toMs } = periodMs(input);
  const zone = zoneOfPlatform(input.site.timeZone, fromMs, toMs);
  const issues: Issue[] = zone === null ? [timeZoneUnknown(input)] : [];
  const files = new Map<string, string>();
  for (const request of filesOf(input)) {
    const found = fileText(request.file);
    if (found === null) issues.push(fileUnreadable(request, 'there is no such file'));
    else files.set(request.file, found);
  }
  if (zone === null || issues.length > 0) return { checked: { ok: false, issues }, locate };
  return { checked: completeScenario(input, files, zone), locate };
}

/** The same for a scenario file with its data files beside it. */
export function enterFile(path: string, fileName: string): { checked: Checked<Scenario>; locate: Locate } {
  return throughDoor(readFileSync(path, 'utf8'), fileName, (name) => textOf(join(dirname(path), name)));
}

function textOf(path: string): string | null {
  if (!existsSync(path)) return null;
  const bytes = readFileSync(path);
  return (path.endsWith('.gz') ? gunzipSync(bytes) : bytes).toString('utf8');
}

/** The scenario of a check that passed. */
export function scenarioOf(checked: Checked<Scenario>): Scenario {
  if (!checked.ok) throw new Error(`refused: ${checked.issues.map((issue) => `${issue.code} ${issue.problem}`).join('; ')}`);
  return checked.value;
}

/** The codes of what is wrong. */
export const codesOf = (checked: Checked<unknown>): string[] => (checked.ok ? [] : checked.issues.map((issue) => issue.code));
