import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { MS_PER_S } from '../../src/base/index.ts';
import type { Steps } from '../../src/sky/index.ts';

/** Real data for trying things, beside the project, never part of it. Terms and provenance: its own README. */
const FOLDER = resolve(import.meta.dirname, '../../../shared/data');

/** Whether the folder is there; a test that needs it is skipped where it is not, and says so. */
export const haveSharedData = existsSync(FOLDER);
if (!haveSharedData) console.warn(`skipped: real data not found beside the project (${'../shared/data'})`);

export interface Measured {
  readonly steps: Steps;
  readonly columns: Readonly<Record<string, Float64Array>>;
}

/** Reads one of the CSV files: evenly spaced rows; rows that are missing and cells that are empty become NaN. */
export function readSharedCsv(name: string): Measured {
  const bytes = readFileSync(resolve(FOLDER, name));
  const text = (name.endsWith('.gz') ? gunzipSync(bytes) : bytes).toString('utf8');
  const [head = '', ...lines] = text.trim().split(/\r?\n/);
  const rows = lines.map((line) => line.split(','));
  const times = rows.map((row) => Date.parse(row[0] ?? ''));
  const startMs = times[0] ?? 0;
  const stepMs = (times[1] ?? 0) - startMs;
  const steps = Math.round(((times.at(-1) ?? 0) - startMs) / stepMs) + 1;
  const columns: Record<string, Float64Array> = {};
  for (const [c, title] of head.split(',').entries()) {
    if (c === 0) continue;
    const column = new Float64Array(steps).fill(Number.NaN);
    rows.forEach((row, r) => {
      if (row[c]) column[Math.round(((times[r] ?? 0) - startMs) / stepMs)] = Number(row[c]);
    });
    columns[title] = column;
  }
  return { steps: { startMs, stepS: stepMs / MS_PER_S, steps }, columns };
}

/** Reads irradiance, air and wind of the EPW as its labels say: hour h covers h − 1 … h, standard time; every row in one year. */
export function readSharedEpw(name: string, year: number): Measured {
  const lines = readFileSync(resolve(FOLDER, name), 'utf8').trim().split(/\r?\n/);
  const zoneH = Number(lines[0]?.split(',')[8]);
  const rows = lines.slice(8).map((line) => line.split(',').map(Number));
  const column = (at: number): Float64Array => Float64Array.from(rows, (row) => row[at] ?? Number.NaN);
  const startMs = Date.UTC(year, 0, 1) - zoneH * 3_600_000;
  return {
    steps: { startMs, stepS: 3600, steps: rows.length },
    columns: { temp_c: column(6), ghi_w_m2: column(13), dni_w_m2: column(14), dhi_w_m2: column(15), wind_m_s: column(21) },
  };
}
